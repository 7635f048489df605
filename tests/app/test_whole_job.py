"""The whole job as a person does it: from a dropped file to the saved pair, and back and forth."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.window.document import EdgeId, State
from app.window.main import MainWindow
from app.window.outcome import piece_now
from app.window.way.stage import Stage
from app.window.way.stages import Mark
from core.files import read
from core.piece.model import Role
from tests.app.hands import Answers, drag_hem, grip_of, move, press, release

LEFT = Qt.MouseButton.LeftButton
SAMPLE = Path(__file__).parents[2] / "sample_pieces" / "allotment_shorts.svg"


def drop(window: MainWindow, path: Path) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    copy, none = Qt.DropAction.CopyAction, Qt.KeyboardModifier.NoModifier
    at = QPointF(300.0, 300.0)
    entering = QDragEnterEvent(at.toPoint(), copy, data, LEFT, none)
    QApplication.sendEvent(window, entering)
    assert entering.isAccepted()
    QApplication.sendEvent(window, QDropEvent(at, copy, data, LEFT, none))


def type_amount(window: MainWindow, text: str) -> None:
    edit = window.page.length.edit
    edit.setFocus()
    edit.selectAll()
    QTest.keyClicks(edit, text)
    QTest.keyClick(edit, Qt.Key.Key_Return)


def test_four_actions_from_an_empty_window_to_the_saved_pair(
    make_window: Callable[[], MainWindow], answers: Answers, tmp_path: Path
) -> None:
    """Drop or click; type and Enter; Save; Enter for the name: front and back 12 cm longer."""
    window = make_window()
    source = tmp_path / "shorts.svg"
    source.write_bytes(SAMPLE.read_bytes())
    drop(window, source)
    type_amount(window, "12 cm")
    answers.save_file = tmp_path / "longer.svg"
    save = next(b for text, b in window.bar.buttons.items() if text == "Save")
    QTest.mouseClick(save, LEFT)
    assert source.read_bytes() == SAMPLE.read_bytes(), "the pattern as it was stays"
    before, after = read(source).pieces, read(answers.save_file).pieces
    gains = []
    for old, new in zip(before, after, strict=True):
        for role in (Role.INSEAM, Role.SIDE):
            gain = new.edge_length(new.edge(role)) - old.edge_length(old.edge(role))
            gains.append((role, gain))
            assert gain > 119.0, f"{old.name}: the {role.value} grew by {gain} mm"
    front, back = dict(gains[:2]), dict(gains[2:])
    for role, gain in front.items():
        assert abs(back[role] - gain) < 0.05, f"the {role.value}s grew by {gain} and {back[role]}"
    assert window.rail.buttons[Stage.PAPER].standing.mark is Mark.DONE


def shown(state: State) -> list[object]:
    """All that a person would see of a document."""
    pieces = [piece_now(state, which) for which in state.sheets.pieces]
    return [state.change, state.level, state.off, state.proved, state.more_by_size, pieces]


def test_undo_to_the_start_and_redo_to_the_end_give_equal_documents(
    make_window: Callable[[], MainWindow], tmp_path: Path
) -> None:
    window = make_window()
    source = tmp_path / "shorts.svg"
    source.write_bytes(SAMPLE.read_bytes())
    drop(window, source)
    stack, session = window.session.stack, window.session
    start = shown(session.settled)
    drag_hem(window, "Front", 40.0)
    type_amount(window, "7 cm")
    middle = QPointF(window.tape.width() / 2, 20.0)
    press(window.tape, middle)
    move(window.tape, middle + QPointF(30.0, 0.0))
    release(window.tape, middle + QPointF(30.0, 0.0))
    for stage in Stage:
        QTest.mouseClick(window.rail.buttons[stage], LEFT)
        if stage is Stage.PIECES:
            box = window.pages.pieces.list.item(1)
            box.setCheckState(Qt.CheckState.Unchecked)
        if stage is Stage.SCALE:
            QTest.mouseClick(window.pages.scale.boxes[0].right, LEFT)
    assert grip_of(window, "Front")
    which, piece = next(iter(session.settled.sheets.pieces.items()))
    session.select(EdgeId(which, piece.edges.index(piece.edge(Role.SIDE))))
    QTest.mouseClick(window.pages.edges.tools.split, LEFT)
    count, end = stack.count(), shown(session.settled)
    assert count >= 5, f"wanted an entry for each gesture, got {count}"
    while stack.canUndo():
        stack.undo()
    assert shown(session.settled) == start
    while stack.canRedo():
        stack.redo()
    assert shown(session.settled) == end
    assert all(stack.text(k) for k in range(count)), "every entry has a name"
