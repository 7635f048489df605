"""What path data draws, in mm: subpath by subpath, with what is wrong with it in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from core.curve import Affine, Chain, Drawn, Point, Ring
from core.curve.arcs import ARC_TOLERANCE
from core.files.svg.pathdata import ARC_STEPS, Step, TooManyStepsError, parse
from core.files.svg.sweep import MOST_TEXT, Sweep, sweep
from core.files.svg.trace import trace
from core.piece.too_much import MOST_POINTS

# Points of a line that is read at all, handles counted; the pieces tell of one that is too long.
MOST_READ = 3 * MOST_POINTS
# Steps of a path that is read at all, in one sweep or step by step: a second's work each.
MOST_SWEPT, MOST_STEPS = 1_000_000, 200_000
# Less text than this is sooner read step by step.
FEW = 2_000
_ABSURD = "a coordinate is no number or beyond 100 m; left out."


class Data(NamedTuple):
    """Path data, the map from its units to mm, and by how much that lengthens at most."""

    text: str
    by: Affine
    stretch: float


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


def figures(asked: Sequence[Data]) -> list[Figures]:
    """All that each of these draws. Data of more steps than MOST_SWEPT or MOST_STEPS is left
    out as a whole."""
    if sum(len(data.text) for data in asked) < FEW:
        return list(map(_step_by_step, asked))
    swept = sweep(
        [data.text if len(data.text) <= MOST_TEXT else "" for data in asked],
        [data.by for data in asked],
        most=MOST_SWEPT,
    )
    found, first = list(_swept(swept)), swept.first.tolist()
    left_out = Figures([_too_long(f"more than {MOST_SWEPT}", MOST_SWEPT)])
    return [
        Figures(found[first[k] : first[k + 1]])
        if plain
        else (left_out if long else _step_by_step(asked[k]))
        for k, (plain, long) in enumerate(
            zip(swept.plain.tolist(), swept.long.tolist(), strict=True)
        )
    ]


def _swept(swept: Sweep) -> Iterator[Figure]:
    points, sizes = swept.points, swept.sizes
    for start, end, at, to, bent, closed, written, steps, near, box in zip(
        *(part.tolist() for part in swept[4:6] + swept[7:]), strict=True
    ):
        if written < 2:
            yield Figure(None)
        elif written > MOST_READ:
            yield _too_long(written, steps)
        elif not near:
            yield Figure(None, _ABSURD, steps)
        else:
            drawn = Drawn(points[start:end], sizes[at:to] if bent else None, box)
            yield Figure((Ring if closed else Chain).drawn(drawn), "", steps)


def _step_by_step(data: Data) -> Figures:
    try:
        parsed = parse(data.text, arc_tolerance=ARC_TOLERANCE / data.stretch, most=MOST_STEPS)
    except TooManyStepsError:
        return Figures([_too_long(f"more than {MOST_STEPS}", MOST_STEPS)])
    return Figures([_traced(steps, data.by) for steps in parsed.subpaths], parsed.error)


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
