"""What wants to be looked at, and what is well: one list out of everything. Without Qt."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import Enum

from app.window.document import EdgeId, PieceId, Sheets, State
from app.window.lengths import Shown, bare, in_unit
from app.window.outcome import Outcome, outcome
from core.alter.model import Severity
from core.curve import Point
from core.kept import kept
from core.measure import TRUED
from core.piece.mates import Mates
from core.piece.model import Piece, Role


class Sign(Enum):
    """What kind of finding it is, as a sign that needs no colour."""

    WELL = "✓"
    LOOK = "?"
    STOP = "!"
    NOTE = "•"


@dataclass(frozen=True)
class Told:
    """A sentence, and what it speaks of: an edge, or a place on a piece."""

    sign: Sign
    sentence: str
    piece: PieceId | None = None
    place: Point | None = None
    edge: EdgeId | None = None


SIGNS = {
    Severity.WELL: Sign.WELL,
    Severity.NOTE: Sign.NOTE,
    Severity.LOOK: Sign.LOOK,
    Severity.STOP: Sign.STOP,
}


def findings_of(
    state: State, shown: Shown, checks: tuple[Told, ...] | None = None
) -> tuple[Told, ...]:
    """All findings, the pressing ones first, mere figures last.

    `checks` is what was found by walking the seams once the change was made; as long as there
    is none, the lengths of the mates alone are told.
    """
    result = outcome(state)
    found = [
        *_refusal(result),
        *_grains(state),
        *_of_the_change(state, result),
        *_edges_in_doubt(state.sheets),
        *_unsure_darts(state),
        *_files(state, result),
        *(_mates(state, result, shown) if not checks else (*checks, *_unsure_mates(state, result))),
    ]
    once = list({(t.sentence, t.edge, t.place): t for t in reversed(found)}.values())[::-1]
    if not once and not state.empty:
        if checks is None and result.altered and not state.nothing:
            return (Told(Sign.NOTE, "The seams are being walked."),)
        return (Told(Sign.WELL, "Nothing here wants looking at."),)
    order = (Sign.STOP, Sign.LOOK, Sign.NOTE, Sign.WELL)
    figures = [t for t in once if checks and t in checks and t.sign is Sign.NOTE]
    rest = sorted((t for t in once if t not in figures), key=lambda t: order.index(t.sign))
    return tuple(replace(t, sentence=in_unit(t.sentence, shown)) for t in (*rest, *figures))


def doubts_of(state: State, *, every_size: bool = True) -> tuple[Told, ...]:
    """What was recognised and is not certain: grains, edges, darts, taper points, mates; once for
    all sizes in which it is the same, unless each size is looked at by itself."""
    return _doubts_in_sizes(state.sheets) if every_size else _doubts(state.sheets)


@kept(most=8)
def _doubts_in_sizes(sheets: Sheets) -> tuple[Told, ...]:
    """Of each doubt the one on the largest piece, which is the one that is named on the table."""
    names = {p.name: p.title for p in sheets.pieces.values() if p.size}
    rows: dict[tuple[str, int], list[Told]] = {}
    seen: Counter[tuple[str, str]] = Counter()
    for told in _doubts(sheets):
        sentence = without_sizes(told.sentence, names)
        # A piece may have two such edges in each size.
        number = seen[sentence, told.sentence]
        seen[sentence, told.sentence] += 1
        rows.setdefault((sentence, number), []).append(told)

    def area(told: Told) -> float:
        piece = None if told.piece is None else sheets.pieces[told.piece]
        return 0.0 if piece is None else abs(piece.ring.signed_area())

    return tuple(
        replace(max(row, key=area), sentence=_in_sizes(sentence, len(row)))
        if len(row) > 1
        else row[0]
        for (sentence, _), row in rows.items()
    )


def without_sizes(sentence: str, names: Mapping[str, str]) -> str:
    """With the title of a piece for its name in a size; ``Front 4`` is no part of ``Front 44``."""
    if not names:
        return sentence
    known = "|".join(map(re.escape, names))
    return re.sub(rf"(?<!\w)(?:{known})(?!\w)", lambda m: names[m[0]], sentence)


def _in_sizes(sentence: str, count: int) -> str:
    """``Front, in 3 sizes: check the grain.``"""
    head, colon, rest = sentence.partition(": ")
    return f"{head}, in {count} sizes{colon}{rest}"


# They are of what was read, whatever is made of it.
@kept(most=8)
def _doubts(sheets: Sheets) -> tuple[Told, ...]:
    state = State(sheets)
    return (
        *_grains(state),
        *_edges_in_doubt(sheets),
        *_unsure_darts(state),
        *_unsure_tapers(state),
        *(_mates_doubt(state, pair) for pair in sheets.mates if not pair.because.sure),
    )


def _refusal(result: Outcome) -> Iterator[Told]:
    if result.refusal is not None:
        yield Told(Sign.STOP, str(result.refusal))


def _grains(state: State) -> Iterator[Told]:
    for which, piece in state.sheets.pieces.items():
        if not piece.grain.because.sure:
            why = _sentence(piece.grain.because.why)
            middle = piece.outline.ring.bounds().centre
            yield Told(Sign.LOOK, f"{piece.name}: check the grain. {why}", which, middle)


def _of_the_change(state: State, result: Outcome) -> Iterator[Told]:
    for which, altered in result.altered.items():
        for f in altered.findings:
            if not _of_the_grain(state, f.sentence):
                yield Told(SIGNS[f.severity], f.sentence, which, f.place)


def _of_the_grain(state: State, sentence: str) -> bool:
    """Is that what is told of a piece's grain already?"""
    told = (names for why, names in _grains_in_doubt(state.sheets).items() if why in sentence)
    return any(sentence.startswith(names) for names in told)


