"""The main window: what stands at once, and the bench behind it."""

# ruff: noqa: N802, PLW0108
# Qt calls what is overridden here by its own names. Lambdas put off what is behind the front.

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSettings
from PySide6.QtGui import (
    QAction,
    QCloseEvent,
    QDragEnterEvent,
    QDropEvent,
    QKeySequence,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QMainWindow,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.window.ask import Ask
from app.window.bars import Foot, MessageBar, TopBar
from app.window.front import Action, Front
from app.window.messages import Messages
from app.window.page_parts import bare_layout
from app.window.view_menu import RecentMenu, ViewMenu
from app.window.viewing import Viewing
from app.window.welcome import Welcome, samples

if TYPE_CHECKING:
    # The craft and its libraries are brought along after the window stands.
    from app.lesson.opening import LessonOpener
    from app.window.bench import Bench
    from app.window.opening import Opening
    from app.window.page import LengthPage
    from app.window.recovery.keeper import Keeper
    from app.window.recovery.offer import Offer
    from app.window.saving import Saving
    from app.window.session import Session
    from app.window.table.canvas import Table
    from app.window.way.pages import Pages
    from app.window.way.rail import WayRail
    from app.window.way.tape import Tape
    from app.window.way.tool_strip import ToolStrip
    from app.window.way.way import Way

WAYS_OUT = (
    "The pattern that you opened stays as it is: a new name is asked for the first time.",
    "Under another name, to keep what was saved before beside it.",
)
OPEN_TIP = "A pattern as SVG or DXF; front and back may come in two files, opened together."
CLEAR_TIP = "Takes all pieces off the table, for another pattern; the files stay as they are."
Keys = QKeySequence.StandardKey


class MainWindow(QMainWindow):
    """Bar, welcome and foot, which stand at once; behind them the bench, made when first needed.

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
        self.recovery = recovery
        self.viewing = Viewing(self.settings)
        self.viewing.put_on()
        self.viewing.give_shape(self)
        self.messages = Messages(self)
        self.ask = ask or Ask(self)
        self._bench: Bench | None = None
        self._put_together()

    def _put_together(self) -> None:
        # Each is made in its place: of what is moved later, Qt works out the look once more.
        whole = QWidget(self)
        self.bar = TopBar(self._make_actions(), whole)
        self._hang_menus()
        self.middle = QStackedWidget(whole)
        self.welcome = Welcome(samples(), self.middle)
        self.welcome.chosen.connect(lambda path: self.opening.open([path]))
        self.welcome.wanted.connect(self.open)
        self.middle.addWidget(self.welcome)
        self.message_bar = MessageBar(self.messages, whole)
        self.foot = Foot(whole)
        self.foot.saving.connect(lambda: self.saving.save())
        self.column = bare_layout(QVBoxLayout(whole))
        for part in (self.bar, self.middle, self.message_bar, self.foot):
            self.column.addWidget(part, 1 if part is self.middle else 0)
        self.setCentralWidget(whole)
        self.welcome.open.setFocus()

    def _make_actions(self) -> list[QAction]:
        self.undo = self._action("Undo", Keys.Undo, lambda: self.bench.undo())
        self.redo = self._action("Redo", Keys.Redo, lambda: self.bench.redo())
        self.ways_out = [
            self._action("Save", Keys.Save, lambda: self.saving.save()),
            self._action("Save as …", Keys.SaveAs, lambda: self.saving.save_as()),
        ]
        for action, why in zip(self.ways_out, WAYS_OUT, strict=True):
            action.setToolTip(f"{why} ({action.shortcut().toString()})")
        lesson = self._action("Lesson", "F5", lambda: self.lesson.open())
        lesson.setToolTip("Play the alteration step by step, for a class (F5)")
        clear = self._action("Clear the table", Keys.Close, self.clear)
        clear.setToolTip(CLEAR_TIP)
        self.needs_work = [*self.ways_out, clear, lesson]
        for action in (self.undo, self.redo, *self.needs_work):
            action.setEnabled(False)
        opener = self._action("Open …", Keys.Open, self.open)
        opener.setToolTip(f"{OPEN_TIP} ({opener.shortcut().toString()})")
        return [opener, self.undo, self.redo, *self.needs_work]

    def _action(self, text: str, key: Keys | str, does: Callable[[], object]) -> Action:
        action = Action(text, self)
        # One key alone would have all names of Qt's namespace made, which takes long (`welcome`).
        action.setShortcuts(key if isinstance(key, Keys) else [QKeySequence.fromString(key)])
        action.triggered.connect(lambda _=False: does())
        self.addAction(action)
        return action

    def _hang_menus(self) -> None:
        """Files opened before under Open, how things look at the end of the bar."""
        self.recent = RecentMenu(self.viewing, lambda path: self.opening.open([path]), self)
        self.bar.hang(self.recent, "Open …")
        on_paper = [QAction(text, self) for text in ("Print a picture …", "Save a picture …")]
        on_paper[0].triggered.connect(lambda _=False: self.bench.print_picture())
        on_paper[1].triggered.connect(lambda _=False: self.bench.save_picture())
        self.view_menu = ViewMenu(
            self.viewing,
            self,
            lambda: self.table.fit(),
            on_paper,
            lambda on: self.bench.show_in_inches(on=on),
        )
        self.bar.hang(self.view_menu)

    @property
    def bench(self) -> Bench:
        """Everything behind the front; made now, when it was not before."""
        if self._bench is None:
            from app.window.bench import Bench

            self._bench = Bench(self, self._front())
            self._bench.stand()
        return self._bench

    def _front(self) -> Front:
        return Front(
            settings=self.settings,
            recovery=self.recovery,
            viewing=self.viewing,
            messages=self.messages,
            ask=self.ask,
            bar=self.bar,
            welcome=self.welcome,
            middle=self.middle,
            message_bar=self.message_bar,
            foot=self.foot,
            column=self.column,
            view_menu=self.view_menu,
            undo=self.undo,
            redo=self.redo,
            ways_out=self.ways_out,
            needs_work=self.needs_work,
            open=self.open,
        )

    @property
    def session(self) -> Session:
        return self.bench.session

    @property
    def way(self) -> Way:
        return self.bench.way

    @property
    def opening(self) -> Opening:
        return self.bench.opening

    @property
    def saving(self) -> Saving:
        return self.bench.saving

    @property
    def keeper(self) -> Keeper | None:
        return self.bench.keeper

    @property
    def offer(self) -> Offer:
        return self.bench.offer

    @property
    def table(self) -> Table:
        return self.bench.table

    @property
    def strip(self) -> ToolStrip:
        return self.bench.strip

    @property
    def tape(self) -> Tape:
        return self.bench.tape

    @property
    def rail(self) -> WayRail:
        return self.bench.rail

    @property
    def pages(self) -> Pages:
        return self.bench.pages

    @property
    def page(self) -> LengthPage:
        return self.bench.pages.length

    @property
    def lesson(self) -> LessonOpener:
        return self.bench.lesson

    def open(self) -> None:
        """Asks for files and opens them."""
        self.opening.open(self.ask.files_to_open())

    def clear(self) -> None:
        """Takes everything off the table; asks first when it was not saved."""
        self.bench.clear()

    def look_for_lost_work(self) -> None:
        """Offers what a crash left behind."""
        if self.recovery is not None:
            self.offer.look(self.recovery)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._bench is not None:
            self._bench.make_room()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if any(url.isLocalFile() for url in event.mimeData().urls()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        paths = [Path(u.toLocalFile()) for u in event.mimeData().urls() if u.isLocalFile()]
        event.acceptProposedAction()
        self.opening.open(paths)

    def closeEvent(self, event: QCloseEvent) -> None:
        bench = self._bench
        event.setAccepted(bench is None or bench.may_leave())
        if event.isAccepted():
            self.viewing.keep_shape(self)
            if bench is not None:
                bench.leave()
