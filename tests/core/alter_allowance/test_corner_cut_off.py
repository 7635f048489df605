"""Regression: where trimming cut a corner into a rounded hem, the cutting line ran round it.

It had no corner there before, so one curve was drawn round the new one: at an allowance of 20 mm
it came as near as 18.1 mm to the stitching line, and was 3.5 mm inside the mitre. Both edges are
carried straight on to their mitre instead (common practice, no source).
"""

from __future__ import annotations

import math

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change, HemWay
from core.curve import Point
from core.piece.model import Piece
from tests.laws.compare import apart, turns, wanted_line
from tests.laws.sketch import Garment, SeamPlan, Sketch

KEEPS = 0.02


def sketch(lean: float, radius: float, allowance: float) -> Sketch:
    seams = SeamPlan(0.0, radius=15.0), SeamPlan(lean, radius=radius)
    return Sketch(
        Garment.LEG,
        500.0,
        300.0,
        *seams,
        hem_angles=(0.02, -0.02),
        allowance=allowance,
        hem_allowance=allowance,
    )


def trimmed(piece: Piece, by: float) -> Piece:
    altered = lengthen(piece, Change(by, hem=HemWay.TRIM))
    assert not [f for f in altered.findings if "by itself" in f.sentence]
    return altered.piece


def cut_corner(piece: Piece) -> tuple[Point, float]:
    """Where the trimmed hem meets its seam, and by how much the outline turns there."""
    found = [(p, abs(turn)) for p, turn in turns(piece.ring) if 0.05 < abs(turn) < 1.2]
    assert len(found) == 1, f"wanted one corner that was cut, got {found}"
    return found[0]


@pytest.mark.parametrize("allowance", [6.0, 10.0, 20.0])
@pytest.mark.parametrize(
    ("lean", "radius", "by"),
    [(0.0625, 15.0, -11.0), (0.2, 15.0, -40.0), (-0.2, 15.0, 40.0), (-0.1, 60.0, 20.0)],
)
def test_a_corner_cut_into_a_rounded_hem_is_mitred(
    lean: float, radius: float, by: float, allowance: float
) -> None:
    drawn = sketch(lean, radius, allowance)
    after = trimmed(drawn.piece(), by)
    off = apart(after.outline.ring, wanted_line(after, drawn))
    assert off <= KEEPS, f"wanted the allowance and the mitre within {KEEPS} mm, got {off}"
    at, turn = cut_corner(after)
    reach = allowance / math.cos(turn / 2)
    off = min(abs(at.distance(s.start) - reach) for s in after.outline.ring)
    assert off < 1e-6, f"wanted a corner {reach} mm from the stitching line's, got {off} mm off"
