"""Which edges are sewn together over all drawings in hand: as recognised, and as a person said.

The pieces of the drawings stand in one row, and each has its place there as its key: so the
window, the commands and what is kept beside a file speak of the same edges.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from core.files.drawing import Drawing
from core.files.ties import End, Tie, edge_at, point_on
from core.piece.alike import edge_alike
from core.piece.correct import SAID
from core.piece.mates import EdgeKey, Mates, find_mates
from core.piece.model import Piece


class Said(NamedTuple):
    """Two edges of which a person said whether they are sewn together."""

    first: EdgeKey
    second: EdgeKey
    sewn: bool

    @property
    def edges(self) -> frozenset[EdgeKey]:
        return frozenset((self.first, self.second))


def in_a_row(drawings: Iterable[Drawing]) -> tuple[Piece, ...]:
    """The pieces of all drawings, each with its place in the row as its key."""
    pieces = (p for d in drawings for p in d.pieces)
    return tuple(replace(p, key=k) for k, p in enumerate(pieces))


def alone_in(drawings: Iterable[Drawing]) -> frozenset[int]:
    """The keys of the pieces that a person wants left as they are."""
    keys, offset = set[int](), 0
    for drawing in drawings:
        keys |= {offset + k for k in drawing.alone}
        offset += len(drawing.pieces)
    return frozenset(keys)


def mates_in(
    drawings: Sequence[Drawing], pieces: Sequence[Piece] | None = None
) -> tuple[Mates, ...]:
    """Edges that are sewn together, across drawings too; each with one other at most, but for
    what a person said.

    Pairs within a drawing go first, then those that are sure: two garments may be in hand, and
    the front of one is no mate of the other's back. `pieces` are those in a row, where they are
    at hand already.
    """
    pieces = in_a_row(drawings) if pieces is None else pieces
    by_key = {p.key: p for p in pieces}
    said = said_in(drawings)
    apart = {s.edges for s in said if not s.sewn}
    sewn = {end for s in said if s.sewn for end in s.edges}
    told = [_mates(s, by_key) for s in said if s.sewn]
    for pair in _recognised(pieces, _home_of(drawings)):
        ends = pair.edges(by_key)
        if ends is None or (frozenset(ends) not in apart and not sewn & set(ends)):
            told.append(pair)
    return tuple(told)


def _home_of(drawings: Iterable[Drawing]) -> list[int]:
    return [n for n, d in enumerate(drawings) for _ in d.pieces]


def _recognised(pieces: Sequence[Piece], home: Sequence[int]) -> Iterator[Mates]:
    by_key = {p.key: p for p in pieces}
    taken: set[EdgeKey] = set()

    def doubt(pair: Mates) -> tuple[bool, bool]:
        return home[pair.first[0]] != home[pair.second[0]], not pair.because.sure

    for pair in sorted(find_mates(pieces), key=doubt):
        ends = set(pair.edges(by_key) or ())
        # One back edge is sewn to both sides of a front when the back is cut twice.
        if not taken & ends or pair.numbers is not None:
            taken |= ends
            yield pair


def _mates(said: Said, pieces: Mapping[int, Piece]) -> Mates:
    first, second = (
        (end.piece, pieces[end.piece].edges[end.number].role) for end in (said.first, said.second)
    )
    return Mates(first, second, SAID, (said.first.number, said.second.number))


def said_in(drawings: Sequence[Drawing]) -> tuple[Said, ...]:
    """All that was said, each two edges once; what was said of one size goes before what was
    said of every size, and what was said last before what was said first."""
    row = _Row(drawings)
    ties = [(n, tie) for n, d in enumerate(drawings) for tie in d.ties]
    wide = [
        s
        for n, tie in ties
        if tie.every_size
        for said in row.of(n, tie)
        for s in (*row.in_sizes(said), said)
    ]
    narrow = [said for n, tie in ties if not tie.every_size for said in row.of(n, tie)]
    return tuple({said.edges: said for said in (*wide, *narrow)}.values())


class _Row:
    """The drawings with their pieces in a row."""

    def __init__(self, drawings: Sequence[Drawing]) -> None:
        self.drawings = drawings
        self.pieces = in_a_row(drawings)
        self.home = _home_of(drawings)
        self._offsets = [self.home.index(n) if n in self.home else 0 for n in range(len(drawings))]

    def of(self, home: int, tie: Tie) -> Iterator[Said]:
        """What a tie of that drawing says, on the first drawing on which its other end is found;
        no name is sure to be of one."""
        first = self.edge(home, tie.first)
        seconds = (self.edge(n, tie.second) for n in self.called(tie.second, home))
        second = next((edge for edge in seconds if edge is not None), None)
        if first is not None and second is not None:
            yield Said(first, second, tie.sewn)

    def called(self, end: End, home: int) -> list[int]:
        """The drawings of the name that the end gives."""
        if not end.drawing:
            return [home]
        return [n for n, d in enumerate(self.drawings) if d.path.name == end.drawing]

    def edge(self, home: int, end: End) -> EdgeKey | None:
        pieces = self.drawings[home].pieces
        number = edge_at(pieces[end.piece], end.at) if end.piece < len(pieces) else None
        return None if number is None else EdgeKey(self._offsets[home] + end.piece, number)

    def end(self, edge: EdgeKey, home: int) -> End:
        """The edge as the end of a tie that is kept with the drawing of that number."""
        piece, own = self.pieces[edge.piece], self.home[edge.piece]
        name = "" if own == home else self.drawings[own].path.name
        return End(edge.piece - self._offsets[own], point_on(piece, piece.edges[edge.number]), name)

    def in_sizes(self, said: Said) -> Iterator[Said]:
        """The same said of the other sizes of these pieces that have such edges."""
        own = {p.size for p in (self.pieces[e.piece] for e in said.edges)} - {""}
        if len(own) != 1:
            return
        for size in dict.fromkeys(p.size for p in self.pieces if p.size not in {"", *own}):
            first, second = (self._in_size(end, size) for end in (said.first, said.second))
            if first is not None and second is not None:
                yield Said(first, second, said.sewn)

    def _in_size(self, edge: EdgeKey, size: str) -> EdgeKey | None:
        """That edge of the same piece in another size; of one in no size, the edge itself."""
        piece, home = self.pieces[edge.piece], self.home[edge.piece]
        if not piece.size:
            return edge
        for other in self.pieces:
            there = self.home[other.key] == home
            if there and (other.size, other.title) == (size, piece.title):
                number = edge_alike(piece, edge.number, other)
                return None if number is None else EdgeKey(other.key, number)
        return None


def ties_now(
    drawings: Sequence[Drawing], home: int, now: Mapping[int, Piece], names: Mapping[int, str]
) -> tuple[Tie, ...]:
    """The ties of one of the drawings as they are to be kept with what became of it.

    Their ends lie on the changed pieces, `now` by key; other drawings are called by their new
    `names`, by their number in the row.
    """
    row = _Row(drawings)

    def moved(end: End) -> End:
        there = next(iter(row.called(end, home)), None)
        if there is None:
            return end
        edge = row.edge(there, end)
        name = names.get(there, end.drawing) if end.drawing else ""
        piece = now.get(edge.piece) if edge else None
        at = point_on(piece, piece.edges[edge.number]) if edge and piece else end.at
        return replace(end, at=at, drawing=name)

    return tuple(
        replace(t, first=moved(t.first), second=moved(t.second)) for t in drawings[home].ties
    )


def sizes_alike(drawings: Sequence[Drawing], a: EdgeKey, b: EdgeKey) -> int:
    """In how many other sizes there are such two edges."""
    return sum(1 for _ in _Row(drawings).in_sizes(Said(a, b, sewn=True)))


def with_tie(
    drawings: Sequence[Drawing], a: EdgeKey, b: EdgeKey, *, sewn: bool, every_size: bool = True
) -> tuple[Drawing, ...]:
    """The drawings in which it was said that both edges are sewn together, or are not.

    Kept with both drawings where they are two. `every_size` says it of the same two edges in
    all other sizes too, and takes back what was said of one of them before.
    """
    row, said = _Row(drawings), Said(a, b, sewn)
    others = {s.edges for s in row.in_sizes(said)} if every_size else set()
    wide = bool(others)
    meant = {said.edges} | others

    def stays(home: int, tie: Tie) -> bool:
        again = any(s.edges in meant for s in row.of(home, tie))
        return not again or (tie.every_size and not wide)

    def without(home: int, drawing: Drawing) -> Drawing:
        kept = tuple(tie for tie in drawing.ties if stays(home, tie))
        return drawing if kept == drawing.ties else replace(drawing, ties=kept)

    out = [without(n, d) for n, d in enumerate(drawings)]
    homes = dict.fromkeys((row.home[a.piece], row.home[b.piece]))
    for home, (first, second) in zip(homes, ((a, b), (b, a)), strict=False):
        tie = Tie(row.end(first, home), row.end(second, home), sewn, every_size=wide)
        out[home] = replace(out[home], ties=(*out[home].ties, tie))
    return tuple(out)
