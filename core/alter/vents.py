"""Vents and slits: cut to a size of their own, so that they move whole with the hem.

A slit goes up from the hem and down again a little beside. A vent at the side is a step: from
the end of the seam a little way across, and down to the hem. The outline has a corner wherever
one of them begins or ends; what flows is a shape of the hem itself and is refitted with it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

from core.alter.frame import Frame
from core.alter.refit import HemDart
from core.curve import Line, Point, Segment, Vector

# What is wider or deeper than this (mm) is part of the hem's shape (common practice).
WIDEST, DEEPEST = 80.0, 300.0
# What is shallower (mm) may be the scatter of digitising.
SHALLOWEST = 8.0
# A slit is at least this much of its width deep, or it is a scallop.
LEAST_DEPTH_SHARE = 0.75
# Sides run within 45 degrees of the grain.
STEEP = math.cos(math.radians(45.0))
# The outline turns by more than this (radians) where a vent or slit begins or ends ...
CORNER = math.radians(35.0)
# ... seen over this much of it (mm), so that one noisy point is none.
WINDOW = 8.0


@dataclass(frozen=True)
class _Stretch:
    """Segments `start` to `stop` (without it) that go up (-1), across (0) or down (+1)."""

    way: int
    start: int
    stop: int


def slits(
    frame: Frame, run: Sequence[Segment], darts: Sequence[HemDart] = ()
) -> tuple[HemDart, ...]:
    """Each slit of the run as something that moves whole; `darts` of the hem are none.

    In run order, mouths too.
    """
    feet = {d.mouth[0] for d in darts}
    stretches = tuple(_stretches(frame, run))
    found: list[HemDart] = []
    taken = 0
    for k, up in enumerate(stretches):
        if up.way >= 0 or up.start < taken or up.start == 0:
            continue
        for down in stretches[k + 1 : k + 4]:
            if down.way <= 0 or run[up.start].start in feet:
                continue
            slit = _slit(frame, run[up.start : down.stop])
            if slit is not None and _cornered(run, up.start) and _cornered(run, down.stop):
                found.append(slit)
                taken = down.stop
            break
    return tuple(found)


def side_vent(frame: Frame, run: Sequence[Segment]) -> int:
    """How many segments at the start of the run make a vent at the side; 0 without one."""
    stretches = tuple(islice(_stretches(frame, run), 3))
    if len(stretches) < 3 or (stretches[0].way, stretches[1].way) != (0, 1):
        return 0
    step, side = stretches[0], stretches[1]
    top, inner, low = run[0].start, run[side.start].start, run[side.stop - 1].end
    deep = frame.height(low) - frame.height(inner)
    fits = top.distance(inner) <= WIDEST and SHALLOWEST <= deep <= DEEPEST
    if fits and _cornered(run, step.stop) and _cornered(run, side.stop):
        return side.stop
    return 0


def _stretches(frame: Frame, run: Sequence[Segment]) -> Iterator[_Stretch]:
    start, going = 0, 0
    for k, s in enumerate(run):
        way = _way(frame, s)
        if k > 0 and way != going:
            yield _Stretch(going, start, k)
            start = k
        going = way
    if run:
        yield _Stretch(going, start, len(run))


def _way(frame: Frame, s: Segment) -> int:
    chord = s.end - s.start
    fall = chord.dot(frame.down)
    if abs(fall) <= STEEP * chord.norm:
        return 0
    return 1 if fall > 0.0 else -1


def _slit(frame: Frame, sides: Sequence[Segment]) -> HemDart | None:
    """The slit with these sides, if it is one: its top in place of a dart's apex."""
    foot, other = sides[0].start, sides[-1].end
    top = min((s.end for s in sides), key=frame.height)
    deep = frame.height(foot.towards(other, 0.5)) - frame.height(top)
    wide = foot.distance(other)
    level = abs(frame.height(foot) - frame.height(other)) <= 0.5 * deep
    if not (level and wide <= WIDEST and SHALLOWEST <= deep <= DEEPEST):
        return None
    if deep < LEAST_DEPTH_SHARE * wide:
        return None
    return HemDart((foot, other), top)


def _cornered(run: Sequence[Segment], k: int) -> bool:
    """Does the run turn sharply at the start of its segment k?"""
    if not 0 < k < len(run):
        return False
    before, after = _chord(run[k - 1 :: -1], back=True), _chord(run[k:], back=False)
    return abs(before.angle_to(after)) > CORNER


def _chord(segments: Sequence[Segment], *, back: bool) -> Vector:
    """The way at the start of a row of segments (at its end when it runs `back`)."""
    first = segments[0]
    if not isinstance(first, Line):
        return first.tangent(1.0 if back else 0.0)
    here: Point = first.end if back else first.start
    far = here
    for s in segments:
        if not isinstance(s, Line) or here.distance(far) >= WINDOW:
            break
        far = s.start if back else s.end
    return here - far if back else far - here
