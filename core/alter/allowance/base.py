"""The stitching line as the base on which the cutting line is measured and drawn.

A point beside it has a foot on it, how far along; and two distances in the frame there:
`beside` outwards and `along` the line, which is nothing but rounding where the foot is
square. On a digitised line the frame turns evenly from joint to joint, so that what is
drawn beside it is as smooth as the line itself.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np

from core.curve import Chain, Line, Place, Point, Segment, Vector

# Rounds in which a foot is found that is square within SQUARE (mm), in steps of at most FURTHEST.
FEET, SQUARE, FURTHEST = 12, 1e-9, 20.0


def outwards(tangent: Vector, sign: float) -> Vector:
    """Unit normal out of a ring that runs along `tangent`; `sign` is +1 when its area is
    positive, else -1."""
    return Vector(tangent.y * sign, -tangent.x * sign)


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a point lies beside a base: length to its foot, and its distances there (mm)."""

    length: float
    along: float
    beside: float


@dataclass(frozen=True)
class Base:
    """A smooth stretch of stitching line, and on which side of it the cutting line lies."""

    chain: Chain
    sign: float

    @cached_property
    def _ways(self) -> tuple[Vector, ...]:
        """The direction at each joint, both ends included."""
        segments = self.chain.segments
        arriving = [s.tangent(1.0) for s in segments]
        leaving = [s.tangent(0.0) for s in segments]
        inner = [_mean(a, b) for a, b in zip(arriving[:-1], leaving[1:], strict=True)]
        return (leaving[0], *inner, arriving[-1])

    def tangent(self, place: Place) -> Vector:
        """Unit direction; on a digitised line it turns evenly from joint to joint."""
        segment = self.chain.segments[place.index]
        if not isinstance(segment, Line):
            return segment.tangent(place.t)
        a, b = self._ways[place.index], self._ways[place.index + 1]
        return (a * (1.0 - place.t) + b * place.t).unit()

    def spot(self, p: Point) -> Spot:
        """Where p lies, by the place on the base from which it is square."""
        length = self._foot(p)
        place = self.chain.at_length(length)
        tangent, off = self.tangent(place), p - self.chain.at(place)
        beside = off.dot(outwards(tangent, self.sign)) * self._squareness(place)
        return Spot(length, off.dot(tangent), beside)

    def _foot(self, p: Point) -> float:
        """The length to the place from which p is square, near the place nearest to p.

        In a hollow of a digitised line p is as near to two steps: rounding would choose. Square
        to the frame it is from one place alone.
        """
        nearest = self.chain.nearest(p).place
        length = before = self.chain.length_to(nearest)
        off = was = self._along(p, nearest)
        for _ in range(FEET):
            if abs(off) <= SQUARE:
                break
            step = off if before == length else off * (length - before) / (was - off)
            if abs(step) > FURTHEST or not 0.0 < length + step < self.chain.length():
                break
            before, was, length = length, off, length + step
            off = self._along(p, self.chain.at_length(length))
            if off == was:
                break
        return length

    def _along(self, p: Point, place: Place) -> float:
        return (p - self.chain.at(place)).dot(self.tangent(place))

    def point(self, spot: Spot) -> Point:
        """The point that lies there."""
        place = self.chain.at_length(spot.length)
        tangent = self.tangent(place)
        foot = self.chain.at(place).moved(tangent, spot.along)
        far = spot.beside / self._squareness(place)
        return foot.moved(outwards(tangent, self.sign), far)

    def _squareness(self, place: Place) -> float:
        """The cosine of the angle between the frame and the step of a digitised line there:
        by it, the way to a line beside that step is longer than the allowance, as at a mitre."""
        step = self.chain.segments[place.index].tangent(place.t)
        return self.tangent(place).dot(step)

    def way(self, spot: Spot, slope: float) -> Vector:
        """Unit direction of a line beside the base there that leaves it by `slope` mm a mm."""
        place = self.chain.at_length(spot.length)
        tangent = self.tangent(place)
        bend = self.chain.curvature(place) * self.sign
        # A missing handle has no bend to speak of: the direction alone is then all there is.
        stretched = tangent * (1.0 + spot.beside * bend if math.isfinite(bend) else 1.0)
        return (stretched + outwards(tangent, self.sign) * slope).unit()


def _mean(a: Vector, b: Vector) -> Vector:
    both = a + b
    return both.unit() if both.norm > 1e-9 else a


@dataclass(frozen=True)
class Pairing:
    """Which length along an old base goes to which along the new one, by matched joints."""

    old: tuple[float, ...]
    new: tuple[float, ...]

    def length(self, old: float) -> float:
        return float(np.interp(old, self.old, self.new))

    def old_length(self, new: float) -> float:
        """The other way round."""
        return float(np.interp(new, self.new, self.old))


def paired(old: Chain, new: Chain, joints: Mapping[Point, Point]) -> Pairing:
    """Ends to ends, joints to where they went; those in between that were drawn anew one by
    one in their order, else evenly."""
    starts = {s.start: k for k, s in enumerate(new.segments) if k}
    found = [(0, 0)]
    for k, s in enumerate(old.segments):
        went = starts.get(joints.get(s.start, s.start)) if k else None
        if went is not None and went > found[-1][1]:
            found.append((k, went))
    found.append((len(old), len(new)))
    pairs = [(0, 0)]
    for (a, b), (c, d) in pairwise(found):
        if c - a == d - b:
            pairs += [(a + n, b + n) for n in range(1, c - a)]
        pairs.append((c, d))
    olds, news = (*old.lengths_before, old.length()), (*new.lengths_before, new.length())
    return Pairing(tuple(olds[a] for a, _ in pairs), tuple(news[b] for _, b in pairs))


def without_notches(
    segments: Sequence[Segment], mouths: Mapping[Point, Point]
) -> tuple[Segment, ...]:
    """The line with each dart that is a notch of it closed by a line across its mouth."""
    out: list[Segment] = []
    until: Point | None = None
    begun = None
    for s in segments:
        if until is None and s.start in mouths:
            begun, until = s.start, mouths[s.start]
        if until is None:
            out.append(s)
        elif s.end == until and begun is not None:
            out.append(Line(begun, s.end))
            until = None
    return tuple(out) if until is None else tuple(segments)
