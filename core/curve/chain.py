"""Chains of segments joined end to end, and rings that close."""

from __future__ import annotations

import bisect
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from core.curve.affine import Affine
from core.curve.box import Box
from core.curve.cubic import Cubic
from core.curve.line import Line
from core.curve.point import Point, Vector
from core.errors import CurveError

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


@dataclass(frozen=True)
class Chain:
    """Segments, each starting exactly where the one before ends; never empty.

    Raises CurveError for an empty chain or a gap.
    """

    segments: tuple[Segment, ...]

    def __post_init__(self) -> None:
        if not self.segments:
            raise CurveError("a chain needs at least one segment")
        for k in range(1, len(self.segments)):
            if self.segments[k - 1].end != self.segments[k].start:
                raise CurveError(f"the chain has a gap before its segment {k + 1}")

    @staticmethod
    def through(points: Iterable[Point]) -> Chain:
        """Straight lines through at least two points."""
        ps = tuple(points)
        return Chain(tuple(Line(a, b) for a, b in zip(ps, ps[1:], strict=False)))

    def __iter__(self) -> Iterator[Segment]:
        return iter(self.segments)

    def __len__(self) -> int:
        return len(self.segments)

    @property
    def start(self) -> Point:
        return self.segments[0].start

    @property
    def end(self) -> Point:
        return self.segments[-1].end

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
        """The place at arc length `s` from the start, kept on the chain."""
        k = bisect.bisect_right(self.lengths_before, s) - 1
        k = min(max(k, 0), len(self.segments) - 1)
        return Place(k, self.segments[k].at_length(s - self.lengths_before[k]))

    def part(self, first: Place, last: Place) -> Chain:
        """The chain from `first` to `last`, first < last along the chain; CurveError if empty."""
        if first.index == last.index:
            if not first.t < last.t:
                raise CurveError("the part of a chain that was asked for has no length")
            return Chain((self.segments[first.index].part(first.t, last.t),))
        head = self.segments[first.index].part(first.t, 1.0) if first.t < 1.0 else None
        tail = self.segments[last.index].part(0.0, last.t) if last.t > 0.0 else None
        middle = self.segments[first.index + 1 : last.index]
        return Chain(tuple(s for s in (head, *middle, tail) if s is not None))

    def nearest(self, p: Point) -> NearestPlace:
        """The place on the chain nearest to p."""
        best = min(
            ((s.nearest(p), k) for k, s in enumerate(self.segments)),
            key=lambda found: found[0].distance,
        )
        return NearestPlace(Place(best[1], best[0].t), best[0].point, best[0].distance)

    def meets(self, origin: Point, direction: Vector) -> tuple[Place, ...]:
        """Where the endless line through `origin` along `direction` crosses, in order."""
        return tuple(
            Place(k, t) for k, s in enumerate(self.segments) for t in s.meets(origin, direction)
        )

    @cached_property
    def _box(self) -> Box:
        box = self.segments[0].bounds()
        for s in self.segments[1:]:
            box = box | s.bounds()
        return box

    def bounds(self) -> Box:
        return self._box

    def reversed(self) -> Chain:
        return Chain(tuple(s.reversed() for s in reversed(self.segments)))

    def mapped(self, by: Affine) -> Chain:
        return Chain(tuple(s.mapped(by) for s in self.segments))

    def flattened(self, *, tolerance: float) -> NDArray[np.float64]:
        """Points of a polyline within `tolerance` mm of the chain; shape (n, 2), ends exact."""
        out = [np.array([[self.start.x, self.start.y]])]
        out += [_flat(s, tolerance) for s in self.segments]
        return np.concatenate(out)


def _flat(s: Segment, tolerance: float) -> NDArray[np.float64]:
    """The segment's points without its start."""
    if isinstance(s, Line):
        return np.array([[s.end.x, s.end.y]])
    # Distance of a chord from a curve is at most h^2 / 8 max |second derivative|.
    bend = max(s.second_derivative(0.0).norm, s.second_derivative(1.0).norm)
    count = max(1, math.ceil(math.sqrt(bend / (8.0 * tolerance))))
    return s.points(np.linspace(0.0, 1.0, count + 1))[1:]


@dataclass(frozen=True)
class Ring(Chain):
    """A chain that ends exactly where it starts; CurveError otherwise."""

    def __post_init__(self) -> None:
        Chain.__post_init__(self)
        if not self.closed:
            raise CurveError("the outline does not close")

    @staticmethod
    def polygon(points: Iterable[Point]) -> Ring:
        """Straight lines through at least three points and back."""
        ps = tuple(points)
        return Ring(tuple(Line(a, b) for a, b in zip(ps, (*ps[1:], ps[0]), strict=True)))

    def signed_area(self) -> float:
        """Enclosed area in mm^2, exact for cubics; positive when it runs from x towards y."""
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
        k, t = place.index, place.t
        if t >= 1.0:
            k, t = (k + 1) % len(self.segments), 0.0
        if t <= 0.0:
            return Ring(self.segments[k:] + self.segments[:k])
        before, after = self.segments[k].split(t)
        return Ring((after, *self.segments[k + 1 :], *self.segments[:k], before))

    def run(self, first: Place, last: Place) -> Chain:
        """The chain that runs forward around the ring from `first` to `last`."""
        turned = self.started_at(first)
        inside = len(self.segments) + (0.0 < first.t < 1.0)
        offset = (last.index - first.index - (first.t >= 1.0)) % len(self.segments)
        t = last.t
        if 0.0 < first.t < 1.0 and last.index == first.index:
            if last.t > first.t:
                t = (last.t - first.t) / (1.0 - first.t)
            else:
                offset, t = inside - 1, last.t / first.t
        return turned.part(Place(0, 0.0), Place(offset, t))
