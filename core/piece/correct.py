"""What was recognised, corrected by a person: what a person says is sure."""

from __future__ import annotations

from dataclasses import replace

from core.curve import Place, Point
from core.errors import PieceError
from core.piece.corners import corners as find_corners
from core.piece.corners import outward, outward_sign
from core.piece.model import Because, Edge, Kind, Piece, Role
from core.piece.recognise import understood

SAID = Because(True, "you said so")


def with_role(piece: Piece, number: int, role: Role) -> Piece:
    """The piece with edge `number` in the given role.

    A new hem makes the taper points, the edges and their roles be found afresh around it
    (and turns the grain's sense round when that edge faces the other way). PieceError for
    an edge that is not there, or a hem from which no seams rise.
    """
    if not 0 <= number < len(piece.edges):
        raise PieceError(f"{piece.name} has no edge number {number + 1}.")
    edge = piece.edges[number]
    if role is edge.role:
        return _with_edge(piece, number, replace(edge, because=SAID))
    if role is Role.HEM:
        return _with_hem(piece, edge)
    if edge.role is Role.HEM:
        return replace(_with_edge(piece, number, replace(edge, role=role, because=SAID)),
                       hem=None, cutting_hem=None)
    return _with_edge(piece, number, replace(edge, role=role, because=SAID))


def _with_edge(piece: Piece, number: int, edge: Edge) -> Piece:
    edges = (*piece.edges[:number], edge, *piece.edges[number + 1 :])
    return replace(piece, edges=edges)


def _with_hem(piece: Piece, edge: Edge) -> Piece:
    middle = _middle(piece, edge)
    facing = outward(piece.ring, piece.ring.tangent(middle), outward_sign(piece.ring))
    down = piece.grain.down
    turned = -down if facing.dot(down) < 0.0 else down
    aimed = replace(piece, grain=replace(piece.grain, down=turned))
    points = [m.geometry for m in piece.marks if m.kind is Kind.TURN_POINT]
    told = [p for p in points if isinstance(p, Point)]
    found = understood(aimed, find_corners(piece.ring, told=told), {}, (), hem_at=middle)
    if found.hem is None:
        raise PieceError(
            f"{piece.name}: no seams rise from that edge, so it cannot be the hem."
            " Check the grain line."
        )
    return _with_edge(found, 0, replace(found.edges[0], because=SAID))


def _middle(piece: Piece, edge: Edge) -> Place:
    """The place halfway along an edge."""
    chain = piece.edge_chain(edge)
    return piece.ring.nearest(chain.at(chain.at_length(chain.length() / 2))).place
