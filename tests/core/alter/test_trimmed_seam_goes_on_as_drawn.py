"""Regression: shortened with the hem trimmed, a bent seam ended in a ruled line beside itself.

The rounded corner that was cut met the seam below its new taper point, where the old seam still
runs; the seam was carried straight on to there, up to 0.08 mm beside its own line.
"""

from __future__ import annotations

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change, HemWay
from core.piece.model import Piece
from tests.laws.sketch import Garment, SeamPlan, SeamStyle, Sketch


def leg(lean: float, bend: float) -> Piece:
    seams = SeamPlan(0.0, radius=15.0), SeamPlan(lean, SeamStyle.CURVED, bend, radius=15.0)
    return Sketch(Garment.LEG, 400.0, 300.0, *seams, hem_angles=(0.02, -0.02)).piece()


@pytest.mark.parametrize("by", [-14.0, -25.0, -40.0, -60.0])
@pytest.mark.parametrize("bend", [-0.06, 0.03, 0.1])
@pytest.mark.parametrize("lean", [0.1, 0.1875])
def test_all_of_a_shortened_seam_lies_on_the_old_one(lean: float, bend: float, by: float) -> None:
    piece = leg(lean, bend)
    after = lengthen(piece, Change(by, hem=HemWay.TRIM)).piece
    assert after.hem is not None
    old = piece.ring
    (edge,) = (e for e in after.edges if e.start == after.hem.last.place)
    seam = after.ring.run(edge.start, edge.end)
    points = [s.at(k / 4) for s in seam for k in range(5)]
    off = max(old.nearest(p).distance for p in points)
    assert off <= 1e-6, f"wanted the seam on its old line within 1e-6 mm, got {off} mm beside it"
