"""What is asked of thousands of chains at once."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from core.curve.chain import Chain

Floats = NDArray[np.float64]


def ends(chains: Sequence[Chain]) -> Floats:
    """x and y of the start of each, and of its end; shape (n, 4)."""
    return np.array([_ends(c) for c in chains]).reshape(-1, 4)


def hulls(chains: Sequence[Chain]) -> Floats:
    """x0, y0, x1, y1 of the hull of each; shape (n, 4)."""
    return np.array([_hull(c) for c in chains]).reshape(-1, 4)


def _ends(chain: Chain) -> Sequence[float]:
    rows = chain.rows
    if rows is not None:
        return [*rows.points[0].tolist(), *rows.points[-1].tolist()]
    a, b = chain.start, chain.end
    return (a.x, a.y, b.x, b.y)


def _hull(chain: Chain) -> Sequence[float]:
    rows = chain.rows
    if rows is not None and rows.box is not None:
        return rows.box
    box = chain.hull
    return (box.x0, box.y0, box.x1, box.y1)
