"""Darts and the level: what stays, what moves, what is carried across."""

from __future__ import annotations

from dataclasses import dataclass, replace

from core.alter.level.climb import settled
from core.alter.level.model import Level, Part
from core.curve import Place, Point, Ring
from core.errors import AlterationError
from core.piece.model import Dart

# Legs that differ by no more than this (mm) are equal, and stay so.
EQUAL = 0.01
# Cosine of the steepest angle between a dart and the grain at which its apex can be put
# back to equal legs at its height, without going far to one side.
UPRIGHT = 0.5


@dataclass(frozen=True, slots=True)
class CarriedDart:
    """A dart before and after; `crosses` when its mouth and its apex lie on different parts."""

    before: Dart
    after: Dart
    crosses: bool


def carried(level: Level, dart: Dart, name: str) -> CarriedDart:
    """The dart after the change; its places on the outline are those of the old one.

    A dart on one side of the line stays or moves as it is. Of one that crosses, mouth and
    apex each go with their part, so the intake stays; legs that were equal are made equal
    again by moving the apex to the side, at its new height, to where it is as far from one
    end of the mouth as from the other. Raises AlterationError when the line runs through the
    mouth, or the dart lies too flat for that.
    """
    parts = [level.part(p) for p in dart.mouth]
    if parts[0] is not parts[1]:
        raise AlterationError(
            f"{name}: the line runs through the mouth of the dart in the {dart.on.value}."
            " Choose a line above or below it."
        )
    mouth = (level.point(dart.mouth[0]), level.point(dart.mouth[1]))
    apex = level.point(dart.apex)
    crosses = level.part(dart.apex) is not parts[0]
    if crosses and abs(dart.legs[0] - dart.legs[1]) <= EQUAL:
        apex = evened(level, mouth, apex, f"{name}: the dart in the {dart.on.value}")
    if not crosses and parts[0] is Part.STAYS:
        return CarriedDart(dart, dart, crosses=False)
    return CarriedDart(dart, replace(dart, mouth=mouth, apex=apex), crosses)


def evened(level: Level, mouth: tuple[Point, Point], apex: Point, what: str) -> Point:
    """The point at the apex's height with equal ways to both ends of the mouth."""
    width, across = mouth[1] - mouth[0], level.frame.across
    slope = width.dot(across) / width.norm
    if abs(slope) < UPRIGHT:
        raise AlterationError(
            f"{what} lies too much along the line to be carried across it."
            " Choose a line above or below it."
        )
    off = (apex - mouth[0].towards(mouth[1], 0.5)).dot(width) / width.norm
    return apex.moved(across, -off / slope)


@dataclass(frozen=True, slots=True)
class Leg:
    """A leg of an outline dart that crosses the level: its stretch of the ring, in ring order,
    and where its ends go."""

    first: Place
    last: Place
    start: Point
    end: Point


def legs(ring: Ring, darts: tuple[CarriedDart, ...]) -> tuple[Leg, ...]:
    """Both legs of each dart that crosses and is a notch of the ring."""
    out = []
    for dart in darts:
        places = dart.before.mouth_places
        if places is None or not dart.crosses:
            continue
        a, b = (settled(ring, p) for p in places)
        tip, after = apex_place(ring, dart.before), dart.after
        out.append(Leg(a, tip, after.mouth[0], after.apex))
        out.append(Leg(tip, b, after.apex, after.mouth[1]))
    return tuple(out)


def apex_place(ring: Ring, dart: Dart) -> Place:
    """The joint of the ring that is the apex of a dart drawn as its notch."""
    if dart.mouth_places is None:
        raise ValueError("the dart is not a notch of the outline")
    a, b = (settled(ring, p) for p in dart.mouth_places)
    size = len(ring)
    inside = [(a.index + k) % size for k in range(1, (b.index - a.index) % size + 1)]
    tip = min(inside, key=lambda k: ring.segments[k].start.distance(dart.apex))
    return Place(tip, 0.0)
