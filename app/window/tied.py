"""Which edges are sewn together: as recognised, and as a person said. Knows nothing of Qt."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from app.window.document import EdgeId, PieceId, Sheet, State
from core.piece.correct import SAID
from core.piece.mates import EdgeKey, Mates
from core.piece.model import Piece

if TYPE_CHECKING:
    from core.files.drawing import Drawing
    from core.files.ties import End, Tie


class Tied(NamedTuple):
    """Two edges on the table of which a person said whether they are sewn together."""

    first: EdgeId
    second: EdgeId
    sewn: bool

    @property
    def edges(self) -> frozenset[EdgeId]:
        return frozenset((self.first, self.second))


def tied_in(sheets: Sequence[Sheet]) -> tuple[Tied, ...]:
    """All that was said, of edges that are on the table; each two edges once."""
    found = {
        tied.edges: tied for s in sheets for t in s.drawing.ties for tied in _tied(s, t, sheets)
    }
    return tuple(found.values())


def _tied(sheet: Sheet, tie: Tie, sheets: Sequence[Sheet]) -> Iterator[Tied]:
    """On the first sheet on which the other end is found; no name is sure to be of one file."""
    first = _edge(sheet, tie.first)
    named = tie.second.drawing
    homes = [s for s in sheets if s.drawing.path.name == named] if named else [sheet]
    seconds = (e for e in (_edge(home, tie.second) for home in homes) if e is not None)
    second = next(seconds, None)
    if first is not None and second is not None:
        yield Tied(first, second, tie.sewn)


def _edge(sheet: Sheet, end: End) -> EdgeId | None:
    from core.files.ties import edge_at

    pieces = sheet.drawing.pieces
    if end.piece >= len(pieces):
        return None
    piece = pieces[end.piece]
    number = edge_at(piece, end.at)
    return None if number is None else EdgeId(PieceId(sheet.number, piece.key), number)


def with_said(
    found: Iterable[Mates], said: Iterable[Tied], pieces: Mapping[PieceId, Piece]
) -> tuple[Mates, ...]:
    """The recognised mates with what a person said put in their place."""
    by_key = {p.key: p for p in pieces.values()}
    said = tuple(said)
    told = [(_keys(t, pieces), t) for t in said]
    apart = {frozenset(keys) for keys, t in told if not t.sewn}
    sewn = {key for keys, t in told if t.sewn for key in keys}
    kept = []
    for pair in found:
        ends = pair.edges(by_key)
        if ends is None or (frozenset(ends) not in apart and not sewn & set(ends)):
            kept.append(pair)
    return (*(_mates(t, pieces) for _, t in told if t.sewn), *kept)


def _keys(tied: Tied, pieces: Mapping[PieceId, Piece]) -> tuple[EdgeKey, EdgeKey]:
    a, b = (EdgeKey(pieces[e.piece].key, e.number) for e in (tied.first, tied.second))
    return a, b


def _mates(tied: Tied, pieces: Mapping[PieceId, Piece]) -> Mates:
    (a, b) = _keys(tied, pieces)
    first, second = (
        (key.piece, pieces[e.piece].edges[e.number].role)
        for key, e in ((a, tied.first), (b, tied.second))
    )
    return Mates(first, second, SAID, (a.number, b.number))


def with_tie(state: State, a: EdgeId, b: EdgeId, *, sewn: bool) -> State:
    """The state in which it was said that both edges are sewn together, or are not."""
    sheets = state.sheets
    for first, second in ((a, b), (b, a)):
        sheet = state.sheet(first.piece.sheet)
        both_here = a.piece.sheet == b.piece.sheet
        if both_here and first == b:
            break
        drawing = _without(sheet, {a, b}, sheets.all)
        tie = _tie(state, first, second, sewn=sewn)
        drawing = replace(drawing, ties=(*drawing.ties, tie))
        sheets = sheets.with_sheet(replace(sheet, drawing=drawing))
    return replace(state, sheets=sheets)


def _without(sheet: Sheet, edges: set[EdgeId], sheets: Sequence[Sheet]) -> Drawing:
    """The sheet's drawing without what was said before of these two edges."""
    kept = tuple(
        tie
        for tie in sheet.drawing.ties
        if all(t.edges != frozenset(edges) for t in _tied(sheet, tie, sheets))
    )
    return replace(sheet.drawing, ties=kept)


def _tie(state: State, first: EdgeId, second: EdgeId, *, sewn: bool) -> Tie:
    from core.files.ties import Tie

    home = first.piece.sheet
    return Tie(_end(state, first, home), _end(state, second, home), sewn)


def _end(state: State, which: EdgeId, home: int) -> End:
    from core.files.ties import End, point_on

    sheet = state.sheet(which.piece.sheet)
    keys = [p.key for p in sheet.drawing.pieces]
    piece = state.read_piece(which.piece)
    name = "" if sheet.number == home else sheet.drawing.path.name
    at = point_on(piece, piece.edges[which.number])
    return End(keys.index(which.piece.key), at, name)


def to_keep(
    state: State,
    sheet: Sheet,
    drawing: Drawing,
    *,
    now: Mapping[PieceId, Piece],
    names: Mapping[int, str],
) -> Drawing:
    """`drawing` (the sheet's own, or what became of it) with all that is to be kept beside it:
    which pieces are left alone, and the ties on the pieces as they are in it. `now` has the
    changed pieces of all sheets, `names` what the files of the sheets are called.
    """
    keys = [p.key for p in sheet.drawing.pieces]
    alone = tuple(k for k, key in enumerate(keys) if PieceId(sheet.number, key) in state.off)
    ties = tuple(_moved(tie, sheet, state, now, names) for tie in sheet.drawing.ties)
    return replace(drawing, ties=ties, alone=alone)


def _moved(
    tie: Tie,
    sheet: Sheet,
    state: State,
    now: Mapping[PieceId, Piece],
    names: Mapping[int, str],
) -> Tie:
    """The tie with its ends on the changed pieces, and the other file by its new name."""
    ends = []
    for end in (tie.first, tie.second):
        named = end.drawing
        homes = [s for s in state.sheets.all if s.drawing.path.name == named] if named else [sheet]
        if not homes:
            ends.append(end)
            continue
        home = homes[0]
        name = names.get(home.number, named) if named else ""
        ends.append(replace(_end_now(end, home, now), drawing=name))
    return replace(tie, first=ends[0], second=ends[1])


def _end_now(end: End, home: Sheet, now: Mapping[PieceId, Piece]) -> End:
    from core.files.ties import point_on

    which = _edge(home, end)
    if which is None or which.piece not in now:
        return end
    piece = now[which.piece]
    return replace(end, at=point_on(piece, piece.edges[which.number]))
