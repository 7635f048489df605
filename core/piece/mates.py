"""Edges that are sewn together: recognised by role and name, held against their lengths.

No interchange file says which edges are mates (ASTM D6673, scope), so they are worked
out, shown with how sure they are, and can be corrected.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from core.piece.model import Because, Piece, Role
from core.piece.words import Side, side_of

SEWN = (Role.INSEAM, Role.SIDE, Role.UNDERARM)
# Mated seams usually agree within this share of their length (ease, stretch of the back
# inseam); more is still shown, as unsure.
USUAL_DIFFERENCE = 0.03
# Seams that differ by more than this share are not sewn together.
MOST_DIFFERENCE = 0.25
# Of two ways to pair two seams with two, the one by side is left only for one whose lengths
# agree better by more than this (mm): the trade calls 1/8 in workable (Threads no. 200).
CLEARLY = 25.4 / 8


class EdgeKey(NamedTuple):
    """An edge: the key of its piece, and its number in the piece's row of edges."""

    piece: int
    number: int


@dataclass(frozen=True)
class Mates:
    """An edge of one piece and the edge that is sewn to it (of another piece or its own).

    ``numbers`` are those of both edges in their pieces' rows, where a piece has several of
    the role.
    """

    first: tuple[int, Role]
    second: tuple[int, Role]
    because: Because
    numbers: tuple[int, int] | None = None

    def of(self, key: int) -> tuple[int, Role] | None:
        """The other piece's key and role, seen from the piece `key`; None if not one of them."""
        if self.first[0] == key:
            return self.second
        return self.first if self.second[0] == key else None

    def edges(self, pieces: Mapping[int, Piece]) -> tuple[EdgeKey, EdgeKey] | None:
        """Both edges, on these pieces by key; None when it cannot be told which are meant.

        An edge sewn to another of the same role on the same piece needs exactly two of it.
        """
        keys = self.first[0], self.second[0]
        if any(key not in pieces for key in keys):
            return None
        if self.numbers is not None:
            return EdgeKey(keys[0], self.numbers[0]), EdgeKey(keys[1], self.numbers[1])
        rows = [
            [k for k, e in enumerate(pieces[key].edges) if e.role is role]
            for key, role in (self.first, self.second)
        ]
        if self.first == self.second and len(rows[0]) == 2:
            return EdgeKey(keys[0], rows[0][0]), EdgeKey(keys[0], rows[0][1])
        if self.first == self.second or any(len(row) != 1 for row in rows):
            return None
        return EdgeKey(keys[0], rows[0][0]), EdgeKey(keys[1], rows[1][0])


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
        mine, theirs = _numbered(a, role), _numbered(b, role)
        if len(mine) == len(theirs) == 1:
            yield from _pair(a, b, mine[0], theirs[0], by_number=False)
        elif role is Role.SIDE and {len(mine), len(theirs)} <= {1, 2}:
            yield from _by_sides(a, b, mine, theirs)


def _numbered(piece: Piece, role: Role) -> list[int]:
    return [k for k, e in enumerate(piece.edges) if e.role is role]


def _by_sides(a: Piece, b: Piece, mine: list[int], theirs: list[int]) -> Iterator[_Pair]:
    """Two side seams with two, or with the one that is cut twice.

    Both pieces lie with their right side up, so the left side as worn is on the right of a
    front and on the left of a back. Where the lengths say clearly otherwise they are
    believed, and the pairs are unsure.
    """
    if len(mine) != len(theirs):
        pairs = [(m, t) for m in mine for t in theirs]
        doubt = ""
    else:
        rows = [sorted(row, key=lambda k: _middle(p, k)) for p, row in ((a, mine), (b, theirs))]
        pairs = list(zip(rows[0], reversed(rows[1]), strict=True))
        crossed = list(zip(rows[0], rows[1], strict=True))
        clearly = _off(a, b, pairs) - _off(a, b, crossed) > CLEARLY
        pairs = crossed if clearly else pairs
        doubt = "; by side they would not agree" if clearly else ""
    for m, t in pairs:
        yield from _pair(a, b, m, t, by_number=True, doubt=doubt)


def _middle(piece: Piece, number: int) -> float:
    """How far across the grain, to the right of a piece with its hem down, an edge lies."""
    edge, down = piece.edges[number], piece.grain.down
    p = piece.ring.at(edge.start).towards(piece.ring.at(edge.end), 0.5)
    return p.x * down.y - p.y * down.x


def _off(a: Piece, b: Piece, pairs: Sequence[tuple[int, int]]) -> float:
    return sum(abs(a.edge_length(a.edges[m]) - b.edge_length(b.edges[t])) for m, t in pairs)


def _pair(
    a: Piece, b: Piece, m: int, t: int, *, by_number: bool, doubt: str = ""
) -> Iterator[_Pair]:
    """The pair, when the lengths allow it."""
    mine, theirs = a.edges[m], b.edges[t]
    lengths = a.edge_length(mine), b.edge_length(theirs)
    difference = abs(lengths[0] - lengths[1]) / max(lengths)
    if difference > MOST_DIFFERENCE:
        return
    because = _why(lengths, difference, a, b)
    if doubt:
        because = Because(False, f"{because.why}{doubt}")
    if not (mine.because.sure and theirs.because.sure):
        because = Because(False, f"{because.why}, if the edges are recognised right")
    numbers = (m, t) if by_number else None
    yield _Pair(Mates((a.key, mine.role), (b.key, theirs.role), because, numbers), difference)


def _why(lengths: tuple[float, float], difference: float, a: Piece, b: Piece) -> Because:
    named = {side_of(a.name), side_of(b.name)} == {Side.FRONT, Side.BACK}
    what = "front and back by their names" if named else "two pieces with the same edges"
    agree = f"lengths {lengths[0] / 10:.1f} and {lengths[1] / 10:.1f} cm"
    return Because(named and difference <= USUAL_DIFFERENCE, f"{what}, {agree}")
