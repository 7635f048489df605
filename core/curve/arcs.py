"""Arcs of circles and ellipses, and DXF bulges, as cubics."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from core.curve.affine import Affine
from core.curve.cubic import Cubic
from core.curve.drawn import Drawn
from core.curve.line import Line
from core.curve.point import Point
from core.errors import CurveError

Rows = NDArray[np.float64]
# Largest distance in mm between an arc and its cubics, kept at every radius.
ARC_TOLERANCE = 1e-5
# A bulge below this leaves its chord by less than 1e-9 of the chord's length.
STRAIGHT_BULGE = 1e-9


def pieces_for(radius: float, sweep: float, *, tolerance: float = ARC_TOLERANCE) -> int:
    """How many equal cubics keep an arc of `radius` mm over `sweep` radians within `tolerance`.

    The radial error of the usual cubic is R (2/27) sin^6(a/4) / cos^2(a/4) for an arc of
    angle a (closed form of its highest point); solved for a by its leading term, R (2/27)
    (a/4)^6, which is right to 4 in a thousand up to a right angle.
    """
    if radius <= 0.0 or sweep == 0.0:
        return 1
    widest = 4.0 * math.pow(27.0 / 2.0 * tolerance / radius, 1 / 6)
    return max(1, math.ceil(abs(sweep) / min(widest, math.pi / 2)))


def unit_arc(start: float, sweep: float, count: int) -> tuple[Cubic, ...]:
    """`count` cubics along the unit circle from angle `start` through `sweep` radians."""
    return _cubics(arc_rows(start, sweep, count, Affine()))


def arc_rows(start: float, sweep: float, count: int, by: Affine) -> Drawn:
    """The same as rows of points under a map: of a hundred thousand circles nobody asks for the
    curves."""
    x, y = _unit_rows(start, sweep, count)
    points = np.empty((len(x), 2))
    points[:, 0] = by.a * x + by.c * y + by.e
    points[:, 1] = by.b * x + by.d * y + by.f
    return Drawn(points, np.full(count, 3, np.uint8))


# Circles of one radius, and corners rounded by one, have the same numbers.
@lru_cache(maxsize=64)
def _unit_rows(start: float, sweep: float, count: int) -> tuple[Rows, Rows]:
    step = sweep / count
    handle = 4.0 / 3.0 * math.tan(step / 4.0)
    angles = start + step * np.arange(count + 1)
    c, s = np.cos(angles), np.sin(angles)
    x, y = np.empty(3 * count + 1), np.empty(3 * count + 1)
    x[::3], x[1::3], x[2::3] = c, c[:-1] - handle * s[:-1], c[1:] + handle * s[1:]
    y[::3], y[1::3], y[2::3] = s, s[:-1] + handle * c[:-1], s[1:] - handle * c[1:]
    return x, y


def _cubics(rows: Drawn) -> tuple[Cubic, ...]:
    return tuple(s for s in rows.segments() if isinstance(s, Cubic))


def elliptical_arc(
    centre: Point,
    rx: float,
    ry: float,
    *,
    turn: float = 0.0,
    start: float,
    sweep: float,
    tolerance: float = ARC_TOLERANCE,
) -> tuple[Cubic, ...]:
    """Cubics along an ellipse; angles in radians, `turn` is that of its rx axis.

    `start` and `sweep` are the ellipse's own parameter (the angle before squeezing).
    """
    place = Affine.move(centre.x, centre.y) @ Affine.turn(turn) @ Affine.scale(rx, ry)
    count = pieces_for(max(rx, ry), sweep, tolerance=tolerance)
    return _cubics(arc_rows(start, sweep, count, place))


def bulge_arc(start: Point, end: Point, bulge: float) -> tuple[Line | Cubic, ...]:
    """The DXF polyline step from `start` to `end` with `bulge` = tan(quarter of its angle).

    Positive bulges turn from x towards y (counter-clockwise in the y-up plane of a DXF).
    The ends are exact. CurveError for a bulge that is no number.
    Source: DXF reference, group code 42.
    """
    if not math.isfinite(bulge):
        raise CurveError("the bulge of an arc is not a number")
    chord = end - start
    if abs(bulge) < STRAIGHT_BULGE or chord.norm == 0.0:
        return (Line(start, end),)
    sweep = 4.0 * math.atan(bulge)
    radius = chord.norm * (1.0 + bulge * bulge) / (4.0 * bulge)
    count = pieces_for(abs(radius), sweep)
    step = sweep / count
    handle = 4.0 / 3.0 * math.tan(step / 4.0) * radius

    def reached(angle: float) -> Point:
        # By the chord from the start, not by the centre, which is far off on a flat arc.
        way = chord.unit().turned((angle - sweep) / 2.0)
        return start.moved(way, 2.0 * radius * math.sin(angle / 2.0))

    stops = [start, *(reached(k * step) for k in range(1, count)), end]
    ways = [chord.unit().turned(k * step - sweep / 2.0) * handle for k in range(count + 1)]
    return tuple(
        Cubic(stops[k], stops[k] + ways[k], stops[k + 1] + (-ways[k + 1]), stops[k + 1])
        for k in range(count)
    )
