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


def test_no_spur_sticks_out_below_a_very_short_stretch_of_seam() -> None:
    """1 mm longer, turned in by a quarter: the cutting line ran 1.2 mm out and back again."""
    plan = SeamPlan(0.0)
    sketch = Sketch(
        Garment.LEG, 320.0, 230.0, plan, plan, hem_angles=(0.0, 0.25), allowance=17.0,
        hem_allowance=7.0, with_marks=False,
    )  # fmt: skip
    change = Change(1.0, hem=HemWay.TRIM, to_width_mm=230.0 - 0.5)
    ring = lengthen(sketch.piece(), change).piece.outline.ring
    back = [
        abs(a.tangent(1.0).angle_to(b.tangent(0.0)))
        for a, b in zip(ring, (*ring.segments[1:], ring.segments[0]), strict=True)
    ]
    assert max(back) < 3.0, f"the cutting line turns back on itself: {max(back)} radians"
