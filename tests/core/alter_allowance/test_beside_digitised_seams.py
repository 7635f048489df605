"""Regression: beside a digitised seam, the last step of the cutting line was taken for ruled.

Drawn through the turn-up to its corner, that step is long, and it leaves the direction in which
the seam is going by half a step's turn. It looked as if its allowance were meant to change:
7.7 mm became 8.1 mm on a leg made 92 mm longer. And a seam carried on, then cut back a little by
trimming, was asked anew for its direction, of its last steps and a stub of what was carried on
(0.2 degrees off). And the corner, put aside by the drawn-through step, made a kink at the hem's
line once the seam was longer: the next change took it for the side of a turn-up (0.12 mm).
"""

from __future__ import annotations

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change, HemWay
from core.curve import Vector
from core.piece.model import Piece
from tests.laws.compare import assert_same_shape, close
from tests.laws.sketch import Garment, SeamPlan, SeamStyle, Sketch

ALLOWANCE = 8.0
# An allowance is kept within this (mm) beside the carried part.
KEEPS = 0.02


def leg(bend: float, lean: float, step: float) -> Piece:
    seams = SeamPlan(lean, SeamStyle.CURVED, bend), SeamPlan(0.0)
    sketch = Sketch(
        Garment.LEG,
        525.0,
        250.0,
        *seams,
        hem_slope=-0.03,
        step=step,
        allowance=ALLOWANCE,
        hem_allowance=40.0,
    )
    return sketch.piece()


@pytest.mark.parametrize("hem", [HemWay.REFIT, HemWay.TRIM])
@pytest.mark.parametrize("by", [20.0, 92.0, 150.0])
@pytest.mark.parametrize("step", [5.0, 9.0, 19.7])
@pytest.mark.parametrize(("bend", "lean"), [(0.084, -0.038), (-0.09, 0.0), (0.03, 0.06)])
def test_the_allowance_does_not_change_beside_a_digitised_seam(
    bend: float, lean: float, step: float, by: float, hem: HemWay
) -> None:
    before = leg(bend, lean, step)
    after = lengthen(before, Change(by, hem=hem)).piece
    assert before.hem is not None
    assert after.hem is not None
    top, end = before.ring.at(before.hem.first.place), after.ring.at(after.hem.first.place)
    cut = after.outline.ring
    for share in (0.2, 0.5, 0.8, 1.0):
        place = top + (end - top) * share
        close(cut.nearest(place).distance, ALLOWANCE, KEEPS, f"the allowance at {share}")


@pytest.mark.parametrize("by", [1.0, 2.0, 15.0])
@pytest.mark.parametrize("slope", [-0.05, 0.03])
def test_a_trimmed_seam_points_where_it_was_carried_on(slope: float, by: float) -> None:
    curved = SeamPlan(0.05, SeamStyle.CURVED, -0.09)
    sketch = Sketch(Garment.LEG, 400.0, 300.0, curved, SeamPlan(0.0), hem_slope=slope, step=5.0)
    before = sketch.piece()
    after = lengthen(before, Change(by, hem=HemWay.TRIM)).piece
    assert before.hem is not None
    assert after.hem is not None
    turn = abs(after.hem.first.down.angle_to(before.hem.first.down))
    close(turn, 0.0, 1e-9, "the turn of the seam's direction (radians)")


@pytest.mark.parametrize("lean", [0.0, 0.05, -0.1])
@pytest.mark.parametrize("bend", [0.097, -0.06])
def test_a_line_carried_on_beside_a_digitised_seam_runs_straight_to_its_corner(
    lean: float, bend: float
) -> None:
    plans = SeamPlan(0.0), SeamPlan(lean, SeamStyle.CURVED, bend)
    sketch = Sketch(Garment.LEG, 320.0, 230.0, *plans, step=10.0, allowance=6.0, hem_allowance=16.0)
    once = lengthen(sketch.piece(), Change(2.0)).piece
    twice = lengthen(lengthen(sketch.piece(), Change(1.0)).piece, Change(1.0)).piece
    assert_same_shape(twice.outline.ring, once.outline.ring, "lengthened twice")
    assert once.hem is not None
    end, down = once.ring.at(once.hem.last.place), once.hem.last.down
    near = end.moved(down, 16.0).moved(Vector(1.0, 0.0), 6.0)
    corner = min((s.start for s in once.outline.ring), key=near.distance)
    beside = abs((corner - end).cross(down))
    close(beside, 6.0, 0.001, "the allowance at the corner")
