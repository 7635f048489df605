"""Arcs of circles and ellipses, and DXF bulges, as cubics."""

from __future__ import annotations

import math

from core.curve.affine import Affine
from core.curve.cubic import Cubic
from core.curve.line import Line
from core.curve.point import Point

# Largest distance in mm between an arc and its cubics, kept at every radius.
ARC_TOLERANCE = 1e-5
# A bulge below this leaves its chord by less than 1e-9 of the chord's length.
STRAIGHT_BULGE = 1e-9


def pieces_for(radius: float, sweep: float, *, tolerance: float = ARC_TOLERANCE) -> int:
    """How many equal cubics keep an arc of `radius` mm over `sweep` radians within `tolerance`.

    The radial error of the usual cubic is R (4/27) sin^6(a/4) / cos^2(a/4) for an arc of
    angle a (closed form of its highest point); solved for a by its leading term.
    """
    if radius <= 0.0 or sweep == 0.0:
        return 1
    widest = 4.0 * float(27.0 / 4.0 * tolerance / radius) ** (1 / 6)
    return max(1, math.ceil(abs(sweep) / min(widest, math.pi / 2)))


def unit_arc(start: float, sweep: float, count: int) -> tuple[Cubic, ...]:
    """`count` cubics along the unit circle from angle `start` through `sweep` radians."""
    step = sweep / count
    handle = 4.0 / 3.0 * math.tan(step / 4.0)
    cubics = []
    for k in range(count):
        a0, a1 = start + k * step, start + (k + 1) * step
        c0, s0, c1, s1 = math.cos(a0), math.sin(a0), math.cos(a1), math.sin(a1)
        cubics.append(
            Cubic(
                Point(c0, s0),
                Point(c0 - handle * s0, s0 + handle * c0),
                Point(c1 + handle * s1, s1 - handle * c1),
                Point(c1, s1),
            )
        )
    return tuple(cubics)


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
    return joined([c.mapped(place) for c in unit_arc(start, sweep, count)])


def joined(cubics: list[Cubic]) -> tuple[Cubic, ...]:
    """The same cubics with each start put exactly on the end before it."""
    out = cubics[:1]
    for c in cubics[1:]:
        out.append(Cubic(out[-1].end, c.c1, c.c2, c.end))
    return tuple(out)


def bulge_arc(start: Point, end: Point, bulge: float) -> tuple[Line | Cubic, ...]:
    """The DXF polyline step from `start` to `end` with `bulge` = tan(quarter of its angle).

    Positive bulges turn from x towards y (counter-clockwise in the y-up plane of a DXF).
    The ends are exact. Source: DXF reference, group code 42.
    """
    chord = end - start
    if abs(bulge) < STRAIGHT_BULGE or chord.norm == 0.0:
        return (Line(start, end),)
    sweep = 4.0 * math.atan(bulge)
    radius = chord.norm * (1.0 + bulge * bulge) / (4.0 * bulge)
    to_centre = chord.square() * ((1.0 - bulge * bulge) / (4.0 * bulge))
    centre = start.towards(end, 0.5).moved(to_centre)
    first = math.atan2(start.y - centre.y, start.x - centre.x)
    arcs = list(
        elliptical_arc(centre, abs(radius), abs(radius), start=first, sweep=sweep)
    )
    arcs[0] = Cubic(start, arcs[0].c1, arcs[0].c2, arcs[0].end)
    arcs[-1] = Cubic(arcs[-1].start, arcs[-1].c1, arcs[-1].c2, end)
    return tuple(arcs)
