"""The main window: everything put together."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from PySide6.QtCore import QSettings
from PySide6.QtGui import QAction, QCloseEvent, QDragEnterEvent, QDropEvent, QKeySequence
from PySide6.QtWidgets import (
    QBoxLayout,
    QHBoxLayout,
    QMainWindow,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.lesson.opening import LessonOpener
from app.window.ask import Ask, Leave
from app.window.bars import Foot, MessageBar, TopBar
from app.window.document import State
from app.window.findings import Told
from app.window.lengths import Shown
from app.window.messages import Messages
from app.window.opening import Opening
from app.window.printing import picture_on_paper
from app.window.recovery.keeper import Keeper
from app.window.recovery.offer import Offer
from app.window.saving import Saving
from app.window.session import Session
from app.window.table.canvas import Table
from app.window.view_menu import RecentMenu, ViewMenu
from app.window.viewing import Viewing
from app.window.way.pages import Pages
from app.window.way.rail import WayRail
from app.window.way.stages import Stage, standings
from app.window.way.tape import Tape
from app.window.way.tool_strip import ToolStrip
from app.window.way.way import Way
from app.window.welcome import Welcome, samples

UNIT_KEY = "unit"
WAYS_OUT = (
    "The pattern that you opened stays as it is: a new name is asked for the first time.",
    "Under another name, to keep what was saved before beside it.",
)
Keys = QKeySequence.StandardKey
Box = TypeVar("Box", bound=QBoxLayout)


class MainWindow(QMainWindow):
    """Table and page, or the welcome while nothing is open.

    Unsaved work is kept in the folder `recovery`, and nowhere when that is None.
    """

    def __init__(
        self,
        *,
        ask: Ask | None = None,
        settings: QSettings | None = None,
        recovery: Path | None = None,
    ) -> None:
        super().__init__()
        self.setWindowTitle("Hemward")
        self.setAcceptDrops(True)
        self.resize(1280, 800)
        self.settings = settings or QSettings("Hemward", "Hemward")
        self.viewing = Viewing(self.settings)
        self.viewing.put_on()
        self.viewing.give_shape(self)
        self.session = Session(self)
        self.messages = Messages(self)
        self._ask = ask or Ask(self)
        self.way = Way(self.session, self)
        self.opening = Opening(self.session, self.messages, self)
        self.opening.opened = self.viewing.opened
        self.saving = Saving(self.session, self.messages, self._ask)
        self._recovery = recovery
        self.keeper = Keeper(self.session, self.messages, recovery) if recovery else None
        self.offer = Offer(
            self.session,
            self.messages,
            number=self.opening.next_number,
            may_leave=self._may_leave,
            kept=self._kept_again,
        )
        self._put_together()
        self.session.sheets_shown.connect(self._show_welcome_or_work)
        self.session.unit_shown.connect(self._keep_unit)
        self.session.show_in(_kept_unit(self.settings))
        self._show_welcome_or_work()

    def _put_together(self) -> None:
        self.table = Table(self.session)
        self.strip = ToolStrip(self.session, self.table)
        self.tape = Tape(self.session)
        self.bar = TopBar(self.session, self._make_actions())
        self._hang_menus()
        self.pages = Pages(self.session, self.messages, self._ask, self.ways_out)
        self.page = self.pages.length
        self.pages.pointed.connect(self._point)
        self.pages.wanted.connect(self.open)
        self.pages.tool_wanted.connect(self.table.pick_up)
        self.rail = WayRail(self.way)
        self.welcome = Welcome(samples())
        self.welcome.chosen.connect(lambda path: self.opening.open([path]))
        self.welcome.wanted.connect(self.open)
        self.foot = Foot(self.way)
        self.foot.saving.connect(self.saving.save)
        self.middle = QStackedWidget()
        self.middle.addWidget(self.welcome)
        self.middle.addWidget(self._work())
        self.message_bar = MessageBar(self.messages)
        whole = QWidget()
        column = _bare(QVBoxLayout(whole))
        for part in (self.bar, self.middle, self.offer.bar, self.message_bar, self.foot):
            column.addWidget(part, 1 if part is self.middle else 0)
        self.setCentralWidget(whole)
        self.way.went.connect(self._show_stage)
        self.page.findings.checked_anew.connect(self._show_standings)
        self.session.saved_or_not.connect(self._show_standings)
        self._show_stage()

    def _work(self) -> QWidget:
        """Rail, table between its tools and the tape, page."""
        bench = QWidget()
        column = _bare(QVBoxLayout(bench))
        column.addWidget(self.strip)
        column.addWidget(self.table, 1)
        column.addWidget(self.tape)
        work = QWidget()
        row = _bare(QHBoxLayout(work))
        row.addWidget(self.rail)
        row.addWidget(bench, 1)
        row.addWidget(self.pages)
        return work

    def _show_stage(self) -> None:
        self.pages.go(self.way.now)
        self.table.tools.end_correcting()
        self.tape.setVisible(self.way.now is Stage.LENGTH)

    def _show_standings(self) -> None:
        session = self.session
        saved = not session.state.empty and not session.state.nothing and not session.changed
        checks = self.page.findings.checks
        self.rail.show_standings(standings(session.state, session.shown, checks, saved=saved))

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
        self.ways_out = [
            self._action("Save", Keys.Save, self.saving.save),
            self._action("Save as …", Keys.SaveAs, self.saving.save_as),
        ]
        for action, why in zip(self.ways_out, WAYS_OUT, strict=True):
            action.setToolTip(f"{why} ({action.shortcut().toString()})")
        self.needs_work = [
            *self.ways_out,
            self._action("Clear the table", Keys.Close, self.clear),
        ]
        self.lesson = LessonOpener(self.session, self.messages, self._ask, self)
        self.needs_work.append(self.lesson.action)
        return [self._action("Open …", Keys.Open, self.open), undo, redo, *self.needs_work]

    def _hang_menus(self) -> None:
        """Files opened before under Open, how things look at the end of the bar."""
        self.recent = RecentMenu(self.viewing, lambda path: self.opening.open([path]), self)
        self.bar.hang(self.recent, "Open …")
        picture = QAction("A picture of the table on paper …", self)
        picture.triggered.connect(lambda _=False: self._print_table())
        self.view_menu = ViewMenu(self.viewing, self, self.table.fit, picture)
        self.bar.hang(self.view_menu)

    def _print_table(self) -> None:
        path = self._ask.picture_to_save()
        if path is not None:
            with self.messages.guarding():
                picture_on_paper(self.table, path, self.bar.name.accessibleName())
                self.messages.say(f"Saved {path.name} in {path.resolve().parent}.")

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

    def look_for_lost_work(self) -> None:
        """Offers what a crash left behind."""
        if self._recovery is not None:
            self.offer.look(self._recovery)

    def _kept_again(self) -> bool:
        """Work was brought back: is it on disk again?"""
        self.saving.forget()
        if self.keeper is None:
            return False
        self.keeper.keep()
        return self.keeper.kept is self.session.settled

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
        self.foot.show_onward(not empty)
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
        if event.isAccepted():
            self.viewing.keep_shape(self)
            self.offer.leave()
            if self.keeper is not None:
                self.keeper.forget()


def _bare(layout: Box) -> Box:
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(0)
    return layout


def _kept_unit(settings: QSettings) -> Shown:
    kept = settings.value(UNIT_KEY, Shown.CM.value, type=str)
    return next((s for s in Shown if s.value == kept), Shown.CM)
