"""The geometry, the files and the checks of Hemward. Imports no Qt."""
