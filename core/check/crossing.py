"""Where an outline crosses itself."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from core.alter.simple import TOLERANCE
from core.curve import Point, Ring


def crossing(ring: Ring) -> Point | None:
    """The first place at which the flattened outline crosses itself; None when it does not.

    Steps that only touch or lie on each other are not told from those that do not meet.
    """
    flat = ring.flattened(tolerance=TOLERANCE)
    starts, steps = flat[:-1], np.diff(flat, axis=0)
    for k in range(len(steps) - 2):
        last = len(steps) - (k == 0)
        found = _meets(starts[k], steps[k], starts[k + 2 : last], steps[k + 2 : last])
        if found is not None:
            x, y = starts[k] + found * steps[k]
            return Point(float(x), float(y))
    return None


def _meets(
    start: NDArray[np.float64],
    step: NDArray[np.float64],
    starts: NDArray[np.float64],
    steps: NDArray[np.float64],
) -> float | None:
    """The first share of `step` at which it crosses one of the other steps."""
    across = step[0] * steps[:, 1] - step[1] * steps[:, 0]
    way = starts - start
    with np.errstate(divide="ignore", invalid="ignore"):
        mine = (way[:, 0] * steps[:, 1] - way[:, 1] * steps[:, 0]) / across
        theirs = (way[:, 0] * step[1] - way[:, 1] * step[0]) / across
    hit = (across != 0.0) & (mine >= 0.0) & (mine <= 1.0) & (theirs >= 0.0) & (theirs <= 1.0)
    return float(mine[hit].min()) if bool(hit.any()) else None
