"""Rising and falling along an outline: where it turns back, and where it reaches a height."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from core.alter.frame import Frame
from core.curve import Cubic, Place, Point, Ring, Segment, Vector
from core.curve.roots import extrema, real_roots
from core.kept import kept

# A stretch that rises by less than this (mm) is level.
FLAT = 1e-9
# A line that leans from the grain by more than this (radians) runs across: the hook of a
# crotch seam, the foot of a sleeve cap. No side seam or inseam leans as much.
UPRIGHT = math.radians(35.0)
# A place this near (in t) to a joint is the joint.
AT_JOINT = 1e-9


@dataclass(frozen=True, slots=True)
class Break:
    """A place beyond which a seam is not redrawn; `stop` when it is a corner, taper point or
    dart, and not only a place where the outline turns back."""

    place: Place
    stop: bool


def settled(ring: Ring, place: Place) -> Place:
    """The same place, at the start of the next segment when it is the end of one."""
    if place.t < 1.0 - AT_JOINT:
        return Place(place.index, place.t if place.t > AT_JOINT else 0.0)
    return Place((place.index + 1) % len(ring), 0.0)


def all_breaks(ring: Ring, stops: Iterable[Place], turns: Iterable[Place]) -> tuple[Break, ...]:
    """All places that end a redrawn stretch, in ring order."""
    found = dict.fromkeys(turns, False) | {settled(ring, place): True for place in stops}
    return tuple(Break(place, found[place]) for place in sorted(found))


def turns_back(ring: Ring, frame: Frame) -> tuple[Place, ...]:
    """Where the outline goes from falling to rising or level, or the other way."""
    return _turns_back(ring, frame.down)


# A drag of the level asks for this, and what follows, of the same few outlines in each frame.
@kept(most=256)
def _turns_back(ring: Ring, down: Vector) -> tuple[Place, ...]:
    frame = Frame(down)
    pieces = [
        (Place(k, a), _way(frame, s.at(a), s.at(b)))
        for k, s in enumerate(ring)
        for a, b in itertools.pairwise((0.0, *_extrema(frame, s), 1.0))
    ]
    return tuple(
        settled(ring, place)
        for (_, before), (place, after) in zip((pieces[-1], *pieces), pieces, strict=False)
        if before != after
    )


def _way(frame: Frame, a: Point, b: Point) -> int:
    rise = frame.height(b) - frame.height(a)
    return 0 if abs(rise) <= FLAT else 1 if rise > 0.0 else -1


def _extrema(frame: Frame, s: Segment) -> tuple[float, ...]:
    if not isinstance(s, Cubic):
        return ()
    a, b, c, d = map(frame.height, s.controls)
    found = extrema((a, 3.0 * (b - a), 3.0 * (a - 2.0 * b + c), d - a + 3.0 * (b - c)))
    return tuple(t for t in found if AT_JOINT < t < 1.0 - AT_JOINT)


def leans_over(ring: Ring, frame: Frame) -> tuple[Place, ...]:
    """Where the outline goes from running down (or up) to running across, or back."""
    return _leans_over(ring, frame.down)


@kept(most=256)
def _leans_over(ring: Ring, down: Vector) -> tuple[Place, ...]:
    frame = Frame(down)
    pieces = [
        (Place(k, a), is_upright(frame, s.tangent((a + b) / 2)))
        for k, s in enumerate(ring)
        for a, b in itertools.pairwise((0.0, *_slant(frame, s), 1.0))
    ]
    return tuple(
        settled(ring, place)
        for (_, before), (place, after) in zip((pieces[-1], *pieces), pieces, strict=False)
        if before != after
    )


def is_upright(frame: Frame, way: Vector) -> bool:
    """Does a line in this direction run down or up rather than across?"""
    return abs(way.dot(frame.down)) >= math.cos(UPRIGHT)


def _slant(frame: Frame, s: Segment) -> tuple[float, ...]:
    """Where a curve leans from the grain by just UPRIGHT, to either side."""
    if not isinstance(s, Cubic):
        return ()
    slope = s.power_basis()[1:] * np.array([[1.0], [2.0], [3.0]])
    found: set[float] = set()
    for angle in (-UPRIGHT, UPRIGHT):
        off = frame.down.turned(angle).square()
        found |= set(real_roots([float(c) for c in slope @ (off.x, off.y)]))
    return tuple(sorted(t for t in found if AT_JOINT < t < 1.0 - AT_JOINT))


def direction(ring: Ring, place: Place, *, forward: bool) -> Vector:
    """Direction of the ring just after a settled place, or just before it."""
    if forward or place.t > 0.0:
        return ring.tangent(place)
    return ring.segments[place.index - 1].tangent(1.0)


def lowest_and_highest(ring: Ring, frame: Frame) -> tuple[float, float]:
    """Least and greatest height on the ring; exact for curves too."""
    return _lowest_and_highest(ring, frame.down)


@kept(most=256)
def _lowest_and_highest(ring: Ring, down: Vector) -> tuple[float, float]:
    frame = Frame(down)
    heights = [frame.height(s.at(t)) for s in ring for t in (0.0, *_extrema(frame, s))]
    return min(heights), max(heights)


def stretch(ring: Ring, first: Place, last: Place) -> Iterator[tuple[int, float, float]]:
    """(segment, from, to) forward round the ring between two settled places; nothing between
    a place and itself."""
    k, t = first.index, first.t
    if first == last:
        return
    for _ in range(len(ring) + 1):
        if k == last.index and t < last.t:
            yield k, t, last.t
            return
        yield k, t, 1.0
        k, t = (k + 1) % len(ring), 0.0
        if (k, t) == (last.index, last.t):
            return


def between(ring: Ring, place: Place, first: Place, last: Place) -> bool:
    """Does a place lie strictly inside the stretch from `first` forward to `last`?

    Nothing lies inside a stretch from a place to itself.
    """
    at = settled(ring, place)
    if first == last or at in (first, last):
        return False
    if first < last:
        return first < at < last
    return at > first or at < last


def reach(
    ring: Ring, frame: Frame, start: Place, end: Place, height: float, *, forward: bool
) -> Place | None:
    """The first place from `start` towards `end` (forward or back) at a height, if any."""
    way = list(stretch(ring, start, end) if forward else stretch(ring, end, start))
    origin = Point(0.0, 0.0).moved(frame.down, height)
    for k, a, b in way if forward else reversed(way):
        met = [t for t in ring.segments[k].meets(origin, frame.across) if a <= t <= b]
        if met:
            return settled(ring, Place(k, met[0] if forward else met[-1]))
    return None


def along(ring: Ring, start: Place, end: Place, most: float, *, forward: bool) -> Place:
    """`end`, or the place `most` mm along the ring from `start` towards it if that is nearer."""
    way = list(stretch(ring, start, end) if forward else stretch(ring, end, start))
    for k, a, b in way if forward else reversed(way):
        part = ring.segments[k].part(a, b)
        length = part.length()
        if most < length:
            t = part.at_length(most if forward else length - most)
            return settled(ring, Place(k, a + t * (b - a)))
        most -= length
    return end


def next_break(found: tuple[Break, ...], start: Place, *, forward: bool) -> Break:
    """The nearest break from a place, not the place itself."""
    others = [b for b in found if b.place != start]
    if forward:
        return next((b for b in others if b.place > start), others[0])
    return next((b for b in reversed(others) if b.place < start), others[-1])
