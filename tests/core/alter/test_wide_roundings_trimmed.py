"""Regression: a rounding that takes half of the run was cut where the slid hem met the seam.

It left the seam with a kink of 3 degrees and ended 5.7 mm lower, for 1 mm shorter; a little smaller
it stayed whole.
"""

from __future__ import annotations

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change, HemWay
from tests.laws.compare import run, turns
from tests.laws.hem_shapes import HemKind, HemShape
from tests.laws.sketch import Garment, SeamPlan, Sketch


@pytest.mark.parametrize("by", [-1.0, 30.0])
@pytest.mark.parametrize("radius", [100.0, 110.0, 118.0, 125.0])
def test_a_rounding_of_about_half_the_run_stays_whole(radius: float, by: float) -> None:
    piece = Sketch(
        Garment.LEG,
        420.0,
        340.0,
        SeamPlan(0.0, radius=15.0),
        SeamPlan(0.1875, radius=radius),
        shape=HemShape(HemKind.SCOOP, 0.5, 85.0, 6.0),
    ).piece()
    after = lengthen(piece, Change(by, hem=HemWay.TRIM)).piece
    for k in (0, -1):
        assert run(after)[k].length() == pytest.approx(run(piece)[k].length(), abs=1e-6)
    smooth = [p for p, turn in turns(after.ring) if abs(turn) < 1e-6]
    assert {after.ring.at(t.place) for t in (after.hem.first, after.hem.last)} <= set(smooth)
