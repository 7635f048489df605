"""A segment with its ends put exactly where they are wanted."""

from __future__ import annotations

from core.curve.chain import Segment
from core.curve.cubic import Cubic
from core.curve.line import Line
from core.curve.point import Point


def with_ends(segment: Segment, start: Point, end: Point) -> Segment:
    """The segment from `start` to `end`; the handles of a curve go with their ends."""
    if isinstance(segment, Line):
        return Line(start, end)
    if segment.start == start and segment.end == end:
        return segment
    c1 = segment.c1 + (start - segment.start)
    c2 = segment.c2 + (end - segment.end)
    return Cubic(start, c1, c2, end)
