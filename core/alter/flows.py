"""How a hem run leaves its seam: along it, in a vent, or at a corner.

What goes on along the seam, and a rounding digitised as a row of short lines, keeps to the
seam: each step is taken for a way down the seam, which stays as long as it is, and a way along
the hem, which scales with it. So nothing that flowed out of the seam gets a kink there. The
flatter a step of a rounding, the less of its fall goes down the seam.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from core.alter.frame import Frame
from core.alter.refit import Ends, HemDart, run_frame
from core.curve import Affine, Line, Point, Segment, Vector
from core.piece.direction import DIGITISED_STEP

# A straight start of the run that leaves the seam within this angle (radians) is part of
# the seam's own line.
STRAIGHT_ON = 1e-3
# A run that leaves the seam within the first angle (radians) flows out of it; a digitised one over
# LOOK mm. A first step of 16 mm on a rounding of radius 15 leaves by 0.53, the steepest side of a
# pointed hem by 0.8, and scatter swings either by 0.1. Within the second of the first, a digitised
# one flows by a part: its angle changes a little when the hem is scaled, and what it tells may not
# jump.
FLOWS, FADE = 0.66, 0.06
LOOK = 4.0
# Of a step of a digitised rounding it is asked how far it would fall over the hem's whole width,
# darts left out: they do not scale. So measured, in mm, it is the same before and after a change.
# From STEEP on all its fall goes down the seam, below LEVEL it is hem, and between them a part of
# the fall goes down the seam, in equal parts for equal ratios.
STEEP, LEVEL = 1000.0, 100.0
# Halvings in which the share of a step is found.
HALVINGS = 40
NO_WAY = Vector(0.0, 0.0)


@dataclass(frozen=True)
class Leaving:
    """A seam and the hem that leaves it, in the run's frame.

    `lean` is how far the seam goes across, into the hem, for each mm down; `width` is that of
    all that scales with the hem, `slope` what it falls for each mm of it; the first dart begins
    at the x of `dart`.
    """

    to_run: Affine
    lean: float
    width: float
    slope: float
    dart: float

    @classmethod
    def of(cls, frame: Frame, ends: Ends, hem: Vector, darts: Sequence[HemDart]) -> Leaving:
        """At the first of the ends; `hem` is the way across it, with its darts."""
        to_run = run_frame(frame, ends)
        mouths = [[to_run.point(p).x for p in d.mouth] for d in darts]
        across = to_run.vector(hem)
        width = across.x - sum(end - start for start, end in mouths)
        slope = across.y / width if width > 0.0 else 0.0
        first = min((start for start, _ in mouths), default=math.inf)
        return cls(to_run, _lean(to_run, ends.first_down), width, slope, first)

    def fall(self, s: Segment) -> float:
        """Of a step over the width, in mm; without bound for what goes straight down, or out."""
        return self._fall(self.to_run.vector(s.end - s.start), 0.0)

    def _fall(self, way: Vector, share: float) -> float:
        """Of what is left for the hem of a step that goes by the seam by that share: height by
        width of `parts`, times the whole width."""
        aside = way.x - share * self.lean * way.y
        return (way.y - self.slope * way.x) * self.width / aside if aside > 0.0 else math.inf

    def parts(self, s: Segment, share: float) -> tuple[float, float]:
        """How far a step goes down to the hem, and how far along it, in mm."""
        way = self.to_run.vector(s.end - s.start)
        height = (way.y - self.slope * way.x) / (1.0 - self.slope * share * self.lean)
        return height, way.x - share * self.lean * height

    def share(self, s: Segment, most: float) -> float:
        """The share of a step's fall that goes down the seam, from 0 to `most`.

        It is measured on what is left of the step for the hem, which scales as the hem does: so
        a step that was moved has the share it had before.
        """
        low, high, way = 0.0, most, self.to_run.vector(s.end - s.start)
        if most * _by_seam(self._fall(way, low)) <= low:
            return low
        if most * _by_seam(self._fall(way, high)) >= high:
            return high
        for _ in range(HALVINGS):
            middle = (low + high) / 2.0
            if most * _by_seam(self._fall(way, middle)) > middle:
                low = middle
            else:
                high = middle
        return (low + high) / 2.0


def flowing(leaving: Leaving, run: Sequence[Segment], ends: Ends) -> int:
    """How many segments at the start of the run keep to the seam that leads into it."""
    count = 0
    while count < len(run) and _goes_on(run[count], ends.first_down):
        count += 1
    if count == len(run) or _softness(run, ends.first_down) == 0.0:
        return count
    rounding = _rounding(leaving, run, ends)
    return rounding if count < rounding < len(run) else count


def _goes_on(segment: Segment, direction: Vector) -> bool:
    if not isinstance(segment, Line):
        return False
    return abs(segment.tangent(0.0).angle_to(direction)) < STRAIGHT_ON


def _softness(run: Sequence[Segment], down: Vector) -> float:
    """How far the run flows out of its seam: from 0, with a corner, to 1."""
    start = end = run[0].start
    for s in run:
        if not _is_step(s) or start.distance(end) >= LOOK:
            break
        end = s.end
    if end == start:
        return 0.0
    angle = abs(down.angle_to(end - start))
    return min(1.0, max(0.0, (FLOWS + FADE - angle) / (2.0 * FADE)))


def _is_step(s: Segment) -> bool:
    return isinstance(s, Line) and s.length() < DIGITISED_STEP


def _rounding(leaving: Leaving, run: Sequence[Segment], ends: Ends) -> int:
    """The steps down to where the digitised rounding has turned into the hem."""
    for k, s in enumerate(run):
        if not (_is_step(s) or _goes_on(s, ends.first_down)):
            return k
        if leaving.fall(s) < LEVEL or leaving.to_run.point(s.end).x > leaving.dart:
            return k
    return len(run)


def _by_seam(fall: float) -> float:
    """The share by which a step that falls so far goes by the seam."""
    if not LEVEL < fall < STEEP:
        return 1.0 if fall >= STEEP else 0.0
    return math.log(fall / LEVEL) / math.log(STEEP / LEVEL)


class _Followed(NamedTuple):
    """A step in two parts: what goes down the seam, as it was and now, and what goes by the hem."""

    was: Vector
    now: Vector
    by_hem: Vector


@dataclass(frozen=True)
class Following:
    """The lines with which a run starts, and how far each of them goes by the seam."""

    start: Point
    steps: tuple[_Followed, ...]

    @classmethod
    def of(
        cls, leaving: Leaving, run: Sequence[Segment], count: int, old: Ends, new: Ends
    ) -> Following:
        """For the first `count` segments of the run, which are `flowing`."""
        to_page, now = leaving.to_run.inverse(), _lean(leaving.to_run, new.first_down)
        most = _softness(run, old.first_down)
        steps = []
        for s in run[:count]:
            share = 1.0 if _goes_on(s, old.first_down) else leaving.share(s, most)
            down = share * leaving.parts(s, share)[0]
            along = to_page.vector(Vector(leaving.lean * down, down))
            by_hem = s.end - s.start - along
            steps.append(_Followed(along, to_page.vector(Vector(now * down, down)), by_hem))
        return cls(new.first, tuple(steps))

    @property
    def along(self) -> tuple[Vector, Vector]:
        """What of them goes down the seam, as it was and now."""
        return _sum(s.was for s in self.steps), _sum(s.now for s in self.steps)

    def lines(self, by_hem: Affine) -> tuple[Line, ...]:
        """The lines moved; `by_hem` is the map of the hem that follows them."""
        out: list[Line] = []
        end = self.start
        for s in self.steps:
            start, end = end, end + s.now + by_hem.vector(s.by_hem)
            out.append(Line(start, end))
        return tuple(out)


def _sum(ways: Iterable[Vector]) -> Vector:
    return sum(ways, NO_WAY)


def _lean(to_run: Affine, down: Vector) -> float:
    """How far a seam goes across (into the hem) for each mm down."""
    way = to_run.vector(down)
    return way.x / way.y
