"""The last stretch of the hem redrawn so that it meets each seam at a right angle.

Then the hem runs smoothly over the seam once front and back are sewn.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from core.alter.refit import Ends
from core.alter.strand import Strand, backwards
from core.curve import Cubic, Line, Segment, Vector
from core.curve.merge import leading_whole, split_at
from core.piece.direction import DIGITISED_STEP

# A hem that flows out of its seam (within this angle, radians) has no corner to be squared.
FLOWS = math.radians(20.0)
# A row of short lines is bent over this much of its end, in mm.
STRETCH = 80.0


def squared(run: Strand, ends: Ends) -> Strand:
    """The run with both ends at right angles to the seams that point `down` to them.

    A single straight line becomes the arc that is square to both seams (its cubic).
    """
    if len(run) == 1 and isinstance(run[0].segment, Line):
        return (run[0].carrying(_arc(run[0].segment, ends)),)
    run = _square_start(run, ends.first_down)
    return backwards(_square_start(backwards(run), ends.last_down))


def _wanted(segment: Segment, down: Vector) -> Vector | None:
    """The direction square to the seam that leads into the run; None where it flows."""
    tangent = segment.tangent(0.0)
    if abs(down.angle_to(tangent)) < FLOWS:
        return None
    side = down.square()
    return side if side.dot(tangent) >= 0.0 else -side


def _arc(line: Line, ends: Ends) -> Segment:
    start = _wanted(line, ends.first_down)
    finish = _wanted(line.reversed(), ends.last_down)
    if start is None or finish is None:
        return line
    along = line.tangent(0.0)
    half = (abs(along.angle_to(start)) + abs((-along).angle_to(finish))) / 2
    # Handle of the cubic for an arc of angle 2 half over this chord; a third of it when flat.
    reach = line.length() / (3.0 * math.cos(half / 2) ** 2)
    return Cubic(
        line.start, line.start.moved(start, reach), line.end.moved(finish, reach), line.end
    )


def _square_start(run: Strand, down: Vector) -> Strand:
    first = run[0].segment
    wanted = _wanted(first, down)
    if wanted is None:
        return run
    if isinstance(first, Cubic):
        return _turned_handle(run, wanted)
    if first.length() >= DIGITISED_STEP:
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
    steps = _short_steps([t.segment for t in run])
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


def _short_steps(segments: Sequence[Segment]) -> list[Line]:
    steps: list[Line] = []
    gone = 0.0
    for s in segments:
        if not isinstance(s, Line) or s.length() >= DIGITISED_STEP or gone >= STRETCH:
            break
        steps.append(s)
        gone += s.length()
    return steps
