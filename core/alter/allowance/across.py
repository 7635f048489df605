"""Places of the cutting line that lie straight across the allowance from the stitching line."""

from __future__ import annotations

from collections.abc import Iterator

from core.curve import Chain, Place, Point, Vector
from core.piece.cutting import WIDEST_ALLOWANCE

# A joint this near (mm) to the line across lies on it: a step of the allowance, up to the
# rounding of the file.
ON_ACROSS = 0.1
# On a fold there is no allowance: both lines are one, up to the rounding of the file (mm).
NO_ALLOWANCE = 0.01


class NoMatchError(Exception):
    """The two lines do not correspond; the text says how, as the end of a sentence."""


def across(cut: Chain, p: Point, normal: Vector, *, latest: bool = False) -> Place:
    """Where the cutting line is met straight across from p, in the direction `normal`.

    Where the allowance steps there, the earliest such place, or the `latest`. NoMatchError
    when it is not met.
    """
    found = [*_crossings(cut, p, normal), *_joints(cut, p, normal)]
    if not found:
        raise NoMatchError("lies nowhere beside a corner of it")
    nearest = min(found, key=lambda place: cut.at(place).distance(p))
    at = cut.length_to(nearest)
    near = [place for place in found if abs(cut.length_to(place) - at) <= WIDEST_ALLOWANCE]
    place = (max if latest else min)(near)
    return on_joint(cut, place)


def _crossings(cut: Chain, p: Point, normal: Vector) -> Iterator[Place]:
    for place in cut.meets(p, normal):
        if -NO_ALLOWANCE <= (cut.at(place) - p).dot(normal) <= WIDEST_ALLOWANCE:
            yield place


def _joints(cut: Chain, p: Point, normal: Vector) -> Iterator[Place]:
    for k, s in enumerate(cut.segments):
        off = s.start - p
        if abs(off.cross(normal)) > ON_ACROSS:
            continue
        if -NO_ALLOWANCE <= off.dot(normal) <= WIDEST_ALLOWANCE:
            yield Place(k, 0.0)


def on_joint(cut: Chain, place: Place) -> Place:
    """The place, or the joint that it as good as lies on."""
    p, segment = cut.at(place), cut.segments[place.index]
    if p.distance(segment.start) <= ON_ACROSS:
        return Place(place.index, 0.0)
    if p.distance(segment.end) <= ON_ACROSS and place.index + 1 < len(cut):
        return Place(place.index + 1, 0.0)
    return place
