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
# Seams that differ by more than this share are not sewn together.
MOST_DIFFERENCE = 0.25


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
    """All pairs of edges that belong together, in piece order.

    Each piece is paired with at most one other of its size: of several that could go with it,
    the one whose seams agree best in length.
    """
    # Where only one size is named, a piece without one may still belong to it.
    several = len({p.size for p in pieces} - {""}) > 1
    candidates = [
        (_difference(pairs), k, pairs)
        for k, (a, b) in enumerate(itertools.combinations(pieces, 2))
        if (a.size == b.size or not several) and _match(a, b) and (pairs := tuple(_between(a, b)))
    ]
    taken: set[int] = set()
    found: list[tuple[int, tuple[_Pair, ...]]] = []
    for _, k, pairs in sorted(candidates, key=lambda c: c[:2]):
        keys = {pairs[0].mates.first[0], pairs[0].mates.second[0]}
        if not keys & taken:
            taken |= keys
            found.append((k, pairs))
    return tuple(pair.mates for _, pairs in sorted(found, key=lambda f: f[0]) for pair in pairs)


@dataclass(frozen=True)
class _Pair:
    """Two edges that could be mates, and by what share their lengths differ."""

    mates: Mates
    difference: float


def _difference(pairs: Sequence[_Pair]) -> float:
    return sum(p.difference for p in pairs) / len(pairs) if pairs else 0.0


def _match(a: Piece, b: Piece) -> bool:
    """A front goes with a back; without such names, two pieces of the same shape of edges."""
    sides = {side_of(a.name), side_of(b.name)}
    if sides == {Side.FRONT, Side.BACK}:
        return True
    return sides == {Side.UNKNOWN} and _sewn_roles(a) == _sewn_roles(b)


def _sewn_roles(piece: Piece) -> set[Role]:
    return {e.role for e in piece.edges if e.role in SEWN}


def _between(a: Piece, b: Piece) -> Iterator[_Pair]:
    for role in SEWN:
        mine, theirs = _only(a.edges, role), _only(b.edges, role)
        if mine is None or theirs is None:
            continue
        lengths = a.edge_length(mine), b.edge_length(theirs)
        difference = abs(lengths[0] - lengths[1]) / max(lengths)
        if difference <= MOST_DIFFERENCE:
            because = _why(lengths, difference, a, b)
            if not (mine.because.sure and theirs.because.sure):
                because = Because(False, f"{because.why}, if the edges are recognised right")
            yield _Pair(Mates((a.key, role), (b.key, role), because), difference)


def _only(edges: Iterable[Edge], role: Role) -> Edge | None:
    found = [e for e in edges if e.role is role]
    return found[0] if len(found) == 1 else None


def _why(lengths: tuple[float, float], difference: float, a: Piece, b: Piece) -> Because:
    named = {side_of(a.name), side_of(b.name)} == {Side.FRONT, Side.BACK}
    what = "front and back by their names" if named else "two pieces with the same edges"
    agree = f"lengths {lengths[0] / 10:.1f} and {lengths[1] / 10:.1f} cm"
    return Because(named and difference <= USUAL_DIFFERENCE, f"{what}, {agree}")
