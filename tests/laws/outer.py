"""A cutting line round a drawn stitching line: each edge moved out by its allowance.

The one way of drawing it that owes nothing to the code under test: a curve is moved out square
to itself by the derivative of the parallel curve, r'(1 + a k), in short parts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from core.curve import Cubic, Line, Place, Point, Ring, Segment, Vector
from core.piece.model import Because, HemRun, Taper

Part = tuple[float, list[Segment]]

# The allowance keeps within this (mm) everywhere, as curves do that are written as arcs.
KEEPS = 0.02
# A curve is moved out in parts (of t at least LEAST_PART) until none leaves the true parallel
# by more than this (mm).
TRUE, LEAST_PART = 2e-4, 1.0 / 64.0
# Joints that turn by less (radians) run on smoothly.
SMOOTH = 1e-6
# Lines shorter than this (mm) are none.
NEAR = 1e-9


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
    corners = [_meet(moved[k - 1][-1], moved[k][0]) for k in range(size)]
    starts: list[int] = []
    out: list[Segment] = []
    for k, row in enumerate(moved):
        starts.append(len(out))
        out += _between(corners[k], row, corners[(k + 1) % size])
    first, last = starts[0], starts[len(parts[0][1])]
    sure = Because(True, "drawn so")
    return Ring(tuple(out)), HemRun(
        Taper(Place(first, 0.0), downs[0], sure), Taper(Place(last, 0.0), downs[1], sure)
    )


def _offset(s: Segment, by: float) -> list[Segment]:
    """The segment moved out square to itself; a curve in parts."""
    if isinstance(s, Line):
        step = s.tangent(0.0).square() * -by
        return [Line(s.start + step, s.end + step)]
    return list(_parallel(s, by))


def _parallel(s: Cubic, by: float, first: float = 0.0, last: float = 1.0) -> Iterator[Cubic]:
    """The parallel of the curve from t = first to last, in parts that are close enough."""

    def at(t: float) -> Point:
        return s.at(t).moved(s.tangent(t).square(), -by)

    def handle(t: float) -> Vector:
        # The line moved to the left of its way gains where it bends to the right of it.
        return s.derivative(t) * ((1.0 + by * s.curvature(t)) * (last - first) / 3.0)

    start, end = at(first), at(last)
    part = Cubic(start, start.moved(handle(first)), end.moved(-handle(last)), end)
    middle = (first + last) / 2
    if (
        last - first < LEAST_PART
        or max(part.at(k).distance(at(first + k * (last - first))) for k in (0.3, 0.5, 0.7)) <= TRUE
    ):
        yield part
        return
    yield from _parallel(s, by, first, middle)
    yield from _parallel(s, by, middle, last)


def _meet(before: Segment, after: Segment) -> Point:
    """Where the two moved segments, carried straight on, meet."""
    a, d = before.end, before.tangent(1.0)
    b, e = after.start, after.tangent(0.0)
    turn = d.cross(e)
    if abs(turn) < SMOOTH:
        return a
    return a.moved(d, (b - a).cross(e) / turn)


def _between(start: Point, row: Sequence[Segment], end: Point) -> list[Segment]:
    """The moved segment with what its corners need before and after it."""
    if isinstance(row[0], Line):
        return [Line(start, end)]
    head: list[Segment] = [Line(start, row[0].start)] if start.distance(row[0].start) > NEAR else []
    tail: list[Segment] = [Line(row[-1].end, end)] if end.distance(row[-1].end) > NEAR else []
    points = [row[0].start if head else start, *(s.end for s in row[:-1])]
    points.append(row[-1].end if tail else end)
    curves = [
        Cubic(a, s.c1, s.c2, b)
        for s, a, b in zip(row, points, points[1:], strict=False)
        if isinstance(s, Cubic)
    ]
    return [*head, *curves, *tail]
