"""What of the window stands at once, before the craft is loaded; the bench works with it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QSettings
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout

from app.window.ask import Ask
from app.window.bars import Foot, MessageBar, TopBar
from app.window.messages import Messages
from app.window.view_menu import ViewMenu
from app.window.viewing import Viewing
from app.window.welcome import Welcome


class Action(QAction):
    """An action that can tell what it would be done to."""

    def tell(self, what: str) -> None:
        self.setToolTip(f"{self.text()}: {what}" if what else self.text())


@dataclass(frozen=True)
class Front:
    """The parts of the window that stand at once.

    `middle` shows the welcome or the work, `column` has all parts one below the other; the
    actions of `ways_out` save, those of `needs_work` can be done once anything is open;
    `open` asks for files. Unsaved work is kept in the folder `recovery`, if there is one.
    """

    settings: QSettings
    recovery: Path | None
    viewing: Viewing
    messages: Messages
    ask: Ask
    bar: TopBar
    welcome: Welcome
    middle: QStackedWidget
    message_bar: MessageBar
    foot: Foot
    column: QVBoxLayout
    view_menu: ViewMenu
    undo: Action
    redo: Action
    ways_out: Sequence[QAction]
    needs_work: Sequence[QAction]
    open: Callable[[], None]