@kept(most=8)
def _grains_in_doubt(sheets: Sheets) -> Mapping[str, tuple[str, ...]]:
    """The names of the pieces whose grain is not certain, by the reason, of which there are few."""
    out: dict[str, list[str]] = {}
    for piece in sheets.pieces.values():
        if not piece.grain.because.sure:
            out.setdefault(piece.grain.because.why, []).append(piece.name)
    return {why: tuple(names) for why, names in out.items()}


@kept(most=8)
def _edges_in_doubt(sheets: Sheets) -> tuple[Told, ...]:
    return tuple(_unsure_edges(sheets))


def _unsure_edges(sheets: Sheets) -> Iterator[Told]:
    for which, piece in sheets.pieces.items():
        for k, edge in enumerate(piece.edges):
            if not edge.because.sure and edge.role is not Role.OTHER:
                yield Told(
                    Sign.LOOK,
                    f"{piece.name}: is this the {edge.role.value}? {_sentence(edge.because.why)}",
                    which,
                    edge_middle(piece, k),
                    EdgeId(which, k),
                )


def _unsure_darts(state: State) -> Iterator[Told]:
    for which, piece in state.sheets.pieces.items():
        for dart in piece.darts:
            if not dart.because.sure:
                why = _sentence(dart.because.why)
                yield Told(Sign.LOOK, f"{piece.name}: is this a dart? {why}", which, dart.apex)


def _unsure_tapers(state: State) -> Iterator[Told]:
    for which, piece in state.sheets.pieces.items():
        for taper in (piece.hem.first, piece.hem.last) if piece.hem else ():
            if not taper.because.sure:
                told = f"{piece.name}: check this taper point. {_sentence(taper.because.why)}"
                yield Told(Sign.LOOK, told, which, piece.ring.at(taper.place))


def _files(state: State, result: Outcome) -> Iterator[Told]:
    for sheet in state.sheets.all:
        for problem in sheet.drawing.problems:
            if not _of_the_grain(state, problem) and not _of_a_taper(result, problem):
                yield Told(Sign.NOTE if sheet.drawing.pieces else Sign.LOOK, problem)
        unit = sheet.drawing.unit
        if not unit.because.sure:
            name = sheet.drawing.path.name
            yield Told(Sign.LOOK, f"{name}: check the scale. {_sentence(unit.because.why)}")


