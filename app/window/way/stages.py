"""The stages of the work in their order, and how far each of them is. Knows nothing of Qt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum

from app.window.document import Sheet, State
from app.window.findings import Sign, Told, doubts_of
from app.window.lengths import Shown, with_unit
from app.window.outcome import outcome
from app.window.way.stage import Stage
from core.measure import MM_PER_INCH


class Mark(Enum):
    """How far a stage is, as a sign that needs no colour."""

    DONE = "✓"
    LOOK = "?"
    OPEN = ""


@dataclass(frozen=True)
class Standing:
    """How far a stage is, and in a few words why."""

    mark: Mark
    words: str


def standings(
    state: State, shown: Shown, checks: Sequence[Told] | None, *, saved: bool
) -> Mapping[Stage, Standing]:
    """Of every stage. `checks` is what was found by walking the seams, None before it was."""
    return {
        Stage.PIECES: _pieces(state),
        Stage.SCALE: _scale(state),
        Stage.EDGES: _edges(state),
        Stage.LENGTH: _length(state, shown),
        Stage.CHECK: _check(state, checks),
        Stage.PAPER: Standing(Mark.DONE, "saved") if saved else Standing(Mark.OPEN, "not saved"),
    }


def _pieces(state: State) -> Standing:
    count, pairs = len(state.sheets.pieces), len(_pairs(state))
    if not count:
        return Standing(Mark.LOOK, "none found")
    if not state.altering:
        return Standing(Mark.LOOK, "none to change")
    pieces = "1 piece" if count == 1 else f"{count} pieces"
    if not pairs:
        return Standing(Mark.DONE, pieces)
    return Standing(Mark.DONE, f"{pieces}, {pairs} {'pair' if pairs == 1 else 'pairs'}")


def _pairs(state: State) -> set[frozenset[int]]:
    """Pairs of pieces that are sewn together."""
    both = (frozenset((m.first[0], m.second[0])) for m in state.sheets.mates)
    return {pair for pair in both if len(pair) == 2}


def _scale(state: State) -> Standing:
    sheets = state.sheets.all
    if any(not s.drawing.unit.because.sure and s.number not in state.proved for s in sheets):
        return Standing(Mark.LOOK, "not certain")
    if sheets and all(s.number in state.proved for s in sheets):
        return Standing(Mark.DONE, "proved")
    return Standing(Mark.OPEN, unit_words(sheets[0])) if sheets else Standing(Mark.OPEN, "")


def unit_words(sheet: Sheet) -> str:
    """How long one unit of the file is: ``1 unit is 1 mm``."""
    mm = sheet.drawing.unit.mm_per_unit
    inches = mm / MM_PER_INCH
    if abs(inches - round(inches)) < 1e-9 and round(inches):
        return f"1 unit is {round(inches)} in"
    return f"1 unit is {mm:.4g} mm"


def _edges(state: State) -> Standing:
    if not state.sheets.pieces:
        return Standing(Mark.OPEN, "no piece")
    count = len(doubts_of(state))
    if count:
        return Standing(Mark.LOOK, f"{count} to look at")
    return Standing(Mark.DONE, "all certain")


def _length(state: State, shown: Shown) -> Standing:
    if outcome(state).refusal is not None:
        return Standing(Mark.LOOK, "cannot be done")
    if state.nothing:
        return Standing(Mark.OPEN, "as it was")
    if state.more_by_size:
        return Standing(Mark.DONE, "each size its own")
    way = "longer" if state.by_mm > 0.0 else "shorter"
    return Standing(Mark.DONE, f"{with_unit(abs(state.by_mm), shown)} {way}")


def _check(state: State, checks: Sequence[Told] | None) -> Standing:
    if state.nothing or checks is None:
        return Standing(Mark.OPEN, "nothing yet")
    count = sum(t.sign in (Sign.LOOK, Sign.STOP) for t in checks)
    if count:
        return Standing(Mark.LOOK, f"{count} to look at")
    return Standing(Mark.DONE, "all well")
