"""A drawing: the pieces that were read, and the file kept whole behind them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import Enum
from pathlib import Path
from typing import Any

from core.errors import PieceError
from core.files.ties import Tie
from core.piece.model import Because, Outline, Piece, Shape
from core.piece.pieces import Pieces
from core.piece.recognise import doubtful

# With this a binary DXF begins (DXF reference).
BINARY_MARK = b"AutoCAD Binary DXF"


class Format(Enum):
    """The kinds of file that are read and written."""

    SVG = ".svg"
    DXF = ".dxf"


@dataclass(frozen=True)
class Unit:
    """How long one unit of the file is on paper."""

    mm_per_unit: float
    because: Because


@dataclass(frozen=True)
class Drawing:
    """What was read from ``path``; ``source`` is the reader's own index into ``data``.

    ``as_read`` are the pieces as they came, ``pieces`` as they are now; a writer compares
    the two. Each is recognised when it is first asked for. ``leading`` tells of what is drawn once
    for several pieces the key of the one with which it goes. ``noted`` and ``told`` are sentences
    about what could not be read, and of what was said later. A
    ``cleaned`` one was repaired while it was read, and is never saved over its original.
    ``ties`` are what a person said of edges that are sewn together, ``alone`` the places of the
    pieces that are to be left as they are, ``told_unit`` how long (mm) one unit is, where a
    person said that too.
    """

    path: Path
    format: Format
    data: bytes
    unit: Unit
    shapes: tuple[Shape, ...]
    as_read: Sequence[Piece]
    pieces: Sequence[Piece]
    source: Any
    noted: tuple[str, ...] = ()
    told: tuple[str, ...] = ()
    leading: Mapping[int, int] = field(default_factory=dict)
    cleaned: bool = False
    ties: tuple[Tie, ...] = ()
    alone: tuple[int, ...] = ()
    told_unit: float | None = None

    @property
    def problems(self) -> tuple[str, ...]:
        """Sentences about what could not be read or is doubtful, on any of the pieces."""
        return (*self.noted, *doubtful(self.as_read), *self.told)

    def whole(self) -> Drawing:
        """The drawing itself, with all its pieces recognised."""
        doubtful(self.as_read)
        return self

    def changed(self) -> Iterator[tuple[Piece, Piece]]:
        """Each piece that is not the very same as it was read, as it was and as it is."""
        if isinstance(self.pieces, Pieces):
            yield from self.pieces.changed()
            return
        before = {p.key: p for p in self.as_read}
        for piece in self.pieces:
            if before[piece.key] is not piece:
                yield before[piece.key], piece

    def outlines(self) -> Iterator[Outline]:
        """The outlines of all pieces as they are now; none is recognised for it."""
        if isinstance(self.pieces, Pieces):
            return self.pieces.outlines()
        return (p.outline for p in self.pieces)

    def with_piece(self, piece: Piece) -> Drawing:
        """The drawing with the piece of the same key replaced; PieceError if there is none."""
        return self.with_pieces((piece,))

    def with_pieces(self, pieces: Iterable[Piece]) -> Drawing:
        """The drawing with each of these pieces in the place of the one with its key."""
        if isinstance(self.pieces, Pieces):
            return replace(self, pieces=self.pieces.replaced(pieces))
        now = {p.key: p for p in self.pieces}
        for piece in pieces:
            if piece.key not in now:
                raise PieceError(f"{self.path.name} has no piece {piece.name}")
            now[piece.key] = piece
        return replace(self, pieces=tuple(now[p.key] for p in self.pieces))
