"""Chains of segments joined end to end, and rings that close."""

from __future__ import annotations

import bisect
import itertools
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache, reduce
from typing import Self

import numpy as np
from numpy.typing import NDArray

from core.curve.affine import Affine
from core.curve.box import Box
from core.curve.cubic import Cubic
from core.curve.drawn import Drawn
from core.curve.length import PLACE_TOLERANCE
from core.curve.line import Line
from core.curve.point import ON_LINE, Point, Vector
from core.errors import CurveError
from core.kept import kept, when_asked

Segment = Line | Cubic


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A place on a chain: t in [0, 1] on the segment of that index."""

    index: int
    t: float


@dataclass(frozen=True, slots=True)
class NearestPlace:
    """The nearest place on a chain, the point there, and its distance in mm."""

    place: Place
    point: Point
    distance: float


@dataclass(frozen=True, init=False)
class Chain:
    """Segments, each starting exactly where the one before ends; never empty.

    Raises CurveError for an empty chain or a gap.
    """

    segments: tuple[Segment, ...] = when_asked(lambda chain: chain.rows.segments())

    def __init__(self, segments: tuple[Segment, ...]) -> None:
        self.__dict__["segments"] = segments
        if not segments:
            raise CurveError("a chain needs at least one segment")
        if len(segments) == 1:
            return
        for k, (before, after) in enumerate(itertools.pairwise(segments), 2):
            # Mostly the very same point; to compare coordinates takes four times as long.
            if before.end is not after.start and before.end != after.start:
                raise CurveError(f"the chain has a gap before its segment {k}")

    @classmethod
    def drawn(cls, drawn: Drawn) -> Self:
        """The chain through those points. A file draws a hundred thousand lines that nobody ever
        asks for: their segments are made when they are."""
        chain = cls.__new__(cls)
        chain.__dict__["_drawn"] = drawn
        return chain

    @property
    def rows(self) -> Drawn | None:
        """The points with which it was given; None for a chain of segments."""
        return self.__dict__.get("_drawn")

    @staticmethod
    def through(points: Iterable[Point]) -> Chain:
        """Straight lines through at least two points; CurveError for fewer."""
        ps = tuple(points)
        return Chain(tuple(Line(a, b) for a, b in itertools.pairwise(ps)))

    def __iter__(self) -> Iterator[Segment]:
        return iter(self.segments)

    def __len__(self) -> int:
        rows = self.rows
        return len(self.segments) if rows is None else rows.many

    @property
    def start(self) -> Point:
        rows = self.rows
        return self.segments[0].start if rows is None else rows.start

    @property
    def end(self) -> Point:
        rows = self.rows
        return self.segments[-1].end if rows is None else rows.end

    @property
    def closed(self) -> bool:
        """Does it end exactly where it starts?"""
        return self.start == self.end

    @cached_property
    def lengths_before(self) -> tuple[float, ...]:
        """Arc length before each segment, and the whole last: one longer than the chain."""
        total, out = 0.0, [0.0]
        for s in self.segments:
            total += s.length()
            out.append(total)
        return tuple(out)

    def length(self) -> float:
        """Arc length of the whole."""
        return self.lengths_before[-1]

    def at(self, place: Place) -> Point:
        return self.segments[place.index].at(place.t)

    def tangent(self, place: Place) -> Vector:
        """Unit direction of travel at a place."""
        return self.segments[place.index].tangent(place.t)

    def curvature(self, place: Place) -> float:
        return self.segments[place.index].curvature(place.t)

    def length_to(self, place: Place) -> float:
        """Arc length from the start of the chain to a place."""
        return self.lengths_before[place.index] + self.segments[place.index].length_to(place.t)

    def at_length(self, s: float) -> Place:
        """The place at arc length `s` from the start, kept on the chain.

        Within PLACE_TOLERANCE of a joint it is the joint, at t = 0 of the second segment.
        """
        if s >= self.length() - PLACE_TOLERANCE:
            return Place(len(self.segments) - 1, 1.0)
        k = max(0, bisect.bisect_right(self.lengths_before, s + PLACE_TOLERANCE) - 1)
        rest = s - self.lengths_before[k]
        return Place(k, self.segments[k].at_length(rest) if rest > PLACE_TOLERANCE else 0.0)

    def part(self, first: Place, last: Place) -> Chain:
        """The chain from `first` to `last`, first < last along the chain; CurveError if empty."""
        middle = self.segments[first.index + 1 : last.index]
        found = _pieces(self, first, last, middle) if first < last else ()
        if not found:
            raise CurveError("the part of a chain that was asked for has no length")
        return Chain(found)

    def nearest(self, p: Point) -> NearestPlace:
        """The place on the chain nearest to p; the first of them when there are several."""
        x0, y0, x1, y1 = self._hulls
        off_x = np.maximum(0.0, np.maximum(x0 - p.x, p.x - x1))
        off_y = np.maximum(0.0, np.maximum(y0 - p.y, p.y - y1))
        least = np.hypot(off_x, off_y)
        first = int(least.argmin())
        best = self._nearest_on(first, p)
        # A segment is never nearer than the box of its control points.
        near = np.flatnonzero(least <= best.distance)
        for k in near[np.argsort(least[near], kind="stable")].tolist():
            if least[k] > best.distance:
                break
            if k == first:
                continue
            found = self._nearest_on(k, p)
            if (found.distance, k) < (best.distance, best.place.index):
                best = found
        return best

    def _nearest_on(self, index: int, p: Point) -> NearestPlace:
        found = self.segments[index].nearest(p)
        return NearestPlace(Place(index, found.t), found.point, found.distance)

    @cached_property
    def _hulls(self) -> NDArray[np.float64]:
        """x0, y0, x1, y1 of each segment's control points; shape (4, n)."""
        boxes = (Box.around(s.controls) for s in self.segments)
        return np.array([(b.x0, b.y0, b.x1, b.y1) for b in boxes]).T

    @cached_property
    def _hull_points(self) -> NDArray[np.float64]:
        """x and y of each segment's four control points, a line's ends twice; shape (2, 4, n)."""
        fours = ((c[0], c[1], c[-2], c[-1]) for c in (s.controls for s in self.segments))
        return np.array([[(p.x, p.y) for p in four] for four in fours]).transpose(2, 1, 0)

    def touched(self, boxes: NDArray[np.float64], *, margin: float) -> NDArray[np.intp]:
        """The numbers of those boxes (x0, y0, x1, y1 each; shape (n, 4)) that come as near as
        `margin` mm to the hull of a segment."""
        low, high = boxes[:, None, :2] - margin, boxes[:, None, 2:] + margin
        x0, y0, x1, y1 = self._hulls
        within = (low <= np.stack((x1, y1), axis=1)) & (high >= np.stack((x0, y0), axis=1))
        return np.flatnonzero(np.any(np.all(within, axis=2), axis=1))

    def meets(self, origin: Point, direction: Vector) -> tuple[Place, ...]:
        """Where the endless line through `origin` along `direction` meets it, in order.

        Touching counts, within ON_LINE; a segment that lies along the line gives nothing.
        Where two segments join it is met once, at t = 0 of the second.
        """
        x, y = self._hull_points
        sides = direction.x * (y - origin.y) - direction.y * (x - origin.x)
        slack = 2.0 * ON_LINE * direction.norm
        # A segment whose control points all lie on one side of the line does not meet it.
        near = np.flatnonzero((sides.min(axis=0) <= slack) & (sides.max(axis=0) >= -slack))
        found = [
            Place(k, t) for k in near.tolist() for t in self.segments[k].meets(origin, direction)
        ]
        starts = {p.index for p in found if p.t == 0.0}
        return tuple(p for p in found if p.t < 1.0 or self._next(p.index) not in starts)

    def _next(self, index: int) -> int:
        """The index of the segment that joins the end of that one."""
        return (index + 1) % len(self.segments) if self.closed else index + 1

    @cached_property
    def hull(self) -> Box:
        """A box around all control points: it holds the chain, and is found sooner than bounds."""
        if self.rows is not None:
            return self.rows.hull()
        points = [self.start]
        for s in self.segments:
            points += s.controls[1:]
        xs, ys = [p.x for p in points], [p.y for p in points]
        return Box(min(xs), min(ys), max(xs), max(ys))

    @cached_property
    def _box(self) -> Box:
        rows = self.rows
        if rows is not None and (rows.sizes is None or Drawn(rows.ends()).hull() == self.hull):
            return self.hull
        first = self.segments[0]
        if len(self.segments) == 1 and isinstance(first, Line):
            return first.bounds()
        ends = [self.start, *(s.end for s in self.segments)]
        return reduce(_with_bent, self.segments, Box.around(ends))

    def bounds(self) -> Box:
        return self._box

    def reversed(self) -> Chain:
        return Chain(tuple(s.reversed() for s in reversed(self.segments)))

    def mapped(self, by: Affine) -> Chain:
        return Chain(tuple(s.mapped(by) for s in self.segments))

    def flattened(self, *, tolerance: float) -> NDArray[np.float64]:
        """Points of a polyline within `tolerance` mm of the chain; shape (n, 2), ends exact."""
        if self.rows is not None and self.rows.sizes is None:
            return self.rows.points
        rows: list[tuple[float, float]] = [(self.start.x, self.start.y)]
        out: list[NDArray[np.float64]] = []
        for s in self.segments:
            if isinstance(s, Line):
                rows.append((s.end.x, s.end.y))
                continue
            if rows:
                out.append(np.array(rows))
                rows = []
            out.append(_flat_cubic(s, tolerance))
        return np.concatenate([*out, np.array(rows)] if rows else out)


