"""The smooth curve through points, by which a curve is meant that is given by its curve points.

At each point the curve has the direction of the circle through it and its two neighbours,
so that points on a circle give that circle however unevenly they lie. Between two points it
is the cubic whose handles fit the angle between their directions.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
# Directions nearer to the chord than this (in radians) make a straight stretch.
STRAIGHT = 1e-6

# Between these bends a vertex is one of a digitised curve, and so many of them make one.
LEAST_BEND, MOST_BEND, FEWEST = math.radians(0.05), math.radians(30.0), 4


def usual_chord(points: Sequence[complex], *, closed: bool) -> float | None:
    """The usual distance between the vertices that draw a line's curves; None if none do."""
    z = np.array([*points, points[0]] if closed else points)
    z = z[np.append(True, np.diff(z) != 0)]
    steps = np.diff(z)
    if len(steps) <= FEWEST:
        return None
    bends = np.abs(np.angle(steps[1:] / steps[:-1]))
    in_curve = (bends > LEAST_BEND) & (bends < MOST_BEND)
    if np.count_nonzero(in_curve) < FEWEST:
        return None
    shorter = np.minimum(np.abs(steps[1:]), np.abs(steps[:-1]))
    return float(np.median(shorter[in_curve]))


def tangents(points: Sequence[complex]) -> list[complex]:
    """The unit direction of the curve at each of its points; at both ends mirrored in.

    Needs two points at least, no two neighbours equal.
    """
    steps = [b - a for a, b in pairwise(points)]
    inner = [_turned(a, b) for a, b in pairwise(steps)]
    if not inner:
        return [_unit(steps[0])] * 2
    first = _mirrored(inner[0], steps[0])
    return [first, *inner, _mirrored(inner[-1], steps[-1])]


def _turned(before: complex, after: complex) -> complex:
    """The direction at the middle of three points, of the circle through all three.

    By the angle between tangent and chord it is the first chord turned by as much as the
    second is turned from the chord across.
    """
    across = before + after
    return _unit(before * after / across) if across else _unit(before)


def _mirrored(direction: complex, chord: complex) -> complex:
    """The direction at the other end of the chord, of a circle with this one at one end."""
    return _unit(chord * chord * direction.conjugate())


def _unit(z: complex) -> complex:
    return z / abs(z)


def sampled(a: complex, b: complex, leaves: complex, arrives: complex, count: int) -> list[complex]:
    """`count` points evenly between a and b on the cubic with these directions there."""
    chord = b - a
    turn = _angle(arrives / leaves)
    reach = abs(chord) * 2.0 / (3.0 * (1.0 + math.cos(turn / 2.0)))
    c1, c2 = a + leaves * reach, b - arrives * reach
    t = np.linspace(0.0, 1.0, count + 2)[1:-1]
    out = (1 - t) ** 3 * a + 3 * t * (1 - t) ** 2 * c1 + 3 * t * t * (1 - t) * c2 + t**3 * b
    return [complex(z) for z in out]


def is_straight(a: complex, b: complex, leaves: complex, arrives: complex) -> bool:
    """Do both directions go along the chord?"""
    return all(abs(_angle(d / (b - a))) < STRAIGHT for d in (leaves, arrives))


def _angle(z: complex) -> float:
    return math.atan2(z.imag, z.real)
