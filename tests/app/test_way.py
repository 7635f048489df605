"""The way through the work: the rail, its pages, the tape, and what leads on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.window import theme
from app.window.main import MainWindow
from app.window.way.stage import Stage
from app.window.way.stages import Mark, Standing, standings
from core.piece.model import Because
from tests.app.hands import Keys, move, press, release, type_length

LEFT = Qt.MouseButton.LeftButton
SAMPLE = Path(__file__).parents[2] / "sample_pieces" / "allotment_shorts.svg"


def click(window: MainWindow, stage: Stage) -> None:
    QTest.mouseClick(window.rail.buttons[stage], LEFT)


def standing(window: MainWindow, stage: Stage) -> Standing:
    return window.rail.buttons[stage].standing


def test_one_can_jump_to_each_stage_and_sees_its_page(both: MainWindow) -> None:
    for stage in Stage:
        click(both, stage)
        assert both.way.now is stage
        checked = [s for s, b in both.rail.buttons.items() if b.isChecked()]
        assert checked == [stage], f"wanted {stage} alone on the rail, got {checked}"
        assert both.tape.isVisible() is (stage is Stage.LENGTH)
    assert both.pages.paper.isVisible()
    assert not both.pages.length.isVisible()


def test_the_foot_leads_through_all_stages_and_saves_at_the_end(
    both: MainWindow, answers: object
) -> None:
    click(both, Stage.PIECES)
    seen = [both.way.now]
    for _ in range(len(Stage) - 1):
        QTest.mouseClick(both.foot.onward, LEFT)
        seen.append(both.way.now)
    assert seen == list(Stage)
    QTest.mouseClick(both.foot.onward, LEFT)
    assert getattr(answers, "asked", [])[-1] in ("save", "folder")


@pytest.mark.parametrize("stage", Stage)
def test_keys_reach_every_stage(both: MainWindow, stage: Stage) -> None:
    both.activateWindow()
    both.table.setFocus()
    QTest.keyClick(both, getattr(Qt.Key, f"Key_{stage.number}"), Keys.ControlModifier)
    assert both.way.now is stage


def test_the_rail_says_how_far_each_stage_is(both: MainWindow) -> None:
    assert standing(both, Stage.LENGTH) == Standing(Mark.OPEN, "as it was")
    type_length(both, "6 cm")
    both.page.findings.check()
    assert standing(both, Stage.LENGTH) == Standing(Mark.DONE, "6.0 cm longer")
    assert standing(both, Stage.CHECK).mark is Mark.LOOK, "the legs here have hems that peak"
    assert standing(both, Stage.PAPER) == Standing(Mark.OPEN, "not saved")


def test_what_is_unsure_is_marked_at_its_stage_and_listed_on_its_page(both: MainWindow) -> None:
    state = both.session.settled
    was = standings(state, both.session.shown, None, saved=False)[Stage.EDGES]
    sheet = state.sheets.all[0]
    piece = sheet.drawing.pieces[0]
    doubted = replace(piece.edges[0], because=Because(False, "for a test"))
    unsure = replace(piece, edges=(doubted, *piece.edges[1:]))
    after = state.with_sheet(replace(sheet, drawing=sheet.drawing.with_piece(unsure)))
    both.session.commit("Doubt an edge", after)
    both.page.findings.check()
    now = standing(both, Stage.EDGES)
    assert now.mark is Mark.LOOK
    assert now != was
    told = [t for t in both.pages.edges.doubts.told if "for a test" in t.sentence.lower()]
    assert len(told) == 1, f"wanted the doubt listed, got {both.pages.edges.doubts.told}"
    click(both, Stage.EDGES)
    both.pages.edges.doubts.pointed.emit(told[0])
    assert both.session.selected == told[0].edge


def test_the_tape_slides_the_amount_as_one_entry(both: MainWindow) -> None:
    count, middle = both.session.stack.count(), QPointF(both.tape.width() / 2, 20.0)
    press(both.tape, middle)
    move(both.tape, middle + QPointF(60.0, 0.0))
    assert both.session.previewing
    release(both.tape, middle + QPointF(60.0, 0.0))
    # 700 mm over the width of the tape, in steps of 5 mm.
    wanted = round(60.0 * 700.0 / both.tape.width() / 5.0) * 5.0
    assert both.session.settled.by_mm == pytest.approx(wanted)
    assert both.session.stack.count() == count + 1
    assert both.page.length.edit.text().startswith("+")


def test_the_tape_is_moved_by_keys_and_given_back_by_esc(both: MainWindow) -> None:
    both.tape.setFocus()
    QTest.keyPress(both.tape, Qt.Key.Key_Right)
    assert both.session.state.by_mm == pytest.approx(1.0)
    QTest.keyClick(both.tape, Qt.Key.Key_Escape)
    assert both.session.state.by_mm == 0.0
    QTest.keyClick(both.tape, Qt.Key.Key_Left, Keys.ShiftModifier)
    assert both.session.settled.by_mm == pytest.approx(-10.0)


def test_a_piece_is_left_out_and_taken_in_again_on_its_page(both: MainWindow) -> None:
    click(both, Stage.PIECES)
    page = both.pages.pieces
    (first, *_) = (page.list.item(k) for k in range(page.list.count()))
    first.setCheckState(Qt.CheckState.Unchecked)
    assert len(both.session.settled.off) == 1
    both.session.stack.undo()
    assert first.checkState() is Qt.CheckState.Checked
    assert "inseam" in page.said.text()


def test_a_test_square_that_measures_true_proves_the_scale(
    make_window: Callable[[], MainWindow],
) -> None:
    window = make_window()
    window.opening.open([SAMPLE])
    click(window, Stage.SCALE)
    (box,) = window.pages.scale.boxes
    assert box.drawn.text() == "10.0 cm", f"wanted the test square's side, got {box.drawn.text()}"
    box.measured.setFocus()
    QTest.keyClicks(box.measured, "10 cm")
    QTest.keyClick(box.measured, Qt.Key.Key_Return)
    assert box.right.isVisible()
    QTest.mouseClick(box.right, LEFT)
    assert standing(window, Stage.SCALE).words == "proved" or window.session.settled.proved
    window.session.stack.undo()
    assert not window.session.settled.proved


def test_a_file_that_counts_90_px_an_inch_is_asked_about(
    make_window: Callable[[], MainWindow], tmp_path: Path
) -> None:
    path = tmp_path / "older.svg"
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="2000" height="2400"'
        ' xmlns:i="http://www.inkscape.org/namespaces/inkscape" i:version="0.48">'
        '<path id="front" d="M 300 150 H 1000 L 950 2000 H 350 Z"/></svg>'
    )
    window = make_window()
    window.opening.open([path])
    assert standing(window, Stage.SCALE).mark is Mark.LOOK
    click(window, Stage.SCALE)
    (box,) = window.pages.scale.boxes
    assert "counted 90 px an inch" in box.why.text()
    QTest.mouseClick(box.right, LEFT)
    assert standing(window, Stage.SCALE).mark is not Mark.LOOK


def test_a_wrong_scale_is_put_right_by_what_was_measured(
    make_window: Callable[[], MainWindow],
) -> None:
    """A drawing of 96 units to the inch that was made with 72 is a third too small."""
    window = make_window()
    window.opening.open([SAMPLE])
    click(window, Stage.SCALE)
    (box,) = window.pages.scale.boxes
    box.measured.setFocus()
    QTest.keyClicks(box.measured, "13.33 cm")
    QTest.keyClick(box.measured, Qt.Key.Key_Return)
    assert box.take.isVisible()
    before = next(iter(window.session.settled.sheets.pieces.values())).outline.ring.length()
    QTest.mouseClick(box.take, LEFT)
    after = next(iter(window.session.settled.sheets.pieces.values())).outline.ring.length()
    assert after / before == pytest.approx(1.333, abs=1e-9)


def test_the_dark_look_reaches_everything_that_is_drawn(both: MainWindow) -> None:
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    light = both.grab().toImage()
    try:
        theme.put_on(app, theme.DARK)
        dark = both.grab().toImage()
    finally:
        theme.put_on(app)
    for x, y in ((5, 5), (5, 400), (600, 300), (1200, 400), (400, 790), (400, 740)):
        light_here, dark_here = (
            light.pixelColor(x, y).lightness(),
            dark.pixelColor(x, y).lightness(),
        )
        assert dark_here < 90 < light_here, f"at {x}, {y}: light {light_here}, dark {dark_here}"