def _of_a_taper(result: Outcome, problem: str) -> bool:
    """Is that what the change tells of a taper point already?"""
    for altered in result.altered.values():
        hem, name = altered.before.hem, altered.before.name
        whys = [t.because.why for t in (hem.first, hem.last) if not t.because.sure] if hem else []
        told = any(why in f.sentence for why in whys for f in altered.findings)
        if told and problem.startswith(f"{name}: a taper point"):
            return True
    return False


def _mates(state: State, result: Outcome, shown: Shown) -> Iterator[Told]:
    """Each pair of sewn edges: do they still differ by what they differed?"""
    keys = {piece.key: which for which, piece in state.sheets.pieces.items()}
    for pair in state.sheets.mates:
        names = [keys[pair.first[0]], keys[pair.second[0]]]
        if any(n in result.altered for n in names):
            yield _mated(state, result, pair, (names[0], names[1]), shown)


def _mated(
    state: State, result: Outcome, pair: Mates, ids: tuple[PieceId, PieceId], shown: Shown
) -> Told:
    role = pair.first[1]
    ends = pair.edges({state.piece(which).key: state.piece(which) for which in ids})
    assert ends is not None, "a pair on the table is of edges on the table"
    (a0, a1), (b0, b1) = (
        _lengths(state, result, which, end.number) for which, end in zip(ids, ends, strict=True)
    )
    names = " and ".join(state.piece(which).name for which in ids)
    now = f"{_kept_together(a1, shown)} and {_kept_together(b1, shown)}"
    if abs((a1 - b1) - (a0 - b0)) <= TRUED:
        sign = Sign.WELL if pair.because.sure else Sign.LOOK
        doubt = "" if pair.because.sure else f" Are they sewn together? {pair.because.why}."
        return Told(sign, f"{names}: the {role.value}s go together, {now}.{doubt}")
    off = _kept_together(abs((a1 - b1) - (a0 - b0)), shown)
    return Told(Sign.LOOK, f"{names}: the {role.value}s no longer match, by {off} ({now}).")


def _unsure_mates(state: State, result: Outcome) -> Iterator[Told]:
    """Pairs that the change concerns, of which it is not certain that they are sewn together."""
    for pair in state.sheets.mates:
        ids = (_piece_of(state, pair.first[0]), _piece_of(state, pair.second[0]))
        if not pair.because.sure and any(i in result.altered for i in ids):
            yield _mates_doubt(state, pair)


def _mates_doubt(state: State, pair: Mates) -> Told:
    ids = (_piece_of(state, pair.first[0]), _piece_of(state, pair.second[0]))
    names = " and ".join(state.piece(i).name for i in ids)
    why = _sentence(pair.because.why)
    return Told(Sign.LOOK, f"{names}: are the {pair.first[1].value}s sewn together? {why}")


def _piece_of(state: State, key: int) -> PieceId:
    return next(which for which, p in state.sheets.pieces.items() if p.key == key)


def _kept_together(mm: float, shown: Shown) -> str:
    """A length that no line break tears apart."""
    return f"{bare(mm, shown)} {shown.sign}".replace(" ", "\u00a0")


def _lengths(state: State, result: Outcome, which: PieceId, index: int) -> tuple[float, float]:
    """Length of the edge of that number before and after, in mm."""
    piece = state.piece(which)
    altered = result.altered.get(which)
    if altered is None:
        length = piece.edge_length(piece.edges[index])
        return length, length
    figure = altered.figures.edges[index]
    return figure.before_mm, figure.after_mm


def edge_middle(piece: Piece, index: int) -> Point:
    """A point in the middle of the edge."""
    chain = piece.edge_chain(piece.edges[index])
    return chain.at(chain.at_length(chain.length() / 2))


def _sentence(why: str) -> str:
    """The reason with a capital and a full stop."""
    return f"{why[:1].upper()}{why[1:].rstrip('.')}."
