"""Hypothesis strategies: pieces with hems of every shape, and every way to change them."""

from __future__ import annotations

import math
from dataclasses import replace

from hypothesis import assume, event, reject
from hypothesis import strategies as st

from core.alter.lengthen import lengthen
from core.alter.model import Change, HemWay, SeamWay
from core.alter.simple import is_simple
from core.errors import AlterationError
from core.piece.model import Piece
from tests.laws.generate import Drawn, poses
from tests.laws.hem_shapes import HemKind, HemShape
from tests.laws.sketch import Garment, SeamPlan, SeamStyle, Sketch

NOISE = 0.2
MOST_TURN = 0.3
# A rounding flows into these only: the others leave their end at an angle of their own.
FLOWING = (HemKind.WAVES, HemKind.SCOOP, HemKind.ASIDE, HemKind.SLIT)
CURVED = (HemKind.POINT, HemKind.SLIT, HemKind.STEP)
DEEPEST = {
    HemKind.WAVES: 14.0,
    HemKind.SCOOP: 60.0,
    HemKind.ASIDE: 60.0,
    HemKind.POINT: 70.0,
    HemKind.SLIT: 150.0,
    HemKind.STEP: 120.0,
}


@st.composite
def hem_shapes(draw: st.DrawFn, kinds: tuple[HemKind, ...]) -> HemShape:
    kind = draw(st.sampled_from(kinds))
    wide = st.floats(4.0, 40.0) if kind is HemKind.SLIT else st.floats(85.0, 110.0)
    least = 30.0 if kind in (HemKind.SLIT, HemKind.STEP) else 6.0
    return HemShape(
        kind,
        at=draw(st.floats(0.35, 0.65)),
        wide=draw(wide),
        deep=draw(st.floats(least, DEEPEST[kind])),
        curved=kind in CURVED and draw(st.booleans()),
    )


@st.composite
def _plans(
    draw: st.DrawFn,
    styles: tuple[SeamStyle, ...],
    steepest: float,
    *,
    round_: float,
    radius: float,
    vent: bool,
) -> SeamPlan:
    style = draw(st.sampled_from(styles))
    bend = 0.0 if style is SeamStyle.STRAIGHT else draw(st.floats(-0.08, 0.08))
    plan = SeamPlan(draw(st.floats(-0.18, steepest)), style, bend)
    if round_ and draw(st.floats(0.0, 1.0)) <= round_:
        return replace(plan, radius=draw(st.floats(15.0, radius)))
    if vent and draw(st.booleans()):
        wide = draw(st.one_of(st.floats(10.0, 50.0), st.floats(-30.0, -10.0)))
        return replace(plan, vent=(wide, draw(st.floats(30.0, 120.0))))
    return plan


@st.composite
def shaped(
    draw: st.DrawFn,
    *,
    kinds: tuple[HemKind, ...] = tuple(HemKind),
    styles: tuple[SeamStyle, ...] = tuple(SeamStyle),
    digitised: bool | None = None,
    noise: bool = False,
    rounded: float = 0.5,
    largest_radius: float = 40.0,
    vents: bool = True,
    with_marks: bool = False,
) -> Drawn:
    """A sound piece in some pose whose hem has a shape; None leaves a choice open.

    `rounded` is how many of the hem's corners are, where they can be.
    """
    shape = draw(hem_shapes(kinds))
    height, width = draw(st.floats(420.0, 800.0)), draw(st.floats(340.0, 600.0))
    steepest = min(0.25, math.atan((width - 180.0) / (2 * height)))
    soft = rounded if shape.kind in FLOWING and not shape.curved else 0.0
    open_ = vents and shape.kind is not HemKind.STEP
    plans = _plans(styles, steepest, round_=soft, radius=largest_radius, vent=open_)
    by_points = draw(st.booleans()) if digitised is None else digitised
    angle = st.floats(-0.25, 0.25)
    flows = shape.kind in (HemKind.WAVES, HemKind.ASIDE)
    sketch = Sketch(
        draw(st.sampled_from(tuple(Garment))),
        height,
        width,
        draw(plans),
        draw(plans),
        hem_slope=draw(st.floats(-0.05, 0.05)),
        hem_angles=(draw(angle), draw(angle)) if flows else None,
        step=draw(st.floats(4.0, 16.0)) if by_points else 0.0,
        noise=NOISE if noise and by_points else 0.0,
        shape=shape,
        with_marks=with_marks,
    )
    assume(sketch.upright)
    found = Drawn(sketch, draw(poses))
    assume(is_simple(found.piece.ring))
    return found


ways = st.sampled_from(tuple(HemWay))
seam_ways = st.sampled_from(tuple(SeamWay))


def made(piece: Piece, change: Change) -> Piece:
    """The altered piece; the example is left aside where the change is refused.

    Or where a width was asked for over so short a way that a seam would turn like a corner.
    """
    try:
        after = lengthen(piece, change).piece
    except AlterationError:
        event("refused")
        reject()
    assert piece.hem is not None
    assert after.hem is not None
    pairs = ((piece.hem.first, after.hem.first), (piece.hem.last, after.hem.last))
    assume(all(abs(a.down.angle_to(b.down)) < MOST_TURN for a, b in pairs))
    return after


def amounts(least: float, most: float) -> st.SearchStrategy[float]:
    """Any amount to change by, from 1 mm on: floats around nought are most often near nought,
    and near half of all examples were left aside."""
    sides = [(least, min(most, -1.0)), (max(least, 1.0), most)]
    return st.one_of(*(st.floats(a, b) for a, b in sides if a <= b))


@st.composite
def any_change(
    draw: st.DrawFn, *, least: float = -60.0, most: float = 120.0, hem: HemWay | None = None
) -> Change:
    """By any amount, in any hem way, with seams straight, curved, plumb or to a width."""
    by = draw(amounts(least, most))
    width = st.one_of(st.none(), st.floats(220.0, 600.0)) if by > 0.0 else st.none()
    return Change(by, seams=draw(seam_ways), hem=hem or draw(ways), to_width_mm=draw(width))
