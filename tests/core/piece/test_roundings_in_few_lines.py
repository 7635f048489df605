"""Regression: a tight rounding digitised in three lines was taken for a plain corner, and surely.

Rounded by 24 mm in steps of 13, each of its joints turns by 30 degrees, so it looked like
corners; the seam was carried on at 45 degrees from the middle of it without a word.
"""

from __future__ import annotations

import pytest

from core.piece.recognise import recognise
from tests.laws.compare import ends
from tests.laws.sketch import Garment, SeamPlan, Sketch
from tests.laws.test_recognised_laws import shapes_of

# Digitised: the taper point is right within so much along the seam (mm), as in the table.
RIGHT = 10.0


@pytest.mark.parametrize("garment", list(Garment))
@pytest.mark.parametrize("radius", [15.0, 20.0, 24.0, 30.0, 40.0])
@pytest.mark.parametrize("step", [8.0, 10.0, 13.0, 16.0, 20.0])
def test_a_rounding_in_few_lines_is_found_or_not_sure(
    garment: Garment, radius: float, step: float
) -> None:
    plan = SeamPlan(0.02, radius=radius)
    drawn = Sketch(garment, 420.0, 330.0, plan, plan, step=step).piece()
    (piece,), _ = recognise(shapes_of(drawn))
    assert piece.hem is not None
    for taper in (piece.hem.first, piece.hem.last):
        p = piece.ring.at(taper.place)
        off = min(p.distance(q) for q in ends(drawn))
        right = off <= max(RIGHT, step)
        said = f"{off:.1f} mm off: {taper.because.why}"
        assert right or not taper.because.sure, f"wanted unsure, got sure and {said}"
