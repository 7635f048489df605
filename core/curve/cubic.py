"""A cubic Bezier curve."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.curve import length as arc_length
from core.curve.affine import Affine
from core.curve.box import Box
from core.curve.nearest import Nearest
from core.curve.point import Point, Vector
from core.curve.roots import real_roots


@dataclass(frozen=True, slots=True)
class Cubic:
    """at(t) = (1-t)^3 start + 3 (1-t)^2 t c1 + 3 (1-t) t^2 c2 + t^3 end, t in [0, 1]."""

    start: Point
    c1: Point
    c2: Point
    end: Point

    @staticmethod
    def from_quadratic(start: Point, control: Point, end: Point) -> Cubic:
        """The same curve as a quadratic one, by degree elevation (exact)."""
        return Cubic(start, start.towards(control, 2 / 3), end.towards(control, 2 / 3), end)

    @property
    def controls(self) -> tuple[Point, ...]:
        return (self.start, self.c1, self.c2, self.end)

    def array(self) -> NDArray[np.float64]:
        """The four control points, shape (4, 2)."""
        return np.array([(p.x, p.y) for p in self.controls])

    def power_basis(self) -> NDArray[np.float64]:
        """Coefficients of 1, t, t^2, t^3; shape (4, 2)."""
        p = self.array()
        return np.stack(
            (p[0], 3 * (p[1] - p[0]), 3 * (p[0] - 2 * p[1] + p[2]), p[3] - p[0] + 3 * (p[1] - p[2]))
        )

    def at(self, t: float) -> Point:
        """The point at t; exactly the ends at 0 and 1."""
        if t == 0.0 or t == 1.0:
            return self.start if t == 0.0 else self.end
        u = 1.0 - t
        a, b, c, d = u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t
        return Point(
            a * self.start.x + b * self.c1.x + c * self.c2.x + d * self.end.x,
            a * self.start.y + b * self.c1.y + c * self.c2.y + d * self.end.y,
        )

    def points(self, ts: NDArray[np.float64]) -> NDArray[np.float64]:
        """Points at many t: shape (n,) to (n, 2)."""
        t = np.asarray(ts)[:, None]
        u = 1.0 - t
        p = self.array()
        return np.asarray(
            u**3 * p[0] + 3 * u * u * t * p[1] + 3 * u * t * t * p[2] + t**3 * p[3]
        )

    def derivative(self, t: float) -> Vector:
        """d at / dt, in mm per unit of t."""
        u = 1.0 - t
        return (
            (self.c1 - self.start) * (3 * u * u)
            + (self.c2 - self.c1) * (6 * u * t)
            + (self.end - self.c2) * (3 * t * t)
        )

    def second_derivative(self, t: float) -> Vector:
        """d2 at / dt2."""
        before = (self.c2 - self.c1) - (self.c1 - self.start)
        after = (self.end - self.c2) - (self.c2 - self.c1)
        return before * (6 * (1.0 - t)) + after * (6 * t)

    def tangent(self, t: float) -> Vector:
        """Unit direction of travel; where a handle is missing, its limit there."""
        size = max(1e-300, *(abs(c) for p in self.controls for c in (p.x, p.y)))
        v = self.derivative(t)
        if v.norm > 1e-12 * size:
            return v.unit()
        towards_end = 1.0 if t < 0.5 else -1.0
        v = self.second_derivative(t) * towards_end
        if v.norm > 1e-12 * size:
            return v.unit()
        chord = self.end - self.start
        return chord.unit() if chord.norm > 0.0 else chord

    def curvature(self, t: float) -> float:
        """Signed curvature in 1/mm, positive when it turns from x towards y; inf at a cusp."""
        v, w = self.derivative(t), self.second_derivative(t)
        speed = v.norm
        if speed == 0.0:
            return math.inf if w.norm > 0.0 else 0.0
        return v.cross(w) / speed**3

    def split(self, t: float) -> tuple[Cubic, Cubic]:
        """The two parts before and after t (de Casteljau)."""
        ab, bc, cd = (
            self.start.towards(self.c1, t),
            self.c1.towards(self.c2, t),
            self.c2.towards(self.end, t),
        )
        abc, bcd = ab.towards(bc, t), bc.towards(cd, t)
        middle = abc.towards(bcd, t)
        return Cubic(self.start, ab, abc, middle), Cubic(middle, bcd, cd, self.end)

    def part(self, t0: float, t1: float) -> Cubic:
        """The part from t0 to t1 (t0 < t1)."""
        tail = self if t0 == 0.0 else self.split(t0)[1]
        return tail if t1 == 1.0 else tail.split((t1 - t0) / (1.0 - t0))[0]

    def length(self) -> float:
        """Arc length, within arc_length.TOLERANCE."""
        return arc_length.of_cubic(self.array())

    def length_to(self, t: float) -> float:
        """Arc length from the start to t."""
        return 0.0 if t == 0.0 else arc_length.of_cubic(self.part(0.0, t).array())

    def at_length(self, s: float) -> float:
        """The t at arc length `s` from the start, kept within [0, 1]."""
        return arc_length.parameter_at(self.length_to, lambda t: self.derivative(t).norm, s)

    def meets(self, origin: Point, direction: Vector) -> tuple[float, ...]:
        """All t in [0, 1], rising, where the endless line through `origin` along `direction` crosses."""
        b0, b1, b2, b3 = (direction.cross(p - origin) for p in self.controls)
        return real_roots((b0, 3 * (b1 - b0), 3 * (b0 - 2 * b1 + b2), b3 - b0 + 3 * (b1 - b2)))

    def nearest(self, p: Point) -> Nearest:
        """The place nearest to p: roots of (at - p) . derivative, a polynomial of degree 5."""
        c = self.power_basis()
        c[0] -= (p.x, p.y)
        slope = c[1:] * np.array([[1.0], [2.0], [3.0]])
        quintic = sum(np.convolve(c[:, k], slope[:, k]) for k in (0, 1))
        ts = (0.0, *real_roots(tuple(np.atleast_1d(quintic))), 1.0)
        t = min(ts, key=lambda t: self.at(t).distance(p))
        return Nearest(t, self.at(t), self.at(t).distance(p))

    def bounds(self) -> Box:
        """The box around the curve itself, not around its handles."""
        c = self.power_basis()
        ts = [t for k in (0, 1) for t in real_roots((c[1, k], 2 * c[2, k], 3 * c[3, k]))]
        return Box.around([self.start, self.end, *(self.at(t) for t in ts)])

    def reversed(self) -> Cubic:
        return Cubic(self.end, self.c2, self.c1, self.start)

    def mapped(self, by: Affine) -> Cubic:
        return Cubic(*(by.point(p) for p in self.controls))

    def area_term(self) -> float:
        """Its share of the enclosed area, by Green: integral of (x dy - y dx) / 2 (exact)."""
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = ((p.x, p.y) for p in self.controls)
        return (
            (6 * (x0 * y1 - x1 * y0) + 3 * (x0 * y2 - x2 * y0) + (x0 * y3 - x3 * y0))
            + 3 * (x1 * y2 - x2 * y1)
            + 3 * (x1 * y3 - x3 * y1)
            + 6 * (x2 * y3 - x3 * y2)
        ) / 20
