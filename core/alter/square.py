"""The last stretch of the hem redrawn so that it meets each seam at a right angle.

Then the hem runs smoothly over the seam once front and back are sewn.
"""

from __future__ import annotations

import math

from core.alter.bend import starting_along
from core.alter.refit import Ends
from core.alter.strand import Strand, backwards
from core.curve import Cubic, Line, Segment, Vector

# A hem that flows out of its seam (within this angle, radians) has no corner to be squared.
FLOWS = math.radians(20.0)


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
    return starting_along(run, wanted)
