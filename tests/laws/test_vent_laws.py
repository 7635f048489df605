"""Vents at the side, drawn in many sizes: found above them, and sure only where right."""

from __future__ import annotations

import math

from hypothesis import assume, event, given
from hypothesis import strategies as st

from core.piece.model import Taper
from core.piece.said import with_grain
from tests.laws.compare import ends
from tests.laws.generate import Drawn
from tests.laws.hem_shapes import HemKind
from tests.laws.shaped import shaped
from tests.laws.sketch import SeamPlan
from tests.laws.test_recognised_laws import recognised

# As the table of recognition asks of pieces drawn with ruler and curve, and of digitised ones.
PLACE, DIRECTION = 1.5, math.radians(0.2)
PLACE_DIGITISED, DIRECTION_DIGITISED = 10.0, math.radians(0.7)
# From this width (mm) on, and so much longer a seam above it, a vent drawn with a ruler is clear.
WIDE, LONGER = 18.5, 1.3

KINDS = (HemKind.POINT, HemKind.SLIT, HemKind.SCOOP, HemKind.WAVES)
VENTED = st.one_of(
    shaped(kinds=KINDS, rounded=0.2, with_marks=True, digitised=False),
    shaped(kinds=KINDS, rounded=0.2, with_marks=True, digitised=True, noise=True),
).filter(lambda case: case.sketch.left.vent is not None or case.sketch.right.vent is not None)


def _at_vents(case: Drawn) -> list[tuple[Taper, float, float]]:
    """Each taper point found at a vent, and how far (mm, radians) it is off the true one."""
    # Whoever altered it would have been asked which end is the hem, where that is not sure.
    piece = with_grain(recognised(case.piece), case.piece.grain.down)
    assert piece.hem is not None
    assert case.piece.hem is not None
    wanted = dict(zip(ends(case.piece), (case.piece.hem.first, case.piece.hem.last), strict=True))
    plans = (case.sketch.left, case.sketch.right)
    turned = reversed(plans) if case.pose.backwards else plans
    vented = {p for p, plan in zip(wanted, turned, strict=True) if plan.vent is not None}
    out = []
    for p, taper in zip(ends(piece), (piece.hem.first, piece.hem.last), strict=True):
        q = min(wanted, key=p.distance)
        if q in vented:
            out.append((taper, p.distance(q), abs(taper.down.angle_to(wanted[q].down))))
    return out


@given(VENTED)
def test_a_wrong_taper_point_at_a_vent_is_never_sure(case: Drawn) -> None:
    place, direction = (PLACE, DIRECTION)
    if case.sketch.step > 0.0:
        place, direction = (PLACE_DIGITISED, DIRECTION_DIGITISED)
    for taper, off, turn in _at_vents(case):
        event("sure" if taper.because.sure else "unsure")
        right = off <= place and turn <= direction
        said = f"{off} mm and {turn} rad off: {taper.because.why}"
        assert right or not taper.because.sure, f"wanted that not to be sure: {said}"


def _clear(case: Drawn, plan: SeamPlan) -> bool:
    if plan.vent is None:
        return True
    wide, deep = plan.vent
    return abs(wide) >= WIDE and LONGER * deep < 0.25 * case.sketch.height


@given(shaped(kinds=KINDS, rounded=0.0, with_marks=True, digitised=False))
def test_a_clear_vent_is_sure(case: Drawn) -> None:
    plans = (case.sketch.left, case.sketch.right)
    assume(any(p.vent is not None for p in plans) and all(_clear(case, p) for p in plans))
    for taper, off, _ in _at_vents(case):
        assert off <= PLACE, f"wanted the seam's end above the vent, got {off} mm off"
        assert taper.because.sure, f"wanted that to be sure: {taper.because.why}"
