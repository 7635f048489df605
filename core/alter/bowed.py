"""A curved hem drawn as a row of short lines: bowed so that it keeps its angle to each seam.

Scaled in width, and lowered more at one end than at the other, its first and last lines would point
elsewhere, as the handles of a curve would. They are turned back, and what lies between goes along:
heights change by a cubic over the width that is nought at both ends. Widths stay, and the cubics of
two changes add up to that of their sum, so lengthening twice is lengthening by the sum.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from core.alter.bend import SAME_WAY
from core.curve import Affine, Line, Point, Segment, Vector

# A row that bends less than this (mm) out of its chord is a straight hem, up to scatter.
STRAIGHT = 1.0
# Lines that each cover less than this share of the hem are steps of a curve: a share is the same
# before and after a change.
STEP = 0.25
# The share of a row over which it is bowed from one end alone: the steps beside a rounding, or a
# dart, at the other one are left as they are.
ONE_ENDED = 0.75
# Steps that turn by more than this (radians) are no curve: they go round a corner of the hem, or
# are its rounding, drawn in one or two lines.
SHARP = 0.4
# A line that runs across by less than this (cosine) cannot be turned by its height.
LEAST_ACROSS = 0.3

Numbers = NDArray[np.float64]
# By how much the seams at the two ends have turned (radians); None where there is no seam.
Turns = tuple[float | None, float | None]


def bowed(
    to_run: Affine,
    old: Sequence[Segment],
    new: Sequence[Segment],
    *,
    turns: Turns,
    feet: Collection[Point],
) -> tuple[Segment, ...]:
    """The hem `new`, which was `old`; digitised ends have the angles to their seams that they had.

    `to_run` takes the page to the run's frame; at `feet` darts begin, or end.
    """
    steps = _steps(to_run, old, feet), _steps(to_run, [s.reversed() for s in reversed(old)], feet)
    down = to_run.inverse().vector(Vector(0.0, 1.0))
    rises = np.zeros(len(old) + 1)
    if steps[0] == len(old):
        rises = _rises(to_run, old, new, turns)
    else:
        first, last = steps[0], len(old) - steps[1]
        rises[: first + 1] = _rises(to_run, old[:first], new[:first], (turns[0], None))
        rises[last:] = _rises(to_run, old[last:], new[last:], (None, turns[1]))
    if not rises.any():
        return tuple(new)
    joints = [new[0].start, *(s.end for s in new)]
    moved = [p.moved(down, float(r)) if r else p for p, r in zip(joints, rises, strict=True)]
    return tuple(
        Line(a, b) if isinstance(s, Line) else s
        for s, (a, b) in zip(new, pairwise(moved), strict=True)
    )


def _steps(to_run: Affine, row: Sequence[Segment], feet: Collection[Point]) -> int:
    """How many lines lead away from the start as the steps of a digitised curve."""
    whole = abs(to_run.vector(row[-1].end - row[0].start).x)
    ways = [s.end - s.start for s in row]
    for count, (s, way) in enumerate(zip(row, ways, strict=True)):
        if not isinstance(s, Line) or abs(to_run.vector(way).x) >= STEP * whole:
            return count
        if count and (s.start in feet or abs(ways[count - 1].angle_to(way)) > SHARP):
            return count
    return len(row)


def _rises(to_run: Affine, old: Sequence[Segment], new: Sequence[Segment], turns: Turns) -> Numbers:
    """By how much (mm, down) each joint of a row goes, in order."""
    still = np.zeros(len(old) + 1)
    was, now = _joints(to_run, old), _joints(to_run, new)
    if len(old) < 3 or (np.diff(was[:, 0]) <= 0.0).any():
        return still
    share = (was[:, 0] - was[0, 0]) / (was[-1, 0] - was[0, 0])
    corners = _corners(old)
    reach = 1.0 if None not in turns else ONE_ENDED
    # The end of a digitised rounding, beyond that, is no bend of the hem.
    bent = share <= reach if turns[1] is None else share >= 1.0 - reach
    if _bend(was[bent]) < STRAIGHT or max(np.diff(share[corners])) >= STEP:
        return still
    shapes = _shape(share / reach), -_shape((1.0 - share) / reach)
    wanted = [
        (k, shape, _height(to_run, old, now, ends, turn))
        for turn, shape, ends, k in (
            (turns[0], shapes[0], (0, corners[1]), corners[1]),
            (turns[1], shapes[1], (corners[-2], len(old)), corners[-2]),
        )
        if turn is not None
    ]
    known = [(k, shape, h) for k, shape, h in wanted if h is not None]
    if not known:
        return still
    table = np.array([[shape[k] for _, shape, _ in known] for k, _, _ in known])
    shares = np.linalg.solve(table, np.array([h for _, _, h in known]))
    rises = sum((a * shape for a, (_, shape, _) in zip(shares, known, strict=True)), still)
    # What was straight between two corners of the row stays straight.
    straight: Numbers = np.interp(share, share[corners], rises[corners])
    return straight


def _bend(row: Numbers) -> float:
    """By how much (mm, up or down) points (n, 2) lie out of the line from the first to the last."""
    (x0, y0), (x1, y1) = row[0], row[-1]
    return float(np.abs(row[:, 1] - np.interp(row[:, 0], (x0, x1), (y0, y1))).max())


def _shape(away: Numbers) -> Numbers:
    """The cubic over the way from an end, as shares of how far it reaches: nought and level at 1,
    and nought beyond."""
    away = np.minimum(away, 1.0)
    return away * (1.0 - away) ** 2


def _height(
    to_run: Affine, old: Sequence[Segment], now: Numbers, ends: tuple[int, int], turn: float
) -> float | None:
    """By how much (mm, down) the inner end of the row's first or last line has to go."""
    first, last = ends
    way = to_run.vector((old[last - 1].end - old[first].start).turned(turn))
    across, down = now[last] - now[first]
    if way.x <= LEAST_ACROSS * way.norm or across <= 0.0:
        return None
    off = float(way.y / way.x * across - down)
    return off if first == 0 else -off


def _corners(row: Sequence[Segment]) -> list[int]:
    """The joints at which the row turns, and its ends."""
    ways = [s.end - s.start for s in row]
    turns = [k for k, (a, b) in enumerate(pairwise(ways), 1) if abs(a.angle_to(b)) > SAME_WAY]
    return [0, *turns, len(row)]


def _joints(to_run: Affine, row: Sequence[Segment]) -> Numbers:
    points = [row[0].start, *(s.end for s in row)] if row else []
    return np.array([(q.x, q.y) for q in map(to_run.point, points)])
