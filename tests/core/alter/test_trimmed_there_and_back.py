"""A slid hem that is slid back ends on the very joints on which it began."""

from __future__ import annotations

import pytest

from core.alter.model import Change, HemWay
from core.alter.together import alter_together
from core.curve import Chain, Cubic, Line, Point, Ring
from core.piece.model import Kind, Piece, Shape
from core.piece.recognise import recognise
from tests.laws.compare import assert_same_shape


def bell_sleeve(step: float) -> Piece:
    """A sleeve that flares into a hem which bends out, all digitised in steps of so much (mm)."""
    cap = ((-170.0, 150.0), (-102.0, 140.0), (-93.5, 0.0), (0.0, 0.0))
    fall = ((170.0, 150.0), (150.0, 300.0), (150.0, 420.0), (210.0, 600.0))
    hem = ((210.0, 600.0), (105.0, 635.0), (-105.0, 635.0), (-210.0, 600.0))
    mirrored = [tuple((-x, y) for x, y in reversed(row)) for row in (cap, fall)]
    points: list[Point] = []
    for row in (cap, mirrored[0], fall, hem, mirrored[1]):
        curve = Cubic(*(Point(x, y) for x, y in row))
        count = round(curve.length() / step)
        points += [curve.at(k / count) for k in range(count)]
    shapes = [
        Shape(0, Ring.polygon(points), ("Bell Sleeve",)),
        Shape(1, Chain((Line(Point(0.0, 60.0), Point(0.0, 540.0)),)), kind=Kind.GRAIN),
    ]
    (piece,), _ = recognise(shapes)
    return piece


@pytest.mark.parametrize("step", [2.5, 3.0, 4.0])
@pytest.mark.parametrize("by", [10.0, 60.0, 100.0])
def test_a_digitised_hem_slid_down_can_be_slid_up_again(step: float, by: float) -> None:
    """A sliver of a step was left at its end, and the outline was said to cross itself."""
    piece = bell_sleeve(step)
    (down,) = alter_together((piece,), Change(by, hem=HemWay.TRIM))
    (up,) = alter_together((down.piece,), Change(-by, hem=HemWay.TRIM))
    assert_same_shape(up.piece.ring, piece.ring, "there and back")
