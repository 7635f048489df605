"""A cutting line round a drawn stitching line: each edge moved out by its allowance."""

from __future__ import annotations

from collections.abc import Sequence

from core.curve import Cubic, Line, Place, Point, Ring, Segment, Vector
from core.piece.model import Because, HemRun, Taper

Part = tuple[float, list[Segment]]


def cutting_line(
    parts: Sequence[Part], hem: HemRun, downs: tuple[Vector, Vector]
) -> tuple[Ring, HemRun]:
    """The ring around `parts` (allowance and segments, the hem first) and its hem run.

    Corners are mitred. The ring runs the same way round as the parts.
    """
    segments = [(a, s) for a, part in parts for s in part]
    ring = Ring(tuple(s for _, s in segments))
    sign = 1.0 if ring.signed_area() >= 0.0 else -1.0
    moved = [_offset(s, a * sign) for a, s in segments]
    size = len(moved)
    corners = [_meet(moved[k - 1], moved[k]) for k in range(size)]
    starts: list[int] = []
    out: list[Segment] = []
    for k, s in enumerate(moved):
        starts.append(len(out))
        out += _between(corners[k], s, corners[(k + 1) % size])
    first, last = starts[0], starts[len(parts[0][1])]
    sure = Because(True, "drawn so")
    return Ring(tuple(out)), HemRun(
        Taper(Place(first, 0.0), downs[0], sure), Taper(Place(last, 0.0), downs[1], sure)
    )


def _offset(s: Segment, by: float) -> Segment:
    """The segment moved out square to itself; a curve's handles keep their proportion."""
    a, b = (s.tangent(t).square() * -by for t in (0.0, 1.0))
    if isinstance(s, Line):
        return Line(s.start + a, s.end + b)
    start, end = s.start + a, s.end + b
    ratio = start.distance(end) / s.start.distance(s.end)
    return Cubic(start, start.moved(s.c1 - s.start, ratio), end.moved(s.c2 - s.end, ratio), end)


def _meet(before: Segment, after: Segment) -> Point:
    """Where the two moved segments, carried straight on, meet."""
    a, d = before.end, before.tangent(1.0)
    b, e = after.start, after.tangent(0.0)
    turn = d.cross(e)
    if abs(turn) < 1e-6:
        return a
    return a.moved(d, (b - a).cross(e) / turn)


def _between(start: Point, s: Segment, end: Point) -> list[Segment]:
    """The segment with what its corners need before and after it."""
    if isinstance(s, Line):
        return [Line(start, end)]
    near = 1e-9
    head: list[Segment] = [Line(start, s.start)] if start.distance(s.start) > near else []
    tail: list[Segment] = [Line(s.end, end)] if end.distance(s.end) > near else []
    if not head:
        s = Cubic(start, s.c1, s.c2, s.end)
    if not tail:
        s = Cubic(s.start, s.c1, s.c2, end)
    return [*head, s, *tail]
