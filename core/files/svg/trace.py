"""Steps of path data as lines and cubics in mm, numbered as a Shape numbers them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain

from core.curve import Affine, Chain, Cubic, Line, Point, Ring, Segment
from core.files.svg.pathdata import Step

# What is shorter than this is a point; ends that are nearer to each other are one. In mm.
SNAP = 1e-6
# No cloth is longer than 100 m; numbers beyond it are damage. In mm.
FARTHEST = 1e5


@dataclass(frozen=True, slots=True)
class Trace:
    """One subpath in mm. ``owners`` tells, segment by segment, which step drew it.

    Steps without length draw no segment. ``dot`` is a subpath that draws only a point.
    """

    start: Point
    segments: list[Segment]
    owners: list[int]
    closed: bool
    dot: bool

    def geometry(self) -> Ring | Chain | Point | None:
        """What it draws; None for nothing."""
        if not self.segments:
            return self.start if self.dot else None
        return (Ring if self.closed else Chain)(tuple(self.segments))

    @property
    def absurd(self) -> bool:
        """Is a coordinate no number, or farther away than any pattern reaches?"""
        far = FARTHEST
        points = chain((self.start,), (p for s in self.segments for p in s.controls))
        return not all(-far < p.x < far and -far < p.y < far for p in points)


def trace(steps: Sequence[Step], by: Affine) -> Trace:
    """The subpath that begins with a moveto, mapped to mm by `by`."""
    start = pen = by.point(Point(*steps[0].coords))
    segments: list[Segment] = []
    owners: list[int] = []
    closed = False
    for number, step in enumerate(steps[1:], 1):
        if step.is_close:
            closed = True
            if not _near(pen, start):
                segments.append(Line(pen, start))
                owners.append(number)
            continue
        for segment in _drawn(step.coords, pen, by):
            segments.append(segment)
            owners.append(number)
            pen = segment.end
    if segments and _near(segments[-1].end, start):
        closed = True
        _snap(segments, start)
    dot = not segments and len(steps) > 1
    return Trace(start, segments, owners, closed, dot)


def _drawn(coords: tuple[float, ...], pen: Point, by: Affine) -> list[Segment]:
    """The segments of one step, each from where the last one that has a length ended."""
    a, b, c, d, e, f = by.a, by.b, by.c, by.d, by.e, by.f
    points = [
        Point(a * x + c * y + e, b * x + d * y + f)
        for x, y in zip(coords[2::2], coords[3::2], strict=True)
    ]
    if len(points) == 1:
        return [] if _near(pen, points[0]) else [Line(pen, points[0])]
    out: list[Segment] = []
    for k in range(0, len(points), 3):
        c1, c2, end = points[k : k + 3]
        if not (_near(pen, end) and _near(pen, c1) and _near(pen, c2)):
            out.append(Cubic(pen, c1, c2, end))
            pen = end
    return out


def _near(p: Point, q: Point) -> bool:
    return math.hypot(p.x - q.x, p.y - q.y) <= SNAP


def _snap(segments: list[Segment], start: Point) -> None:
    """Lets the last segment end on the start to the last bit."""
    last = segments[-1]
    if last.end != start:
        segments[-1] = (
            Line(last.start, start)
            if isinstance(last, Line)
            else Cubic(last.start, last.c1, last.c2, start)
        )
