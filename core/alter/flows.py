"""How a hem run leaves its seam: along it, in a vent, or at a corner.

What goes on along the seam, and a rounding digitised as a row of short lines, keeps to the
seam: heights go down with its end, widths are measured from the seam's own line. So nothing
that flowed out of the seam gets a kink there. The flatter a step of a rounding, the more it goes
by the hem instead.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from core.alter.refit import Ends, RunMap
from core.curve import Affine, Line, Point, Segment, Vector
from core.piece.direction import DIGITISED_STEP

# A straight start of the run that leaves the seam within this angle (radians) is part of
# the seam's own line.
STRAIGHT_ON = 1e-3
# A run that leaves the seam within this angle (radians) flows out of it; a digitised one over
# LOOK mm. A first step of 16 mm on a rounding of radius 15 leaves by 0.53, the steepest side of a
# pointed hem by 0.8, and scatter swings either by 0.1: what lies between them changes little
# when the hem is scaled, so the answer is the same before and after a change.
FLOWS = 0.66
LOOK = 4.0
# Of a step of a digitised rounding it is asked how far it would fall over the hem's whole width,
# darts left out: they do not scale. So measured, in mm, it is about the same before and after a
# change. From STEEP on a step goes by the seam, below LEVEL it is hem and goes by it, and between
# them by both in part: a step that is measured a little otherwise a second time then goes only a
# little otherwise.
STEEP, LEVEL = 800.0, 100.0


def flowing(where: RunMap, run: Sequence[Segment], ends: Ends) -> int:
    """How many segments at the start of the run keep to the seam that leads into it."""
    count = 0
    while count < len(run) and _goes_on(run[count], ends.first_down):
        count += 1
    if count == len(run) or not _leaves_softly(run, ends.first_down):
        return count
    rounding = _rounding(where, run, ends)
    return rounding if count < rounding < len(run) else count


def _goes_on(segment: Segment, direction: Vector) -> bool:
    if not isinstance(segment, Line):
        return False
    return abs(segment.tangent(0.0).angle_to(direction)) < STRAIGHT_ON


def _leaves_softly(run: Sequence[Segment], down: Vector) -> bool:
    start = end = run[0].start
    for s in run:
        if not _is_step(s) or start.distance(end) >= LOOK:
            break
        end = s.end
    return end != start and abs(down.angle_to(end - start)) < FLOWS


def _is_step(s: Segment) -> bool:
    return isinstance(s, Line) and s.length() < DIGITISED_STEP


def _rounding(where: RunMap, run: Sequence[Segment], ends: Ends) -> int:
    """The steps down to where the digitised rounding has turned into the hem."""
    falls = _Falls(where, ends)
    dart = where.stops[0] if where.stops else math.inf
    for k, s in enumerate(run):
        if not (_is_step(s) or _goes_on(s, ends.first_down)):
            return k
        if falls.of(s) < LEVEL or where.to_run.point(s.end).x > dart:
            return k
    return len(run)


class _Falls:
    """How far the steps of a rounding at the first end fall over the hem's whole width."""

    def __init__(self, where: RunMap, ends: Ends) -> None:
        self._to_run, self._lean = where.to_run, _lean(where, ends.first_down)
        across = self._to_run.point(ends.last) - self._to_run.point(ends.first)
        self._free, self._hem = across.x - where.taken, across.y

    def of(self, s: Segment) -> float:
        """In mm; without bound for what still goes down the seam, or out past it."""
        way = self._to_run.vector(s.end - s.start)
        aside = way.x - self._lean * way.y
        return way.y * self._free / aside - self._hem if aside > 0.0 else math.inf


class _Followed(NamedTuple):
    """A step: as the seam takes it along, as it was, and by which share it goes by the seam."""

    by_seam: Vector
    was: Vector
    share: float


@dataclass(frozen=True)
class Following:
    """The lines with which a run starts, and how far each of them goes by the seam."""

    start: Point
    steps: tuple[_Followed, ...]

    @classmethod
    def of(cls, where: RunMap, lead: Sequence[Segment], old: Ends, new: Ends) -> Following:
        """For the `lead` of a run, `flowing` segments long."""
        falls, by_seam = _Falls(where, old), _along_seam(where, old, new)
        steps = []
        for s in lead:
            steep = (falls.of(s) - LEVEL) / (STEEP - LEVEL)
            share = 1.0 if _goes_on(s, old.first_down) else min(1.0, max(0.0, steep))
            step = s.end - s.start
            steps.append(_Followed(by_seam.vector(step), step, share))
        return cls(new.first, tuple(steps))

    @property
    def by_degrees(self) -> bool:
        """Does any of them go by the hem too?"""
        return any(s.share < 1.0 for s in self.steps)

    def lines(self, by_hem: Affine) -> tuple[Line, ...]:
        """The lines moved; `by_hem` is the map of the hem that follows them."""
        out: list[Line] = []
        end = self.start
        for s in self.steps:
            step = s.by_seam * s.share + by_hem.vector(s.was) * (1.0 - s.share)
            start, end = end, end + step
            out.append(Line(start, end))
        return tuple(out)


def _lean(where: RunMap, down: Vector) -> float:
    """How far a seam goes across (into the hem) for each mm down."""
    way = where.to_run.vector(down)
    return way.x / way.y


def _along_seam(where: RunMap, old: Ends, new: Ends) -> Affine:
    """The map, page to page, that takes the seam's line at the first end to its new line.

    Along the seam heights stay, across it widths scale as they do beside it in the hem.
    """
    to_run = where.to_run
    beside = to_run @ where.pieces[0] @ to_run.inverse()
    scale, slope = beside.a, beside.b
    was, now = _lean(where, old.first_down), _lean(where, new.first_down)
    turn = Affine(a=scale, b=slope, c=now - was * scale, d=1.0 - was * slope)
    p, q = to_run.point(old.first), to_run.point(new.first)
    there = Affine.move(q.x, q.y) @ turn @ Affine.move(-p.x, -p.y)
    return to_run.inverse() @ there @ to_run
