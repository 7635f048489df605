"""What a drawn path is on its way in: segments in mm and what in the file owns each."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from core.curve import Affine, Chain, Cubic, Line, Point, Ring, Segment
from core.curve.arcs import STRAIGHT_BULGE, bulge_arc
from core.curve.drawn import Drawn

# Ends of a computed curve this near to each other, in mm, are the same point.
SAME_POINT = 1e-6


class Path(NamedTuple):
    """Segments in mm, and for each the number of the step of the entity it came from."""

    segments: tuple[Segment, ...]
    owners: tuple[int, ...]

    def geometry(self) -> Ring | Chain:
        """A ring when it ends exactly where it starts."""
        closed = self.segments[0].start == self.segments[-1].end
        return Ring(self.segments) if closed else Chain(self.segments)


def path_of(drawn: Iterable[tuple[int, Sequence[Segment]]]) -> Path | None:
    """The path of numbered steps; None when nothing is drawn."""
    segments: list[Segment] = []
    owners: list[int] = []
    for owner, step in drawn:
        segments.extend(step)
        owners.extend([owner] * len(step))
    return Path(tuple(segments), tuple(owners)) if segments else None


def widest(to_mm: Affine) -> float:
    """The largest factor by which the map stretches any direction."""
    a, b, c, d = to_mm.a, to_mm.b, to_mm.c, to_mm.d
    return (math.hypot(a + d, b - c) + math.hypot(a - d, b + c)) / 2.0


@dataclass(frozen=True, slots=True)
class Sized:
    """A map to mm as an even scale to about that size, and what remains to be done."""

    grow: Affine
    rest: Affine

    @staticmethod
    def of(to_mm: Affine) -> Sized:
        scale = widest(to_mm)
        return Sized(Affine.scale(scale), to_mm @ Affine.scale(1.0 / scale))


def arc_step(
    places: tuple[Point, Point], ends: tuple[Point, Point], bulge: float, sized: Sized
) -> tuple[Segment, ...]:
    """The step from one vertex to the next; `ends` are their places in mm.

    The arc is made at its size in mm, so that its tolerance holds there, and is mapped
    as a curve: under an uneven scale it becomes the part of an ellipse that it should be.
    """
    if abs(bulge) < STRAIGHT_BULGE:
        return (Line(*ends),)
    drawn = bulge_arc(sized.grow.point(places[0]), sized.grow.point(places[1]), bulge)
    return between(mapped(drawn, sized.rest), *ends)


def mapped(segments: Iterable[Segment], by: Affine) -> list[Segment]:
    """The segments under a map; equal ends stay equal."""
    return [s.mapped(by) for s in segments]


def between(segments: Sequence[Segment], start: Point, end: Point) -> tuple[Segment, ...]:
    """The same segments, starting and ending exactly at these points."""
    out = list(segments)
    out[0] = with_ends(out[0], start=start)
    out[-1] = with_ends(out[-1], end=end)
    return tuple(out)


def with_ends(s: Segment, *, start: Point | None = None, end: Point | None = None) -> Segment:
    """The segment with its start or end put exactly there."""
    if isinstance(s, Line):
        return Line(start or s.start, end or s.end)
    return Cubic(start or s.start, s.c1, s.c2, end or s.end)


def closed(rows: Drawn) -> Drawn:
    """The same rows of points, closed exactly when the ends all but meet."""
    if 0.0 < rows.start.distance(rows.end) <= SAME_POINT:
        rows.points[-1] = rows.points[0]
    return rows
