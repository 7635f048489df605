"""The same edge on another size of a piece: the one that runs at the same place of it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from core.curve import Point
from core.piece.model import Edge, Piece

# Ends and middle of the same edge lie, in the mean, within this share of the piece's width and
# height: from the smallest to the largest size that is 0.02 to 0.04, to a neighbour 0.5, to
# half of the same edge 0.2.
SAME_PLACE = 0.12


class _At(NamedTuple):
    """A place on a piece: 0 to 1 across the grain, 0 to 1 along it."""

    across: float
    down: float


def edge_alike(piece: Piece, number: int, other: Piece) -> int | None:
    """The number of the edge of `other` that lies where the edge of that number lies on `piece`.

    Both are sizes of one pattern, each seen along its own grain; their roles and the directions
    in which their outlines run do not matter. None where no edge lies there, as when it was
    split or joined on one of the two.
    """
    wanted = _places(piece, piece.edges[number])
    away = [_apart(wanted, _places(other, e)) for e in other.edges]
    nearest = min(away, default=SAME_PLACE + 1.0)
    return away.index(nearest) if nearest <= SAME_PLACE else None


def same_way(piece: Piece, number: int, other: Piece, found: int) -> bool:
    """Do an edge and the one that lies at its place run the same way there?"""
    a, b = _places(piece, piece.edges[number]), _places(other, other.edges[found])
    return _mean(a, b) <= _mean(a, b[::-1])


def _places(piece: Piece, edge: Edge) -> tuple[_At, _At, _At]:
    """Of one end of the edge, its middle and the other end."""
    chain = piece.edge_chain(edge)
    points = (chain.start, chain.at(chain.at_length(chain.length() / 2.0)), chain.end)
    box = list(_framed(piece, (p for s in piece.ring.segments for p in (s.start, s.at(0.5)))))
    (x0, x1), (y0, y1) = ((min(v), max(v)) for v in zip(*box, strict=True))
    wide, high = max(x1 - x0, 1e-9), max(y1 - y0, 1e-9)
    a, b, c = (_At((x - x0) / wide, (y - y0) / high) for x, y in _framed(piece, iter(points)))
    return a, b, c


def _framed(piece: Piece, points: Iterator[Point]) -> Iterator[tuple[float, float]]:
    down = piece.grain.down
    return ((p.x * down.y - p.y * down.x, p.x * down.x + p.y * down.y) for p in points)


def _apart(a: tuple[_At, _At, _At], b: tuple[_At, _At, _At]) -> float:
    """Mean distance of ends and middles, whichever way round they are listed."""
    return min(_mean(a, b), _mean(a, b[::-1]))


def _mean(a: tuple[_At, ...], b: tuple[_At, ...]) -> float:
    gaps = (abs(p.across - q.across) + abs(p.down - q.down) for p, q in zip(a, b, strict=True))
    return sum(gaps) / len(a)
