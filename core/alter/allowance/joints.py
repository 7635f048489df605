"""Where the stitching line's smooth stretches meet, and how the cutting line is drawn there.

What is drawn round a corner (a mitre, a square step, a turn-up's side) is told by its
distances from the two edges that meet there, and comes out at the same distances from the
same edges after the change.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.alter.allowance.across import NoMatchError, across
from core.alter.allowance.base import outwards
from core.curve import Affine, Chain, Place, Point, Segment, Vector

# Edges that meet at less than this angle (radians) go on smoothly: there are no two sides.
SMOOTH = 0.3
# Rounds that settle where an allowance that goes on changing meets the next edge's.
REFINEMENTS = 6
# A line beside an edge runs along it within this angle (radians).
ALONG = 0.2
# A place this far (mm) past a corner is clear of it.
CLEAR = 1.0


@dataclass(frozen=True, slots=True)
class Gain:
    """What an edge's allowance gained at its end, and goes on gaining (mm each mm)."""

    mm: float = 0.0
    slope: float = 0.0


NO_GAIN = Gain()


@dataclass(frozen=True)
class Meeting:
    """A point of the stitching line with the directions in which it comes and leaves."""

    at: Point
    coming: Vector
    leaving: Vector
    sign: float

    @property
    def turn(self) -> float:
        """Radians; positive where the outline is convex."""
        return self.coming.angle_to(self.leaving) * self.sign

    @property
    def normals(self) -> tuple[Vector, Vector]:
        return outwards(self.coming, self.sign), outwards(self.leaving, self.sign)

    def distances(self, p: Point) -> tuple[float, float]:
        """How far outside each of the two edges, carried on, p lies."""
        a, b = self.normals
        off = p - self.at
        return off.dot(a), off.dot(b)

    def at_distances(self, first: float, second: float) -> Point:
        """The point that lies so far outside both edges; they must not run one way."""
        a, b = self.normals
        area = a.cross(b)
        x, y = first * b.y - second * a.y, second * a.x - first * b.x
        return self.at.moved(Vector(x, y), 1.0 / area)

    def turned_round(self) -> Meeting:
        """The same corner, come to from the other side."""
        return Meeting(self.at, -self.leaving, -self.coming, -self.sign)

    def mirrored(self) -> Affine:
        """The mirror image in the edge that leaves."""
        way, move = self.leaving, Affine.move(-self.at.x, -self.at.y)
        x, y = way.x * way.x - way.y * way.y, 2.0 * way.x * way.y
        return move.inverse() @ Affine(x, y, y, -x) @ move


@dataclass(frozen=True)
class Joint:
    """A meeting before and after the change, and the cutting line's places beside it.

    `before` and `after` are where the cutting line lies straight across from the end of the
    one stretch and from the start of the next; what is drawn in between is the corner.
    """

    old: Meeting
    new: Meeting
    before: Place
    after: Place

    def carried(self, p: Point, gains: tuple[Gain, Gain] = (NO_GAIN, NO_GAIN)) -> Point:
        """Where a point of the corner goes: as far outside both edges as it was, and further
        by what the allowance gained where it lies outside that edge."""
        if abs(self.old.turn) < SMOOTH:
            return self._turned(p)
        told = tuple(
            d + g.mm if d > 0.0 else d for d, g in zip(self.old.distances(p), gains, strict=True)
        )
        went = self.new.at_distances(*told)
        # An allowance that goes on changing depends a little on where that is.
        for _ in range(REFINEMENTS if any(g.slope for g in gains) else 0):
            further = self._further(p, went)
            more = (g.slope * f for g, f in zip(gains, further, strict=True))
            went = self.new.at_distances(*(d + m for d, m in zip(told, more, strict=True)))
        return went

    def _further(self, p: Point, went: Point) -> tuple[float, float]:
        """How much further beyond the corner, along each edge, the point lies than it did."""
        old, new = self.old, self.new
        return (
            (went - new.at).dot(new.coming) - (p - old.at).dot(old.coming),
            (p - old.at).dot(old.leaving) - (went - new.at).dot(new.leaving),
        )

    def _turned(self, p: Point) -> Point:
        """A point of a blunt mitre goes with its bisector, as far out as the new turn asks for."""
        a = (self.old.coming + self.old.leaving).angle_to(self.new.coming + self.new.leaving)
        further = math.cos(self.old.turn / 2) / math.cos(self.new.turn / 2)
        return self.new.at + (p - self.old.at).turned(a) * further


