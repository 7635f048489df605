"""Contour darts and the level: what stays, what moves, what is carried across."""

from __future__ import annotations

from core.alter.level.darts import EQUAL, evened
from core.alter.level.model import Level
from core.curve import Point
from core.piece.model import ContourDart


def carried_contour(level: Level, dart: ContourDart, name: str) -> ContourDart:
    """The dart after the change: both sides go together, so that the intake stays.

    A tip on the other part goes with that part; sides that were equal are made equal again
    by moving it to the side at its new height. Raises AlterationError when the dart lies too
    flat for that.
    """
    step = level.step_of(dart.sides[0].towards(dart.sides[1], 0.5))
    sides = (dart.sides[0] + step, dart.sides[1] + step)

    def tip(old: Point) -> Point:
        own = level.step_of(old)
        uneven = abs(dart.sides[0].distance(old) - dart.sides[1].distance(old)) > EQUAL
        if own == step or uneven:
            return old + own
        return evened(level, sides, old + own, f"{name}: the contour dart")

    return ContourDart((tip(dart.tips[0]), tip(dart.tips[1])), sides, dart.because, dart.shapes)


def followed(was: ContourDart, now: ContourDart, p: Point) -> Point:
    """Where a point of the dart's drawing goes: as the nearest of its corners does."""
    pairs = zip(was.corners, now.corners, strict=True)
    corner, moved = min(pairs, key=lambda pair: pair[0].distance(p))
    return p + (moved - corner)
