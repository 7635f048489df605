"""Hems of every shape, as a maker draws them between two seam ends.

The sketches of `sketch` have straight hems and hems of one curve, with corners rounded or
plain. Missing there, and drawn here:

- waves: several curves that flow into each other, as in a hem shaped for a border;
- a scoop hollowed out of the hem, with plain corners beside it;
- a slanting, asymmetrical hem of one curve whose lowest place lies aside;
- a point: two sides, straight or curved, that meet in a corner;
- a slit up from the hem, with parallel sides;
- a step, one half of the hem longer than the other;
- a vent at the side, outwards (with an underlap) or inwards (cut away).

Each by several hands: as lines and curves, with arcs in parts, as a row of points, and as
points that scatter by up to 0.2 mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

import numpy as np

from core.curve import Cubic, Line, Point, Segment, Vector

DOWN = Vector(0.0, 1.0)


class HemKind(Enum):
    """What is drawn between the ends of the hem."""

    WAVES = "waves"
    SCOOP = "scoop"
    ASIDE = "lowest aside"
    POINT = "point"
    SLIT = "slit"
    STEP = "step"


@dataclass(frozen=True)
class HemShape:
    """A hem in numbers: where its feature lies (a share of the way), how wide, how deep (mm).

    `curved` bows the sides of a point and the two halves beside a slit or step.
    """

    kind: HemKind
    at: float
    wide: float
    deep: float
    curved: bool = False

    def segments(self, start: Point, end: Point, ways: tuple[Vector, Vector]) -> list[Segment]:
        """From `start` to `end`; a curve leaves and arrives along `ways`."""
        drawn: list[Segment] = {
            HemKind.WAVES: self._waves,
            HemKind.SCOOP: self._scoop,
            HemKind.ASIDE: self._aside,
            HemKind.POINT: self._point,
            HemKind.SLIT: self._slit,
            HemKind.STEP: self._step,
        }[self.kind](start, end, ways)
        return drawn

    def _waves(self, start: Point, end: Point, ways: tuple[Vector, Vector]) -> list[Segment]:
        """Two curves that flow into each other, one low and one high."""
        middle = start.towards(end, self.at)
        tilt = (end - start).unit().turned(-2.0 * self.deep / start.distance(end))
        return [_flow(start, ways[0], middle, tilt), _flow(middle, tilt, end, ways[1])]

    def _scoop(self, start: Point, end: Point, ways: tuple[Vector, Vector]) -> list[Segment]:
        half = self.wide / 2 / start.distance(end)
        a, b = start.towards(end, self.at - half), start.towards(end, self.at + half)
        high = DOWN * (-self.deep * 4 / 3)
        bow = Cubic(a, a.towards(b, 0.25) + high, a.towards(b, 0.75) + high, b)
        return [Line(start, a), *bow.split(0.4), Line(b, end)]

    def _aside(self, start: Point, end: Point, ways: tuple[Vector, Vector]) -> list[Segment]:
        low = start.towards(end, self.at).moved(DOWN, self.deep)
        along = (end - start).unit()
        return [_flow(start, ways[0], low, along), _flow(low, along, end, ways[1])]

    def _point(self, start: Point, end: Point, ways: tuple[Vector, Vector]) -> list[Segment]:
        tip = start.towards(end, self.at).moved(DOWN, self.deep)
        if not self.curved:
            return [Line(start, tip), Line(tip, end)]
        down, up = (tip - start).unit().turned(-0.12), (end - tip).unit().turned(-0.12)
        return [
            _flow(start, (tip - start).unit().turned(0.12), tip, down),
            _flow(tip, up.turned(0.24), end, up),
        ]

    def _slit(self, start: Point, end: Point, ways: tuple[Vector, Vector]) -> list[Segment]:
        half = self.wide / 2 / start.distance(end)
        a, b = start.towards(end, self.at - half), start.towards(end, self.at + half)
        up = DOWN * -self.deep
        sides: list[Segment] = [Line(a, a + up), Line(a + up, b + up), Line(b + up, b)]
        return [self._half(start, a), *sides, self._half(b, end)]

    def _step(self, start: Point, end: Point, ways: tuple[Vector, Vector]) -> list[Segment]:
        low = start.towards(end, self.at)
        high = low.moved(DOWN, -self.deep)
        raised = end.moved(DOWN, -self.deep)
        return [self._half(start, low), Line(low, high), self._half(high, raised)]

    def _half(self, a: Point, b: Point) -> Segment:
        if not self.curved:
            return Line(a, b)
        low = DOWN * 6.0
        return Cubic(a, a.towards(b, 1 / 3) + low, a.towards(b, 2 / 3) + low, b)


def _flow(start: Point, leaving: Vector, end: Point, arriving: Vector) -> Cubic:
    reach = start.distance(end) / 3
    return Cubic(start, start.moved(leaving, reach), end.moved(arriving, -reach), end)


def scattered(points: list[Point], noise: float, seed: int) -> list[Point]:
    """The points between the first and the last, each up to `noise` mm off."""
    if noise == 0.0:
        return points
    rng = np.random.default_rng(seed + len(points))
    away = rng.uniform(-noise, noise, (len(points), 2)) / 2**0.5
    moved = [Point(p.x + float(x), p.y + float(y)) for p, (x, y) in zip(points, away, strict=True)]
    return [points[0], *moved[1:-1], points[-1]]
