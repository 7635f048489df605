"""The stretches of an outline that are redrawn over the jogs, and how."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from functools import cached_property

from core.alter.level.climb import (
    Break,
    all_breaks,
    along,
    between,
    direction,
    is_upright,
    leans_over,
    next_break,
    reach,
    settled,
    stretch,
    turns_back,
)
from core.alter.level.gaps import Gap
from core.alter.level.model import Level, Truing
from core.curve import Chain, Cubic, Line, Place, Point, Ring, Segment, Vector
from core.piece.direction import end_direction

# How far above and below the line a seam is redrawn when nobody says (mm). The same for
# every amount and every seam, so that two changes at one level make the change by their sum;
# long enough that 60 mm in a seam that leans by 5 degrees turn it by little more than one.
BLEND = 100.0
# A rest of seam up to the next corner that is too short to be left standing by itself (mm).
SHORT_REST = 30.0
# No stretch is redrawn further along itself than so many times what was asked for in height:
# where a hem or the crest of a cap is cut, it would otherwise be all of it.
ALONG = 2.0
# Directions this near (radians) to the chord make a straight line.
STRAIGHT = 1e-9


@dataclass(frozen=True, slots=True)
class Asked:
    """How far above and below a seam is redrawn.

    `rest` is how short a rest up to a corner is taken in; `upright` keeps to where the seam
    runs down and not across.
    """

    above: float
    below: float
    rest: float = 0.0
    upright: bool = False

    @staticmethod
    def by(blend_mm: float | None) -> Asked:
        if blend_mm is None:
            return Asked(BLEND, BLEND, SHORT_REST, upright=True)
        return Asked(blend_mm, blend_mm)

    def in_hem(self) -> Asked:
        """Within the shape of the hem: its rounding is redrawn, and not all of the hem."""
        return Asked(min(self.above, SHORT_REST), min(self.below, SHORT_REST))


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of the old ring, in its order, that is drawn anew; `down` as in Gap.

    `start` and `end` are where its ends are on the altered outline. The stretch of a dart's
    leg is always straight; `drawn` is set where it goes by another line.
    """

    first: Place
    last: Place
    down: bool
    start: Point
    end: Point
    leg: bool = False
    drawn: Chain | None = None

    @property
    def upper(self) -> Place:
        return self.first if self.down else self.last

    @property
    def lower(self) -> Place:
        return self.last if self.down else self.first


@dataclass(frozen=True)
class Seams:
    """A ring, the level that cuts it, and the places that no redrawn stretch goes beyond."""

    ring: Ring
    level: Level
    stops: frozenset[Place]

    @cached_property
    def breaks(self) -> tuple[Break, ...]:
        return all_breaks(self.ring, self.stops, turns_back(self.ring, self.level.frame))

    @cached_property
    def _upright_breaks(self) -> tuple[Break, ...]:
        frame = self.level.frame
        turns = (*turns_back(self.ring, frame), *leans_over(self.ring, frame))
        return all_breaks(self.ring, self.stops, turns)

    def span(self, gap: Gap, asked: Asked) -> Span:
        """The stretch around a gap that is redrawn."""
        upper = gap.first if gap.down else gap.last
        lower = gap.last if gap.down else gap.first
        above = self._end(upper, -asked.above, asked, forward=not gap.down)
        # A corner on the line itself goes down with what it belongs to, as it is.
        by = 0.0 if lower in self.stops else asked.below
        below = self._end(lower, by, asked, forward=gap.down)
        first, last = (above, below) if gap.down else (below, above)
        return self.from_to(first, last, down=gap.down)

    def from_to(self, first: Place, last: Place, *, down: bool) -> Span:
        """The stretch between two places, of which the one below the level moves."""
        start, end = self.ring.at(first), self.ring.at(last)
        if down:
            return Span(first, last, True, start, end + self.level.step)
        return Span(first, last, False, start + self.level.step, end)

    def settled(self, place: Place) -> Place:
        return settled(self.ring, place)

    def _end(self, start: Place, by: float, asked: Asked, *, forward: bool) -> Place:
        """The place `by` further down than the cut (up when negative), or the break before it."""
        if by == 0.0:
            return start
        level, frame = self.level, self.level.frame
        upright = asked.upright and is_upright(frame, direction(self.ring, start, forward=forward))
        found = self._upright_breaks if upright else self.breaks
        stop = next_break(found, start, forward=forward)
        height = (level.floor if by > 0.0 else level.height) + by
        left = abs(frame.height(self.ring.at(stop.place)) - height)
        place: Place | None = None
        if not (stop.stop and left < asked.rest):
            place = reach(self.ring, frame, start, stop.place, height, forward=forward)
        furthest = stop.place if place is None else place
        return along(self.ring, start, furthest, ALONG * abs(by) + asked.rest, forward=forward)


