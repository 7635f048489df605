"""Edges that are sewn together: recognised by role and name, held against their lengths.

No interchange file says which edges are mates (ASTM D6673, scope), so they are worked
out, shown with how sure they are, and can be corrected.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from core.piece.model import Because, Edge, Piece, Role
from core.piece.words import Side, side_of

SEWN = (Role.INSEAM, Role.SIDE, Role.UNDERARM)
# Mated seams usually agree within this share of their length (ease, stretch of the back
# inseam); more is still shown, as unsure.
USUAL_DIFFERENCE = 0.03


@dataclass(frozen=True)
class Mates:
    """An edge of one piece and the edge that is sewn to it (of another piece or its own)."""

    first: tuple[int, Role]
    second: tuple[int, Role]
    because: Because

    def of(self, key: int) -> tuple[int, Role] | None:
        """The other piece's key and role, seen from the piece `key`; None if not one of them."""
        if self.first[0] == key:
            return self.second
        return self.first if self.second[0] == key else None


def find_mates(pieces: Sequence[Piece]) -> tuple[Mates, ...]:
    """All pairs of edges that belong together, in piece order."""
    pairs = itertools.combinations(pieces, 2)
    return tuple(itertools.chain.from_iterable(_between(a, b) for a, b in pairs if _match(a, b)))


def _match(a: Piece, b: Piece) -> bool:
    """A front goes with a back; without such names, two pieces of the same shape of edges."""
    sides = {side_of(a.name), side_of(b.name)}
    if sides == {Side.FRONT, Side.BACK}:
        return True
    return sides == {Side.UNKNOWN} and _sewn_roles(a) == _sewn_roles(b)


def _sewn_roles(piece: Piece) -> set[Role]:
    return {e.role for e in piece.edges if e.role in SEWN}


def _between(a: Piece, b: Piece) -> Iterator[Mates]:
    for role in SEWN:
        mine, theirs = _only(a.edges, role), _only(b.edges, role)
        if mine is None or theirs is None:
            continue
        because = _why(a.edge_length(mine), b.edge_length(theirs), a, b)
        yield Mates((a.key, role), (b.key, role), because)


def _only(edges: Iterable[Edge], role: Role) -> Edge | None:
    found = [e for e in edges if e.role is role]
    return found[0] if len(found) == 1 else None


def _why(mine: float, theirs: float, a: Piece, b: Piece) -> Because:
    named = {side_of(a.name), side_of(b.name)} == {Side.FRONT, Side.BACK}
    close = abs(mine - theirs) <= USUAL_DIFFERENCE * max(mine, theirs)
    what = "front and back by their names" if named else "two pieces with the same edges"
    agree = f"lengths {mine / 10:.1f} and {theirs / 10:.1f} cm"
    return Because(named and close, f"{what}, {agree}")
