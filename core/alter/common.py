"""What is drawn once for several sizes: it can only go one way."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from core.alter.model import Altered, Finding, Severity
from core.curve import Point
from core.piece.model import Mark, Piece
from core.piece.sizes import owners


def keep_common(done: Sequence[Altered], beside: Sequence[Piece] = ()) -> tuple[Altered, ...]:
    """The altered pieces, with every mark that is drawn once for several of them the same in all.

    It is where it is on the largest of the pieces on which it lies, altered or not; `beside`
    are those that stay. That piece is told where the others would have had it elsewhere.
    """
    before = [*(a.before for a in done), *beside]
    after = {a.before.key: a.piece for a in done} | {p.key: p for p in beside}
    told: dict[int, list[Finding]] = defaultdict(list)
    settled: dict[int, dict[int, Mark | None]] = defaultdict(dict)
    for mark, holders in _shared(before):
        leading = holders[-1]
        versions = [_version(after[p.key], mark) for p in holders]
        if all(_same(v, versions[-1]) for v in versions):
            continue
        for piece in holders[:-1]:
            settled[piece.key][mark.shape] = versions[-1]
        told[_teller(leading, holders, done)].append(_finding(mark, leading))
    return tuple(_settled(a, settled[a.before.key], told[a.before.key]) for a in done)


def _shared(pieces: Sequence[Piece]) -> Iterator[tuple[Mark, tuple[Piece, ...]]]:
    """Each mark that several pieces share, with those pieces, the largest last."""
    # The very same geometry: shapes of two files may bear the same number.
    holders: dict[int, tuple[Mark, list[Piece]]] = {}
    for piece in pieces:
        for mark in piece.marks if piece.size else ():
            holders.setdefault(id(mark.geometry), (mark, []))[1].append(piece)
    for mark, some in holders.values():
        if len(some) > 1:
            yield mark, tuple(owners(some))


def _version(piece: Piece, mark: Mark) -> Mark | None:
    return next((m for m in piece.marks if m.shape == mark.shape), None)


def _same(a: Mark | None, b: Mark | None) -> bool:
    return a is b or (a is not None and b is not None and a.geometry == b.geometry)


def _teller(leading: Piece, holders: Sequence[Piece], done: Sequence[Altered]) -> int:
    """The altered piece that tells of it: the leading one, or the largest that is altered."""
    altered = {a.before.key for a in done}
    return next((p.key for p in reversed(holders) if p.key in altered), leading.key)


def _finding(mark: Mark, leading: Piece) -> Finding:
    what = f"{mark.kind.value} “{mark.text.splitlines()[0]}”" if mark.text else mark.kind.value
    place = mark.geometry if isinstance(mark.geometry, Point) else mark.geometry.start
    return Finding(
        Severity.NOTE,
        f"{leading.title}: the {what} is drawn once for several sizes. It stays with size"
        f" {leading.size}, the largest; look at it on the others.",
        place,
    )


def _settled(
    altered: Altered, marks: Mapping[int, Mark | None], told: Sequence[Finding]
) -> Altered:
    if not marks and not told:
        return altered
    kept = [marks.get(m.shape, m) for m in altered.piece.marks]
    there = {m.shape for m in altered.piece.marks}
    # What this size would have lost is kept where the largest keeps it.
    back = [m for shape, m in marks.items() if shape not in there]
    found = tuple(m for m in (*kept, *back) if m is not None)
    return replace(
        altered,
        piece=replace(altered.piece, marks=found),
        findings=(*altered.findings, *told),
    )
