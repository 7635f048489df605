"""Blunt corners at which the seam has the wider allowance: straight across lies the hem's line."""

from __future__ import annotations

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change, HemWay, SeamWay
from tests.laws.compare import apart, wanted_line
from tests.laws.outer import KEEPS
from tests.laws.sketch import Garment, SeamPlan, Sketch


@pytest.mark.parametrize("hem", HemWay)
@pytest.mark.parametrize("seams", [SeamWay.STRAIGHT, SeamWay.PLUMB])
@pytest.mark.parametrize("by", [-25.0, -3.0, 3.0, 40.0])
def test_the_corner_of_a_narrow_hem_and_a_wide_seam_is_not_dented(
    by: float, seams: SeamWay, hem: HemWay
) -> None:
    """The corner was left out, or went along with the hem's line: up to 6.5 mm off."""
    plan = SeamPlan(-0.2)
    sketch = Sketch(
        Garment.SLEEVE,
        577.0,
        324.0,
        plan,
        plan,
        hem_angles=(-0.02, 0.29),
        allowance=15.0,
        hem_allowance=6.0,
    )
    after = lengthen(sketch.piece(), Change(by, seams=seams, hem=hem)).piece
    off = apart(after.outline.ring, wanted_line(after, sketch))
    assert off <= KEEPS, f"wanted the allowance within {KEEPS} mm everywhere, got {off} mm off"
