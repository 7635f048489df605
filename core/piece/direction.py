"""In which direction a line is going where it stops, also when it was digitised."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.curve import Line, Point, Segment, Vector
from core.kept import kept
from core.piece.turns import line_turns

# A digitised seam is a row of short lines; its direction is fitted over the longest of these
# stretches (mm) of its end on which a straight line or a parabola does for the shape. Over
# 60 mm one noisy point (0.2 mm) swings it by less than 0.15 degrees.
STRETCHES = (120.0, 60.0, 30.0)
FIT_STRETCH = 60.0
# Lines longer than this are drawn with a ruler, not digitised: they point where they point.
DIGITISED_STEP = 25.0
# A turn by more than this (radians) between chords over TURN_WINDOW (mm) is a corner.
STEP_TURN = 0.6
TURN_WINDOW = 8.0
FEWEST_STEPS = 3
# Lines that turn by less than this (radians) are one line that was split.
STRAIGHT_ON = 1e-7
# Squared scatter in mm^2 below which a row of points is straight for any purpose.
STRAIGHT_REST = 1e-6


class EndFit(NamedTuple):
    """The unit direction at an end, and its standard error in radians where it was fitted."""

    down: Vector
    spread: float


def end_direction(segments: Sequence[Segment]) -> Vector:
    """Unit direction in which the chain of segments runs out at its end.

    A curve's end tangent, a ruled line's own direction; for a row of short lines (a
    digitised curve) the end slope of a line or parabola fitted through the last stretch.
    """
    return end_fit(segments).down


def end_fit(segments: Sequence[Segment]) -> EndFit:
    """As ``end_direction``, with how much the scatter of digitised points leaves open."""
    steps = digitised_end(segments)
    if len(steps) < FEWEST_STEPS:
        return EndFit(segments[-1].tangent(1.0), 0.0)
    return _fitted([steps[0].start, *(s.end for s in steps)])


def digitised_end(segments: Sequence[Segment]) -> tuple[Line, ...]:
    """The last short lines, in order, that look like one digitised line; maybe none.

    A step that was split counts as one: a point more on the same line tells nothing more.
    """
    steps: list[Line] = []
    covered = 0.0
    for s in _lines_back(segments):
        if s.length() > DIGITISED_STEP or covered >= STRETCHES[0]:
            break
        steps.append(s)
        covered += s.length()
    points = [steps[0].end, *(s.start for s in steps)] if steps else []
    smooth = next((k for k in range(1, len(steps)) if _turn(points, k) > STEP_TURN), len(steps))
    return tuple(reversed(steps[:smooth]))


def _lines_back(segments: Sequence[Segment]) -> Iterator[Line]:
    """The last lines from the end back; a step that was split is one step."""
    row: list[Line] = []
    for s in reversed(segments):
        if not isinstance(s, Line):
            break
        if row and not _straight_on(s, row[-1]):
            yield from _as_step(row)
            row = []
        row.append(s)
    yield from _as_step(row)


def _as_step(row: Sequence[Line]) -> Sequence[Line]:
    """Lines that go straight on, from the end back: one step, unless that were too long for one."""
    if len(row) < 2:
        return row
    whole = Line(row[-1].start, row[0].end)
    return [whole] if whole.length() <= DIGITISED_STEP else row


def digitised(segments: Sequence[Segment]) -> tuple[bool, ...]:
    """Segment by segment of a ring: is it a step of a digitised line?

    It is when it is a short line beside another one. Lines that go straight on count as one:
    a ruled line stays one however often it was split.
    """
    return _digitised(tuple(segments))


# Corners, both tapers and a rounding ask for the same ring one after the other.
@kept(most=16)
def _digitised(segments: tuple[Segment, ...]) -> tuple[bool, ...]:
    size = len(segments)
    turns = line_turns(segments)
    clear = (turns > STRAIGHT_ON * 2.0).tolist()
    joints = [k for k in range(size) if clear[k] or not _goes_straight_on(segments, k)]
    if len(joints) < 2:
        return (False,) * size
    if len(joints) == size:
        # No step was split, as on nearly every outline: each is a stretch of its own.
        steps = [isinstance(s, Line) and s.length() < DIGITISED_STEP for s in segments]
        return tuple(steps[k] and (steps[k - 1] or steps[(k + 1) % size]) for k in range(size))
    stretches = [
        [j % size for j in range(a, b if b > a else b + size)]
        for a, b in zip(joints, (*joints[1:], joints[0]), strict=True)
    ]
    short = [
        all(isinstance(segments[k], Line) for k in stretch)
        and sum(segments[k].length() for k in stretch) < DIGITISED_STEP
        for stretch in stretches
    ]
    out = [False] * size
    for n, stretch in enumerate(stretches):
        beside = short[n - 1] or short[(n + 1) % len(stretches)]
        for k in stretch:
            out[k] = short[n] and beside
    return tuple(out)


def has_length(s: Segment) -> bool:
    """Is it more than a point written twice?"""
    return s.tangent(0.0).norm > 0.0


def before_joint(segments: Sequence[Segment], k: int) -> Segment:
    """The segment of a ring by which it comes to joint k: the last one that has a length."""
    size = len(segments)
    return next(
        (segments[(k - n) % size] for n in range(1, size) if has_length(segments[(k - n) % size])),
        segments[k - 1],
    )


def _goes_straight_on(segments: Sequence[Segment], k: int) -> bool:
    a, b = before_joint(segments, k), segments[k]
    return isinstance(a, Line) and isinstance(b, Line) and _straight_on(a, b)


def _straight_on(a: Line, b: Line) -> bool:
    return abs(a.tangent(1.0).angle_to(b.tangent(0.0))) < STRAIGHT_ON


def _turn(points: Sequence[Point], k: int) -> float:
    """How far the row of points turns at number k, seen through the window."""
    here = points[k]
    before, after = _chord(here, points[k - 1 :: -1]), _chord(here, points[k + 1 :])
    return abs((-before).angle_to(after))


def _chord(here: Point, others: Sequence[Point]) -> Vector:
    """From `here` to the first of the others beyond the window, or to the last."""
    far = next((p for p in others if p.distance(here) >= TURN_WINDOW), others[-1])
    return far - here


def _fitted(points: Sequence[Point]) -> EndFit:
    """End slope of a least-squares line through the points, or of a parabola where it is bent.

    The parabola's end slope is four times as nervous as the line's, so it is taken only where
    its bend stands clear of the scatter; where even a third power does, the stretch is too long.
    """
    bent = False
    for stretch in STRETCHES:
        along, across, down = _laid_down(_last(points, stretch))
        # A bend that a long stretch shows is there on a short one too, under the scatter.
        bent = bent or _clearer(along, across, 2)
        if stretch == STRETCHES[-1] or not _clearer(along, across, 3):
            break
    slope, spread = _end_slope(along, across, 2 if bent else 1)
    return EndFit((down + down.square() * slope).unit(), spread)


def _last(points: Sequence[Point], stretch: float) -> Sequence[Point]:
    """The last points, over that much of the line; at least enough for a fit."""
    gone = 0.0
    for k in range(len(points) - 1, 0, -1):
        gone += points[k].distance(points[k - 1])
        if gone >= stretch:
            return points[min(k - 1, max(0, len(points) - 1 - FEWEST_STEPS)) :]
    return points


def _laid_down(
    points: Sequence[Point],
) -> tuple[NDArray[np.float64], NDArray[np.float64], Vector]:
    """Distances along and across the chord, from its end, and the chord's direction."""
    end = points[-1]
    down = (end - points[0]).unit()
    along = np.array([down.dot(p - end) for p in points])
    across = np.array([down.cross(p - end) for p in points])
    return along, across, down


