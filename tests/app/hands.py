"""Hands for the tests: a mouse, and a person who answers questions as the test says."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton, QWidget

from app.window.ask import Ask, Leave
from app.window.curves_question import Curves
from app.window.main import MainWindow
from app.window.outcome import outcome
from app.window.segments import LengthEdit
from app.window.table.sights import Sight
from core.curve import Point

Keys = Qt.KeyboardModifier


class Answers(Ask):
    """Answers in the place of a person; each answer is set by the test, and kept count of."""

    def __init__(self) -> None:
        self.open_files: list[Path] = []
        self.save_file: Path | None = None
        self.save_folder: Path | None = None
        self.save_handout: Path | None = None
        self.curves: Curves | None = Curves()
        # What a printer prints goes into this file.
        self.print_to: Path | None = None
        self.set_printer: Callable[[QPrinter], object] = lambda _: None
        self.pages_offered = 0
        self.overwrite = False
        self.leave = Leave.STAY
        self.asked: list[str] = []
        self.suggested: list[Path] = []

    def files_to_open(self) -> list[Path]:
        self.asked.append("open")
        return self.open_files

    def file_to_save(self, suggested: Path) -> Path | None:
        self.asked.append("save")
        self.suggested.append(suggested)
        return self.save_file

    def curves_in(self, path: Path) -> Curves | None:
        self.asked.append("curves")
        return self.curves

    def picture_to_save(self) -> Path | None:
        self.asked.append("picture")
        return self.save_file

    def sheets_to_save(self, suggested: Path) -> Path | None:
        self.asked.append("sheets")
        self.suggested.append(suggested)
        return self.save_file

    def printer(self, printer: QPrinter, what: str, *, pages: int = 1) -> bool:
        self.asked.append("printer")
        self.pages_offered = pages
        if self.print_to is None:
            return False
        self.set_printer(printer)
        printer.setOutputFileName(str(self.print_to))
        return True

    def handout_to_save(self, *, practice: bool) -> Path | None:
        self.asked.append("practice" if practice else "handout")
        return self.save_handout

    def folder_to_save(self, beside: Path) -> Path | None:
        self.asked.append("folder")
        return self.save_folder

    def may_overwrite(self, paths: Sequence[Path], *, original: bool) -> bool:
        self.asked.append("overwrite original" if original else "overwrite")
        return self.overwrite

    def leave_unsaved(self) -> Leave:
        self.asked.append("leave")
        return self.leave


def press(widget: QWidget, at: QPointF) -> None:
    QTest.mousePress(widget, Qt.MouseButton.LeftButton, pos=_whole(at))


def move(widget: QWidget, at: QPointF, *, keys: Keys = Keys.NoModifier) -> None:
    """With the left button down."""
    button = Qt.MouseButton.LeftButton
    on_screen = QPointF(widget.mapToGlobal(at.toPoint()))
    kind = QEvent.Type.MouseMove
    QApplication.sendEvent(widget, QMouseEvent(kind, at, on_screen, button, button, keys))


def hover(widget: QWidget, at: QPointF) -> None:
    """Moves the pointer there with no button down."""
    on_screen = QPointF(widget.mapToGlobal(at.toPoint()))
    kind, none = QEvent.Type.MouseMove, Qt.MouseButton.NoButton
    QApplication.sendEvent(widget, QMouseEvent(kind, at, on_screen, none, none, Keys.NoModifier))


def click_at(widget: QWidget, at: QPointF) -> None:
    """Moves there, presses and lets go."""
    hover(widget, at)
    press(widget, at)
    release(widget, at)


def release(widget: QWidget, at: QPointF) -> None:
    QTest.mouseRelease(widget, Qt.MouseButton.LeftButton, pos=_whole(at))


def _whole(at: QPointF) -> QPoint:
    return QPoint(round(at.x()), round(at.y()))


def grip_of(window: MainWindow, name: str) -> QPointF:
    """The middle of the grip on the hem of the piece of that name."""
    which = next(k for k, p in window.session.state.sheets.pieces.items() if p.name == name)
    rect = window.table.grip(which)
    assert rect is not None, f"wanted a grip on {name}"
    return QPointF((rect.x0 + rect.x1) / 2, (rect.y0 + rect.y1) / 2)


def drag_hem(window: MainWindow, name: str, mm: float) -> None:
    """Draws the hem of a piece straight down by so many mm, and lets go."""
    start = grip_of(window, name)
    end = start + QPointF(0.0, mm * window.table.view.scale)
    press(window.table, start)
    move(window.table, start + (end - start) / 2)
    move(window.table, end)
    release(window.table, end)


def type_length(window: MainWindow, text: str, *, end: Qt.Key = Qt.Key.Key_Return) -> None:
    """Puts the text in the place of what stands in the length box, and presses a key."""
    box = window.page.length.edit
    box.setFocus()
    box.selectAll()
    QTest.keyClicks(box, text)
    QTest.keyClick(box, end)


def click(button: QPushButton) -> None:
    assert button.isVisible(), f"wanted {button.text()} to be seen"
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def fill(edit: LengthEdit, text: str, *, end: Qt.Key = Qt.Key.Key_Return) -> None:
    assert edit.isVisible()
    edit.setFocus()
    edit.selectAll()
    QTest.keyClick(edit, Qt.Key.Key_Delete)
    QTest.keyClicks(edit, text)
    QTest.keyClick(edit, end)


def hem_widths(window: MainWindow) -> list[float]:
    altered = outcome(window.session.state).altered.values()
    return [a.figures.hem_width_after_mm for a in altered]


def sight(window: MainWindow, name: str) -> Sight:
    """What is to be seen of the piece of that name."""
    return next(s for s in window.table.sights if s.now.name == name)


def px(window: MainWindow, of: Sight, p: Point) -> QPointF:
    """Where on the table a point of a piece is seen, in pixels."""
    return QPointF(*window.table.view.to_px(p + of.spot))
