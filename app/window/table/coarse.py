"""Coarse polylines of what is shown; a drag keeps most of them. Knows nothing of Qt."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from core.curve import Chain, Cubic, Point, Segment
from core.kept import kept

Floats = NDArray[np.float64]

# Flattening in mm for keeping labels and the pointer off the lines; never for drawing.
COARSE = 0.5


# A change leaves most curves the very same, so they are flattened once.
@kept(most=4096)
def _curved(curve: Cubic) -> list[tuple[float, float]]:
    points = Chain((curve,)).flattened(tolerance=COARSE)[1:]
    return [(x, y) for x, y in points.tolist()]


def flat(segments: Iterable[Segment]) -> Floats:
    """The segments, in order, as one coarse polyline of shape (n, 2): straight over gaps."""
    points: list[tuple[float, float]] = []
    end: Point | None = None
    for s in segments:
        if s.start is not end:
            points.append((s.start.x, s.start.y))
        end = s.end
        if isinstance(s, Cubic):
            points += _curved(s)
        else:
            points.append((end.x, end.y))
    return np.array(points)


@kept(most=2048)
def kept_flat(chain: Chain) -> Floats:
    """The chain as a coarse polyline."""
    return flat(chain)
