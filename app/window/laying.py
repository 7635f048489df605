"""Where the pieces lie on the table. Knows nothing of Qt."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from typing import NamedTuple

from core.curve import Box, Vector

# Room in mm between files laid side by side, and between pieces that had to be laid apart.
BETWEEN = 60.0
# Two pieces whose boxes share more than this of the smaller lie on top of each other.
ON_TOP = 0.5


class Laid(NamedTuple):
    """A piece's box; pieces of one nest, which are one piece in several sizes, stay together."""

    box: Box
    nest: str = ""


def lay_out(sheets: Sequence[Sequence[Laid]]) -> list[Vector]:
    """A move for each piece, in order: files in a row from the left, tops level.

    Within a file the pieces keep the places they were drawn in, unless they lie on top of
    each other (as pieces stored one by one around one origin do): then they too get a row.
    Sizes drawn over each other are no such pile.
    """
    moves: list[Vector] = []
    x = 0.0
    for pieces in sheets:
        groups = _groups(pieces)
        placed: dict[int, Vector] = {}
        for group in groups:
            whole = _around([pieces[k].box for k in group])
            placed |= dict.fromkeys(group, Vector(x - whole.x0, -whole.y0))
            x += whole.width + BETWEEN
        moves += [placed[k] for k in range(len(pieces))]
    return moves


def _groups(pieces: Sequence[Laid]) -> list[list[int]]:
    """The numbers of the pieces that move together."""
    if not _piled(pieces):
        return [list(range(len(pieces)))] if pieces else []
    groups: dict[str | int, list[int]] = {}
    for k, piece in enumerate(pieces):
        groups.setdefault(piece.nest or k, []).append(k)
    return list(groups.values())


def _around(boxes: Sequence[Box]) -> Box:
    whole = boxes[0]
    for box in boxes[1:]:
        whole = whole | box
    return whole


def _piled(pieces: Sequence[Laid]) -> bool:
    return any(
        shared(a.box, b.box) > ON_TOP
        for a, b in combinations(pieces, 2)
        if not a.nest or a.nest != b.nest
    )


def shared(a: Box, b: Box) -> float:
    """The common area as a share of the smaller box."""
    width = min(a.x1, b.x1) - max(a.x0, b.x0)
    height = min(a.y1, b.y1) - max(a.y0, b.y0)
    smaller = min(a.width * a.height, b.width * b.height)
    return width * height / smaller if width > 0 and height > 0 and smaller > 0 else 0.0
