"""Places on the table that a tool can take hold of, and how they are found again.

Knows nothing of Qt. A spot is told by what it is (the third corner, the middle of the second
edge), so that it goes along when the piece is changed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from functools import lru_cache

from app.window.document import PieceId
from app.window.table.pointing import middle_of
from app.window.table.sights import Sight
from app.window.table.view import View
from core.curve import Chain, Point, Ring, Vector
from core.piece.corners import corners
from core.piece.model import Edge, Kind, Piece, Role

# Pixels within which a place takes hold of the pointer, and a line where one is wanted.
SNAP, ON_LINE_PX = 8.0, 14.0
# A place at most this many pixels further off than the nearest is as near for a hand.
AS_NEAR = 1.5
# A place this near (mm) to the outline lies on it; a notch is drawn across it or inwards.
ON_OUTLINE, OF_NOTCH = 0.05, 15.0
# Two places this near (mm) are one.
SAME = 1e-3


class Stop(Enum):
    """What is there, in the words in which it is told."""

    TAPER = "taper point"
    SEAM_END = "end of the seam"
    CORNER = "corner"
    EDGE_END = "end of the edge"
    NOTCH = "notch"
    MOUTH = "mouth of the dart"
    APEX = "apex of the dart"
    HOLE = "drill hole"
    LINE_END = "end of a line"
    MIDDLE = "middle of the edge"
    CUT_CORNER = "corner of the cutting line"
    ALONG = "on the edge"
    CUTTING = "on the cutting line"
    FREE = "no mark"


class Want(Enum):
    """Which places a tool asks for."""

    ANYWHERE = "anywhere"
    OUTLINE = "on the line by which the piece is sewn"
    OUTLINE_OR_APEX = "there, or the apex of a dart"


@dataclass(frozen=True)
class Spot:
    """A place ``at`` on the table, in mm. Of a piece it is known again by what it is, its
    ``key`` among the places of its kind, and ``along``: for a place on an edge, mm from the end
    that a change of length leaves alone, for one on the hem a share of its length.
    """

    stop: Stop
    at: Point
    which: PieceId | None = None
    key: int = 0
    along: float = 0.0

    @property
    def marked(self) -> bool:
        """Is anything there to take hold of?"""
        return self.stop not in (Stop.ALONG, Stop.CUTTING, Stop.FREE)


@lru_cache(maxsize=128)
def stops_of(sight: Sight) -> tuple[Spot, ...]:
    """All marked places of a piece, in their places on the table; of several in one place the
    one that says most.
    """
    kept: list[Spot] = []
    for stop, key, p in _stops(sight):
        at = p + sight.spot
        if all(at.distance(other.at) > SAME for other in kept):
            kept.append(Spot(stop, at, sight.which, key))
    return tuple(kept)


def _stops(sight: Sight) -> Iterator[tuple[Stop, int, Point]]:
    """The kinds in the order in which they say most."""
    now = sight.now
    ring = now.ring
    for k, p in enumerate(sight.tapers if sight.level is None else ()):
        if ring.nearest(p).distance <= ON_OUTLINE:
            yield Stop.TAPER, k, p
    if now.hem is not None and sight.differs and sight.level is None:
        for k, taper in enumerate((now.hem.first, now.hem.last)):
            yield Stop.SEAM_END, k, ring.at(taper.place)
    for k, dart in enumerate(now.darts):
        yield Stop.APEX, k, dart.apex
        for side, p in enumerate(dart.mouth):
            yield Stop.MOUTH, 2 * k + side, p
    yield from ((Stop.CORNER, k, ring.segments[k].start) for k in _corners(now, ring))
    for k, edge in enumerate(now.edges):
        yield Stop.EDGE_END, k, ring.at(edge.start)
    yield from _marks(now)
    for k, edge in enumerate(now.edges):
        yield Stop.MIDDLE, k, sewn_middle(now, edge)
    if now.stitching is not None:
        cut = now.outline.ring
        yield from ((Stop.CUT_CORNER, k, cut.segments[k].start) for k in _corners(now, cut))


def sewn_middle(piece: Piece, edge: Edge) -> Point:
    """The middle of an edge as it is sewn: with its darts closed, and never on their legs."""
    segments = piece.sewn_segments(edge)
    rest = sum(s.length() for s in segments) / 2.0
    for s in segments[:-1]:
        if rest <= s.length():
            return s.at(s.at_length(rest))
        rest -= s.length()
    return segments[-1].at(segments[-1].at_length(rest))


def _corners(piece: Piece, ring: Ring) -> tuple[int, ...]:
    told = [m.geometry for m in piece.marks if m.kind is Kind.TURN_POINT]
    return corners(ring, told=[p for p in told if isinstance(p, Point)])


def _marks(piece: Piece) -> Iterator[tuple[Stop, int, Point]]:
    """Notches where they meet the outline, holes, and ends of inner lines."""
    for k, mark in enumerate(piece.marks):
        if mark.kind is Kind.NOTCH:
            near = piece.ring.nearest(middle_of(mark))
            if near.distance <= OF_NOTCH:
                yield Stop.NOTCH, k, near.point
        elif mark.kind is Kind.DRILL:
            yield Stop.HOLE, k, middle_of(mark)
        elif mark.kind in (Kind.INNER, Kind.DART) and isinstance(mark.geometry, Chain):
            yield Stop.LINE_END, 2 * k, mark.geometry.start
            yield Stop.LINE_END, 2 * k + 1, mark.geometry.end


def snapped(
    sights: Sequence[Sight],
    view: View,
    x: float,
    y: float,
    want: Want,
    *,
    own: PieceId | None,
    chosen: PieceId | None = None,
) -> Spot | None:
    """The place that the pixel (x, y) means: a mark within SNAP, else on a line, else there.

    Of the piece `own` alone when one is given. Where the lines of several sizes lie on each other
    that of the piece `chosen` is meant, else the one that is written upon. None where an outline is
    wanted and none is near.
    """
    here = view.to_mm(x, y)
    reach = (SNAP if want is Want.ANYWHERE else ON_LINE_PX) / view.scale
    close = [s for s in sights if own in (None, s.which) and _holds(s, here, reach)]
    # The one that is meant before the others: the first of those as near as another is taken.
    close.sort(key=lambda s: (s.which != chosen, s.led))
    lines = [_on_line(s, here, want) for s in close]
    on = _nearest(lines, reach, view)
    marks = [(m.at.distance(here), m) for s in close for m in stops_of(s) if _may_be(m, s, want)]
    if on is not None and want is not Want.ANYWHERE:
        # On the line of one size the marks on those beside it are not meant.
        marks = [(away, m) for away, m in marks if on.which == m.which or m.stop is Stop.APEX]
    free = Spot(Stop.FREE, here) if want is Want.ANYWHERE else None
    return _nearest(marks, SNAP / view.scale, view) or on or free


def _nearest(found: Sequence[tuple[float, Spot]], most: float, view: View) -> Spot | None:
    """The first of those that are as near, at most that far off."""
    least = min((away for away, _ in found), default=most + 1.0)
    if least > most:
        return None
    return next(spot for away, spot in found if away <= least + AS_NEAR / view.scale)


def _may_be(spot: Spot, sight: Sight, want: Want) -> bool:
    if want is Want.ANYWHERE or (want is Want.OUTLINE_OR_APEX and spot.stop is Stop.APEX):
        return True
    return on_outline(spot, sight)


def _holds(sight: Sight, p: Point, reach: float) -> bool:
    box = sight.box
    return box.x0 - reach <= p.x <= box.x1 + reach and box.y0 - reach <= p.y <= box.y1 + reach


def on_outline(spot: Spot, sight: Sight) -> bool:
    """Does the place lie on the line by which the piece is sewn?"""
    return sight.now.ring.nearest(spot.at.moved(sight.spot, -1.0)).distance <= ON_OUTLINE


def _on_line(sight: Sight, here: Point, want: Want) -> tuple[float, Spot]:
    """How far the piece's lines are, and the place on the nearest one."""
    p = here.moved(sight.spot, -1.0)
    near = sight.now.ring.nearest(p)
    found = near.distance, on_edge(sight, near.point)
    if want is Want.ANYWHERE and sight.now.stitching is not None:
        cut = sight.now.outline.ring.nearest(p)
        if cut.distance < near.distance:
            return cut.distance, Spot(Stop.CUTTING, cut.point + sight.spot)
    return found


