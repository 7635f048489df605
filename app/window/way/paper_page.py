"""Paper: the altered pattern saved, and what was changed."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QPushButton, QWidget

from app.window.ask import Ask
from app.window.messages import Messages
from app.window.session import Session
from app.window.way.changed_box import ChangedBox
from app.window.way.page_of import StagePage
from app.window.way.sheets_box import SheetsBox

CARE = (
    "Print the test square first and measure it. Cut cheap cloth before good cloth, and keep the"
    " pattern as it was."
)


class PaperPage(StagePage):
    """A button for each way out of the program, and the list of what changed."""

    def __init__(
        self,
        session: Session,
        messages: Messages,
        ask: Ask,
        actions: Sequence[QAction],
        parent: QWidget,
    ) -> None:
        super().__init__("Take it to the table", CARE, parent=parent)
        self.buttons = [_button(action) for action in actions]
        self.sheets = SheetsBox(session, messages, ask)
        self.changed = ChangedBox(session)
        self.add(*self.buttons, self.sheets)
        self.add(self.changed, stretch=1)


def _button(action: QAction) -> QPushButton:
    button = QPushButton(action.text())
    button.setToolTip(action.toolTip())
    button.setEnabled(action.isEnabled())
    button.clicked.connect(action.trigger)
    action.changed.connect(lambda: button.setEnabled(action.isEnabled()))
    return button
