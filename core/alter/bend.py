"""A row of segments made to start in another direction, bending back to its old course."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from core.alter.strand import Strand
from core.curve import Chain, Cubic, Line, Point, Segment, Vector
from core.curve.merge import leading_whole, split_at
from core.piece.direction import DIGITISED_STEP

# A row of short lines is bent over this much of its end, in mm.
STRETCH = 80.0
# Its direction is that of its chord over this much (mm).
LOOK = 20.0
# Lines that turn by less than this (radians) are one line that was drawn in parts.
SAME_WAY = 1e-6
# A row of short lines ends at a joint that turns by more than this (radians).
CORNER = 0.6


def starting_along(run: Strand, wanted: Vector, *, now: Vector | None = None) -> Strand:
    """The run with the unit direction `wanted` at its start; ends and far direction stay.

    `now` is the direction in which a row of short lines starts; that of its chord over LOOK where
    it is not told.

    What was drawn in parts is taken as the one curve or line it is, a long line becomes a
    curve, and a row of short lines bends over STRETCH. As many segments as before.
    """
    if isinstance(run[0].segment, Cubic):
        return _turned_handle(run, wanted)
    line, splits = leading_line([t.segment for t in run])
    if line is None:
        return run
    steps = _short_steps(run)
    if line.length() < DIGITISED_STEP and len(steps) > len(splits) + 1:
        return _bent_steps(run, steps, wanted, now or _chord(steps, LOOK))
    reach = line.length() / 3.0
    along = line.tangent(0.0)
    bent = Cubic(
        line.start, line.start.moved(wanted, reach), line.end.moved(along, -reach), line.end
    )
    return _carrying(run, split_at(bent, splits))


def leading_line(segments: Iterable[Segment]) -> tuple[Line | None, tuple[float, ...]]:
    """The straight line of which as many leading segments as possible are parts, if any.

    With it the t of each split inside it, rising: one less than the segments it covers.
    """
    lines: list[Line] = []
    for s in segments:
        if not isinstance(s, Line):
            break
        if lines and abs(lines[0].tangent(0.0).angle_to(s.tangent(0.0))) > SAME_WAY:
            break
        lines.append(s)
    if not lines:
        return None, ()
    whole = Line(lines[0].start, lines[-1].end)
    length = whole.length()
    return whole, tuple(whole.start.distance(s.end) / length for s in lines[:-1])


def _carrying(run: Strand, parts: Sequence[Segment]) -> Strand:
    """The run with its first segments replaced."""
    return (*(t.carrying(s) for t, s in zip(run, parts, strict=False)), *run[len(parts) :])


def _turned_handle(run: Strand, wanted: Vector) -> Strand:
    count = next((k for k, t in enumerate(run) if not isinstance(t.segment, Cubic)), len(run))
    cubics = [t.segment for t in run[:count] if isinstance(t.segment, Cubic)]
    whole, splits = leading_whole(cubics)
    reach = (whole.c1 - whole.start).norm or whole.start.distance(whole.end) / 3.0
    turned = replace(whole, c1=whole.start.moved(wanted, reach))
    return _carrying(run, split_at(turned, splits))


def _bent_steps(run: Strand, steps: Sequence[Line], wanted: Vector, first: Vector) -> Strand:
    """A row of short lines, each joint moved off by a bend that dies out over STRETCH.

    The bend is that from the direction `first`, which one noisy step does not swing; the first
    joint is set on the wanted direction itself.
    """
    start, length = steps[0].start, sum(s.length() for s in steps)
    lift = wanted - first * wanted.dot(first)
    slope = lift * (1.0 / max(wanted.dot(first), 0.2))
    points, gone, straight = [start], 0.0, 0.0
    for parts in _lines(steps):
        gone += sum(s.length() for s in parts)
        straight = straight or gone
        left = max(0.0, 1.0 - (gone - straight) / min(STRETCH, length))
        end = parts[-1].end.moved(slope, gone * left * left)
        if gone == straight:
            end = start.moved(wanted, wanted.dot(end - start))
        points += _spread(points[-1], end, parts)
    points[-1] = steps[-1].end
    return _carrying(run, [Line(a, b) for a, b in pairwise(points)])


def _lines(steps: Sequence[Line]) -> Iterator[Sequence[Line]]:
    """The steps, those that are parts of one straight line together."""
    at = 0
    while at < len(steps):
        _, splits = leading_line(steps[at:])
        yield steps[at : at + len(splits) + 1]
        at += len(splits) + 1


def _spread(start: Point, end: Point, parts: Sequence[Line]) -> list[Point]:
    """The ends of the parts of a straight line that now runs from `start` to `end`."""
    whole, gone = sum(s.length() for s in parts), 0.0
    points = []
    for s in parts[:-1]:
        gone += s.length()
        points.append(start.towards(end, gone / whole))
    return [*points, end]


def _chord(steps: Sequence[Line], reach: float) -> Vector:
    """The unit direction from the start of the row to its point `reach` mm on."""
    chain = Chain(tuple(steps))
    return (chain.at(chain.at_length(min(reach, chain.length()))) - chain.start).unit()


def _short_steps(run: Strand) -> list[Line]:
    """The leading steps of a digitised line, to STRETCH or to where it turns sharply."""
    steps: list[Line] = []
    gone = 0.0
    for s in (t.segment for t in run):
        if not isinstance(s, Line) or s.length() >= DIGITISED_STEP or gone >= 2.0 * STRETCH:
            break
        if steps and abs(steps[-1].tangent(1.0).angle_to(s.tangent(0.0))) > CORNER:
            break
        steps.append(s)
        gone += s.length()
    return steps
