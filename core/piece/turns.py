"""How far an outline of lines turns at each joint, all joints at once.

Most joints of a digitised outline turn far less or far more than any limit that is asked about;
only where it is close has the joint to be looked at for itself.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from core.curve import Line, Segment

# Rounding moves an angle worked out in one way or the other by far less (radians).
CLOSE = 1e-9


def line_turns(segments: Sequence[Segment]) -> NDArray[np.float64]:
    """The angle in [0, pi] between each segment of a ring and the one before it.

    Not a number beside a curve and beside a line without length, for which it says nothing.
    """
    ends = np.array([(s.start.x, s.start.y, s.end.x, s.end.y) for s in segments], dtype=float)
    along = ends[:, 2:] - ends[:, :2]
    along[[not isinstance(s, Line) for s in segments]] = np.nan
    along[~along.any(axis=1)] = np.nan
    before = np.roll(along, 1, axis=0)
    cross = before[:, 0] * along[:, 1] - before[:, 1] * along[:, 0]
    dot = before[:, 0] * along[:, 0] + before[:, 1] * along[:, 1]
    turns: NDArray[np.float64] = np.abs(np.arctan2(cross, dot))
    return turns
