"""What was measured: between two places, along an outline, and a ruler laid to an edge.

Knows nothing of Qt.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from typing import NamedTuple

from app.window.document import EdgeId
from app.window.lengths import Shown
from app.window.table.pointing import told
from app.window.table.sights import Sight
from app.window.table.ticks import Tick, ticks
from app.window.table.tools.spots import Spot, again
from core.curve import Line, Place, Point, Segment, Vector
from core.piece.correct import SAID
from core.piece.model import Edge, Piece, Role


class Measure(Enum):
    """The ways of measuring."""

    BETWEEN = "Between points"
    ALONG = "Along a seam"
    RULER = "Ruler"


@dataclass(frozen=True)
class Reading:
    """Two places; or for a ruler its edge, and whether it begins at that edge's last end."""

    measure: Measure
    spots: tuple[Spot, ...] = ()
    edge: EdgeId | None = None
    from_end: bool = False

    def again(self, sights: Sequence[Sight]) -> Reading | None:
        """The same on the pieces as they are now; None when its places are no longer there."""
        found = tuple(again(s, sights) for s in self.spots)
        kept = tuple(s for s in found if s is not None)
        if len(kept) < len(self.spots):
            return None
        if self.edge is not None and _edge_of(self, sights) is None:
            return None
        return replace(self, spots=kept)


class Traced(NamedTuple):
    """The segments measured, by how much they are moved to their place, and their length."""

    segments: tuple[Segment, ...]
    spot: Vector
    mm: float


def traced(reading: Reading, sights: Sequence[Sight]) -> Traced:
    """What is to be drawn of a reading, and its length in mm."""
    none = Vector(0.0, 0.0)
    if reading.measure is Measure.BETWEEN:
        a, b = (s.at for s in reading.spots)
        return Traced((Line(a, b),), none, a.distance(b))
    found = _edge_of(reading, sights)
    if found is not None:
        sight, edge = found
        segments = sight.now.sewn_segments(edge)
        if reading.from_end:
            segments = tuple(s.reversed() for s in reversed(segments))
        return Traced(segments, sight.spot, sum(s.length() for s in segments))
    sight = next(s for s in sights if s.which == reading.spots[0].which)
    a, b = (s.at.moved(sight.spot, -1.0) for s in reading.spots)
    segments, mm = shorter_way(sight.now, a, b)
    return Traced(segments, sight.spot, mm)


def _edge_of(reading: Reading, sights: Sequence[Sight]) -> tuple[Sight, Edge] | None:
    if reading.edge is None:
        return None
    for sight in sights:
        if sight.which == reading.edge.piece and reading.edge.number < len(sight.now.edges):
            return sight, sight.now.edges[reading.edge.number]
    return None


def shorter_way(piece: Piece, a: Point, b: Point) -> tuple[tuple[Segment, ...], float]:
    """The shorter way along the sewn line between two of its points, and its length in mm.

    Darts that lie within it count as closed, as they are when the seam is sewn.
    """
    first, last = (_settled(piece, piece.ring.nearest(p).place) for p in (a, b))
    if first == last:
        return (), 0.0
    ways = [Edge(Role.OTHER, *ends, SAID) for ends in ((first, last), (last, first))]
    return min(
        ((piece.sewn_segments(way), piece.edge_length(way)) for way in ways), key=lambda w: w[1]
    )


def _settled(piece: Piece, place: Place) -> Place:
    """A joint told as the end of one segment, as the start of the next."""
    if place.t < 1.0:
        return place
    return Place((place.index + 1) % len(piece.ring), 0.0)


def words_of(reading: Reading, sights: Sequence[Sight], shown: Shown) -> str:
    """The figure that stands at a reading."""
    return told(traced(reading, sights).mm, shown)


class Mark(NamedTuple):
    """A mark of a ruler laid to an edge: where it stands, the direction of the edge there, and
    its number, empty for a small one."""

    at: Point
    along: Vector
    number: str


def marks_of(found: Traced, scale: float, shown: Shown) -> Iterator[Mark]:
    """The marks of a ruler along these segments, at `scale` pixels to the mm."""
    before, segments = 0.0, list(found.segments)
    steps: Iterator[Tick] = ticks(0.0, found.mm, scale, shown)
    for tick in steps:
        while len(segments) > 1 and tick.mm > before + segments[0].length():
            before += segments.pop(0).length()
        t = segments[0].at_length(min(max(tick.mm - before, 0.0), segments[0].length()))
        at = segments[0].at(t) + found.spot
        yield Mark(at, segments[0].tangent(t), tick.number)
