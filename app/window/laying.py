"""Where the pieces lie on the table. Knows nothing of Qt."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from core.curve import Box, Vector

# Room in mm between files laid side by side, and between pieces that had to be laid apart.
BETWEEN = 60.0
# Two pieces whose boxes share more than this of the smaller lie on top of each other.
ON_TOP = 0.5


def lay_out(sheets: Sequence[Sequence[Box]]) -> list[Vector]:
    """A move for each box, in order: files in a row from the left, tops level.

    Within a file the pieces keep the places they were drawn in, unless they lie on top of
    each other (as pieces stored one by one around one origin do): then they too get a row.
    """
    moves: list[Vector] = []
    x = 0.0
    for boxes in sheets:
        groups = [[b] for b in boxes] if _piled(boxes) else [list(boxes)]
        for group in filter(None, groups):
            whole = _around(group)
            moves += [Vector(x - whole.x0, -whole.y0)] * len(group)
            x += whole.width + BETWEEN
    return moves


def _around(boxes: Sequence[Box]) -> Box:
    whole = boxes[0]
    for box in boxes[1:]:
        whole = whole | box
    return whole


def _piled(boxes: Sequence[Box]) -> bool:
    return any(_shared(a, b) > ON_TOP for a, b in combinations(boxes, 2))


def _shared(a: Box, b: Box) -> float:
    """The common area as a share of the smaller box."""
    width = min(a.x1, b.x1) - max(a.x0, b.x0)
    height = min(a.y1, b.y1) - max(a.y0, b.y0)
    smaller = min(a.width * a.height, b.width * b.height)
    return width * height / smaller if width > 0 and height > 0 and smaller > 0 else 0.0