def on_edge(sight: Sight, p: Point) -> Spot:
    """The place of a point of the outline, by its edge."""
    now, at = sight.now, p + sight.spot
    away = [now.edge_chain(e).nearest(p).distance for e in now.edges]
    if not away:
        return Spot(Stop.FREE, at)
    key = away.index(min(away))
    chain = now.edge_chain(now.edges[key])
    along = chain.length_to(chain.nearest(p).place)
    return Spot(Stop.ALONG, at, sight.which, key, _kept(now, now.edges[key], along))


def _kept(piece: Piece, edge: Edge, along: float) -> float:
    """A length from the edge's start, as it is kept; and back again."""
    length = piece.edge_chain(edge).length()
    if edge.role is Role.HEM:
        return along / length
    starts_at_hem = piece.hem is not None and edge.start == piece.hem.last.place
    return length - along if starts_at_hem else along


def again(spot: Spot, sights: Iterable[Sight]) -> Spot | None:
    """The same place on the pieces as they are now; None when it is no longer there."""
    if spot.which is None:
        return spot
    sight = next((s for s in sights if s.which == spot.which), None)
    if sight is None:
        return None
    if spot.stop is not Stop.ALONG:
        same = (s for s in stops_of(sight) if (s.stop, s.key) == (spot.stop, spot.key))
        return next(same, None)
    now = sight.now
    if spot.key >= len(now.edges):
        return None
    edge = now.edges[spot.key]
    chain = now.edge_chain(edge)
    share = spot.along * chain.length() if edge.role is Role.HEM else spot.along
    along = share if edge.role is Role.HEM else _kept(now, edge, spot.along)
    if not -SAME <= along <= chain.length() + SAME:
        return None
    return replace(spot, at=chain.at(chain.at_length(max(along, 0.0))) + sight.spot)


