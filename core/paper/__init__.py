"""True-scale sheets: how a pattern is divided over paper, and where a name finds room on a piece.
Layout only; it is painted elsewhere."""
