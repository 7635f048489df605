"""What a person said of edges: that they are sewn together, or that they are not.

An edge is told by a point on it, in mm of its drawing, so that it is found again after it was
split, joined or given another role.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from core.curve import Point
from core.piece.kept import ON_LINE
from core.piece.model import Edge, Piece

# Digits that bring a point back within a hundred thousandth of a millimetre.
DIGITS = 6
# Where along an edge its point is taken: not in the middle, at which it may be split.
ALONG = 0.45

Plain = dict[str, Any]


@dataclass(frozen=True)
class End:
    """An edge: the place of its piece in the row of pieces of the drawing called ``drawing``,
    "" for the drawing that the tie is kept with; and a point on it.
    """

    piece: int
    at: Point
    drawing: str = ""


@dataclass(frozen=True)
class Tie:
    """Two edges that a person said are sewn together, or are not; ``first`` is of the drawing
    that the tie is kept with. ``every_size``: so are the same two in every other size.
    """

    first: End
    second: End
    sewn: bool
    every_size: bool = False


def point_on(piece: Piece, edge: Edge) -> Point:
    """The point by which the edge is told."""
    chain = piece.edge_chain(edge)
    return chain.at(chain.at_length(ALONG * chain.length()))


def edge_at(piece: Piece, at: Point) -> int | None:
    """The number of the edge that runs through the point; None when none of them does."""
    away = [piece.edge_chain(e).nearest(at).distance for e in piece.edges]
    nearest = min(away, default=ON_LINE + 1.0)
    return away.index(nearest) if nearest <= ON_LINE else None


def ties_as_values(ties: Iterable[Tie]) -> list[Plain]:
    """As values that JSON can say."""
    return [_tie_values(tie) for tie in ties]


def _tie_values(tie: Tie) -> Plain:
    edges = [_end_values(end) for end in (tie.first, tie.second)]
    scope = {"in every size": True} if tie.every_size else {}
    return {"sewn": tie.sewn, **scope, "edges": edges}


def _end_values(end: End) -> Plain:
    named = {"drawing": end.drawing} if end.drawing else {}
    at = [round(end.at.x, DIGITS), round(end.at.y, DIGITS)]
    return {**named, "piece": end.piece, "at": at}


def tie_in(value: Mapping[str, Any]) -> Tie:
    """The tie of a value; LookupError, TypeError or ValueError for what is none."""
    first, second = (_end_in(end) for end in value["edges"])
    if not isinstance(value["sewn"], bool) or first.drawing:
        raise ValueError("the first end of a tie lies in its own drawing")
    return Tie(first, second, value["sewn"], value.get("in every size") is True)


def _end_in(value: Mapping[str, Any]) -> End:
    x, y = (float(v) for v in value["at"])
    piece = int(value["piece"])
    if piece < 0 or not abs(x) + abs(y) < float("inf"):
        raise ValueError("that is no place on a piece")
    return End(piece, Point(x, y), str(value.get("drawing", "")))


def fits(tie: Tie, pieces: Sequence[Piece]) -> bool:
    """Do the ends that lie in the drawing of these pieces lie on edges of theirs?"""
    own = [end for end in (tie.first, tie.second) if not end.drawing]
    return all(
        end.piece < len(pieces) and edge_at(pieces[end.piece], end.at) is not None for end in own
    )
