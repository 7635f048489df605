"""What is more than any pattern piece has, so that nothing takes minutes to no end."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely
from numpy.typing import NDArray

from core.errors import PieceError
from core.piece.model import Outline

# Two metres of outline with a point every tenth of a millimetre.
MOST_POINTS = 20_000
# How many outlines may lie over each other, by pairs: seven hundred of them on one heap.
MOST_HEAPED = 500_000
# Marks on outlines that lie over each other, by pairs.
MOST_SHARED = 5_000_000
# How many are looked for in a tree at a time.
_AT_ONCE = 64


def too_many_points(outline: Outline, problems: list[str]) -> bool:
    """Does the outline have more points than any piece needs? Then a sentence says so."""
    count = len(outline.ring)
    if count <= MOST_POINTS:
        return False
    at = outline.ring.bounds().centre
    problems.append(
        f"The outline around x {at.x:.0f}, y {at.y:.0f} mm has {count} points, and no more than"
        f" {MOST_POINTS} are followed. It was left as it is: draw it with fewer points."
    )
    return True


def within(
    tree: shapely.STRtree, asked: NDArray[np.object_], *, most: int, predicate: str | None = None
) -> Iterator[tuple[NDArray[np.intp], NDArray[np.intp]]]:
    """What of the tree each of those asked for meets, as numbers of both, a few of them at a time.

    PieceError for more than `most` all told: fifty thousand outlines that lie over each other make
    thousands of millions, which no memory holds.
    """
    count = 0
    for begin in range(0, len(asked), _AT_ONCE):
        found, met = tree.query(asked[begin : begin + _AT_ONCE], predicate=predicate)
        count += len(met)
        if count > most:
            raise PieceError(
                "Far more outlines lie over each other than a pattern has sizes. Leave each piece"
                " in the file once for each size, and open it again."
            )
        yield found + begin, met
