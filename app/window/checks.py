"""What a careful maker checks once a change is made; too slow for each frame of a drag.

Knows nothing of Qt.
"""

from __future__ import annotations

from functools import lru_cache

from app.window.document import PieceId, State
from app.window.findings import SIGNS, Told
from app.window.outcome import outcome
from core.alter.model import Finding
from core.check.careful import check_all, with_partners
from core.check.seams import with_own


# A state is its own key by identity, as for its outcome.
@lru_cache(maxsize=16)
def checked(state: State) -> tuple[Told, ...]:
    """All of it, of the pieces that changed and of those that they are sewn to."""
    result = outcome(state)
    if state.nothing or not result.altered:
        return ()
    mates, pieces = state.sheets.mates, state.sheets.pieces
    altered = with_partners(tuple(result.altered.values()), tuple(pieces.values()), mates=mates)
    ids = {piece.key: which for which, piece in pieces.items()}
    return tuple(_told(f, ids) for f in check_all(altered, mates=with_own(mates, altered)))


def _told(finding: Finding, ids: dict[int, PieceId]) -> Told:
    which = None if finding.piece is None else ids[finding.piece.key]
    return Told(SIGNS[finding.severity], finding.sentence, which, finding.place)
