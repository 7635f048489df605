"""The way through the work: its stages, the rail that shows them, and a page for each."""
