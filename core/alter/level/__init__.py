"""Length put in or folded out at a level: the other classic way of changing a length."""
