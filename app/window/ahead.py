"""Worked out beside the window before a state is shown. Knows nothing of Qt."""

from __future__ import annotations

from app.window.document import State
from app.window.findings import doubts_of
from app.window.outcome import Outcome, outcome
from app.window.table.coarse import kept_flat


def work_out(state: State) -> Outcome:
    """The outcome; and found once, so that it is there when it is asked for, all else that is
    seen of a state at once and takes long to find.
    """
    sheets = state.sheets
    _ = sheets.mates, sheets.over, sheets.spots
    found = outcome(state)
    now = (altered.piece for altered in found.altered.values())
    for piece in (*sheets.pieces.values(), *now):
        kept_flat(piece.outline.ring)
        _ = piece.edge_lengths
    doubts_of(state)
    return found
