"""Affine maps of the plane: turn, mirror, scale, shear, move."""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.curve.point import Point, Vector
from core.errors import CurveError


@dataclass(frozen=True, slots=True)
class Affine:
    """x' = a x + c y + e, y' = b x + d y + f (the order of SVG's ``matrix``)."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    @staticmethod
    def move(dx: float, dy: float) -> Affine:
        return Affine(e=dx, f=dy)

    @staticmethod
    def scale(sx: float, sy: float | None = None) -> Affine:
        return Affine(a=sx, d=sx if sy is None else sy)

    @staticmethod
    def turn(angle: float, about: Point | None = None) -> Affine:
        """Turn by `angle` radians from x towards y, about the origin or a point."""
        c, s = math.cos(angle), math.sin(angle)
        p = about or Point(0.0, 0.0)
        return Affine(c, s, -s, c, p.x - c * p.x + s * p.y, p.y - s * p.x - c * p.y)

    def __matmul__(self, first: Affine) -> Affine:
        """`self @ first` does `first`, then `self`."""
        return Affine(
            self.a * first.a + self.c * first.b,
            self.b * first.a + self.d * first.b,
            self.a * first.c + self.c * first.d,
            self.b * first.c + self.d * first.d,
            self.a * first.e + self.c * first.f + self.e,
            self.b * first.e + self.d * first.f + self.f,
        )

    def point(self, p: Point) -> Point:
        return Point(self.a * p.x + self.c * p.y + self.e, self.b * p.x + self.d * p.y + self.f)

    def vector(self, v: Vector) -> Vector:
        return Vector(self.a * v.x + self.c * v.y, self.b * v.x + self.d * v.y)

    @property
    def determinant(self) -> float:
        """Area factor; negative when the map mirrors."""
        return self.a * self.d - self.b * self.c

    def inverse(self) -> Affine:
        """The map that undoes this one; CurveError when it flattens the plane."""
        det = self.determinant
        if det == 0.0 or not math.isfinite(det):
            raise CurveError("a transform flattens the drawing to a line and cannot be undone")
        a, b, c, d = self.d / det, -self.b / det, -self.c / det, self.a / det
        if not math.isfinite(a + b + c + d):
            raise CurveError("a transform shrinks the drawing to a point and cannot be undone")
        return Affine(a, b, c, d, -(a * self.e + c * self.f), -(b * self.e + d * self.f))
