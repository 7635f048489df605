"""Drawing a hem by the mouse and by the keys."""

from __future__ import annotations

import gc

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.window.main import MainWindow
from app.window.outcome import outcome
from core.files import render
from tests.app.hands import grip_of, move, press, release, type_length


def hem_bottoms(window: MainWindow) -> list[float]:
    """The lowest y of each piece, in mm."""
    altered = outcome(window.session.state).altered
    return [a.piece.ring.bounds().y1 for a in altered.values()]


def drag(window: MainWindow, name: str, mm: float, *, let_go: bool = True) -> QPointF:
    """Draws the hem of a piece straight down by so many mm."""
    start = grip_of(window, name)
    end = start + QPointF(0.0, mm * window.table.view.scale)
    press(window.table, start)
    move(window.table, start + (end - start) / 2)
    move(window.table, end)
    if let_go:
        release(window.table, end)
    return end


def test_a_drag_alters_front_and_back_in_one_entry(both: MainWindow) -> None:
    before = hem_bottoms(both)
    drag(both, "Front", 60.4)
    assert both.session.settled.by_mm == 60.0, "wanted a step of 5 mm"
    after = hem_bottoms(both)
    assert after == pytest.approx([b + 60.0 for b in before], abs=0.5)
    assert both.session.stack.count() - both.session.stack.cleanIndex() == 1
    assert both.session.stack.undoText() == "Lengthen by 6.0 cm"
    assert both.bar.changed.isVisible()


def test_the_figures_follow_while_the_button_is_still_down(both: MainWindow) -> None:
    end = drag(both, "Back", 50.0, let_go=False)
    assert both.session.state.by_mm == 50.0
    assert both.page.length.edit.text() == "+5.0 cm"
    assert both.session.settled.by_mm == 0.0, "wanted nothing settled before the button is up"
    release(both.table, end)
    assert both.session.settled.by_mm == 50.0


def test_escape_gives_everything_back(both: MainWindow) -> None:
    state, count = both.session.settled, both.session.stack.count()
    end = drag(both, "Front", 90.0, let_go=False)
    QTest.keyClick(both.table, Qt.Key.Key_Escape)
    release(both.table, end)
    assert both.session.state is state
    assert both.session.stack.count() == count
    assert both.page.length.edit.text() == "0.0 cm"
    assert not both.bar.changed.isVisible()


def test_a_drag_back_to_its_start_is_no_entry(both: MainWindow) -> None:
    count = both.session.stack.count()
    start = grip_of(both, "Front")
    press(both.table, start)
    move(both.table, start + QPointF(0.0, 80.0))
    move(both.table, start)
    release(both.table, start)
    assert both.session.stack.count() == count


def test_shift_makes_the_steps_finer(both: MainWindow) -> None:
    start = grip_of(both, "Front")
    end = start + QPointF(0.0, 52.2 * both.table.view.scale)
    press(both.table, start)
    move(both.table, end, keys=Qt.KeyboardModifier.ShiftModifier)
    release(both.table, end)
    assert both.session.settled.by_mm == 52.0


def test_beyond_what_works_the_hem_stays_at_the_last_that_does(both: MainWindow) -> None:
    end = drag(both, "Front", -500.0, let_go=False)
    stayed = both.session.state.by_mm
    assert outcome(both.session.state).refusal is None
    assert outcome(both.session.state.by(stayed - 0.2)).refusal is not None
    assert -440.0 < stayed < -300.0, f"the inseam is 440 long along the grain, got {stayed}"
    assert "!</b>" in both.page.length.said.text()
    assert both.messages.all == [], "wanted no other message"
    release(both.table, end)
    assert both.session.settled.by_mm == stayed
    assert "!</b>" in both.page.length.said.text(), "wanted the reason to stay"


