"""A piece as one path of an SVG in mm, with its grain line, read and recognised."""

from __future__ import annotations

from pathlib import Path

from core.files import read_bytes
from core.piece.model import Piece


def read_piece(d: str, name: str, *, grain: str, marks: str = "", turned: float = 0.0) -> Piece:
    """The only piece of a drawing with that path, where it is drawn; or `turned` by degrees about
    its origin, which lies in the middle of the page then."""
    placed = f' transform="translate(1500 1500) rotate({turned})"' if turned else ""
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="3000mm" height="3000mm"'
        f' viewBox="0 0 3000 3000"><g id="{name}"{placed}>'
        f'<path d="{d}"/><path class="grain" d="{grain}"/>{marks}</g></svg>'
    )
    (piece,) = read_bytes(Path("piece.svg"), text.encode()).pieces
    return piece
