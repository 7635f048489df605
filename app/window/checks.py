"""What a careful maker checks once a change is made; too slow for each frame of a drag.

Knows nothing of Qt.
"""

from __future__ import annotations

from functools import lru_cache

from app.window.document import PieceId, State
from app.window.findings import SIGNS, Told
from app.window.outcome import outcome
from core.alter.lengthen import lengthen
from core.alter.model import Altered, Change, Finding
from core.check.careful import check_all
from core.check.seams import mates_of
from core.piece.mates import Mates


# A state is its own key by identity, as for its outcome.
@lru_cache(maxsize=16)
def checked(state: State) -> tuple[Told, ...]:
    """All of it, of the pieces that changed and of those that they are sewn to."""
    result = outcome(state)
    if state.by_mm == 0.0 or not result.altered:
        return ()
    altered = _with_partners(state, list(result.altered.values()))
    mates = _mates(state, altered)
    ids = {piece.key: which for which, piece in state.sheets.pieces.items()}
    return tuple(_told(f, ids) for f in check_all(altered, mates=mates))


def _with_partners(state: State, altered: list[Altered]) -> list[Altered]:
    """With the pieces that stay as they are and are sewn to one that does not."""
    keys = {a.before.key for a in altered}
    pairs = [{m.first[0], m.second[0]} for m in state.sheets.mates]
    partners = set().union(*(pair for pair in pairs if pair & keys)) - keys
    still = [p for p in state.sheets.pieces.values() if p.key in partners]
    return sorted((*altered, *(lengthen(p, Change(0.0)) for p in still)), key=_key)


def _key(altered: Altered) -> int:
    return altered.before.key


def _mates(state: State, altered: list[Altered]) -> tuple[Mates, ...]:
    """Those of the table, and a sleeve's two seams that are sewn to each other."""
    own = (m for m in mates_of(altered) if m.first == m.second)
    return (*state.sheets.mates, *own)


def _told(finding: Finding, ids: dict[int, PieceId]) -> Told:
    which = None if finding.piece is None else ids[finding.piece.key]
    return Told(SIGNS[finding.severity], finding.sentence, which, finding.place)
