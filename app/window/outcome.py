"""What comes of a state: worked out when asked for, never stored. Knows nothing of Qt."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from app.window.document import PieceId, Sheet, Sheets, State
from core.alter.common import keep_common
from core.alter.level.together import insert_together
from core.alter.model import Altered
from core.alter.sizes import alter_sizes
from core.errors import AlterationError
from core.kept import kept
from core.piece.model import Piece

if TYPE_CHECKING:
    from core.files.drawing import Drawing

# How near, in mm, the largest amount that works is looked for.
NEARNESS = 0.1


@dataclass(frozen=True)
class Outcome:
    """The altered pieces; or, when the change is not possible, why not (and none is altered)."""

    altered: Mapping[PieceId, Altered] = field(default_factory=dict)
    refusal: AlterationError | None = None


# A state is its own key by identity; the last few are those that undo goes between.
@lru_cache(maxsize=16)
def outcome(state: State) -> Outcome:
    """All pieces of the state changed together, so that mates still match."""
    part = _taking_part(state.sheets, state.off, state.draft)
    try:
        done = _altered(part, state)
    except AlterationError as refusal:
        return Outcome(refusal=refusal)
    return Outcome(dict(zip(part.ids, done, strict=True)))


class _Part(NamedTuple):
    """The pieces that take part in a change, and those beside them."""

    ids: tuple[PieceId, ...]
    pieces: tuple[Piece, ...]
    beside: tuple[Piece, ...]


# The very same pieces in each frame of a drag: what is known of them is found by that.
@kept(most=16)
def _taking_part(sheets: Sheets, off: frozenset[PieceId], draft: bool) -> _Part:
    state = State(sheets, off=off, draft=draft)
    ids = state.altering
    beside = sheets.pieces.keys() - set(ids)
    return _Part(ids, *(tuple(map(state.changeable, some)) for some in (ids, beside)))


def _altered(part: _Part, state: State) -> tuple[Altered, ...]:
    pieces, beside = part.pieces, part.beside
    at_level = state.change_at_level
    if at_level is not None:
        together = insert_together(pieces, at_level, mates=state.sheets.mates)
        return keep_common(together, beside)
    return alter_sizes(pieces, state.changes, mates=state.sheets.mates, beside=beside)


def piece_now(state: State, which: PieceId) -> Piece:
    """The piece after the change."""
    altered = outcome(state).altered.get(which)
    return altered.piece if altered else state.piece(which)


def finished(state: State, sheet: Sheet) -> Drawing:
    """The sheet's drawing with its altered pieces; AlterationError when there can be none."""
    result = outcome(state)
    if result.refusal is not None:
        raise result.refusal
    changed = [
        replace(altered.piece, key=which.key)
        for which, altered in result.altered.items()
        if which.sheet == sheet.number and altered.piece is not altered.before
    ]
    return sheet.drawing.with_pieces(changed)


class Landed(NamedTuple):
    """Where a wish for an amount ended: the state, and why it is not what was wished."""

    state: State
    refusal: str


class Reach:
    """Finds the largest possible amount, and remembers it for as long as one gesture lasts."""

    def __init__(self, start: State) -> None:
        self._start = start
        self._good = {1: 0.0, -1: 0.0}
        self._bad = {1: math.inf, -1: math.inf}
        self._why = {1: "", -1: ""}
        self._landed: dict[float, Landed] = {}

    def towards(self, by_mm: float) -> Landed:
        """The state for `by_mm`, or for the nearest amount on the way there that works.

        The same one when asked again: a hand that moves within a step changes nothing.
        """
        if by_mm not in self._landed:
            self._landed[by_mm] = self._land(by_mm)
        return self._landed[by_mm]

    def _land(self, by_mm: float) -> Landed:
        side = -1 if by_mm < 0.0 else 1
        if abs(by_mm) < self._bad[side]:
            wished = self._start.by(by_mm)
            refusal = outcome(wished).refusal
            if refusal is None:
                self._good[side] = max(self._good[side], abs(by_mm))
                return Landed(wished, "")
            if refusal.limit_mm is None and not self._works(side, 0):
                return Landed(wished, str(refusal))
            self._narrow(side, abs(by_mm), refusal)
        return Landed(self._start.by(side * self._good[side]), self._why[side])

    def _narrow(self, side: int, refused: float, refusal: AlterationError) -> None:
        """Halves what is left between the largest amount that works and the least that does not."""
        low, high = math.floor(self._good[side] / NEARNESS), math.ceil(refused / NEARNESS)
        if refusal.limit_mm is not None:
            # The limit itself is the first amount that does not work.
            hint = math.ceil(refusal.limit_mm / NEARNESS) - 1
            if low < hint < high:
                low, high = (hint, hint + 1) if self._works(side, hint) else (low, hint)
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (middle, high) if self._works(side, middle) else (low, middle)
        self._good[side] = max(self._good[side], low * NEARNESS)
        self._bad[side], self._why[side] = high * NEARNESS, str(refusal)

    def _works(self, side: int, steps: int) -> bool:
        return outcome(self._start.by(side * steps * NEARNESS)).refusal is None
