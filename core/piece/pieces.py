"""The pieces of a pattern, each recognised when it is first asked for.

A file may hold a thousand pieces; who alters two of them need not wait for all. What comes
out does not depend on when a piece is asked for, or on which others are.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from copy import copy
from threading import Lock
from typing import overload

from core.errors import PieceError
from core.piece.model import Outline, Piece

Make = Callable[[int], Piece]


class _Waiting:
    """The pieces as they were read: made once, whoever asks first."""

    def __init__(self, count: int, make: Make) -> None:
        self.count = count
        self._make = make
        self._made: dict[int, Piece] = {}
        self._one_at_a_time = Lock()

    def piece(self, k: int) -> Piece:
        with self._one_at_a_time:
            if k not in self._made:
                self._made[k] = self._make(k)
            return self._made[k]


class Pieces(Sequence[Piece]):
    """Pieces in the order of their keys, which are their places; some may have been replaced.

    Equal to any sequence of equal pieces. ``drawn`` are the outlines with which they were read.
    """

    def __init__(self, drawn: Sequence[Outline], make: Make) -> None:
        self.drawn = drawn
        self._read = _Waiting(len(drawn), make)
        self._now: dict[int, Piece] = {}

    def __len__(self) -> int:
        return self._read.count

    @overload
    def __getitem__(self, at: int) -> Piece: ...

    @overload
    def __getitem__(self, at: slice) -> tuple[Piece, ...]: ...

    def __getitem__(self, at: int | slice) -> Piece | tuple[Piece, ...]:
        places = range(len(self))[at]
        return self._piece(places) if isinstance(places, int) else tuple(map(self._piece, places))

    def _piece(self, k: int) -> Piece:
        return self._now[k] if k in self._now else self._read.piece(k)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Sequence):
            return NotImplemented
        return self is other or tuple(self) == tuple(other)

    def __hash__(self) -> int:
        return hash(tuple(self))

    def __repr__(self) -> str:
        return f"Pieces{tuple(self)!r}"

    def replaced(self, pieces: Iterable[Piece]) -> Pieces:
        """These pieces in the places of their keys; PieceError for a key that is not there."""
        out = copy(self)
        out._now = dict(self._now)
        for piece in pieces:
            if not 0 <= piece.key < len(self):
                raise PieceError(f"there is no piece {piece.name} to be replaced")
            out._now[piece.key] = piece
        return out

    def outlines(self) -> Iterator[Outline]:
        """The outline of each piece as it is now; no piece is recognised for it."""
        for k, outline in enumerate(self.drawn):
            yield self._now[k].outline if k in self._now else outline

    def changed(self) -> Iterator[tuple[Piece, Piece]]:
        """Each replaced piece as it was read and as it is now; the others are not asked for."""
        for k, piece in sorted(self._now.items()):
            yield self._read.piece(k), piece
