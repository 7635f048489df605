"""Where in the work one is."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from app.window.session import Session
from app.window.way.stage import Stage


class Way(QObject):
    """The stage at which one is. ``went`` follows every step; no entry of the undo list, for it
    is how one looks at the work, not the work."""

    went = Signal()

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.now = Stage.LENGTH
        self._session = session

    def go(self, stage: Stage) -> None:
        """To that stage; a gesture that is under way ends first."""
        if stage is not self.now:
            self._session.commit_preview()
            self.now = stage
            self.went.emit()
