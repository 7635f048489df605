"""Regression: above a vent that stands out from its seam the cutting line has a hollow corner.

It ends above the taper point there, and straight across from that the vent's own edge lies. That
was taken for the seam's line: the cutting line's vent stayed where it was while the hem went down,
and nothing was said.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change, HemWay, SeamWay, TurnUp
from core.check.promises import broken_promises
from core.curve import Point, Ring
from core.piece.model import Outline
from tests.laws.compare import apart, wanted_line
from tests.laws.sketch import Garment, SeamPlan, Sketch

KEEPS = 0.02
CHANGES = [
    Change(60.0),
    Change(-40.0),
    Change(7.3),
    Change(60.0, seams=SeamWay.PLUMB),
    Change(60.0, hem=HemWay.TRIM),
    Change(60.0, hem=HemWay.SQUARE),
    Change(60.0, to_width_mm=270.0),
    Change(60.0, turn_up=TurnUp.MIRROR),
]


@pytest.mark.parametrize("change", CHANGES)
@pytest.mark.parametrize("both", [False, True])
@pytest.mark.parametrize("vent", [(30.0, 80.0), (45.0, 150.0), (-20.0, 60.0)])
def test_the_cutting_line_goes_round_the_vent_where_that_went(
    vent: tuple[float, float], both: bool, change: Change
) -> None:
    plans = SeamPlan(-0.06, vent=vent if both else None), SeamPlan(-0.04, vent=vent)
    drawn = Sketch(Garment.LEG, 500.0, 260.0, *plans, allowance=10.0, hem_allowance=12.0)
    altered = lengthen(drawn.piece(), change)
    assert not [f for f in altered.findings if "by itself" in f.sentence]
    off = apart(altered.piece.outline.ring, wanted_line(altered.piece, drawn))
    assert off <= KEEPS, f"wanted the cutting line within {KEEPS} mm, got {off} mm off"


@pytest.mark.parametrize("ways", [{}, {"seams": SeamWay.PLUMB}])
def test_beside_a_vent_twice_is_once_by_the_sum(ways: dict[str, SeamWay]) -> None:
    """It was 3.9 mm off."""
    plans = SeamPlan(-0.06), SeamPlan(-0.04, vent=(30.0, 80.0))
    drawn = Sketch(Garment.LEG, 500.0, 260.0, *plans, allowance=10.0, hem_allowance=12.0)
    whole = lengthen(drawn.piece(), Change(60.0, **ways)).piece
    parts = lengthen(
        lengthen(drawn.piece(), Change(24.0, **ways)).piece, Change(36.0, **ways)
    ).piece
    off = apart(whole.outline.ring, parts.outline.ring)
    assert off <= 0.01, f"wanted the same within 0.01 mm, got {off} mm"


@pytest.mark.parametrize("by", [60.0, -40.0, -7.0])
@pytest.mark.parametrize("lean", [-0.04, 0.07, 0.0213])
def test_beside_a_vent_the_line_above_stays_what_it_is_in_a_file_of_few_decimals(
    lean: float, by: float
) -> None:
    """Made shorter it ended a ten-thousandth of a mm off itself, and that stopped the maker."""
    plans = SeamPlan(0.0), SeamPlan(lean, vent=(30.0, 80.0))
    drawn = Sketch(Garment.SKIRT, 500.0, 260.0, *plans, allowance=10.0, hem_allowance=12.0)
    piece = drawn.piece()
    points = [s.start for s in piece.outline.ring]
    rounded = Ring.polygon(Point(round(p.x, 2), round(p.y, 2)) for p in points)
    piece = replace(piece, outline=Outline(rounded, piece.outline.origins))
    assert broken_promises(lengthen(piece, Change(by))) == ()
