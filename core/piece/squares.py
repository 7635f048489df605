"""The test squares of a sheet: drawn to be measured once the sheet is printed."""

from __future__ import annotations

from collections.abc import Iterable

from core.curve import Box, Ring
from core.piece.model import Shape
from core.piece.words import says

WORDS = ("test square", "testsquare", "scale square", "test box", "scale box")
# Sides that differ by less than this share are those of a square.
EVEN = 0.02


def squares_to_measure(shapes: Iterable[Shape]) -> tuple[Box, ...]:
    """Around each closed shape that the file calls a test square, in mm, largest first."""
    boxes = [
        s.geometry.bounds()
        for s in shapes
        if isinstance(s.geometry, Ring) and any(says(w, WORDS) for w in (*s.words, s.group_name))
    ]
    square = [b for b in boxes if abs(b.width - b.height) <= EVEN * max(b.width, b.height)]
    return tuple(sorted(square, key=lambda b: -b.width))