def _clearer(along: NDArray[np.float64], across: NDArray[np.float64], degree: int) -> bool:
    """Does the power `degree` make the fit better than scatter would?

    A bend is believed at about p = 0.001. A third power only shortens the stretch, which costs
    little when it was not there, so it is believed at about p = 0.05.
    """
    freedom = len(along) - degree - 1
    if freedom < 1:
        return False
    rest_without, rest = (_rest(along, across, d) for d in (degree - 1, degree))
    # The F value of that likelihood, 1 against `freedom`, within a tenth from 5 on.
    clear = 12.0 * (1.0 + 5.0 / freedom + 50.0 / freedom**2) * (1.0 if degree < 3 else 1 / 3)
    return rest_without > STRAIGHT_REST and (rest_without - rest) * freedom > clear * rest


def _end_slope(
    along: NDArray[np.float64], across: NDArray[np.float64], degree: int
) -> tuple[float, float]:
    """Slope where `along` is zero, by least squares, and its standard error."""
    basis = np.vander(along / STRETCHES[0], degree + 1, increasing=True)
    fit = np.linalg.lstsq(basis, across, rcond=None)[0]
    freedom = max(1, len(along) - degree - 1)
    variance = float(np.sum((across - basis @ fit) ** 2)) / freedom
    share = float(np.linalg.pinv(basis.T @ basis)[1, 1])
    return float(fit[1]) / STRETCHES[0], math.sqrt(variance * share) / STRETCHES[0]


def _rest(along: NDArray[np.float64], across: NDArray[np.float64], degree: int) -> float:
    """Sum of the squared rests (mm^2) of the best polynomial of that degree."""
    basis = np.vander(along / STRETCHES[0], degree + 1)
    fit = np.linalg.lstsq(basis, across, rcond=None)[0]
    return float(np.sum((across - basis @ fit) ** 2))
