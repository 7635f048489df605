"""The window and the command line of Hemward."""
