"""The same piece, and the same edge, in the other sizes of a nest. Knows nothing of Qt."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial

from app.window.document import EdgeId, PieceId, State
from core.curve import Point
from core.piece.alike import edge_alike
from core.piece.correct import SAID
from core.piece.correct import with_role as role_said
from core.piece.darts_alike import Three, dart_alike, points_alike, three_of
from core.piece.model import Piece, Role
from core.piece.said import with_dart as dart_said
from core.piece.said import with_taper as taper_said
from core.piece.said import without_dart as dart_denied
from core.piece.tapers_alike import taper_alike


def pieces_alike(state: State, which: PieceId) -> tuple[PieceId, ...]:
    """The piece, and those that are called the same in the other sizes of its file."""
    piece = state.piece(which)
    if not piece.size:
        return (which,)
    others = (
        other
        for other, p in state.sheets.pieces.items()
        if (other.sheet, p.title) == (which.sheet, piece.title) and p.size not in {"", piece.size}
    )
    return (which, *others)


def edges_alike(state: State, edge: EdgeId) -> tuple[EdgeId, ...]:
    """The edge, and those at its place on the same piece in the other sizes."""
    first, *others = pieces_alike(state, edge.piece)
    piece = state.piece(first)
    found = ((o, edge_alike(piece, edge.number, state.piece(o))) for o in others)
    return (edge, *(EdgeId(o, number) for o, number in found if number is not None))


def corrected(state: State, edges: Iterable[EdgeId], how: Callable[[Piece, int], Piece]) -> State:
    """The state with each of these edges put right on its piece; `how` gets the edge's number.

    PieceError when one of the pieces does not allow it: then it is said of none.
    """
    for edge in edges:
        piece = state.read_piece(edge.piece)
        after = how(piece, edge.number)
        if after != piece:
            state = state.with_piece(edge.piece, after)
    return state


def with_role(state: State, edges: Iterable[EdgeId], role: Role) -> State:
    """The state with these edges known as `role`; PieceError where a piece does not allow it."""
    return corrected(state, edges, lambda piece, number: role_said(piece, number, role))


def with_taper(
    state: State, which: PieceId, at: Point, *, last: bool, every: bool
) -> tuple[State, int]:
    """The state with the first or last taper point of a piece slid to a place of it, with
    `every` in each size in which it can be found; and on how many pieces.

    PieceError when one of the pieces does not allow it: then it is said of none.
    """
    first, *others = pieces_alike(state, which) if every else (which,)
    piece = state.piece(first)
    state, count = _said(state, first, partial(taper_said, at=at, last=last)), 1
    for other in others:
        there = taper_alike(piece, at, state.piece(other), last=last)
        if there is not None:
            place, end = there
            state = _said(state, other, partial(taper_said, at=place, last=end))
            count += 1
    return state, count


def with_dart(state: State, which: PieceId, three: Three, *, every: bool) -> tuple[State, int]:
    """The state with a dart between three points of a piece; else as `with_taper`. A size in which
    a dart was found there keeps that one, as it is drawn."""
    first, *others = pieces_alike(state, which) if every else (which,)
    piece = state.piece(first)
    state, count = _said(state, first, partial(dart_said, mouth=three.mouth, apex=three.apex)), 1
    for other in others:
        at = points_alike(piece, three, state.piece(other))
        if at is None:
            continue
        known = dart_alike(piece, three, state.piece(other))
        if known is None or state.piece(other).darts[known].because == SAID:
            state = _said(state, other, partial(dart_said, mouth=at.mouth, apex=at.apex))
        count += 1
    return state, count


def without_dart(state: State, which: PieceId, number: int, *, every: bool) -> tuple[State, int]:
    """The state without that dart of a piece; else as `with_taper`."""
    first, *others = pieces_alike(state, which) if every else (which,)
    piece = state.piece(first)
    three = three_of(piece.darts[number])
    state, count = _said(state, first, partial(dart_denied, number=number)), 1
    for other in others:
        found = dart_alike(piece, three, state.piece(other))
        if found is not None:
            state = _said(state, other, partial(dart_denied, number=found))
            count += 1
    return state, count


def _said(state: State, which: PieceId, how: Callable[[Piece], Piece]) -> State:
    return state.with_piece(which, how(state.read_piece(which)))


def in_how_many(state: State, which: PieceId, count: int) -> str:
    """What is added to the name of a step that was made on so many pieces at once."""
    of = len(pieces_alike(state, which))
    if count < 2:
        return ""
    return ", in every size" if count == of else f", in {count} of {of} sizes"
