"""What path data draws, in mm: subpath by subpath, with what is wrong with it in words."""

from __future__ import annotations

from typing import NamedTuple

from core.curve import Affine, Chain, Point, Ring
from core.curve.arcs import ARC_TOLERANCE
from core.files.svg.pathdata import ARC_STEPS, Step, TooManyStepsError, parse
from core.files.svg.sweep import Run, joined, placed, sweep
from core.files.svg.trace import trace
from core.piece.too_much import MOST_POINTS

# Points of a line that is read at all, handles counted; the pieces tell of one that is too long.
MOST_READ = 3 * MOST_POINTS
# Steps of a path that is read at all, in one sweep or step by step: a second's work each.
MOST_SWEPT, MOST_STEPS = 1_000_000, 200_000
_ABSURD = "a coordinate is no number or beyond 100 m; left out."


class Figure(NamedTuple):
    """One subpath: what it draws, if anything; ``fault`` is why it was left out, and ``steps``
    the work that it was."""

    geometry: Ring | Chain | Point | None
    fault: str = ""
    steps: int = 0


class Figures(NamedTuple):
    """The figures in the order of their subpaths; ``error`` is where the text goes wrong."""

    found: list[Figure]
    error: int | None = None


def figures(text: str, by: Affine, *, stretch: float) -> Figures:
    """All that path data draws, mapped to mm by `by`, which lengthens by at most `stretch`.

    Data of more steps than MOST_SWEPT or MOST_STEPS is left out as a whole.
    """
    most = MOST_SWEPT
    try:
        swept = _swept(text, by, most)
        if swept is not None:
            return swept
        most = MOST_STEPS
        parsed = parse(text, arc_tolerance=ARC_TOLERANCE / stretch, most=most)
    except TooManyStepsError:
        return Figures([_too_long(f"more than {most}", most)])
    return Figures([_traced(steps, by) for steps in parsed.subpaths], parsed.error)


def _swept(text: str, by: Affine, most: int) -> Figures | None:
    runs = sweep(text, most=most)
    if runs is None:
        return None
    found = []
    for run in runs:
        figure = _of_run(run, by)
        if figure is None:
            return None
        found.append(figure)
    return Figures(found)


def _of_run(run: Run, by: Affine) -> Figure | None:
    if not run.sizes and not run.closed:
        return Figure(None)
    if run.points > MOST_READ:
        return _too_long(run.points, run.steps)
    at = placed(run, by)
    if at is None:
        return None
    geometry = None if at.far else joined(run, at)
    return Figure(geometry, "" if geometry else _ABSURD, run.steps)


def _traced(steps: list[Step], by: Affine) -> Figure:
    points, work = _points(steps), _work(steps)
    if points > MOST_READ:
        return _too_long(points, work)
    traced = trace(steps, by)
    geometry = traced.geometry()
    if geometry and traced.absurd:
        return Figure(None, _ABSURD, work)
    return Figure(geometry, "", work)


def _too_long(count: int | str, steps: int) -> Figure:
    return Figure(
        None,
        f"this line has {count} points, and no more than {MOST_POINTS} are read; it stays"
        " in the file as it is: draw it with fewer points.",
        steps,
    )


def _points(steps: list[Step]) -> int:
    return 1 + sum(len(step.coords) // 2 - 1 for step in steps[1:] if not step.is_close)


def _work(steps: list[Step]) -> int:
    return sum(ARC_STEPS if step.letter in ("a", "A") else 1 for step in steps)
