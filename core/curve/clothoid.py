"""A curve whose bend fades evenly to nothing: the clothoid, as cubics.

Used to carry a curved seam on: it starts with the direction and the curvature that the
seam has, and ends straight.
"""

from __future__ import annotations

import math

import numpy as np

from core.curve.cubic import Cubic
from core.curve.point import Point, Vector

# One cubic with equal end directions and curvatures covers at most this turn (radians);
# lengths of up to 300 mm then stay within 2e-5 mm of the clothoid.
TURN_PER_CUBIC = 0.025

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(24)
_T, _W = (_NODES + 1.0) / 2.0, _WEIGHTS / 2.0


def turned(curvature: float, length: float, s: float) -> float:
    """Angle turned at arc length s when `curvature` fades to nothing over `length`."""
    return curvature * (s - s * s / (2.0 * length))


def reached(start: Point, direction: Vector, curvature: float, length: float, s: float) -> Point:
    """The point at arc length s of the clothoid, by Gauss-Legendre quadrature.

    Exact to rounding for turns up to a few radians; the Fresnel integrals (DLMF 7.2) are
    its special case, see tests/published.
    """
    angles = turned(curvature, length, 0.0) + curvature * (_T * s - (_T * s) ** 2 / (2 * length))
    along, square = s * float(_W @ np.cos(angles)), s * float(_W @ np.sin(angles))
    return start.moved(direction, along).moved(direction.square(), square)


def clothoid(start: Point, direction: Vector, curvature: float, length: float) -> tuple[Cubic, ...]:
    """Cubics from `start` along unit `direction` over `length` mm.

    The curvature (1/mm, positive from x towards y) fades linearly to nothing. Joints have
    equal points, directions and curvatures.
    """
    count = max(1, math.ceil(abs(curvature) * length / 2.0 / TURN_PER_CUBIC))
    stops = [length * k / count for k in range(count + 1)]
    points = [reached(start, direction, curvature, length, s) for s in stops]
    points[0] = start
    headings = [direction.turned(turned(curvature, length, s)) for s in stops]
    bends = [curvature * (1.0 - s / length) for s in stops]
    return tuple(
        _with_bends(points[k : k + 2], headings[k : k + 2], bends[k : k + 2]) for k in range(count)
    )


def _with_bends(ends: list[Point], headings: list[Vector], bends: list[float]) -> Cubic:
    """The cubic between two points with given end directions and curvatures.

    From kappa = 2/3 (handle-to-far-handle cross) / handle^2 at each end; the two equations
    for the handle lengths are solved by Newton from a third of the chord.
    """
    (p, q), (t0, t1), (k0, k1) = ends, headings, bends
    chord = q - p
    c0, c1, c = t0.cross(chord), chord.cross(t1), t0.cross(t1)
    a = b = chord.norm / 3.0
    for _ in range(20):
        f = 1.5 * k0 * a * a - c0 + b * c
        g = 1.5 * k1 * b * b - c1 + a * c
        if max(abs(f), abs(g)) < 1e-13 * max(1.0, chord.norm):
            break
        fa, gb = 3.0 * k0 * a, 3.0 * k1 * b
        det = fa * gb - c * c
        if abs(det) < 1e-30:
            break
        a, b = a - (f * gb - g * c) / det, b - (g * fa - f * c) / det
    return Cubic(p, p.moved(t0, a), q.moved(t1, -b), q)
