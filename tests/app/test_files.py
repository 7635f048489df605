"""Opening, dropping, the question of the unit, saving, closing."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QTimer, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMessageBox, QPushButton, QRadioButton
from pytestqt.qtbot import QtBot

from app.window.ask import Ask, Leave
from app.window.findings import Sign
from app.window.main import MainWindow
from app.window.outcome import finished
from app.window.unit_question import UnitQuestion
from app.window.way.stage import Stage
from app.window.way.stages import Mark, Standing
from core.files import read, render
from tests.app.hands import Answers, fill, type_length
from tests.app.legs import MM, leg_svg

CTRL = Qt.KeyboardModifier.ControlModifier


def drop(window: MainWindow, paths: list[Path]) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(p)) for p in paths])
    at, copy = QPointF(600.0, 300.0), Qt.DropAction.CopyAction
    held, keys = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    enter = QDragEnterEvent(at.toPoint(), copy, data, held, keys)
    QApplication.sendEvent(window, enter)
    assert enter.isAccepted(), "wanted the window to take files"
    QApplication.sendEvent(window, QDropEvent(at, copy, data, held, keys))


def names(window: MainWindow) -> list[str]:
    return [p.name for p in window.session.state.sheets.pieces.values()]


def on_dialog(act: Callable[[UnitQuestion], None]) -> None:
    """Does something with the question of the unit as soon as it stands."""

    def later() -> None:
        dialog = QApplication.activeModalWidget()
        if isinstance(dialog, UnitQuestion) and dialog.windowHandle().isExposed():
            act(dialog)
        else:
            QTimer.singleShot(20, later)

    QTimer.singleShot(20, later)


def test_the_empty_window_offers_to_open(window: MainWindow, answers: Answers, front: Path) -> None:
    assert window.middle.currentWidget() is window.welcome
    answers.open_files = [front]
    QTest.mouseClick(window.welcome.open, Qt.MouseButton.LeftButton)
    assert names(window) == ["Front"]
    assert window.bar.name.text() == "front.svg"
    assert not window.bar.changed.isVisible()


def test_the_samples_open_with_a_click(qtbot: QtBot, window: MainWindow) -> None:
    assert len(window.welcome.samples) == 3
    QTest.mouseClick(window.welcome.samples[0], Qt.MouseButton.LeftButton)
    assert names(window)
    assert window.messages.all == []


def test_the_open_shortcut_puts_another_file_beside(
    window: MainWindow, answers: Answers, front: Path, back: Path
) -> None:
    window.opening.open([front])
    answers.open_files = [back]
    QTest.keyClick(window, Qt.Key.Key_O, CTRL)
    assert names(window) == ["Front", "Back"]
    assert not window.session.changed, "wanted opening to be nothing that has to be saved"
    assert {m.first[1].value for m in window.session.state.sheets.mates} == {"inseam", "side seam"}
    window.session.stack.undo()
    assert names(window) == ["Front"]


def test_files_are_dropped_on_the_window(window: MainWindow, front: Path, back: Path) -> None:
    drop(window, [front, back])
    assert names(window) == ["Front", "Back"]
    boxes = [s.box for s in window.table.sights]
    assert boxes[0].x1 < boxes[1].x0, "wanted them side by side"


def test_a_bad_file_is_told_of_and_the_others_open(
    window: MainWindow, front: Path, tmp_path: Path
) -> None:
    bad = tmp_path / "notes.svg"
    bad.write_text("this is no pattern")
    drop(window, [bad, tmp_path / "gone.svg", front])
    assert names(window) == ["Front"]
    assert len(window.messages.all) == 2
    assert "gone.svg" in window.messages.all[1]
    assert window.message_bar.isVisible()
    assert "Traceback" not in " ".join(window.messages.all)


def test_the_unit_is_asked_for_and_taken(window: MainWindow, no_unit: Path) -> None:
    seen: list[str] = []

    def answer(dialog: UnitQuestion) -> None:
        choices = dialog.findChildren(QRadioButton)
        seen.extend(b.accessibleName() for b in choices)
        QTest.keyClick(choices[1], Qt.Key.Key_Space)
        QTest.keyClick(dialog, Qt.Key.Key_Return)

    on_dialog(answer)
    window.opening.open([no_unit])
    assert seen[0] == "millimetres: 24.0 × 64.0 cm"
    assert seen[1] == "centimetres: 240.0 × 640.0 cm"
    (sheet,) = window.session.state.sheets.all
    assert sheet.drawing.unit.mm_per_unit == 10.0


def test_the_unit_question_offers_the_likely_one_first(window: MainWindow, no_unit: Path) -> None:
    on_dialog(lambda dialog: QTest.keyClick(dialog, Qt.Key.Key_Return))
    window.opening.open([no_unit])
    (sheet,) = window.session.state.sheets.all
    assert sheet.drawing.unit.mm_per_unit == 1.0


def test_the_unit_question_can_be_left(window: MainWindow, no_unit: Path) -> None:
    on_dialog(lambda dialog: QTest.keyClick(dialog, Qt.Key.Key_Escape))
    window.opening.open([no_unit])
    assert window.session.state.empty
    assert window.messages.all == []


def test_a_unit_given_with_the_call_is_not_asked_for(window: MainWindow, no_unit: Path) -> None:
    window.opening.open([no_unit], mm_per_unit=2.0)
    (sheet,) = window.session.state.sheets.all
    assert sheet.drawing.unit.mm_per_unit == 2.0


def test_save_asks_for_a_name_once_and_then_saves_there(
    window: MainWindow, answers: Answers, front: Path, tmp_path: Path
) -> None:
    original = front.read_bytes()
    window.opening.open([front])
    type_length(window, "6 cm")
    answers.save_file = tmp_path / "longer.svg"
    QTest.keyClick(window, Qt.Key.Key_S, CTRL)
    assert answers.suggested == [front.with_name("front +6.0cm.svg")]
    assert not window.session.changed
    assert answers.save_file.exists()
    type_length(window, "7 cm")
    assert window.session.changed
    QTest.keyClick(window, Qt.Key.Key_S, CTRL)
    assert answers.asked == ["save"], "wanted to be asked once"
    (sheet,) = window.session.settled.sheets.all
    assert answers.save_file.read_bytes() == render(finished(window.session.settled, sheet))
    again = read(answers.save_file).pieces[0]
    assert again.ring.bounds().y1 == pytest.approx(710.0, abs=0.5)
    assert front.read_bytes() == original


def test_undo_after_saving_is_unsaved_work(
    window: MainWindow, answers: Answers, front: Path, tmp_path: Path
) -> None:
    window.opening.open([front])
    type_length(window, "6 cm")
    answers.save_file = tmp_path / "longer.svg"
    window.saving.save()
    assert not window.bar.changed.isVisible()
    window.session.stack.undo()
    assert window.bar.changed.isVisible()


def test_the_original_is_not_overwritten_without_a_yes(
    window: MainWindow, answers: Answers, front: Path
) -> None:
    original = front.read_bytes()
    window.opening.open([front])
    type_length(window, "6 cm")
    answers.save_file = front
    assert not window.saving.save()
    assert answers.asked == ["save", "overwrite original"]
    assert front.read_bytes() == original
    assert window.session.changed
    answers.overwrite = True
    assert window.saving.save()
    assert front.read_bytes() != original


def test_several_files_are_saved_into_a_folder(
    both: MainWindow, answers: Answers, tmp_path: Path
) -> None:
    folder = tmp_path / "new"
    folder.mkdir()
    answers.save_folder = folder
    type_length(both, "-2 cm")
    assert both.saving.save()
    assert sorted(p.name for p in folder.iterdir()) == ["back -2.0cm.svg", "front -2.0cm.svg"]
    both.saving.save_as()
    assert answers.asked == ["folder", "folder", "overwrite"]


def test_a_name_without_an_ending_gets_that_of_the_file(
    window: MainWindow, answers: Answers, front: Path, tmp_path: Path
) -> None:
    window.opening.open([front])
    type_length(window, "6 cm")
    answers.save_file = tmp_path / "front +6.0cm"
    assert window.saving.save()
    assert (tmp_path / "front +6.0cm.svg").exists()


def test_a_folder_that_takes_no_file_keeps_the_work(
    window: MainWindow, answers: Answers, front: Path, tmp_path: Path
) -> None:
    window.opening.open([front])
    type_length(window, "6 cm")
    answers.save_file = tmp_path / "no such folder" / "x.svg"
    assert not window.saving.save()
    assert window.session.changed
    assert "could not be saved" in window.messages.all[-1]


def test_closing_with_unsaved_work_asks(
    window: MainWindow, answers: Answers, front: Path, tmp_path: Path
) -> None:
    window.opening.open([front])
    type_length(window, "6 cm")
    assert not window.close()
    assert window.isVisible()
    answers.leave, answers.save_file = Leave.SAVE, tmp_path / "kept.svg"
    assert window.close()
    assert answers.save_file.exists()


def test_closing_without_changes_asks_nothing(
    window: MainWindow, answers: Answers, front: Path
) -> None:
    window.opening.open([front])
    assert window.close()
    assert answers.asked == []


def test_clearing_the_table_leads_back_to_the_start(both: MainWindow) -> None:
    QTest.keyClick(both, Qt.Key.Key_W, CTRL)
    assert both.middle.currentWidget() is both.welcome
    assert both.session.stack.count() == 0


def test_what_is_unforeseen_is_told_in_words_and_the_work_stays(
    both: MainWindow, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("by nought")

    monkeypatch.setattr("app.window.saving.finished", broken)
    assert not both.saving.save()
    assert "Your work is still here" in both.messages.all[-1]
    assert len(both.session.settled.sheets.all) == 2
    assert "unforeseen" in caplog.text, "wanted the details in the log"


@pytest.mark.parametrize(
    ("key", "want"),
    [(Qt.Key.Key_Escape, Leave.STAY), (Qt.Key.Key_Return, Leave.SAVE)],
)
def test_the_closing_question_by_the_keys(window: MainWindow, key: Qt.Key, want: Leave) -> None:
    def answer() -> None:
        box = QApplication.activeModalWidget()
        assert isinstance(box, QMessageBox)
        QTest.keyClick(box, key)

    QTimer.singleShot(50, answer)
    assert Ask(window).leave_unsaved() is want


def test_overwriting_needs_the_button_itself(window: MainWindow, front: Path) -> None:
    def press_return() -> None:
        QTest.keyClick(QApplication.activeModalWidget(), Qt.Key.Key_Return)

    def press_button() -> None:
        box = QApplication.activeModalWidget()
        assert isinstance(box, QMessageBox)
        (button,) = (b for b in box.findChildren(QPushButton) if b.text() == "Overwrite")
        QTest.mouseClick(button, Qt.MouseButton.LeftButton)

    QTimer.singleShot(50, press_return)
    assert not Ask(window).may_overwrite([front], original=True)
    QTimer.singleShot(50, press_button)
    assert Ask(window).may_overwrite([front], original=True)


def test_two_pieces_with_the_same_key_in_two_files_are_told_apart(
    window: MainWindow, tmp_path: Path
) -> None:
    paths = []
    for n in (1, 2):
        path = tmp_path / f"front{n}.svg"
        path.write_text(leg_svg("front", mirrored=False, root=MM))
        paths.append(path)
    window.opening.open(paths)
    assert len(window.session.state.sheets.pieces) == 2
    type_length(window, "3 cm")
    for sheet in window.session.settled.sheets.all:
        done = finished(window.session.settled, sheet)
        assert done.pieces[0].ring.bounds().y1 == pytest.approx(670.0, abs=0.5)


def test_two_garments_on_one_table_are_not_taken_for_mates(
    window: MainWindow, tmp_path: Path
) -> None:
    paths = []
    for n in (1, 2):
        path = tmp_path / f"garment{n}.svg"
        parts = [leg_svg(name, mirrored=name == "back", root=MM) for name in ("front", "back")]
        groups = [p.split("\n", 1)[1].replace("</svg>", "") for p in parts]
        path.write_text(f'<svg xmlns="http://www.w3.org/2000/svg" {MM}>{"".join(groups)}</svg>')
        paths.append(path)
    window.opening.open(paths)
    sheets = window.session.state.sheets
    file_of = {p.key: which.sheet for which, p in sheets.pieces.items()}
    pairs = [(file_of[m.first[0]], file_of[m.second[0]]) for m in sheets.mates]
    assert sorted(pairs) == [(1, 1), (1, 1), (2, 2), (2, 2)]


def test_a_file_without_a_piece_is_told_in_the_message_line_and_nothing_is_certain(
    window: MainWindow, tmp_path: Path
) -> None:
    """The table stays empty: who opened it must not have to look for the reason in small print."""
    path = tmp_path / "open.svg"
    outline = "M 60,0 L 240,0 L 225,600 L 30,640 L 0,200"
    path.write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" {MM}><path d="{outline}"/>'
        '<path class="grain" d="M 150,250 L 150,500"/></svg>'
    )
    window.opening.open([path])
    assert "no closed outline" in window.message_bar.words.text()
    assert "mm apart. Close it" in window.message_bar.words.text()
    told = {stage: button.standing for stage, button in window.rail.buttons.items()}
    assert told[Stage.PIECES] == Standing(Mark.LOOK, "none found")
    assert told[Stage.EDGES].mark is Mark.OPEN
    assert window.page.findings.told[0].sign is Sign.LOOK


def test_what_cannot_be_read_is_told_at_every_stage_and_no_longer_once_it_is_put_right(
    window: MainWindow, front: Path
) -> None:
    window.opening.open([front])
    window.way.go(Stage.SCALE)
    box = window.pages.scale.boxes[0]
    fill(box.measured, "abc")
    assert "cannot be read" in window.message_bar.words.text()
    assert window.message_bar.isVisible()
    fill(box.measured, "640 mm")
    QTest.keyClick(box.measured, Qt.Key.Key_Escape)
    assert not window.message_bar.isVisible()
