"""The main window: everything put together."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QSettings
from PySide6.QtGui import QAction, QCloseEvent, QDragEnterEvent, QDropEvent, QKeySequence
from PySide6.QtWidgets import QHBoxLayout, QMainWindow, QStackedWidget, QVBoxLayout, QWidget

from app.window.ask import Ask, Leave
from app.window.bars import Foot, MessageBar, TopBar
from app.window.document import State
from app.window.findings import Told
from app.window.lengths import Shown
from app.window.messages import Messages
from app.window.opening import Opening
from app.window.page import LengthPage
from app.window.saving import Saving
from app.window.session import Session
from app.window.table.canvas import Table
from app.window.welcome import Welcome, samples

UNIT_KEY = "unit"
Keys = QKeySequence.StandardKey


class MainWindow(QMainWindow):
    """Table and page, or the welcome while nothing is open."""

    def __init__(self, *, ask: Ask | None = None, settings: QSettings | None = None) -> None:
        super().__init__()
        self.setWindowTitle("Hemward")
        self.setAcceptDrops(True)
        self.resize(1280, 800)
        self.settings = settings or QSettings("Hemward", "Hemward")
        self.session = Session(self)
        self.messages = Messages(self)
        self._ask = ask or Ask(self)
        self.opening = Opening(self.session, self.messages, self)
        self.saving = Saving(self.session, self.messages, self._ask)
        self._put_together()
        self.session.sheets_shown.connect(self._show_welcome_or_work)
        self.session.unit_shown.connect(self._keep_unit)
        self.session.show_in(_kept_unit(self.settings))
        self._show_welcome_or_work()

    def _put_together(self) -> None:
        self.table = Table(self.session)
        self.page = LengthPage(self.session, self.messages)
        self.page.findings.pointed.connect(self._point)
        self.welcome = Welcome(samples())
        self.welcome.chosen.connect(lambda path: self.opening.open([path]))
        self.welcome.wanted.connect(self.open)
        # The stages of the work will have their rail at the left of the table.
        work = QWidget()
        row = QHBoxLayout(work)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.table, 1)
        row.addWidget(self.page)
        self.middle = QStackedWidget()
        self.middle.addWidget(self.welcome)
        self.middle.addWidget(work)
        self.bar = TopBar(self.session, self._make_actions())
        self.message_bar = MessageBar(self.messages)
        whole = QWidget()
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for part in (self.bar, self.middle, self.message_bar, Foot()):
            column.addWidget(part, 1 if part is self.middle else 0)
        self.setCentralWidget(whole)

    def _make_actions(self) -> list[QAction]:
        stack = self.session.stack
        undo = self._action("Undo", Keys.Undo, self._undo)
        redo = self._action("Redo", Keys.Redo, self._redo)
        stack.canUndoChanged.connect(undo.setEnabled)
        stack.canRedoChanged.connect(redo.setEnabled)
        stack.undoTextChanged.connect(lambda text: undo.setToolTip(f"Undo: {text}"))
        stack.redoTextChanged.connect(lambda text: redo.setToolTip(f"Redo: {text}"))
        undo.setEnabled(False)
        redo.setEnabled(False)
        self.needs_work = [
            self._action("Save", Keys.Save, self.saving.save),
            self._action("Save as …", Keys.SaveAs, self.saving.save_as),
            self._action("Clear the table", Keys.Close, self.clear),
        ]
        return [self._action("Open …", Keys.Open, self.open), undo, redo, *self.needs_work]

    def _action(self, text: str, key: Keys, does: Callable[[], object]) -> QAction:
        action = QAction(text, self)
        action.setShortcuts(key)
        action.triggered.connect(lambda _=False: does())
        self.addAction(action)
        return action

    def open(self) -> None:
        """Asks for files and opens them."""
        self.opening.open(self._ask.files_to_open())

    def clear(self) -> None:
        """Takes everything off the table; asks first when it was not saved."""
        if self._may_leave():
            self.session.select(None)
            self.session.begin(State())
            self.saving.forget()

    def _undo(self) -> None:
        self.session.commit_preview()
        self.session.stack.undo()

    def _redo(self) -> None:
        self.session.commit_preview()
        self.session.stack.redo()

    def _may_leave(self) -> bool:
        self.session.commit_preview()
        if not self.session.changed:
            return True
        answer = self._ask.leave_unsaved()
        return answer is Leave.DISCARD or (answer is Leave.SAVE and self.saving.save())

    def _show_welcome_or_work(self) -> None:
        empty = self.session.state.empty
        self.middle.setCurrentIndex(0 if empty else 1)
        for action in self.needs_work:
            action.setEnabled(not empty)
        (self.welcome.open if empty else self.table).setFocus()

    def _point(self, told: Told) -> None:
        if told.edge is not None:
            self.session.select(told.edge)
        if told.piece is not None and told.place is not None:
            self.table.show_place(told.piece, told.place)

    def _keep_unit(self) -> None:
        self.settings.setValue(UNIT_KEY, self.session.shown.value)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if any(url.isLocalFile() for url in event.mimeData().urls()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        paths = [Path(u.toLocalFile()) for u in event.mimeData().urls() if u.isLocalFile()]
        event.acceptProposedAction()
        self.opening.open(paths)

    def closeEvent(self, event: QCloseEvent) -> None:
        event.setAccepted(self._may_leave())


def _kept_unit(settings: QSettings) -> Shown:
    kept = settings.value(UNIT_KEY, Shown.CM.value, type=str)
    return next((s for s in Shown if s.value == kept), Shown.CM)