def _with_bent(box: Box, s: Segment) -> Box:
    """The box widened for a curve; what has its handles within does not go beyond it."""
    if isinstance(s, Line) or (_holds(box, s.c1) and _holds(box, s.c2)):
        return box
    return box | s.bounds()


def _holds(box: Box, p: Point) -> bool:
    return box.x0 <= p.x <= box.x1 and box.y0 <= p.y <= box.y1


# Most of an outline stays as it is from one frame of a drag to the next.
@kept(most=8192)
def _flat_cubic(s: Cubic, tolerance: float) -> NDArray[np.float64]:
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = rows = [(p.x, p.y) for p in s.controls]
    # Distance of a chord from a curve is at most h^2 / 8 max |second derivative|.
    bend = 6.0 * max(
        math.hypot(x2 - 2.0 * x1 + x0, y2 - 2.0 * y1 + y0),
        math.hypot(x3 - 2.0 * x2 + x1, y3 - 2.0 * y2 + y1),
    )
    count = max(1, math.ceil(math.sqrt(bend / (8.0 * tolerance))))
    found: NDArray[np.float64] = _even_weights(count) @ np.array(rows)
    found.setflags(write=False)
    return found


@lru_cache(maxsize=64)
def _even_weights(count: int) -> NDArray[np.float64]:
    """What each control point counts at `count` even steps of t, the start left out."""
    t = np.linspace(0.0, 1.0, count + 1)[1:, None]
    u = 1.0 - t
    weights = np.hstack((u**3, 3 * u * u * t, 3 * u * t * t, t**3))
    weights.setflags(write=False)
    return weights


