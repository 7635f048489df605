"""Points and vectors of the plane, told apart.

Coordinates are millimetres with y pointing down the page. Point - Point is a
Vector, Point + Vector is a Point; nothing else mixes.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

# A point this near to a line, in mm, lies on it: far above rounding, far below any use.
ON_LINE = 1e-9


@dataclass(frozen=True, slots=True)
class Vector:
    """A displacement (dx, dy)."""

    x: float
    y: float

    def __add__(self, other: Vector) -> Vector:
        return Vector(self.x + other.x, self.y + other.y)

    def __sub__(self, other: Vector) -> Vector:
        return Vector(self.x - other.x, self.y - other.y)

    def __mul__(self, factor: float) -> Vector:
        return Vector(self.x * factor, self.y * factor)

    __rmul__ = __mul__

    def __truediv__(self, divisor: float) -> Vector:
        return Vector(self.x / divisor, self.y / divisor)

    def __neg__(self) -> Vector:
        return Vector(-self.x, -self.y)

    def dot(self, other: Vector) -> float:
        """Scalar product."""
        return self.x * other.x + self.y * other.y

    def cross(self, other: Vector) -> float:
        """z of the vector product; positive when `other` lies clockwise on the page (y down)."""
        return self.x * other.y - self.y * other.x

    @property
    def norm(self) -> float:
        """Its length."""
        return math.hypot(self.x, self.y)

    def unit(self) -> Vector:
        """The same direction with length 1; ZeroDivisionError for the null vector."""
        norm = self.norm
        return Vector(self.x / norm, self.y / norm)

    def turned(self, angle: float) -> Vector:
        """Turned by `angle` radians, from x towards y."""
        c, s = math.cos(angle), math.sin(angle)
        return Vector(c * self.x - s * self.y, s * self.x + c * self.y)

    def square(self) -> Vector:
        """Turned by a right angle, from x towards y, exactly."""
        return Vector(-self.y, self.x)

    def angle_to(self, other: Vector) -> float:
        """Signed angle in (-pi, pi] that turns this direction into `other`."""
        # Adding 0 makes -0 a plain 0, so that straight back is pi and never -pi.
        return math.atan2(self.cross(other) + 0.0, self.dot(other))


@dataclass(frozen=True, slots=True)
class Point:
    """A place (x, y)."""

    x: float
    y: float

    def __add__(self, step: Vector) -> Point:
        return Point(self.x + step.x, self.y + step.y)

    def __sub__(self, other: Point) -> Vector:
        return Vector(self.x - other.x, self.y - other.y)

    def moved(self, step: Vector, times: float = 1.0) -> Point:
        """This point, `times` times `step` further."""
        return Point(self.x + step.x * times, self.y + step.y * times)

    def distance(self, other: Point) -> float:
        """Straight-line distance."""
        return math.hypot(self.x - other.x, self.y - other.y)

    def towards(self, other: Point, share: float) -> Point:
        """The point that lies `share` of the way (0 here, 1 there) to `other`."""
        return Point(self.x + share * (other.x - self.x), self.y + share * (other.y - self.y))
