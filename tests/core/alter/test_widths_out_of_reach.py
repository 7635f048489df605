"""Regression: a width was reached by seams that ran 71 degrees off the grain.

For 5 mm more of width over 1 mm of length the cutting line stood off a digitised rounding by a
millimetre too much; such a seam is refused, with what to do.
"""

from __future__ import annotations

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change
from core.errors import AlterationError
from tests.laws.sketch import Garment, SeamPlan, Sketch

LEG = Sketch(Garment.LEG, 320.0, 514.0, SeamPlan(0.0), SeamPlan(0.0))


@pytest.mark.parametrize("width", [520.0, 508.0])
def test_a_seam_that_would_run_across_is_refused(width: float) -> None:
    with pytest.raises(AlterationError, match="cannot get that width over so short a length"):
        lengthen(LEG.piece(), Change(1.0, to_width_mm=width))
    done = lengthen(LEG.piece(), Change(2.0, to_width_mm=width)).piece
    assert done.hem is not None
    first, last = (done.ring.at(t.place) for t in (done.hem.first, done.hem.last))
    assert abs(first.distance(last) - width) < 1e-6
