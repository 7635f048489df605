"""How the sample pieces are constructed and written."""
