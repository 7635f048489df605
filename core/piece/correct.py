"""What was recognised, corrected by a person: what a person says is sure."""

from __future__ import annotations

import math
from dataclasses import replace

from core.curve import Place, Point, Vector
from core.errors import PieceError
from core.piece.corners import corners as find_corners
from core.piece.corners import outward, outward_sign
from core.piece.model import Because, Edge, Grain, Kind, Piece, Role
from core.piece.recognise import doubts, understood

SAID = Because(True, "you said so", told=True)
# An edge that faces further than 60 degrees from the grain is a seam, not a hem.
FACES_HEM = math.cos(math.radians(60.0))


def with_role(piece: Piece, number: int, role: Role) -> Piece:
    """The piece with edge `number` in the given role.

    A new hem makes the taper points, the edges and their roles be found afresh around it
    (and turns the grain's sense round when that edge faces the other way). PieceError for
    an edge that is not there, or a hem from which no seams rise.
    """
    if not 0 <= number < len(piece.edges):
        raise PieceError(f"{piece.name} has no edge number {number + 1}.")
    edge = piece.edges[number]
    if role is Role.HEM:
        return _with_hem(piece, edge)
    said = _with_edge(piece, number, replace(edge, role=role, because=SAID))
    if edge.role is not Role.HEM:
        return said
    bare = replace(said, hem=None, cutting_hem=None)
    return replace(bare, problems=tuple(doubts(bare)))


def _with_edge(piece: Piece, number: int, edge: Edge) -> Piece:
    edges = (*piece.edges[:number], edge, *piece.edges[number + 1 :])
    return replace(piece, edges=edges)


def _with_hem(piece: Piece, edge: Edge) -> Piece:
    """The piece with that edge as its hem, all else found afresh but what is known."""
    middle = _middle(piece, edge)
    facing = outward(piece.ring, piece.ring.tangent(middle), outward_sign(piece.ring))
    if abs(facing.dot(piece.grain.down)) < FACES_HEM:
        raise PieceError(
            f"{piece.name}: that edge runs along the grain, so it cannot be the hem."
            " Check the grain line."
        )
    points = [m.geometry for m in piece.marks if m.kind is Kind.TURN_POINT]
    told = [p for p in points if isinstance(p, Point)]
    aimed = replace(piece, grain=_aimed(piece, facing))
    corners = find_corners(piece.ring, told=told)
    found = understood(aimed, corners, {}, (), hem_at=middle, known=known_edges(piece))
    if found.hem is None:
        raise PieceError(
            f"{piece.name}: no seams rise from that edge, so it cannot be the hem."
            " Check the grain line."
        )
    hem = found.edges[0]
    if edge.role is Role.HEM and (edge.start, edge.end) != (hem.start, hem.end):
        # It was the hem already, with taper points that a person has moved: they stay there.
        return _with_edge(piece, piece.edges.index(edge), replace(edge, because=SAID))
    return replace(found, edges=(replace(hem, because=SAID), *found.edges[1:]))


def known_edges(piece: Piece) -> tuple[Edge, ...]:
    """The edges of which a person, or the file's own words, said what they are."""
    return tuple(e for e in piece.edges if e.because.told)


def _aimed(piece: Piece, facing: Vector) -> Grain:
    """The grain towards the hem that was shown; sure when its line is the file's own."""
    grain = piece.grain
    down = -grain.down if facing.dot(grain.down) < 0.0 else grain.down
    drawn = any(m.shape == grain.shape and m.kind is Kind.GRAIN for m in piece.marks)
    if not drawn:
        return replace(grain, down=down)
    return replace(grain, down=down, because=Because(True, "the grain line, towards your hem"))


def _middle(piece: Piece, edge: Edge) -> Place:
    """The place in the middle of the longest part of an edge, where no dart is cut into it."""
    longest = max(piece.sewn_segments(edge), key=lambda s: s.length())
    return piece.ring.nearest(longest.at(longest.at_length(longest.length() / 2))).place
