"""The menu of how things look, and that of the files that were opened before."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QWidget

from app.window.viewing import Viewing

NO_PATTERN = "What the table shows, to talk about; true-scale sheets to cut by are under Paper."


class RecentMenu(QMenu):
    """The files opened before, read anew whenever it is shown."""

    def __init__(
        self, viewing: Viewing, does: Callable[[Path], object], parent: QWidget | None = None
    ) -> None:
        super().__init__("Opened before", parent)
        self._viewing, self._does = viewing, does
        self.aboutToShow.connect(self.list_anew)

    def list_anew(self) -> None:
        self.clear()
        for path in self._viewing.recent:
            action = self.addAction(path.name)
            action.setToolTip(str(path))
            action.triggered.connect(lambda _=False, p=path: self._does(p))
        if self.isEmpty():
            self.addAction("Nothing was opened yet").setEnabled(False)


class ViewMenu(QMenu):
    """Dark ground, full screen, everything in sight; inches or centimetres: `to_inches` is told."""

    def __init__(
        self,
        viewing: Viewing,
        window: QWidget,
        fit: Callable[[], object],
        on_paper: Sequence[QAction],
        to_inches: Callable[[bool], object],
    ) -> None:
        super().__init__("View", window)
        self._viewing, self._window = viewing, window
        self.setToolTipsVisible(True)
        self.dark = self._checked("Dark ground", "Ctrl+D", viewing.dark)
        self.dark.toggled.connect(lambda on: viewing.wear(dark=on))
        self.full = self._checked("Full screen", "F11", False)
        self.full.toggled.connect(self._fill_screen)
        self.inches = self._checked("Lengths in inches", "Ctrl+I", False)
        self.inches.toggled.connect(to_inches)
        whole = QAction("Everything in sight", self)
        whole.setShortcuts([QKeySequence.fromString("Ctrl+0")])
        whole.triggered.connect(lambda _=False: fit())
        for action in on_paper:
            action.setToolTip(NO_PATTERN)
        for action in (self.dark, self.inches, self.full, whole, *on_paper):
            self.addAction(action)
            window.addAction(action)

    def _checked(self, text: str, key: str, on: bool) -> QAction:
        action = QAction(text, self)
        action.setShortcuts([QKeySequence.fromString(key)])
        action.setCheckable(True)
        action.setChecked(on)
        return action

    def _fill_screen(self, on: bool) -> None:
        if on:
            self._window.showFullScreen()
        else:
            self._window.showNormal()
