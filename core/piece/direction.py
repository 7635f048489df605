"""In which direction a line is going where it stops, also when it was digitised."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from core.curve import Line, Point, Segment, Vector

# A digitised seam is a row of short lines that turn little; its direction is fitted over
# this much of its end, so that one noisy point (0.2 mm) swings it by less than half a degree.
FIT_STRETCH = 60.0
# Lines longer than this are drawn with a ruler, not digitised: they point where they point.
DIGITISED_STEP = 25.0
# Neighbouring digitised steps turn by less than this (radians); more is a corner.
STEP_TURN = 0.6
FEWEST_STEPS = 3
# F value (1 against many degrees of freedom) from which a bend is believed: about p = 0.001.
CLEAR_BEND = 12.0
# Squared scatter in mm^2 below which a row of points is straight for any purpose.
STRAIGHT_REST = 1e-6


def end_direction(segments: Sequence[Segment]) -> Vector:
    """Unit direction in which the chain of segments runs out at its end.

    A curve's end tangent, a ruled line's own direction; for a row of short lines (a
    digitised curve) the end slope of a parabola fitted through the last stretch.
    """
    last = segments[-1]
    steps = digitised_end(segments)
    if len(steps) < FEWEST_STEPS:
        return last.tangent(1.0)
    points = [steps[0].start, *(s.end for s in steps)]
    return _fitted(points)


def digitised_end(segments: Sequence[Segment]) -> tuple[Line, ...]:
    """The last short lines, in order, that look like one digitised line; maybe none."""
    steps: list[Line] = []
    covered = 0.0
    for s in reversed(segments):
        if not isinstance(s, Line) or s.length() > DIGITISED_STEP:
            break
        if steps and abs(s.tangent(1.0).angle_to(steps[-1].tangent(0.0))) > STEP_TURN:
            break
        steps.append(s)
        covered += s.length()
        if covered >= FIT_STRETCH:
            break
    return tuple(reversed(steps))


def _fitted(points: Sequence[Point]) -> Vector:
    """End slope of a least-squares line through the points, or of a parabola where it is bent.

    The parabola's end slope is four times as nervous as the line's, so it is taken only
    where its bend stands clear of the scatter (F-test).
    """
    p = np.array([(q.x, q.y) for q in points])
    s = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(p, axis=0).T))))
    basis = np.vander(s - s[-1], 3, increasing=True)
    straight, rest_straight = _least_squares(basis[:, :2], p)
    bent, rest_bent = _least_squares(basis, p)
    freedom = 2 * (len(points) - 3)
    gain = (rest_straight - rest_bent) * freedom
    is_bent = rest_straight > STRAIGHT_REST and gain > CLEAR_BEND * rest_bent
    slope = (bent if is_bent else straight)[1]
    return Vector(float(slope[0]), float(slope[1])).unit()


def _least_squares(
    basis: NDArray[np.float64], p: NDArray[np.float64]
) -> tuple[NDArray[np.float64], float]:
    fit = np.asarray(np.linalg.lstsq(basis, p, rcond=None)[0], dtype=np.float64)
    return fit, float(np.sum((p - basis @ fit) ** 2))
