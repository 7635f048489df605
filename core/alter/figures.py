"""What a change does, in figures."""

from __future__ import annotations

from functools import lru_cache

from core.alter.model import EdgeFigure, Figures
from core.curve import Segment
from core.piece.model import Edge, Piece


@lru_cache(maxsize=16384)
def _length(segment: Segment) -> float:
    """Segments above the taper points stay the same values, so a drag measures them once."""
    return segment.length()


def edge_length(piece: Piece, edge: Edge) -> float:
    """Length in mm along the edge, without the legs of darts that lie in it."""
    return sum(_length(s) for s in piece.sewn_segments(edge))


def hem_width(piece: Piece) -> float:
    """Straight from seam end to seam end, in mm; 0 for a piece without a hem."""
    if piece.hem is None:
        return 0.0
    return piece.ring.at(piece.hem.first.place).distance(piece.ring.at(piece.hem.last.place))


def figures(before: Piece, after: Piece, added: tuple[float, float]) -> Figures:
    """Each edge before and after; `added` is what each seam gained along itself, in mm."""
    edges = tuple(
        EdgeFigure(old.role, edge_length(before, old), edge_length(after, new))
        for old, new in zip(before.edges, after.edges, strict=True)
    )
    return Figures(edges, hem_width(before), hem_width(after), *added)
