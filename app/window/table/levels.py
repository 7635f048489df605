"""Where a level crosses a piece. Knows nothing of Qt."""

from __future__ import annotations

import numpy as np

from app.window.table.coarse import kept_flat
from core.alter.frame import Frame
from core.alter.level.climb import lowest_and_highest
from core.curve import Point, Vector
from core.piece.model import Piece

Ends = tuple[Point, Point]
# By how many pixels a level is drawn beyond both sides of its piece.
BEYOND = 16.0


def across(piece: Piece, at_mm: float) -> Ends | None:
    """The ends, on the outline, of a line square to the grain `at_mm` below the highest point.

    None where the line misses the piece. As exact as the eye needs it.
    """
    frame = Frame(piece.grain.down)
    height = lowest_and_highest(piece.ring, frame)[0] + at_mm
    line = kept_flat(piece.outline.ring)
    line = np.vstack((line, line[:1]))
    down, side = (line @ np.array((v.x, v.y)) for v in (frame.down, frame.across))
    cut = np.nonzero((down[:-1] < height) != (down[1:] < height))[0]
    if not len(cut):
        return None
    share = (height - down[cut]) / (down[cut + 1] - down[cut])
    places = side[cut] + share * (side[cut + 1] - side[cut])
    on = Point(0.0, 0.0).moved(frame.down, height)
    low, high = (on.moved(frame.across, float(w)) for w in (places.min(), places.max()))
    return (low, high) if (low.x, low.y) <= (high.x, high.y) else (high, low)


def beyond(ends: Ends, mm: float) -> Ends:
    """The line so much longer at both ends."""
    a, b = ends
    more = (b - a).unit() * mm if a != b else Vector(0.0, 0.0)
    return a + -more, b + more


def moved(ends: Ends, by: Vector) -> Ends:
    """The same line elsewhere."""
    return ends[0] + by, ends[1] + by
