"""Keeps a copy of unsaved work up to date, and takes it away once there is none."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject, QTimer

from app.window.document import State
from app.window.messages import Messages
from app.window.recovery.copies import Copy
from app.window.session import Session
from core.errors import HemwardError

# A change is on disk this long after it was made; what comes meanwhile goes along with it.
SOON_MS = 250


class Keeper(QObject):
    """Follows the session. Where nothing can be written, that is said once, and work goes on."""

    def __init__(self, session: Session, messages: Messages, folder: Path) -> None:
        super().__init__(session)
        self._session, self._messages, self._folder = session, messages, folder
        self._copy: Copy | None = None
        self._kept: State | None = None
        self._told = False
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(SOON_MS)
        self._soon.timeout.connect(self.keep)
        session.state_shown.connect(self._follow)
        session.sheets_shown.connect(self._follow)
        session.saved_or_not.connect(self._follow)

    @property
    def kept(self) -> State | None:
        """The state that is on disk."""
        return self._kept

    def _follow(self) -> None:
        if not self._session.changed:
            self.forget()
        elif not self._soon.isActive():
            self._soon.start()

    def keep(self) -> None:
        """Brings the copy up to date now."""
        self._soon.stop()
        state = self._session.settled
        if not self._session.changed:
            self.forget()
        elif state is not self._kept:
            try:
                self._write(state)
            except HemwardError as error:
                self._tell(error)

    def forget(self) -> None:
        """There is no unsaved work, or it is to be forgotten."""
        self._soon.stop()
        copy, self._copy, self._kept = self._copy, None, None
        if copy is not None:
            copy.remove()

    def _write(self, state: State) -> None:
        if self._copy is None:
            self._copy = Copy.begin(self._folder)
        self._copy.write(state)
        self._kept, self._told = state, False

    def _tell(self, error: HemwardError) -> None:
        if not self._told:
            self._told = True
            self._messages.say(f"Unsaved work is not being kept in case of a crash: {error}")
