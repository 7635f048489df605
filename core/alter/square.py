"""The last stretch of the hem redrawn so that it meets each seam at a right angle.

Then the hem runs smoothly over the seam once front and back are sewn. Beside a vent it is
the vent's own edge that it meets so.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise, takewhile

from core.alter.bend import STRETCH, leading_line, starting_along
from core.alter.frame import Frame
from core.alter.refit import Ends
from core.alter.strand import Strand, backwards
from core.alter.vents import side_vent
from core.curve import Cubic, Line, Segment, Vector
from core.curve.merge import leading_whole, split_at
from core.piece.direction import end_direction

# A hem that flows out of its seam (within this angle, radians) has no corner to be squared.
FLOWS = math.radians(30.0)
# Of a line or curve longer than this (mm) only the last STRETCH is redrawn.
LONG = 1.25 * STRETCH


def squared(frame: Frame, run: Strand, ends: Ends) -> Strand:
    """The run with both ends at right angles to the seams that point `down` to them.

    A straight hem becomes the arc that is square to both seams (its cubic).
    """
    vents = [side_vent(frame, [t.segment for t in way]) for way in (run, backwards(run))]
    head, tail = run[: vents[0]], run[len(run) - vents[1] :]
    hem = run[vents[0] : len(run) - vents[1]]
    if head:
        ends = replace(ends, first_down=head[-1].segment.tangent(1.0))
    if tail:
        ends = replace(ends, last_down=-tail[0].segment.tangent(0.0))
    return (*head, *_squared(hem, ends), *tail)


def _squared(run: Strand, ends: Ends) -> Strand:
    line, splits = leading_line([t.segment for t in run])
    if line is not None and len(splits) + 1 == len(run):
        parts = _arc(line, splits, ends)
        return tuple(t.carrying(s) for t, s in zip(run, parts, strict=True))
    run = _square_start(run, ends.first_down)
    return backwards(_square_start(backwards(run), ends.last_down))


def _wanted(tangent: Vector, down: Vector) -> Vector | None:
    """The direction square to the seam that leads into the run; None where it flows."""
    if abs(down.angle_to(tangent)) < FLOWS:
        return None
    side = down.square()
    return side if side.dot(tangent) >= 0.0 else -side


def _arc(line: Line, splits: Sequence[float], ends: Ends) -> Sequence[Line | Cubic]:
    along = line.tangent(0.0)
    start, finish = _wanted(along, ends.first_down), _wanted(-along, ends.last_down)
    if start is None or finish is None:
        stops = [line.start, *(line.at(t) for t in splits), line.end]
        return [Line(a, b) for a, b in pairwise(stops)]
    half = (abs(along.angle_to(start)) + abs((-along).angle_to(finish))) / 2
    # Handle of the cubic for an arc of angle 2 half over this chord; a third of it when flat.
    reach = line.length() / (3.0 * math.cos(half / 2) ** 2)
    whole = Cubic(
        line.start, line.start.moved(start, reach), line.end.moved(finish, reach), line.end
    )
    return split_at(whole, splits)


def _square_start(run: Strand, down: Vector) -> Strand:
    wanted = _wanted(run[0].segment.tangent(0.0), down)
    if wanted is None:
        return run
    bent, rest = _cut(run)
    now = -end_direction([t.segment.reversed() for t in reversed(run)])
    return (*starting_along(bent, wanted, now=now), *rest)


def _cut(run: Strand) -> tuple[Strand, Strand]:
    """What is redrawn, and the rest: a long line or curve is cut STRETCH from its end."""
    bare = [t.segment for t in run]
    count = _leading(bare)
    if count == 0 or sum(s.length() for s in bare[:count]) < LONG:
        return run, ()
    left = STRETCH
    for k, s in enumerate(bare):
        if s.length() > left:
            near, far = s.split(s.at_length(left))
            return (*run[:k], run[k].carrying(near)), (run[k].carrying(far), *run[k + 1 :])
        left -= s.length()
    return run, ()


def _leading(bare: Sequence[Segment]) -> int:
    """How many leading segments are parts of one line, or of one curve."""
    curves = list(takewhile(lambda s: isinstance(s, Cubic), bare))
    if curves:
        return len(leading_whole([c for c in curves if isinstance(c, Cubic)])[1]) + 1
    return len(leading_line(bare)[1]) + 1
