"""Drawings in and out: ``read`` a file into pieces, ``write`` it back undisturbed."""

from core.files.drawing import Drawing, Format, Unit
from core.files.read import read, read_bytes
from core.files.write import render, write

__all__ = ["Drawing", "Format", "Unit", "read", "read_bytes", "render", "write"]
