"""A place on a piece for a word, clear of all its lines. Knows nothing of Qt."""

from __future__ import annotations

import math
from collections.abc import Iterable
from itertools import product

import shapely

from core.curve import Chain, Point, Ring

# Places that are tried, in steps of these shares of the word's width and height.
STEP_ACROSS, STEP_DOWN, COLUMNS, ROWS = 0.25, 0.6, 8, 14
# Lines as straight parts within this (mm).
COARSE = 1.0


def free_place(ring: Ring, lines: tuple[Chain, ...], wide: float, high: float) -> Point:
    """The middle of a box, `wide` and `high` in mm, within the ring and off all lines, as near
    the middle of the ring as there is one; that middle, where there is none."""
    middle = ring.bounds().centre
    inside = shapely.Polygon(ring.flattened(tolerance=COARSE)).buffer(0.0)
    full = shapely.MultiLineString([line.flattened(tolerance=COARSE) for line in _long(lines)])
    for across, down in _steps(wide, high):
        p = Point(middle.x + across, middle.y + down)
        box = shapely.box(p.x - wide / 2, p.y - high / 2, p.x + wide / 2, p.y + high / 2)
        if inside.contains(box) and not full.intersects(box):
            return p
    return middle


def _long(lines: Iterable[Chain]) -> Iterable[Chain]:
    return (line for line in lines if line.length() > 0.0)


def _steps(wide: float, high: float) -> list[tuple[float, float]]:
    """From the middle outwards, sooner up or down than aside."""
    columns = (k * STEP_ACROSS * wide for k in range(-COLUMNS, COLUMNS + 1))
    rows = (k * STEP_DOWN * high for k in range(-ROWS, ROWS + 1))
    return sorted(product(columns, rows), key=lambda at: math.hypot(*at))
