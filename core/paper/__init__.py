"""True-scale sheets: how a pattern is divided over paper. Layout only; it is painted elsewhere."""
