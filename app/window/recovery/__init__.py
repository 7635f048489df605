"""A copy of unsaved work, so that a crash or a power cut costs nothing."""
