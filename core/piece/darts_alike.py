"""The same dart on another size of a piece: at the same place of the same edge, as wide, as deep.

Where lines of a dart are drawn near there, on that size, it is those.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import permutations
from typing import NamedTuple

from core.curve import Chain, Point
from core.piece.alike import edge_alike, same_way
from core.piece.model import Dart, Kind, Mark, Piece

# The points of the same dart lie, each, within this (mm) of where they are looked for: from the
# smallest to the largest size a dart goes by some millimetres; the next one is further off.
SAME_DART = 25.0
# Ends of dart lines within this (mm) of the outline or of each other meet.
MEETS = 2.0


class Three(NamedTuple):
    """Both points of the mouth, and the apex."""

    first: Point
    second: Point
    apex: Point

    @property
    def mouth(self) -> tuple[Point, Point]:
        return self.first, self.second

    def apart(self, other: Three) -> float:
        """The most by which one of the points lies elsewhere, however the mouth is listed."""
        crossed = Three(other.second, other.first, other.apex)
        return min(max(map(Point.distance, self, o)) for o in (other, crossed))


def three_of(dart: Dart) -> Three:
    return Three(*dart.mouth, dart.apex)


def dart_alike(piece: Piece, three: Three, other: Piece) -> int | None:
    """The number of the dart of `other` that lies where those three points lie on `piece`; None
    where there is none."""
    wanted = _placed(piece, three, other)
    if wanted is None:
        return None
    away = [wanted.apart(three_of(d)) for d in other.darts]
    nearest = min(away, default=SAME_DART + 1.0)
    return away.index(nearest) if nearest <= SAME_DART else None


def points_alike(piece: Piece, three: Three, other: Piece) -> Three | None:
    """Where a dart of `piece` lies on `other`, whether it is drawn there or not.

    Both are sizes of one pattern, each seen along its own grain. None where `other` has no edge
    at the place of the one on which the mouth lies.
    """
    wanted = _placed(piece, three, other)
    if wanted is None or _nearest_drawn(piece, three, MEETS) is None:
        return wanted
    return _nearest_drawn(other, wanted, SAME_DART) or wanted


def _placed(piece: Piece, three: Three, other: Piece) -> Three | None:
    """The same share of the edge down, with the mouth as wide and the apex as it lies to it."""
    middle = three.first.towards(three.second, 0.5)
    chains = [piece.edge_chain(e) for e in piece.edges]
    away = [c.nearest(middle).distance for c in chains]
    number = away.index(min(away))
    found = edge_alike(piece, number, other)
    if found is None:
        return None
    own, there = chains[number], other.edge_chain(other.edges[found])
    if not same_way(piece, number, other, found):
        there = there.reversed()
    ends = [own.length_to(own.nearest(p).place) for p in three.mouth]
    at = sum(ends) / 2.0 / own.length() * there.length()
    half = (ends[1] - ends[0]) / 2.0
    first, second = (there.at(there.at_length(at + side * half)) for side in (-1.0, 1.0))
    width = three.first.distance(three.second)
    if first.distance(second) == 0.0 or width == 0.0:
        return None
    along, was = (second - first).unit(), (three.second - three.first).unit()
    aside = three.apex - middle
    turn = 1.0 if piece.ring.signed_area() * other.ring.signed_area() > 0.0 else -1.0
    if not same_way(piece, number, other, found):
        turn = -turn
    step = along * aside.dot(was) + along.square() * (aside.dot(was.square()) * turn)
    return Three(first, second, first.towards(second, 0.5) + step)


def _nearest_drawn(piece: Piece, wanted: Three, reach: float) -> Three | None:
    """The drawn dart of which no point lies further off than that, if there is one."""
    best = min(_drawn(piece), key=wanted.apart, default=None)
    return best if best is not None and best.apart(wanted) <= reach else None


def _drawn(piece: Piece) -> Iterator[Three]:
    """Everything on the piece that is drawn as a dart is: lines, or a notch of the outline."""
    joints = [s.start for s in piece.ring]
    for k, apex in enumerate(joints):
        yield Three(joints[k - 1], joints[(k + 1) % len(joints)], apex)
    lines = [m.geometry for m in piece.marks if _may_be_leg(m)]
    chains = [g for g in lines if isinstance(g, Chain)]
    for chain in chains:
        if len(chain) > 1 and _on(piece, (chain.start, chain.end)):
            for s in chain.segments[:-1]:
                yield Three(chain.start, chain.end, s.end)
    for a, b in permutations(_legs(piece, chains), 2):
        if a[1].distance(b[1]) <= MEETS:
            yield Three(a[0], b[0], a[1])


def _may_be_leg(mark: Mark) -> bool:
    return mark.kind in (Kind.INNER, Kind.DART)


def _legs(piece: Piece, chains: Iterable[Chain]) -> list[tuple[Point, Point]]:
    """Lines with one end on the outline: that end, and the other."""
    ways = ((a, b) for c in chains for a, b in ((c.start, c.end), (c.end, c.start)))
    return [(a, b) for a, b in ways if _on(piece, (a,)) and not _on(piece, (b,))]


def _on(piece: Piece, points: Iterable[Point]) -> bool:
    return all(piece.ring.nearest(p).distance <= MEETS for p in points)
