"""A drawing: the pieces that were read, and the file kept whole behind them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import Enum
from pathlib import Path
from typing import Any

from core.errors import PieceError
from core.files.ties import Tie
from core.piece.model import Because, Piece, Shape

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
    the two. ``problems`` are sentences about what could not be read or is doubtful. A
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
    as_read: tuple[Piece, ...]
    pieces: tuple[Piece, ...]
    source: Any
    problems: tuple[str, ...] = ()
    cleaned: bool = False
    ties: tuple[Tie, ...] = ()
    alone: tuple[int, ...] = ()
    told_unit: float | None = None

    def with_piece(self, piece: Piece) -> Drawing:
        """The drawing with the piece of the same key replaced; PieceError if there is none."""
        if all(p.key != piece.key for p in self.pieces):
            raise PieceError(f"{self.path.name} has no piece {piece.name}")
        return replace(self, pieces=tuple(piece if p.key == piece.key else p for p in self.pieces))

    def with_pieces(self, pieces: Iterable[Piece]) -> Drawing:
        """The drawing with each of these pieces in the place of the one with its key."""
        out = self
        for piece in pieces:
            out = out.with_piece(piece)
        return out
