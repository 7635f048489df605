"""Regression: a rounding drawn in one line was its seam's before a change and the hem's after it.

Such a line leaves the seam by some 0.66 radians, where what it is was decided: the hem, a little
wider, tipped it over, and two changes came out beside the one by their sum, by up to 0.024 mm.
"""

from __future__ import annotations

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change
from tests.laws.compare import assert_same_shape
from tests.laws.sketch import Garment, SeamPlan, Sketch

# With a seam that leans by so much, the line leaves it by 0.63 to 0.66 radians.
LEANS = [0.0, 0.0156, 0.0312, 0.0469, 0.0546, 0.0625]


@pytest.mark.parametrize("lean", LEANS)
@pytest.mark.parametrize(("a", "b"), [(31.0, 1.0), (33.0, 82.0), (100.0, -60.0)])
def test_changes_add_up_beside_a_rounding_of_one_line(lean: float, a: float, b: float) -> None:
    sketch = Sketch(
        Garment.SLEEVE,
        320.0,
        230.0,
        SeamPlan(0.0625),
        SeamPlan(lean, radius=15.0),
        hem_slope=-0.015625,
        hem_angles=(0.0, 0.296875),
        step=20.0,
    )
    piece = sketch.piece()
    twice = lengthen(lengthen(piece, Change(a)).piece, Change(b)).piece
    once = lengthen(piece, Change(a + b)).piece
    assert_same_shape(twice.ring, once.ring, "lengthened twice", tolerance=4e-3)
