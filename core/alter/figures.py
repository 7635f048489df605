"""What a change does, in figures."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from core.alter.frame import Frame
from core.alter.model import EdgeFigure, Figures, Lengths
from core.alter.refit import Ends
from core.alter.run_ends import run_ends
from core.alter.strand import open_at_tapers
from core.curve import Point, Segment
from core.kept import kept
from core.piece.model import Edge, Piece, Role


@kept(most=16384)
def _length(segment: Segment) -> float:
    """Segments above the taper points stay the same values, so a drag measures them once."""
    return segment.length()


def edge_length(piece: Piece, edge: Edge) -> float:
    """Length in mm along the edge, without the legs of darts that lie in it."""
    return sum(_length(s) for s in piece.sewn_segments(edge))


# A drag asks for the same piece's in each of its frames.
@kept(most=256)
def is_shaped(piece: Piece) -> bool:
    """Is the hem rounded into a seam, or does a seam end above a vent? Not of a piece whose taper
    points are not known."""
    if piece.hem is None:
        return False
    first, last = piece.hem.first, piece.hem.last
    ends = Ends(piece.ring.at(first.place), piece.ring.at(last.place), first.down, last.down)
    _, run = open_at_tapers(piece.sewn, piece.hem)
    return any(end.is_shaped for end in run_ends(Frame(piece.grain.down), run, ends))


def straight_width(piece: Piece, first: Point, last: Point) -> float:
    """From one end of the piece's hem to the other, in mm: straight; where it is shaped, across
    the grain, for a rounding or vent that begins higher up makes no hem wider."""
    if not is_shaped(piece):
        return first.distance(last)
    frame = Frame(piece.grain.down)
    return abs(frame.width(last) - frame.width(first))


def hem_width(piece: Piece) -> float:
    """Straight from seam end to seam end with darts closed, in mm; 0 for a piece without a hem."""
    if piece.hem is None:
        return 0.0
    ends = (piece.ring.at(t.place) for t in (piece.hem.first, piece.hem.last))
    return straight_width(piece, *ends) - sum(d.intake for d in piece.darts if d.on is Role.HEM)


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
