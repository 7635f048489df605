"""The elliptical arc of path data as cubics.

Source: W3C SVG 2, appendix B.2.4 and B.2.5 (from ends to centre; radii that are too small).
"""

from __future__ import annotations

import math

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
    cos, sin = math.cos(turn), math.sin(turn)
    hx, hy = (start[0] - end[0]) / 2, (start[1] - end[1]) / 2
    x, y = (cos * hx + sin * hy) / rx, (-sin * hx + cos * hy) / ry
    reach = x * x + y * y
    grow = max(1.0, math.sqrt(reach))
    rx, ry, x, y = rx * grow, ry * grow, x / grow, y / grow
    off = math.sqrt(max(0.0, 1.0 / (x * x + y * y) - 1.0)) * (1 if large != sweep else -1)
    ux, uy = off * y, -off * x
    first = math.atan2(y - uy, x - ux)
    run = math.atan2(-y - uy, -x - ux) - first
    if sweep and run < 0.0:
        run += 2 * math.pi
    elif not sweep and run > 0.0:
        run -= 2 * math.pi
    centre = Point(
        cos * rx * ux - sin * ry * uy + (start[0] + end[0]) / 2,
        sin * rx * ux + cos * ry * uy + (start[1] + end[1]) / 2,
    )
    if not pieces_for(max(rx, ry), run, tolerance=tolerance) <= MAX_CUBICS:
        raise ValueError("an arc too large for any page")
    out = list(start)
    for c in elliptical_arc(
        centre, rx, ry, turn=turn, start=first, sweep=run, tolerance=tolerance
    ):
        out += (c.c1.x, c.c1.y, c.c2.x, c.c2.y, c.end.x, c.end.y)
    return (*out[:-2], *end)
