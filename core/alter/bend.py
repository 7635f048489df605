"""A row of segments made to start in another direction, bending back to its old course."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from core.alter.strand import Strand
from core.curve import Cubic, Line, Vector
from core.curve.merge import leading_whole, split_at
from core.piece.direction import DIGITISED_STEP

# A row of short lines is bent over this much of its end, in mm.
STRETCH = 80.0


def starting_along(run: Strand, wanted: Vector) -> Strand:
    """The run with the unit direction `wanted` at its start; ends and far direction stay.

    A curve that was drawn in parts is taken as the one curve it is, a long line becomes a
    curve, and a row of short lines bends over STRETCH. As many segments as before.
    """
    first = run[0].segment
    if isinstance(first, Cubic):
        return _turned_handle(run, wanted)
    if first.length() >= DIGITISED_STEP or len(_short_steps(run)) == 1:
        reach = first.length() / 3.0
        along = first.tangent(0.0)
        bent = Cubic(
            first.start, first.start.moved(wanted, reach), first.end.moved(along, -reach), first.end
        )
        return (run[0].carrying(bent), *run[1:])
    return _bent_steps(run, wanted)


def _turned_handle(run: Strand, wanted: Vector) -> Strand:
    count = next((k for k, t in enumerate(run) if not isinstance(t.segment, Cubic)), len(run))
    cubics = [t.segment for t in run[:count] if isinstance(t.segment, Cubic)]
    whole, splits = leading_whole(cubics)
    reach = (whole.c1 - whole.start).norm or whole.start.distance(whole.end) / 3.0
    turned = replace(whole, c1=whole.start.moved(wanted, reach))
    parts = split_at(turned, splits)
    return (*(t.carrying(s) for t, s in zip(run, parts, strict=False)), *run[len(parts) :])


def _bent_steps(run: Strand, wanted: Vector) -> Strand:
    """A row of short lines, each joint moved off by a bend that dies out over STRETCH."""
    steps = _short_steps(run)
    reach = sum(s.length() for s in steps)
    first = run[0].segment.tangent(0.0)
    lift = wanted - first * wanted.dot(first)
    slope = lift * (1.0 / max(wanted.dot(first), 0.2))
    points, gone = [steps[0].start], 0.0
    for s in steps[:-1]:
        gone += s.length()
        points.append(s.end.moved(slope, gone * (1.0 - gone / reach) ** 2))
    points.append(steps[-1].end)
    bent = [Line(a, b) for a, b in pairwise(points)]
    return (*(t.carrying(s) for t, s in zip(run, bent, strict=False)), *run[len(bent) :])


def _short_steps(run: Strand) -> list[Line]:
    steps: list[Line] = []
    gone = 0.0
    for s in (t.segment for t in run):
        if not isinstance(s, Line) or s.length() >= DIGITISED_STEP or gone >= STRETCH:
            break
        steps.append(s)
        gone += s.length()
    return steps
