"""The elliptical arc of path data as cubics.

From ends to centre (W3C SVG 2, appendix B.2.4, and B.2.5 for radii that are too small) by
svgelements, which this module alone speaks to.
"""

from __future__ import annotations

import math

from svgelements import Arc

from core.curve import Point
from core.curve.arcs import elliptical_arc, pieces_for

# More cubics than any arc that fits on a page; only absurd numbers ask for them.
MAX_CUBICS = 5_000


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
    # Asked for its centre form only: svgelements' own maps and cubics of arcs are looser.
    arc = Arc(start, rx, ry, math.degrees(turn), large, sweep, end)
    rx, ry, run = float(arc.rx), float(arc.ry), float(arc.sweep)
    centre = Point(float(arc.center.x), float(arc.center.y))
    first = float(arc.get_start_t())
    if not pieces_for(max(rx, ry), run, tolerance=tolerance) <= MAX_CUBICS:
        raise ValueError("an arc too large for any page")
    out = list(start)
    for c in elliptical_arc(centre, rx, ry, turn=turn, start=first, sweep=run, tolerance=tolerance):
        out += (c.c1.x, c.c1.y, c.c2.x, c.c2.y, c.end.x, c.end.y)
    return (*out[:-2], *end)