def test_undo_and_redo_go_through_the_very_same_documents(both: MainWindow) -> None:
    states = [both.session.settled]
    for mm in (30.0, 25.0, -70.0):
        drag(both, "Front", mm)
        states.append(both.session.settled)
    for state in reversed(states[:-1]):
        QTest.keyClick(both, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
        assert both.session.settled is state
    assert not both.session.changed, "wanted nothing to save after going all the way back"
    for state in states[1:]:
        QTest.keyClick(
            both,
            Qt.Key.Key_Z,
            Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier,
        )
        assert both.session.settled is state


def test_undone_to_the_start_the_bytes_are_those_of_the_file(both: MainWindow) -> None:
    drag(both, "Front", 30.0)
    both.session.stack.undo()
    for sheet in both.session.settled.sheets.all:
        assert render(sheet.drawing) == sheet.drawing.path.read_bytes()


def test_arrow_keys_nudge_and_a_key_held_is_one_entry(both: MainWindow) -> None:
    count = both.session.stack.count()
    both.table.setFocus()
    QTest.keyClick(both.table, Qt.Key.Key_Down)
    assert both.session.settled.by_mm == 1.0
    QTest.keyClick(both.table, Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    assert both.session.settled.by_mm == -9.0
    for _ in range(4):
        QTest.keyPress(both.table, Qt.Key.Key_Down)
    assert both.session.stack.count() == count + 2, "wanted no entry while the key is down"
    QTest.keyRelease(both.table, Qt.Key.Key_Down)
    assert both.session.settled.by_mm == -5.0
    assert both.session.stack.count() == count + 3


def test_arrow_keys_step_by_sixteenths_of_an_inch(both: MainWindow) -> None:
    both.page.length.findChildren(type(both.page.length))
    both.session.show_in(type(both.session.shown).INCH)
    both.table.setFocus()
    QTest.keyClick(both.table, Qt.Key.Key_Down)
    assert both.session.settled.by_mm == pytest.approx(25.4 / 16, abs=1e-12)
    assert both.page.length.edit.text() == "+1/16 in"


def test_space_and_drag_moves_the_view_and_not_the_hem(both: MainWindow) -> None:
    start = grip_of(both, "Front")
    here = both.table.view.to_mm(start.x(), start.y())
    both.table.setFocus()
    QTest.keyPress(both.table, Qt.Key.Key_Space)
    press(both.table, start)
    move(both.table, start + QPointF(40.0, -30.0))
    release(both.table, start + QPointF(40.0, -30.0))
    QTest.keyRelease(both.table, Qt.Key.Key_Space)
    x, y = both.table.view.to_px(here)
    assert (x, y) == pytest.approx((round(start.x()) + 40, round(start.y()) - 30), abs=1.0)
    assert both.session.settled.by_mm == 0.0


def test_a_hem_drawn_out_of_sight_is_brought_back_when_let_go(
    qtbot: QtBot, both: MainWindow
) -> None:
    drag(both, "Front", 300.0)
    grip = grip_of(both, "Front")
    assert 0 < grip.y() < both.table.height()
    assert 0 < grip_of(both, "Back").x() < both.table.width()


def roll(
    window: MainWindow, at: QPointF, *, notches: int = 0, pixels: QPoint | None = None
) -> None:
    """The wheel by notches, or two fingers on a pad by pixels."""
    event = QWheelEvent(
        at,
        QPointF(window.table.mapToGlobal(at.toPoint())),
        pixels or QPoint(),
        QPoint(0, 120 * notches),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(window.table, event)


def test_the_wheel_zooms_about_the_pointer(both: MainWindow) -> None:
    at = QPointF(412.0, 233.0)
    before, scale = both.table.view.to_mm(at.x(), at.y()), both.table.view.scale
    for notches in (3, -1, 2):
        roll(both, at, notches=notches)
    off = before.distance(both.table.view.to_mm(at.x(), at.y()))
    assert off <= 1e-9, f"wanted the same place under the pointer, got {off} mm off"
    assert both.table.view.scale > 2.0 * scale


def test_two_fingers_move_the_view(both: MainWindow) -> None:
    before = both.table.view
    roll(both, QPointF(400.0, 300.0), pixels=QPoint(30, -20))
    assert both.table.view == before.panned(30.0, -20.0)


def test_the_middle_button_moves_the_view_and_f_shows_everything_again(both: MainWindow) -> None:
    before = both.table.view
    middle = Qt.MouseButton.MiddleButton
    QTest.mousePress(both.table, middle, pos=QPoint(400, 300))
    move(both.table, QPointF(460.0, 280.0))
    QTest.mouseRelease(both.table, middle, pos=QPoint(460, 280))
    assert both.table.view == before.panned(60.0, -20.0)
    both.table.setFocus()
    QTest.keyClick(both.table, Qt.Key.Key_Plus)
    assert both.table.view.scale > before.scale
    QTest.keyClick(both.table, Qt.Key.Key_F)
    assert both.table.view == before


def test_a_view_of_ones_own_is_kept_through_a_change(both: MainWindow) -> None:
    roll(both, QPointF(400.0, 300.0), notches=4)
    view = both.table.view
    type_length(both, "10 cm")
    assert both.table.view == view


@pytest.mark.parametrize("key", [None, Qt.Key.Key_Escape])
def test_nothing_is_collected_while_a_hem_is_held(both: MainWindow, key: Qt.Key | None) -> None:
    """Going through all that is remembered made every hundredth frame take as long as five."""
    assert gc.isenabled()
    end = drag(both, "Front", 40.0, let_go=False)
    assert not gc.isenabled()
    if key is not None:
        QTest.keyClick(both.table, key)
        assert gc.isenabled()
    release(both.table, end)
    assert gc.isenabled()


def test_a_drag_leaves_nothing_to_be_collected(both: MainWindow) -> None:
    start = grip_of(both, "Front")
    press(both.table, start)
    move(both.table, start + QPointF(0.0, 4.0))
    gc.collect()
    for k in range(40):
        move(both.table, start + QPointF(0.0, 5.0 + k), keys=Qt.KeyboardModifier.AltModifier)
        both.table.repaint()
    assert gc.collect() == 0, "wanted frames without circles, for none is broken meanwhile"
    release(both.table, start + QPointF(0.0, 50.0))
