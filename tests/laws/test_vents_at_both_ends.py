"""Regression: a trimmed hem with a vent at each side ended some 1e-14 mm beside its seam.

The vent was moved to the seam's end by a step, which rounding can miss, and the outline did not
close.
"""

from __future__ import annotations

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change, HemWay
from core.curve import Vector
from tests.laws.hem_shapes import HemKind, HemShape
from tests.laws.pose import Pose
from tests.laws.sketch import Garment, SeamPlan, Sketch


@pytest.mark.parametrize(("angle", "start"), [(0.3125, 0), (1.8669065671296732, 1)])
def test_a_trimmed_hem_between_two_vents_closes(angle: float, start: int) -> None:
    seams = SeamPlan(-0.15625, vent=(10.0, 107.0)), SeamPlan(0.0, vent=(10.0, 38.0))
    shape = HemShape(kind=HemKind.POINT, at=0.5, wide=85.0, deep=6.0, curved=True)
    sketch = Sketch(Garment.LEG, 595.0, 340.0, *seams, step=4.0, hem_angles=None, shape=shape)
    pose = Pose(angle=angle, mirrored=True, step=Vector(0.0, 0.0), backwards=False, start=start)
    piece = pose.of(sketch.piece())
    after = lengthen(piece, Change(32.0, hem=HemWay.TRIM, to_width_mm=310.0)).piece
    assert after.ring.closed
