"""Does a hem that was made longer surely not cross the rest of its outline?

Asked before the outline is flattened and each of its lines held against all others, which
takes long; where the answer is no, that still has to be done.
"""

from __future__ import annotations

from core.alter.redo import Redone
from core.alter.refit import Ends
from core.alter.strand import Strand
from core.curve import Line, Point, Ring, Vector
from core.kept import kept

# A line that was carried on points as it did, within this sine.
SAME_WAY = 1e-9


def surely_apart(old: Ring, done: Redone) -> bool:
    """Does the line between the old ends of the seams part the new outline into what stayed, which
    lies on the one side, and what is new, which on the other side turns one way only as seen
    from the middle of that line? It is no more inside out than `old` then.

    What turns one way only crosses nothing of itself. A curve crosses no line more often than
    its handles do (Lane and Riesenfeld, "A geometric proof for the variation diminishing
    property of B-spline approximation", Journal of Approximation Theory 37, 1983).
    """
    side = _side_of_upper(done.old_upper, done.old)
    if side * old.signed_area() <= 0.0:
        return False
    ends = done.old.first, done.old.last
    straight = all(_straight_from(p, s.strand) for p, s in zip(ends, done.seams, strict=True))
    return straight and _turns_one_way(done.redrawn.run, done.old, side)


def _straight_from(end: Point, strand: Strand) -> bool:
    """Is what was added to a seam that ended there one line?"""
    last = strand[-1].segment
    if not isinstance(last, Line):
        return False
    way, there = last.end - last.start, end - last.start
    square = way.dot(way)
    on_line = abs(way.cross(there)) <= SAME_WAY * square
    return last.start == end or (on_line and 0.0 < way.dot(there) < square)


def _turns_one_way(run: Strand, old: Ends, side: float) -> bool:
    """From one old end along the run to the other, past the line between them all along?"""
    x, y = (old.first.x + old.last.x) / 2.0, (old.first.y + old.last.y) / 2.0
    first_x, first_y = ahead_x, ahead_y = old.first.x - x, old.first.y - y
    for p in (p for t in run for p in t.segment.controls):
        last_x, last_y, ahead_x, ahead_y = ahead_x, ahead_y, p.x - x, p.y - y
        if (first_x * ahead_y - first_y * ahead_x) * side <= 0.0:
            return False
        stays = last_x == ahead_x and last_y == ahead_y
        if not stays and (last_x * ahead_y - last_y * ahead_x) * side <= 0.0:
            return False
    return True


# Each frame of a drag leaves the same above.
@kept(most=256)
def _side_of_upper(upper: Strand, old: Ends) -> float:
    """The side of the line between its ends on which all of it lies: 1, -1, or 0 for none."""
    way, ends = old.last - old.first, (old.first, old.last)
    points = (p for t in upper for p in t.segment.controls if p not in ends)
    sides = {_sign(way, p - old.first) for p in points}
    return sides.pop() if len(sides) == 1 else 0.0


def _sign(way: Vector, aside: Vector) -> float:
    turn = way.cross(aside)
    return 0.0 if turn == 0.0 else 1.0 if turn > 0.0 else -1.0
