"""Paper: the altered pattern saved, and what was changed."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QListWidget, QPushButton
from shiboken6 import isValid

from app.window.ask import Ask
from app.window.messages import Messages
from app.window.session import Session
from app.window.way.page_of import StagePage, headline, words
from app.window.way.sheets_box import SheetsBox

CARE = (
    "Print the test square first and measure it. Cut cheap cloth before good cloth, and keep the"
    " pattern as it was."
)


class PaperPage(StagePage):
    """A button for each way out of the program, and the list of what changed."""

    def __init__(
        self, session: Session, messages: Messages, ask: Ask, actions: Sequence[QAction]
    ) -> None:
        super().__init__("Take it to the table", CARE)
        self._session = session
        self._texts: list[str] | None = None
        self.buttons = [_button(action) for action in actions]
        self.changes = QListWidget()
        self.changes.setAccessibleName("What was changed, in order")
        self.said = words()
        self.sheets = SheetsBox(session, messages, ask)
        self.add(*self.buttons, self.sheets, headline("What was changed"), self.said)
        self.add(self.changes, stretch=1)
        session.stack.indexChanged.connect(self._list)
        self._list()

    def _list(self) -> None:
        stack = self._session.stack
        if not isValid(stack):
            # It empties itself once more while the window is taken down.
            return
        texts = [stack.text(k) for k in range(stack.index())]
        if texts == self._texts:
            return
        self._texts = texts
        self.changes.clear()
        self.changes.addItems([f"{k}. {text}" for k, text in enumerate(texts, 1)])
        self.said.setText("" if texts else "Nothing yet.")
        self.said.setVisible(not texts)


def _button(action: QAction) -> QPushButton:
    button = QPushButton(action.text())
    button.setToolTip(action.toolTip())
    button.setEnabled(action.isEnabled())
    button.clicked.connect(action.trigger)
    action.changed.connect(lambda: button.setEnabled(action.isEnabled()))
    return button
