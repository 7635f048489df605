"""A straight line from a point to a point."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.curve.affine import Affine
from core.curve.box import Box
from core.curve.nearest import Nearest, found_at
from core.curve.point import ON_LINE, Point, Vector
from core.errors import CurveError


@dataclass(frozen=True, slots=True)
class Line:
    """The straight segment at(t) = start + t (end - start), t in [0, 1]."""

    start: Point
    end: Point

    @property
    def controls(self) -> tuple[Point, ...]:
        return (self.start, self.end)

    def at(self, t: float) -> Point:
        """The point at t; exactly the ends at 0 and 1."""
        if t in (0.0, 1.0):
            return self.end if t else self.start
        return self.start.towards(self.end, t)

    def points(self, ts: NDArray[np.float64]) -> NDArray[np.float64]:
        """Points at many t: shape (n,) to (n, 2); exactly the ends at 0 and 1."""
        t = np.asarray(ts)[:, None]
        a = np.array((self.start.x, self.start.y))
        b = np.array((self.end.x, self.end.y))
        return np.asarray((1.0 - t) * a + t * b)

    def derivative(self, t: float) -> Vector:
        """d at / dt, in mm per unit of t."""
        return self.end - self.start

    def tangent(self, t: float) -> Vector:
        """Unit direction; the null vector for a line without length."""
        # Asked for a thousand times a piece: worked out in one go.
        dx, dy = self.end.x - self.start.x, self.end.y - self.start.y
        norm = math.hypot(dx, dy)
        return Vector(dx / norm, dy / norm) if norm > 0.0 else Vector(dx, dy)

    def curvature(self, t: float) -> float:
        """Signed curvature in 1/mm: none."""
        return 0.0

    def split(self, t: float) -> tuple[Line, Line]:
        """The two parts before and after t; CurveError for t outside [0, 1]."""
        if not 0.0 <= t <= 1.0:
            raise CurveError("a line can only be split on itself")
        p = self.at(t)
        return Line(self.start, p), Line(p, self.end)

    def part(self, t0: float, t1: float) -> Line:
        """The part from t0 to t1; CurveError unless 0 <= t0 <= t1 <= 1."""
        if not 0.0 <= t0 <= t1 <= 1.0:
            raise CurveError("a part of a line runs forward and lies on the line")
        return Line(self.at(t0), self.at(t1))

    def length(self) -> float:
        return self.start.distance(self.end)

    def length_to(self, t: float) -> float:
        """Arc length from the start to t."""
        return t * self.length()

    def at_length(self, s: float) -> float:
        """The t at arc length `s` from the start, kept within [0, 1]."""
        whole = self.length()
        return min(1.0, max(0.0, s / whole)) if whole > 0.0 else 0.0

    def meets(self, origin: Point, direction: Vector) -> tuple[float, ...]:
        """The t in [0, 1] on the endless line through `origin` along `direction`, if any.

        Touching with an end counts, within ON_LINE. Nothing when it lies along the line.
        """
        before, after = (direction.cross(p - origin) for p in (self.start, self.end))
        slack = ON_LINE * direction.norm
        if max(abs(before), abs(after)) <= slack:
            return ()
        if abs(before) <= slack:
            return (0.0,)
        if abs(after) <= slack:
            return (1.0,)
        return (before / (before - after),) if (before < 0.0) != (after < 0.0) else ()

    def nearest(self, p: Point) -> Nearest:
        """The place on the segment that is nearest to p."""
        run = self.end - self.start
        square = run.dot(run)
        t = min(1.0, max(0.0, (p - self.start).dot(run) / square)) if square > 0.0 else 0.0
        return found_at(t, self.at(t), self.start, self.end, p)

    def bounds(self) -> Box:
        a, b = self.start, self.end
        return Box(min(a.x, b.x), min(a.y, b.y), max(a.x, b.x), max(a.y, b.y))

    def reversed(self) -> Line:
        return Line(self.end, self.start)

    def mapped(self, by: Affine) -> Line:
        return Line(by.point(self.start), by.point(self.end))

    def area_term(self) -> float:
        """Its share of the enclosed area, by Green: integral of (x dy - y dx) / 2."""
        return (self.start.x * self.end.y - self.end.x * self.start.y) / 2
