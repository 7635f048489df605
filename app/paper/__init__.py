"""True-scale sheets painted: PDF pages to print, measure, trim and tape."""
