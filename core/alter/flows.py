"""How a hem run leaves its seam: along it, in a vent, or at a corner.

What goes on along the seam, and a rounding digitised as a row of short lines, keeps to the
seam: heights go down with its end, widths are measured from the seam's own line. So nothing
that flowed out of the seam gets a kink there.
"""

from __future__ import annotations

from collections.abc import Sequence

from core.alter.refit import Ends, RunMap
from core.curve import Affine, Line, Segment, Vector
from core.piece.direction import DIGITISED_STEP

# A straight start of the run that leaves the seam within this angle (radians) is part of
# the seam's own line.
STRAIGHT_ON = 1e-3
# A run that leaves the seam within this angle (radians) flows out of it; a digitised one over
# LOOK mm. A first step of 16 mm on a rounding of radius 15 leaves by 0.53, the steepest side of a
# pointed hem by 0.8, and scatter swings either by 0.1: what lies between them changes little
# when the hem is scaled, so the answer is the same before and after a change.
FLOWS = 0.66
LOOK = 4.0
# A rounding has reached the hem where it would fall less than this (mm) over the hem's whole
# width, darts left out: they do not scale. So measured, it is at the same joint before and
# after a change.
LEVELS_OUT = 40.0


def flowing(where: RunMap, run: Sequence[Segment], ends: Ends) -> int:
    """How many segments at the start of the run keep to the seam that leads into it."""
    count = 0
    while count < len(run) and _goes_on(run[count], ends.first_down):
        count += 1
    if count == len(run) or not _leaves_softly(run, ends.first_down):
        return count
    rounding = _rounding(where, run, ends)
    return rounding if count < rounding < len(run) else count


def _goes_on(segment: Segment, direction: Vector) -> bool:
    if not isinstance(segment, Line):
        return False
    return abs(segment.tangent(0.0).angle_to(direction)) < STRAIGHT_ON


def _leaves_softly(run: Sequence[Segment], down: Vector) -> bool:
    start = end = run[0].start
    for s in run:
        if not _is_step(s) or start.distance(end) >= LOOK:
            break
        end = s.end
    return end != start and abs(down.angle_to(end - start)) < FLOWS


def _is_step(s: Segment) -> bool:
    return isinstance(s, Line) and s.length() < DIGITISED_STEP


def _rounding(where: RunMap, run: Sequence[Segment], ends: Ends) -> int:
    """The steps down to where the digitised rounding has turned into the hem."""
    to_run, lean = where.to_run, _lean(where, ends.first_down)
    across = to_run.point(ends.last) - to_run.point(ends.first)
    free = across.x - where.taken
    for k, s in enumerate(run):
        if not (_is_step(s) or _goes_on(s, ends.first_down)):
            return k
        way = to_run.vector(s.end - s.start)
        aside = way.x - lean * way.y
        if aside > 0.0 and way.y * free / aside - across.y < LEVELS_OUT:
            return k
    return len(run)


def _lean(where: RunMap, down: Vector) -> float:
    """How far a seam goes across (into the hem) for each mm down."""
    way = where.to_run.vector(down)
    return way.x / way.y


def along_seam(where: RunMap, old: Ends, new: Ends) -> Affine:
    """The map, page to page, that takes the seam's line at the first end to its new line.

    Along the seam heights stay, across it widths scale as they do beside it in the hem.
    """
    to_run = where.to_run
    beside = to_run @ where.pieces[0] @ to_run.inverse()
    scale, slope = beside.a, beside.b
    was, now = _lean(where, old.first_down), _lean(where, new.first_down)
    turn = Affine(a=scale, b=slope, c=now - was * scale, d=1.0 - was * slope)
    p, q = to_run.point(old.first), to_run.point(new.first)
    there = Affine.move(q.x, q.y) @ turn @ Affine.move(-p.x, -p.y)
    return to_run.inverse() @ there @ to_run