def redrawn(
    ring: Ring, spans: Sequence[Span], k: int, true: Truing, stops: Collection[Place]
) -> Chain:
    """What stands in the place of span number k of the ring's spans, in ring order.

    Straight from end to end; or a curve that runs out of the kept seam on either side
    without a kink. At a corner, where no seam is kept, it starts as the old one did.
    """
    span = spans[k]
    if span.drawn is not None:
        return span.drawn
    if span.leg or true is Truing.STRAIGHT:
        return Chain((Line(span.start, span.end),))
    old = _segments(ring, span.first, span.last)
    before: list[Segment] = []
    after: list[Segment] = []
    if span.first not in stops:
        since = _last_stop(ring, stops, spans[k - 1].last, span.first)
        before = _segments(ring, since, span.first)
    if span.last not in stops:
        until = _first_stop(ring, stops, span.last, spans[(k + 1) % len(spans)].first)
        after = _segments(ring, span.last, until)
    into = end_direction(before) if before else -end_direction(_back(old))
    out = -end_direction(_back(after)) if after else end_direction(old)
    return Chain((smooth(span.start, into, span.end, out),))


def _last_stop(ring: Ring, stops: Collection[Place], first: Place, last: Place) -> Place:
    """The last stop on the way from `first` to `last`, else `first`: what lies beyond it, such
    as the rounding of a hem, tells nothing of where the seam runs."""
    inside = _stops_between(ring, stops, first, last)
    return next((p for p in reversed(inside) if p < last), inside[-1] if inside else first)


def _first_stop(ring: Ring, stops: Collection[Place], first: Place, last: Place) -> Place:
    """The first stop on the way from `first` to `last`, else `last`."""
    inside = _stops_between(ring, stops, first, last)
    return next((p for p in inside if p > first), inside[0] if inside else last)


def _stops_between(ring: Ring, stops: Collection[Place], first: Place, last: Place) -> list[Place]:
    return sorted(settled(ring, p) for p in stops if between(ring, p, first, last))


def _segments(ring: Ring, first: Place, last: Place) -> list[Segment]:
    return [ring.segments[k].part(a, b) for k, a, b in stretch(ring, first, last)]


def _back(segments: Sequence[Segment]) -> list[Segment]:
    return [s.reversed() for s in reversed(segments)]


def smooth(start: Point, into: Vector, end: Point, out: Vector) -> Segment:
    """The curve from `start`, where it runs along `into`, to `end`, where it runs along `out`.

    Handles by the rule of J. D. Hobby, Smooth, Easy to Compute Interpolating Splines (1986):
    near a circle where both directions turn alike, and without a bulge otherwise. A straight
    line when both directions are that of the chord.
    """
    chord = end - start
    a, b = into.angle_to(chord), chord.angle_to(out)
    if max(abs(a), abs(b)) < STRAIGHT:
        return Line(start, end)
    first, last = _handle(a, b) * chord.norm, _handle(b, a) * chord.norm
    return Cubic(start, start.moved(into, first), end.moved(out, -last), end)


def _handle(near: float, far: float) -> float:
    """Hobby's handle at the end where the curve turns by `near` to its chord, as a share."""
    swing = (math.sin(near) - math.sin(far) / 16) * (math.sin(far) - math.sin(near) / 16)
    above = 2.0 + math.sqrt(2.0) * swing * (math.cos(near) - math.cos(far))
    root = math.sqrt(5.0)
    below = 1.0 + (root - 1.0) / 2 * math.cos(near) + (3.0 - root) / 2 * math.cos(far)
    return above / (3.0 * below)
