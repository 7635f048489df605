"""A cubic Bezier curve."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.curve import length as arc_length
from core.curve.affine import Affine
from core.curve.box import Box
from core.curve.nearest import Nearest, found_at
from core.curve.point import ON_LINE, Point, Vector
from core.curve.roots import extrema, real_roots
from core.errors import CurveError

# A derivative below this share of the largest coordinate is a missing handle, seen
# through the rounding of its coordinates.
MISSING = 1e-12


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
        if t in (0.0, 1.0):
            return self.end if t else self.start
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
        return np.asarray(u**3 * p[0] + 3 * u * u * t * p[1] + 3 * u * t * t * p[2] + t**3 * p[3])

    def derivative(self, t: float) -> Vector:
        """d at / dt, in mm per unit of t."""
        u = 1.0 - t
        a, b, c = 3 * u * u, 6 * u * t, 3 * t * t
        p, q, r, s = self.start, self.c1, self.c2, self.end
        return Vector(
            (q.x - p.x) * a + (r.x - q.x) * b + (s.x - r.x) * c,
            (q.y - p.y) * a + (r.y - q.y) * b + (s.y - r.y) * c,
        )

    def second_derivative(self, t: float) -> Vector:
        """d2 at / dt2."""
        before = (self.c2 - self.c1) - (self.c1 - self.start)
        after = (self.end - self.c2) - (self.c2 - self.c1)
        return before * (6 * (1.0 - t)) + after * (6 * t)

    def third_derivative(self) -> Vector:
        """d3 at / dt3, the same all along."""
        return ((self.end - self.start) - (self.c2 - self.c1) * 3.0) * 6.0

    def _missing(self) -> float:
        p, q, r, s = self.start, self.c1, self.c2, self.end
        return MISSING * max(map(abs, (p.x, p.y, q.x, q.y, r.x, r.y, s.x, s.y)))

    def tangent(self, t: float) -> Vector:
        """Unit direction of travel; where a handle is missing, its limit there.

        At a cusp it is the direction after it for t < 0.5, before it otherwise; the null
        vector for a curve that is a single point.
        """
        v, least = self.derivative(t), self._missing()
        if v.norm > least:
            return v.unit()
        v = self.second_derivative(t) * (1.0 if t < 0.5 else -1.0)
        if v.norm > least:
            return v.unit()
        chord = self.end - self.start
        return chord.unit() if chord.norm > 0.0 else chord

    def tangents(self, ts: NDArray[np.float64]) -> NDArray[np.float64]:
        """Unit directions at many t: shape (n,) to (n, 2); each is what `tangent` gives."""
        t = np.asarray(ts)[:, None]
        u, steps = 1.0 - t, np.diff(self.array(), axis=0)
        v = steps[0] * (3 * u * u) + steps[1] * (6 * u * t) + steps[2] * (3 * t * t)
        norms = np.hypot(v[:, 0], v[:, 1])
        slow = norms <= self._missing()
        v /= np.where(slow, 1.0, norms)[:, None]
        for k in np.flatnonzero(slow):
            limit = self.tangent(float(ts[k]))
            v[k] = limit.x, limit.y
        return np.asarray(v)

    def curvature(self, t: float) -> float:
        """Signed curvature in 1/mm, positive when it turns from x towards y.

        Infinite at a cusp and at a missing handle, unless the curve is straight there.
        """
        v, w, least = self.derivative(t), self.second_derivative(t), self._missing()
        if v.norm > least:
            return v.cross(w) / v.norm**3
        # To lowest order v x w is half of w x d3 times the square of the way to the cusp,
        # while the cube of the speed falls with the cube of that way.
        third = self.third_derivative()
        turn = w.cross(third)
        if abs(turn) <= max(MISSING * w.norm, least) * third.norm:
            return 0.0
        return math.copysign(math.inf, turn)

    def split(self, t: float) -> tuple[Cubic, Cubic]:
        """The two parts before and after t (de Casteljau), joined exactly in at(t).

        Missing handles stay missing. CurveError for t outside [0, 1].
        """
        if not 0.0 <= t <= 1.0:
            raise CurveError("a curve can only be split on itself")
        ab, bc, cd = (
            self.start.towards(self.c1, t),
            self.c1.towards(self.c2, t),
            self.c2.towards(self.end, t),
        )
        middle = self.at(t)
        return (
            Cubic(self.start, ab, ab.towards(bc, t), middle),
            Cubic(middle, bc.towards(cd, t), cd, self.end),
        )

    def part(self, t0: float, t1: float) -> Cubic:
        """The part from t0 to t1, ending exactly in at(t0) and at(t1).

        CurveError unless 0 <= t0 <= t1 <= 1.
        """
        if not 0.0 <= t0 <= t1 <= 1.0:
            raise CurveError("a part of a curve runs forward and lies on the curve")
        if t0 == 0.0:
            return self if t1 == 1.0 else self.split(t1)[0]
        if t1 == 1.0:
            return self.split(t0)[1]
        return Cubic(self.at(t0), self._polar(t0, t0, t1), self._polar(t0, t1, t1), self.at(t1))

    def _polar(self, u: float, v: float, w: float) -> Point:
        """The polar form: affine in each of u, v, w, and at(t) for all three t."""
        ab, bc, cd = (
            self.start.towards(self.c1, u),
            self.c1.towards(self.c2, u),
            self.c2.towards(self.end, u),
        )
        return ab.towards(bc, v).towards(bc.towards(cd, v), w)

    def length(self) -> float:
        """Arc length, within arc_length.TOLERANCE."""
        return arc_length.between(self._hodograph(), 0.0, 1.0)

    def length_to(self, t: float) -> float:
        """Arc length from the start to t."""
        return arc_length.between(self._hodograph(), 0.0, t)

    def at_length(self, s: float) -> float:
        """The t at arc length `s` from the start, kept within [0, 1]."""
        return arc_length.parameter_at(self._hodograph(), s)

    def _hodograph(self) -> arc_length.Hodograph:
        return arc_length.hodograph([(p.x, p.y) for p in self.controls])

    def meets(self, origin: Point, direction: Vector) -> tuple[float, ...]:
        """All t in [0, 1], rising, on the endless line through `origin` along `direction`.

        Touching counts, within ON_LINE. Nothing when the whole curve lies along the line.
        """
        away = [direction.cross(p - origin) for p in self.controls]
        slack = ON_LINE * direction.norm
        if min(away) > slack or max(away) < -slack or max(map(abs, away)) <= slack:
            return ()
        return real_roots(_powers(*away), slack=slack)

    def nearest(self, p: Point) -> Nearest:
        """The place nearest to p: roots of (at - p) . derivative, a polynomial of degree 5."""
        (a, b, c, d), (e, f, g, h) = (
            _powers(*(q.x - p.x for q in self.controls)),
            _powers(*(q.y - p.y for q in self.controls)),
        )
        slope = (
            a * b + e * f,
            b * b + f * f + 2 * (a * c + e * g),
            3 * (b * c + f * g + a * d + e * h),
            2 * (c * c + g * g) + 4 * (b * d + f * h),
            5 * (c * d + g * h),
            3 * (d * d + h * h),
        )
        found = [(t, self.at(t)) for t in (0.0, *real_roots(slope), 1.0)]
        t, there = min(found, key=lambda place: place[1].distance(p))
        return found_at(t, there, self.start, self.end, p)

    def bounds(self) -> Box:
        """The box around the curve itself, not around its handles."""
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = ((p.x, p.y) for p in self.controls)
        ts = (*_turns(x0, x1, x2, x3), *_turns(y0, y1, y2, y3))
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


def _powers(a: float, b: float, c: float, d: float) -> tuple[float, float, float, float]:
    """Coefficients of 1, t, t^2, t^3 from four control values."""
    return a, 3 * (b - a), 3 * (a - 2 * b + c), d - a + 3 * (b - c)


def _turns(a: float, b: float, c: float, d: float) -> tuple[float, ...]:
    """Where one coordinate turns back; nowhere when its handles lie between its ends."""
    low, high = min(a, d), max(a, d)
    if low <= b <= high and low <= c <= high:
        return ()
    return extrema(_powers(a, b, c, d))
