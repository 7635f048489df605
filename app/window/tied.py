"""Which edges on the table are sewn together: what a person says of them, and what is kept.

Knows nothing of Qt.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from app.window.document import EdgeId, PieceId, Sheet, Sheets, State
from core.piece.mates import EdgeKey
from core.piece.model import Piece

if TYPE_CHECKING:
    from core.files.drawing import Drawing


def with_tie(state: State, a: EdgeId, b: EdgeId, *, sewn: bool, every_size: bool = True) -> State:
    """The state in which it was said that both edges are sewn together, or are not; of a
    pattern in several sizes, in every size."""
    from core.files.sewn import with_tie as tied

    ends = _key(state, a), _key(state, b)
    drawings = tied(state.sheets.drawings, *ends, sewn=sewn, every_size=every_size)
    sheets = (
        sheet if drawing is sheet.drawing else replace(sheet, drawing=drawing)
        for sheet, drawing in zip(state.sheets.all, drawings, strict=True)
    )
    return replace(state, sheets=Sheets(tuple(sheets)))


def other_sizes(state: State, a: EdgeId, b: EdgeId) -> int:
    """In how many other sizes the same two edges are."""
    from core.files.sewn import sizes_alike

    return sizes_alike(state.sheets.drawings, _key(state, a), _key(state, b))


def _key(state: State, edge: EdgeId) -> EdgeKey:
    return EdgeKey(state.piece(edge.piece).key, edge.number)


def to_keep(
    state: State,
    sheet: Sheet,
    drawing: Drawing,
    *,
    now: Mapping[int, Piece],
    names: Mapping[int, str],
) -> Drawing:
    """`drawing` (the sheet's own, or what became of it) with all that is to be kept beside it:
    which pieces are left alone, the ties on the pieces as they are in it, and the scale that was
    said to be right. `now` has the changed pieces of all sheets by key, `names` what the files of
    the sheets are called.
    """
    from core.files.sewn import ties_now

    keys = [p.key for p in sheet.drawing.pieces]
    alone = tuple(k for k, key in enumerate(keys) if PieceId(sheet.number, key) in state.off)
    numbers = [s.number for s in state.sheets.all]
    called = {k: names[n] for k, n in enumerate(numbers) if n in names}
    ties = ties_now(state.sheets.drawings, numbers.index(sheet.number), now, called)
    doubtful = not drawing.unit.because.sure and sheet.number in state.proved
    unit = drawing.unit.mm_per_unit if doubtful else drawing.told_unit
    return replace(drawing, ties=ties, alone=alone, told_unit=unit)