@dataclass(frozen=True, init=False)
class Ring(Chain):
    """A chain that ends exactly where it starts; CurveError otherwise."""

    def __init__(self, segments: tuple[Segment, ...]) -> None:
        super().__init__(segments)
        if not self.closed:
            raise CurveError("the outline does not close")

    @classmethod
    def drawn(cls, drawn: Drawn) -> Self:
        if drawn.start != drawn.end:
            raise CurveError("the outline does not close")
        return super().drawn(drawn)

    @staticmethod
    def polygon(points: Iterable[Point]) -> Ring:
        """Straight lines through at least three points and back; CurveError for fewer."""
        ps = tuple(points)
        if len(ps) < 3:
            raise CurveError("an outline needs at least three points")
        return Ring(tuple(Line(a, b) for a, b in zip(ps, (*ps[1:], ps[0]), strict=True)))

    def signed_area(self) -> float:
        """Enclosed area in mm^2, exact for cubics; positive when it runs from x towards y."""
        return self._signed_area

    @cached_property
    def _signed_area(self) -> float:
        return sum(s.area_term() for s in self.segments)

    def area(self) -> float:
        """Enclosed area in mm^2."""
        return abs(self.signed_area())

    def reversed(self) -> Ring:
        return Ring(Chain.reversed(self).segments)

    def mapped(self, by: Affine) -> Ring:
        return Ring(Chain.mapped(self, by).segments)

    def started_at(self, place: Place) -> Ring:
        """The same ring, starting and ending at `place`; splits a segment if it must."""
        return Ring(self.run(place, place).segments)

    def run(self, first: Place, last: Place) -> Chain:
        """The chain that runs forward around the ring from `first` to `last`.

        The whole ring when both are the same place.
        """
        a, b = self._settled(first), self._settled(last)
        onward = (*self.segments[a.index + 1 :], *self.segments[: a.index])
        between = onward[: (b.index - a.index - 1) % len(self.segments)]
        return Chain(_pieces(self, a, b, between))

    def _settled(self, place: Place) -> Place:
        """The same place, at the start of the next segment when it is the end of one."""
        if place.t < 1.0:
            return place
        return Place((place.index + 1) % len(self.segments), 0.0)


def _pieces(
    chain: Chain, first: Place, last: Place, middle: tuple[Segment, ...]
) -> tuple[Segment, ...]:
    """What lies from `first` to `last`, with `middle` between their two segments."""
    if first.index == last.index and first.t < last.t:
        return (chain.segments[first.index].part(first.t, last.t),)
    head = (chain.segments[first.index].part(first.t, 1.0),) if first.t < 1.0 else ()
    tail = (chain.segments[last.index].part(0.0, last.t),) if last.t > 0.0 else ()
    return (*head, *middle, *tail)
