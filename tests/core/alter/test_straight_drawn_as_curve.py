"""Regression: a straight hem that was drawn as a curve was trimmed otherwise than a line.

Its rounded corners were cut where they stuck out, though beside a line they go whole to their
own seams (law 9: the same shape drawn otherwise gives the same result).
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change, HemWay
from core.curve import Cubic, Line, Ring, Segment
from core.piece.model import Piece
from tests.laws.compare import apart
from tests.laws.sketch import Garment, SeamPlan, Sketch

HEM = 60.0


def leg(lean: float) -> Piece:
    seams = SeamPlan(lean, radius=30.0), SeamPlan(lean / 2, radius=15.0)
    return Sketch(Garment.LEG, 500.0, 300.0, *seams).piece()


def as_curve(s: Segment) -> Segment:
    """A long straight line as a curve with uneven handles."""
    if not isinstance(s, Line) or s.length() < HEM or abs(s.tangent(0.0).x) < 0.9:
        return s
    return Cubic(s.start, s.start.towards(s.end, 0.2), s.start.towards(s.end, 0.7), s.end)


def drawn_otherwise(piece: Piece) -> Piece:
    ring = Ring(tuple(as_curve(s) for s in piece.ring))
    assert ring != piece.ring
    return replace(piece, outline=replace(piece.outline, ring=ring))


@pytest.mark.parametrize("lean", [-0.2, 0.1])
@pytest.mark.parametrize("by", [40.0, -40.0])
@pytest.mark.parametrize("hem", list(HemWay))
def test_a_straight_hem_drawn_as_a_curve_is_altered_as_a_line(
    hem: HemWay, by: float, lean: float
) -> None:
    piece = leg(lean)
    line = lengthen(piece, Change(by, hem=hem)).piece.ring
    curve = lengthen(drawn_otherwise(piece), Change(by, hem=hem)).piece.ring
    off = apart(curve, line)
    assert off <= 1e-6, f"wanted the same outline within 1e-6 mm, got {off} mm"
    assert [type(s) for s in curve] == [type(as_curve(s)) for s in line]
