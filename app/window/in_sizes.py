"""The same piece, and the same edge, in the other sizes of a nest. Knows nothing of Qt."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from app.window.document import EdgeId, PieceId, State
from core.piece.alike import edge_alike
from core.piece.correct import with_role as role_said
from core.piece.model import Piece, Role


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


def in_how_many(edges: tuple[EdgeId, ...]) -> str:
    """What is added to the name of a step that was made in several sizes at once."""
    return ", in every size" if len(edges) > 1 else ""
