"""Regression: a digitised hem made square dipped in its first steps.

It was turned by the angle of its chord over 20 mm instead of the direction in which it starts: a
hem that bends lay 0.87 mm beside the refitted one, and went up 0.24 mm before it came down.
"""

from __future__ import annotations

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change, HemWay
from tests.laws.compare import apart
from tests.laws.hem_shapes import HemKind, HemShape
from tests.laws.sketch import Garment, SeamPlan, Sketch

# The hem below starts within 0.016 radians of square to its seams.
NEAR = 0.3


@pytest.mark.parametrize("deep", [10.0, 18.0, 25.0])
@pytest.mark.parametrize("step", [4.0, 8.0])
@pytest.mark.parametrize("by", [-1.0, 60.0])
def test_a_bent_digitised_hem_that_is_nearly_square_stays_where_it_is(
    by: float, step: float, deep: float
) -> None:
    shape = HemShape(HemKind.ASIDE, at=0.359375, wide=85.0, deep=deep, curved=False)
    plans = SeamPlan(0.0), SeamPlan(0.0)
    piece = Sketch(
        Garment.LEG, 420.0, 340.0, *plans, hem_angles=(0.0, 0.0), step=step, shape=shape
    ).piece()
    one, other = (lengthen(piece, Change(by, hem=w)).piece for w in (HemWay.SQUARE, HemWay.REFIT))
    off = apart(one.ring, other.ring)
    assert off <= NEAR, f"wanted the squared hem within {NEAR} mm of the refitted one, got {off}"