def walked(spot: Spot, sight: Sight, mm: float) -> Spot:
    """The place so many mm further round the outline, clockwise on the table."""
    ring = sight.now.ring
    length = ring.length()
    s = (_along_ring(spot, sight) + mm * _clockwise(ring)) % length
    p = ring.at(ring.at_length(s))
    marked = next((m for m in stops_of(sight) if m.at.distance(p + sight.spot) <= SAME), None)
    return marked or on_edge(sight, p)


def leapt(spot: Spot, sight: Sight, *, onward: bool) -> Spot:
    """The next marked place round the outline, clockwise when `onward`."""
    ring = sight.now.ring
    length, here = ring.length(), _along_ring(spot, sight)
    way = _clockwise(ring) * (1.0 if onward else -1.0)
    marks = [m for m in stops_of(sight) if on_outline(m, sight)]
    far = [(way * (_along_ring(m, sight) - here)) % length for m in marks]
    ahead = [(f, k) for k, f in enumerate(far) if SAME < f < length - SAME]
    return marks[min(ahead)[1]] if ahead else spot


def _along_ring(spot: Spot, sight: Sight) -> float:
    ring = sight.now.ring
    return ring.length_to(ring.nearest(spot.at.moved(sight.spot, -1.0)).place)


def _clockwise(ring: Ring) -> float:
    """+1 when the ring is listed clockwise on the table, whose y points down; else -1."""
    return 1.0 if ring.signed_area() > 0.0 else -1.0


def shifted(spot: Spot, by: Vector) -> Spot:
    """A free place, moved over the table."""
    return Spot(Stop.FREE, spot.at + by)
