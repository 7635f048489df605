"""The answer to "where on this curve is it nearest?"."""

from __future__ import annotations

from dataclasses import dataclass

from core.curve.point import ON_LINE, Point


@dataclass(frozen=True, slots=True)
class Nearest:
    """t in [0, 1] on the segment, the point there, and its distance in mm."""

    t: float
    point: Point
    distance: float


def found_at(t: float, there: Point, start: Point, end: Point, p: Point) -> Nearest:
    """The answer for p; a place within ON_LINE of an end is that end.

    Cutting there would leave a sliver whose direction is nothing but rounding.
    """
    if t < 0.5 and there.distance(start) <= ON_LINE:
        t, there = 0.0, start
    elif t >= 0.5 and there.distance(end) <= ON_LINE:
        t, there = 1.0, end
    return Nearest(t, there, there.distance(p))
