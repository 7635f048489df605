"""Regression: the rounding of a hem below the line said how the trued seam was to run.

The direction in which a digitised seam goes on from where it is trued was fitted over its next
120 mm, past its taper point into the rounded corner: a leg that got 1 mm put in gained 2.7 mm of
side seam and lost cloth.
"""

from __future__ import annotations

import math

import pytest

from core.alter.level.insert import insert_at
from core.alter.level.model import LevelChange, Truing
from core.alter.level.true_seams import BLEND
from core.curve import Point
from core.piece.model import Role
from tests.laws.sketch import Garment, SeamPlan, Sketch

LEAN, HEIGHT, WIDTH = 0.234375, 604.0, 439.0


@pytest.mark.parametrize("radius", [15.0, 40.0])
@pytest.mark.parametrize("rest", [32.0, 50.0, 80.0])
@pytest.mark.parametrize("amount", [1.0, 40.0, -30.0])
def test_a_rounded_corner_below_the_line_does_not_turn_the_seam(
    radius: float, rest: float, amount: float
) -> None:
    """A straight seam, trued over `reach`, is a curve about the chord over its jog. Closed form
    of the chord: the reach and the amount down the grain, the old lean's reach across."""
    seams = SeamPlan(0.0), SeamPlan(LEAN, radius=radius)
    piece = Sketch(
        Garment.LEG, HEIGHT, WIDTH, *seams, hem_angles=(0.0, 0.0), step=10.0, with_marks=False
    ).piece()
    folded = max(0.0, -amount)
    assert piece.hem is not None
    taper = max((piece.ring.at(t.place) for t in (piece.hem.first, piece.hem.last)), key=_across)
    at = taper.y - rest - BLEND - folded - min(s.start.y for s in piece.ring)
    after = insert_at(piece, LevelChange(at, amount, Truing.SMOOTH)).piece
    was, now = (p.edge_length(p.edge(Role.SIDE)) for p in (piece, after))
    reach = 2 * BLEND + folded
    chord = math.hypot(reach + amount, reach * math.tan(LEAN)) - reach / math.cos(LEAN)
    # The curve is longer than its chord by less than the square of its turn at either end.
    turn = LEAN - math.atan2(reach * math.tan(LEAN), reach + amount)
    swell = (reach + abs(amount)) * turn**2
    off = now - was - chord
    wanted = f"wanted the seam longer by {chord} mm and up to {swell} more"
    assert -1e-6 <= off <= swell + 1e-6, f"{wanted}, got {now - was}"
    grown = (after.ring.area() - piece.ring.area()) * amount
    assert grown > 0.0, f"changed by {amount} mm, the area grew the other way"


def _across(p: Point) -> float:
    return p.x
