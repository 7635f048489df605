"""The lesson: an alteration played step by step, on the screen and as a handout."""
