"""The hem width that is asked for, the one that is told, and the girth are one and the same."""

from __future__ import annotations

import pytest

from core.alter.figures import hem_width
from core.alter.lengthen import lengthen
from core.alter.model import Change
from core.check.girth import hem_measure
from tests.laws.compare import close
from tests.laws.sketch import Garment, SeamPlan, Sketch

PLAIN = SeamPlan(-0.04)
PLANS = {
    "plain": (PLAIN, SeamPlan(-0.09)),
    "rounded at one end": (PLAIN, SeamPlan(-0.09, radius=60.0)),
    "rounded at both ends": (SeamPlan(-0.04, radius=30.0), SeamPlan(-0.09, radius=80.0)),
    "a vent at one end": (PLAIN, SeamPlan(-0.09, vent=(30.0, 90.0))),
    "a vent cut away": (PLAIN, SeamPlan(-0.09, vent=(-20.0, 60.0))),
}


@pytest.mark.parametrize("darts", [0, 1])
@pytest.mark.parametrize("plans", PLANS.values(), ids=PLANS.keys())
def test_the_width_that_was_asked_for_is_the_one_around(
    plans: tuple[SeamPlan, SeamPlan], darts: int
) -> None:
    """Beside a rounding or a vent it was asked for on the slant, from high up on the one seam to
    low down on the other: 22 cm gave a hem of 20.5. A dart in the hem was told with it."""
    piece = Sketch(Garment.LEG, 500.0, 300.0, *plans, hem_darts=darts).piece()
    measured = hem_measure(piece)
    assert measured is not None
    close(hem_width(piece), measured.width_mm, 1e-6, "the width before")
    wanted = measured.width_mm - 8.0
    altered = lengthen(piece, Change(70.0, to_width_mm=wanted))
    close(altered.figures.hem_width_after_mm, wanted, 1e-6, "the width that is told")
    measured = hem_measure(altered.piece)
    assert measured is not None
    close(measured.width_mm, wanted, 1e-6, "the width around")


def test_where_it_is_sewn_the_width_is_told_with_darts_closed_too() -> None:
    """Inside the cutting line of a hem with a dart in it."""
    skirt = Sketch(Garment.SKIRT, 500.0, 300.0, SeamPlan(0.0), SeamPlan(0.0), hem_darts=1)
    piece = skirt.piece()
    altered = lengthen(piece, Change(60.0, allowance_mm=10.0))
    (hem,) = (f for f in altered.figures.edges if f.role.value == "hem")
    close(altered.figures.hem_width_before_mm, hem.before_mm, 1e-6, "the width before")
    close(altered.figures.hem_width_after_mm, hem.after_mm, 1e-6, "the width after")
