"""Hypothesis strategies: legs, skirts and sleeves, in every pose, and the amounts to change."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from hypothesis import assume
from hypothesis import strategies as st

from core.alter.simple import is_simple
from core.curve import Vector
from core.piece.model import Piece
from tests.laws.pose import Pose, dragged
from tests.laws.sketch import Garment, SeamPlan, SeamStyle, Sketch

ALL_STYLES = tuple(SeamStyle)
STRAIGHT_ENDS = (SeamStyle.STRAIGHT, SeamStyle.CURVED_THEN_STRAIGHT)
# A seam narrows at most so much (radians), and never widens the top to nothing.
NARROWS, WIDENS = 0.22, 0.3
TOP_WIDTH = 150.0
# Two rounded corners (mm) leave room for darts between them.
LARGEST_RADIUS = 90.0

poses = st.builds(
    Pose,
    angle=st.one_of(st.just(0.0), st.floats(-math.pi, math.pi)),
    mirrored=st.booleans(),
    step=st.builds(Vector, st.floats(-2000.0, 2000.0), st.floats(-2000.0, 2000.0)),
    backwards=st.booleans(),
    start=st.integers(0, 400),
)
longer = st.floats(1.0, 150.0)
shorter = st.floats(-60.0, -1.0)
changes = st.one_of(longer, shorter)


@dataclass(frozen=True)
class Drawn:
    """A generated piece in its pose, and what it was made from (shown when a law fails)."""

    sketch: Sketch
    pose: Pose
    drag: tuple[float, float] = (0.0, 0.0)

    @cached_property
    def piece(self) -> Piece:
        return self.posed(self.pose)

    def posed(self, pose: Pose) -> Piece:
        """The same piece in another pose."""
        return pose.of(dragged(self.sketch.piece(), *self.drag))


# A seam that leans by less (mm each mm down) stands upright.
UPRIGHT = 1e-6


@st.composite
def seam_plans(
    draw: st.DrawFn, steepest: float, styles: tuple[SeamStyle, ...], largest_radius: float
) -> SeamPlan:
    lean = draw(st.floats(-NARROWS, steepest))
    # What counts as no lean at all is a threshold of the code's own: no maker draws beside it.
    lean = lean if abs(lean) > UPRIGHT else 0.0
    style = draw(st.sampled_from(styles))
    bend = 0.0 if style is SeamStyle.STRAIGHT else draw(st.floats(-0.1, 0.1))
    rounding = st.floats(15.0, largest_radius) if largest_radius else st.nothing()
    radius = draw(st.one_of(st.just(0.0), rounding))
    return SeamPlan(lean, style, bend, radius)


@st.composite
def sketches(
    draw: st.DrawFn,
    *,
    styles: tuple[SeamStyle, ...] = ALL_STYLES,
    digitised: bool | None = None,
    rounded: bool = True,
    curved_hem: bool | None = None,
    darts: bool = True,
    stitched: bool = False,
    garments: tuple[Garment, ...] = tuple(Garment),
    with_marks: bool = False,
) -> Sketch:
    """A sketch; None leaves a choice open. Never one that crosses itself."""
    garment = draw(st.sampled_from(garments))
    height, width = draw(st.floats(320.0, 800.0)), draw(st.floats(230.0, 600.0))
    steepest = min(WIDENS, math.atan((width - TOP_WIDTH) / (2 * height)))
    plans = seam_plans(steepest, styles, min(LARGEST_RADIUS, 0.15 * width) if rounded else 0.0)
    curved = draw(st.booleans()) if curved_hem is None else curved_hem
    by_points = draw(st.booleans()) if digitised is None else digitised
    angle = st.floats(-0.3, 0.3)
    return Sketch(
        garment,
        height,
        width,
        draw(plans),
        draw(plans),
        hem_slope=draw(st.floats(-0.06, 0.06)),
        hem_angles=(draw(angle), draw(angle)) if curved else None,
        hem_parts=draw(st.integers(1, 3)),
        waist_darts=draw(st.integers(0, 2)) if darts and garment is not Garment.SLEEVE else 0,
        hem_darts=draw(st.integers(0, 2)) if darts else 0,
        step=draw(st.floats(5.0, 20.0)) if by_points else 0.0,
        allowance=draw(st.floats(6.0, 20.0)) if stitched else 0.0,
        hem_allowance=draw(st.floats(6.0, 50.0)) if stitched else 0.0,
        with_marks=with_marks,
    )


@st.composite
def drawn(draw: st.DrawFn, *, may_drag: bool = False, **choices: object) -> Drawn:
    """A sound piece in some pose, its taper points perhaps dragged up their seams.

    The other choices are those of `sketches`.
    """
    drag = st.one_of(st.just(0.0), st.floats(0.5, 40.0)) if may_drag else st.just(0.0)
    sketch = draw(sketches(**choices))  # type: ignore[arg-type]
    assume(sketch.upright)
    found = Drawn(sketch, draw(poses), (draw(drag), draw(drag)))
    assume(is_simple(found.piece.outline.ring) and is_simple(found.piece.ring))
    return found
