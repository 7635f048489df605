"""Lines that lead from a label in free paper to the place it speaks of. Knows nothing of Qt.

All in pixels of the widget.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from app.window.table.coarse import Floats
from app.window.table.rect import Rect

Row = tuple[float, float, float, float]
Spot = tuple[float, float]

# A lead begins so far from the words, and the last bit of it lies on the line it leads to.
OFF_WORDS, ON_LINE = 2.0, 4.0
# How far from its place a label with a lead is tried, the nearest first; and in which directions,
# as turns from straight away from the edge.
REACHES = (16.0, 28.0, 44.0, 64.0, 90.0, 120.0)
TURNS = tuple(math.radians(a) for a in (0, 25, -25, 50, -50, 75, -75, 180, 155, -155))


def lead(rect: Rect, pin: Spot) -> Row:
    """From the edge of the words in `rect` to the pin."""
    wide = rect.grown(OFF_WORDS)
    x = min(max(pin[0], wide.x0), wide.x1)
    y = min(max(pin[1], wide.y0), wide.y1)
    return x, y, *pin


def clear(row: Row, lines: Floats) -> bool:
    """Does the lead cross none of the lines (rows x0, y0, x1, y1), but for that it ends on?"""
    x0, y0, x1, y1 = row
    long = math.hypot(x1 - x0, y1 - y0)
    if long <= ON_LINE:
        return False
    if not len(lines):
        return True
    share = 1.0 - ON_LINE / long
    px, py = (x1 - x0) * share, (y1 - y0) * share
    ax, ay, bx, by = lines.T
    # The ends of each line lie on either side of the lead, and those of the lead of the line.
    a = px * (ay - y0) - py * (ax - x0)
    b = px * (by - y0) - py * (bx - x0)
    dx, dy = bx - ax, by - ay
    c = dx * (y0 - ay) - dy * (x0 - ax)
    d = dx * (y0 + py - ay) - dy * (x0 + px - ax)
    return not bool(np.any((a * b <= 0.0) & (c * d <= 0.0)))


def round_about(pin: Spot, away: Spot, size: tuple[float, float]) -> Iterator[Spot]:
    """Middles for a label of that size around the pin, the nearest first; `away` is the unit
    direction away from its edge."""
    for reach in REACHES:
        for turn in TURNS:
            cos, sin = math.cos(turn), math.sin(turn)
            dx, dy = away[0] * cos - away[1] * sin, away[0] * sin + away[1] * cos
            off = reach + (abs(dx) * size[0] + abs(dy) * size[1]) / 2
            yield pin[0] + dx * off, pin[1] + dy * off
