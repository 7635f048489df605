"""What a change does, in figures."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from core.alter.model import EdgeFigure, Figures, Lengths
from core.curve import Segment
from core.kept import kept
from core.piece.model import Edge, Piece, Role


@kept(most=16384)
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


def paired(before: Piece, after: Piece) -> Iterator[tuple[Edge, Edge | None]]:
    """Each old edge with what became of it; None for one that was cut away whole.

    Cut away are the lower ones of several edges of one seam: of those the old edge is the
    one whose upper end is still there.
    """
    whole = len(before.edges) == len(after.edges)
    left = list(after.edges)
    for old in before.edges:
        same = (e for e in left if whole or e.role is Role.HEM or _share_end(before, old, after, e))
        found = next((e for e in same if e.role is old.role), None)
        if found is not None:
            left.remove(found)
        yield old, found


def _share_end(before: Piece, old: Edge, after: Piece, new: Edge) -> bool:
    return before.ring.at(old.start) == after.ring.at(new.start) or before.ring.at(
        old.end
    ) == after.ring.at(new.end)


def figures(before: Piece, after: Piece, added: tuple[float, float]) -> Figures:
    """Each edge before and after; `added` is what each seam gained along itself, in mm."""
    return Figures(*added, measure=partial(_lengths, before, after))


def _lengths(before: Piece, after: Piece) -> Lengths:
    edges = tuple(
        EdgeFigure(old.role, length, edge_length(after, new) if new else 0.0)
        for length, (old, new) in zip(before.edge_lengths, paired(before, after), strict=True)
    )
    return Lengths(edges, hem_width(before), hem_width(after))
