"""The elliptical arc of path data as cubics.

From ends to centre (W3C SVG 2, appendix B.2.4) by svgelements, which this module alone speaks to.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from svgelements import Arc

from core.curve import Point
from core.curve.arcs import elliptical_arc, pieces_for

# More cubics than any arc that fits on a page; only absurd numbers ask for them.
MAX_CUBICS = 5_000


class _Centred(NamedTuple):
    """An arc by its centre; `first` angle and how far it runs in radians, as if on a circle."""

    centre: Point
    radii: tuple[float, float]
    first: float
    run: float


def arc_coords(
    start: tuple[float, float],
    radii: tuple[float, float],
    turn: float,
    *,
    large: bool,
    sweep: bool,
    end: tuple[float, float],
    tolerance: float,
) -> tuple[float, ...]:
    """x, y of the start, then of three points for each cubic; both ends exact.

    Four numbers (a line) when a radius is zero, two when the ends are the same. `turn` in
    radians; `tolerance` in the unit of the coordinates. ValueError for absurd numbers.
    """
    if start == end:
        return start
    rx, ry = abs(radii[0]), abs(radii[1])
    if rx == 0.0 or ry == 0.0:
        return (*start, *end)
    ends = Point(*start), Point(*end)
    arc = _half(ends, (rx, ry), turn, sweep=sweep) or _of_ends(ends, (rx, ry), turn, large, sweep)
    rx, ry = arc.radii
    if not pieces_for(max(rx, ry), arc.run, tolerance=tolerance) <= MAX_CUBICS:
        raise ValueError("an arc too large for any page")
    out = list(start)
    for c in elliptical_arc(
        arc.centre, rx, ry, turn=turn, start=arc.first, sweep=arc.run, tolerance=tolerance
    ):
        out += (c.c1.x, c.c1.y, c.c2.x, c.c2.y, c.end.x, c.end.y)
    return (*out[:-2], *end)


def _half(
    ends: tuple[Point, Point], radii: tuple[float, float], turn: float, *, sweep: bool
) -> _Centred | None:
    """The half ellipse between ends that such radii do not reach (appendix B.2.5); None if they do.

    Its centre is the very middle: made from its grown radii it would be the root of a rounding
    away, a micrometre on a sleeve, and elsewhere each time that the file is saved.
    """
    centre = ends[0].towards(ends[1], 0.5)
    first = (ends[0] - centre).turned(-turn)
    x, y = first.x / radii[0], first.y / radii[1]
    grown = math.hypot(x, y)
    if not grown > 1.0:
        return None
    run = math.pi if sweep else -math.pi
    return _Centred(centre, (radii[0] * grown, radii[1] * grown), math.atan2(y, x), run)


def _of_ends(
    ends: tuple[Point, Point], radii: tuple[float, float], turn: float, large: bool, sweep: bool
) -> _Centred:
    (a, b), (rx, ry) = ends, radii
    # Asked for its centre form only: svgelements' own maps and cubics of arcs are looser.
    arc = Arc((a.x, a.y), rx, ry, math.degrees(turn), large, sweep, (b.x, b.y))
    centre = Point(float(arc.center.x), float(arc.center.y))
    first, run = float(arc.get_start_t()), float(arc.sweep)
    return _Centred(centre, (float(arc.rx), float(arc.ry)), first, run)
