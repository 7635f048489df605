"""Names and writing that lie over no line, on paper and on the table."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from app.paper.pattern import NAME_MM, name_place
from app.window.ask import Leave
from app.window.document import AtLevel, EdgeId
from app.window.length_box import HINT, HINT_EACH
from app.window.main import MainWindow
from app.window.table.notes import notes_for
from app.window.table.rect import Rect
from app.window.way.mouse_box import ALONE, NONE_SEWN
from app.window.way.stage import Stage
from core.curve import Chain
from core.files import read
from core.piece.model import Kind
from tests.app.hands import Answers

SAMPLES = Path(__file__).parents[2] / "sample_pieces"
APRON = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="600mm" height="1100mm" viewBox="0 0 600 1100">'
    '<g id="apron-front"><path d="M50,120 C90,140 130,140 160,100 L280,130 C260,200 270,260 320,300'
    ' L300,480 C300,600 360,900 400,1020 C280,1055 160,1060 50,1060 Z"/>'
    '<path class="grain" d="M120,400 V800"/><text x="130" y="600">cut 1 folded</text>'
    "</g></svg>"
)


@pytest.mark.parametrize("name", ["allotment_shorts.svg", "barrow_trousers.dxf"])
def test_on_the_sheets_a_name_lies_over_no_grain_line(qapp: object, name: str) -> None:
    """Over the grain it hid the line by which the piece is laid on the cloth."""
    for piece in read(SAMPLES / name).pieces:
        at = name_place(piece)
        half = np.array((NAME_MM * 0.3 * len(piece.name), NAME_MM / 2))
        for mark in piece.marks:
            if mark.kind is Kind.GRAIN and isinstance(mark.geometry, Chain):
                row = mark.geometry.flattened(tolerance=0.1)
                steps = np.linspace(row[:-1], row[1:], 200).reshape(-1, 2)
                off = (abs(steps - (at.x, at.y)) / half).max(axis=1)
                assert float(off.min()) > 1.0, f"{piece.name} is written across the grain"


def test_writing_beside_the_grain_goes_on_to_the_right_of_its_place(
    window: MainWindow, tmp_path: Path
) -> None:
    """About its place there was no room for it, and who cuts did not read it."""
    path = tmp_path / "apron.svg"
    path.write_text(APRON)
    window.opening.open([path])
    table, session = window.table, window.session
    room = Rect(0.0, 0.0, float(table.width()), float(table.height()))
    notes = notes_for(table.sights, table.view, room, session.shown)
    assert ("cut 1 folded",) in [note.lines for note in notes.labels]


def test_the_level_of_a_piece_that_goes_by_its_mate_is_told_in_tenths(shorts: MainWindow) -> None:
    shorts.session.set_level(AtLevel(315.0))
    shorts.session.set_by(60.0)
    table, session = shorts.table, shorts.session
    room = Rect(0.0, 0.0, float(table.width()), float(table.height()))
    notes = notes_for(table.sights, table.view, room, session.shown)
    assert sorted(notes.levels.values()) == ["31.5 cm", "33.2 cm"]


def test_where_nothing_is_sewn_together_a_sentence_says_so_in_the_place_of_a_list(
    shorts: MainWindow, answers: Answers, tmp_path: Path
) -> None:
    box = shorts.pages.edges.mouse
    shorts.way.go(Stage.EDGES)
    assert box.list.isVisible()
    for _ in range(box.list.count()):
        box.list.setCurrentRow(0)
        box.apart.click()
    assert not box.list.isVisible()
    assert box.together.text() == NONE_SEWN
    answers.leave = Leave.DISCARD
    shorts.clear()
    path = tmp_path / "apron.svg"
    path.write_text(APRON)
    shorts.opening.open([path])
    assert box.together.text() == ALONE


def test_of_a_long_name_the_beginning_is_seen(shorts: MainWindow) -> None:
    which = next(iter(shorts.session.settled.sheets.pieces))
    box = shorts.pages.edges.tools.name
    shorts.way.go(Stage.EDGES)
    shorts.session.select(EdgeId(which, 0))
    box.setFocus()
    box.selectAll()
    box.insert("Front of the shorts for the shared kitchen garden")
    box.setModified(True)
    box.editingFinished.emit()
    assert box.text().startswith("Front of the shorts")
    assert box.cursorPosition() == 0


def test_on_the_hem_of_a_size_with_its_own_amount_stands_that_amount(
    window: MainWindow, tmp_path: Path
) -> None:
    """There stood 0.0 cm on a hem that had come down by 7 cm."""
    path = tmp_path / "breeches.svg"
    path.write_bytes((SAMPLES / "rain_breeches.svg").read_bytes())
    window.opening.open([path])
    state = window.session.settled.for_each_size(on=True)
    for size, mm in (("36", 50.0), ("44", 70.0)):
        state = state.with_amount(size, mm)
    window.session.attempt(state)
    table = window.table
    room = Rect(0.0, 0.0, float(table.width()), float(table.height()))
    notes = notes_for(table.sights, table.view, room, window.session.shown)
    assert {notes.amounts[which] for which in notes.grips} == {"+7.0 cm"}
    assert window.page.length.said.text() == HINT_EACH
    window.session.attempt(state.for_each_size(on=False))
    assert window.page.length.said.text() == HINT
