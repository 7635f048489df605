"""Nests: one piece in several sizes drawn over each other, as shapes that a reader hands over."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from core.curve import Point, Ring
from core.piece.model import Piece, Shape
from core.piece.recognise import recognise

Words = Callable[[str, str], tuple[str, ...]]


def trapezoid(width: float, height: float, taper: float, *, x: float = 0.0) -> Ring:
    """Its waist at the top from (x, 0), each side going in by `taper` in all."""
    corners = ((x, 0.0), (x + width, 0.0), (x + width - taper, height), (x + taper, height))
    return Ring.polygon(Point(*c) for c in corners)


def nest(
    sizes: Sequence[str], words: Words, *, names: Sequence[str] = ("Front", "Back")
) -> list[Shape]:
    """Outlines that grow and taper more from size to size, all from one corner a piece."""
    shapes: list[Shape] = []
    for k, size in enumerate(sizes):
        for n, name in enumerate(names):
            ring = trapezoid(300.0 + 24.0 * k, 500.0 + 12.0 * k, 20.0 + 3.0 * k, x=900.0 * n)
            shapes.append(Shape(len(shapes), ring, words(name, size), group=n))
    return shapes


def found(shapes: Sequence[Shape]) -> tuple[Piece, ...]:
    return recognise(shapes)[0]


def sizes_in(shapes: Sequence[Shape]) -> list[tuple[str, str]]:
    """Title and size of each piece."""
    return [(p.title, p.size) for p in found(shapes)]
