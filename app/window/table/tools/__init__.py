"""Tools of the table: measuring, and correcting with the mouse, point by point."""