def joint(cut: Chain, old: Meeting, new: Meeting, *, before: Place | None = None) -> Joint:
    """The joint with its places found; `before` when it is known. NoMatchError when the
    cutting line does not go round it."""
    if old.turn < -SMOOTH:
        corner = _hollow(cut, old)
        return Joint(old, new, corner, corner)
    first = before or across(cut, old.at, old.normals[0])
    after = across(cut, old.at, old.normals[1], latest=True)
    if old.turn > SMOOTH:
        after = _past_corner(cut, old, after)
        if before is None:
            first = _before_corner(cut, old, first)
    if after < first:
        if old.turn > SMOOTH or before is not None:
            raise NoMatchError("runs backwards beside a corner of it")
        way = (old.coming + old.leaving).unit()
        middle = across(cut, old.at, outwards(way, old.sign))
        return Joint(old, new, middle, middle)
    return Joint(old, new, first, after)


def _past_corner(cut: Chain, old: Meeting, after: Place) -> Place:
    """The place across from the edge that leaves, on that edge's own line.

    Where that edge has much the wider allowance and the corner is blunt, its line begins only
    past the joint, and straight across from the joint lies the other edge's line, or the corner.
    """
    k = after.index
    while k < len(cut) and _runs_along(cut.segments[k], old.coming, old.leaving):
        k += 1
    if k == len(cut) or (k == after.index and not is_corner(cut, old, after)):
        return after
    way = old.leaving
    further = (cut.segments[k].start - old.at).dot(way) + CLEAR
    return across(cut, old.at.moved(way, further), old.normals[1])


def is_corner(cut: Chain, old: Meeting, place: Place) -> bool:
    """Is the place the joint at which the line beside the one edge meets that of the other?"""
    if place.t > 0.0 or place.index == 0:
        return False
    coming, leaving = cut.segments[place.index - 1], cut.segments[place.index]
    first = _runs_along(coming, old.coming, old.leaving)
    return first and _runs_along(leaving, old.leaving, old.coming)


def _before_corner(cut: Chain, old: Meeting, before: Place) -> Place:
    """The same for the edge that comes."""
    k = before.index if before.t > 0.0 else before.index - 1
    start = k
    while k >= 0 and _runs_along(cut.segments[k], old.leaving, old.coming):
        k -= 1
    if k == -1 or (k == start and not is_corner(cut, old, before)):
        return before
    way = old.coming
    further = (cut.segments[k].end - old.at).dot(way) - CLEAR
    return across(cut, old.at.moved(way, further), old.normals[0])


def _runs_along(segment: Segment, one: Vector, other: Vector) -> bool:
    """Does the segment run in the one direction rather than in the other?"""
    way = segment.tangent(0.5)
    near = abs(way.angle_to(one))
    return near < ALONG and near < abs(way.angle_to(other))


def _hollow(cut: Chain, old: Meeting) -> Place:
    """In a hollow corner both edges' lines end where they meet, short of the corner."""
    nearest = min(range(len(cut)), key=lambda k: cut.segments[k].start.distance(old.at))
    a, b = old.distances(cut.segments[nearest].start)
    if a <= 0.0 or b <= 0.0:
        raise NoMatchError("has no corner beside a hollow corner of it")
    return Place(nearest, 0.0)
