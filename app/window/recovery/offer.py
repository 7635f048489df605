"""The offer, after a crash, to bring back the work that was not saved."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QLocale, QObject
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget

from app.window.ahead import work_out
from app.window.busy import StoppedError
from app.window.lengths import with_unit
from app.window.messages import Messages
from app.window.recovery.copies import Copy
from app.window.recovery.values import MadeAgain, change_in, names_in, state_of
from app.window.session import Session
from core.errors import FileError

ENTRY = "Bring back unsaved work"


class Offer(QObject):
    """Holds the copies that were left behind, and offers one after the other.

    `number` gives each sheet that is brought back a number, `may_leave` says whether what lies
    on the table may go, `kept` is called when a state was brought back, and says whether that is
    on disk again: only then may the old copy go.
    """

    def __init__(
        self,
        session: Session,
        messages: Messages,
        *,
        number: Callable[[], int],
        may_leave: Callable[[], bool],
        kept: Callable[[], bool],
    ) -> None:
        super().__init__(session)
        self._session, self._messages = session, messages
        self._number, self._may_leave, self._kept = number, may_leave, kept
        self._copies: list[Copy] = []
        self.bar = OfferBar()
        self.bar.back.clicked.connect(lambda _=False: self.bring_back())
        self.bar.away.clicked.connect(lambda _=False: self.throw_away())

    def look(self, folder: Path) -> None:
        """Offers what was left behind in the folder; spoiled copies are told of, and stay."""
        for copy in Copy.left_behind(folder):
            try:
                names_in(copy.values())
                change_in(copy.values())
            except FileError as error:
                self._spoiled(copy, error)
            else:
                self._copies.append(copy)
        self._show()

    def bring_back(self) -> None:
        """Puts the work on the table as it was; one undo leads to the files as opened."""
        copy = self._copies[0]
        if not self._may_leave():
            return
        try:
            made = self._session.busy.run(
                "Bringing the work back", lambda: _made_again(copy, self._number)
            )
        except StoppedError:
            return
        except FileError as error:
            self._copies.remove(copy)
            self._spoiled(copy, error)
        else:
            self._copies.remove(copy)
            self._put_back(made)
            if self._kept():
                copy.remove()
            else:
                copy.leave()
        self._show()

    def throw_away(self) -> None:
        """Removes the copy for good."""
        self._copies.pop(0).remove()
        self._show()

    def leave(self) -> None:
        """The window closes: what was not answered is offered by the next one."""
        for copy in self._copies:
            copy.leave()
        self._copies.clear()

    def _put_back(self, made: MadeAgain) -> None:
        self._session.select(None)
        self._session.begin(made.opened)
        self._session.commit(ENTRY, made.worked_on)
        told = [_since(sheet.drawing.path, sheet.drawing.data) for sheet in made.opened.sheets.all]
        self._messages.say(" ".join(("Your work is back, and not saved yet.", *filter(None, told))))

    def _spoiled(self, copy: Copy, error: FileError) -> None:
        self._messages.say(
            f"A copy of unsaved work cannot be brought back: {error}. It stays where it is,"
            f" {copy.work}; delete it when you do not need it."
        )
        copy.leave()

    def _show(self) -> None:
        self.bar.setVisible(bool(self._copies))
        if self._copies:
            self.bar.say(self._sentence(self._copies[0], len(self._copies) - 1))

    def _sentence(self, copy: Copy, more: int) -> str:
        values = copy.values()
        names, by_mm = names_in(values), change_in(values).by_mm
        amount = with_unit(abs(by_mm), self._session.shown)
        way = "longer" if by_mm > 0.0 else "shorter"
        what = f"{', '.join(names)}, {amount} {way}" if by_mm else ", ".join(names)
        when = QLocale().toString(copy.written, QLocale.FormatType.ShortFormat)
        others = f" There is more from {more} other time{'s' * (more > 1)}." if more else ""
        return (
            f"Hemward ended before this was saved: {what} ({when}). Bring it back, or throw it"
            f" away; nothing brings it back then.{others}"
        )


def _made_again(copy: Copy, number: Callable[[], int]) -> MadeAgain:
    made = state_of(copy.values(), copy.bytes_of, number)
    work_out(made.worked_on)
    return made


def _since(path: Path, data: bytes) -> str:
    """What became of the file since it was opened; nothing when it is as it was."""
    try:
        same = path.read_bytes() == data
    except OSError:
        return f"{path.name} is no longer where it was; this is as it was when you opened it."
    if same:
        return ""
    return f"{path.name} was changed on disk since; this is as it was when you opened it."


class OfferBar(QFrame):
    """One sentence and the two answers to it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("message")
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setAccessibleName("Unsaved work")
        self.back = QPushButton("Bring it back")
        self.back.setToolTip("Puts the work on the table as it was, still to be saved.")
        self.away = QPushButton("Throw it away for good")
        self.away.setToolTip(
            "Deletes the unsaved work; nothing brings it back after that. The pattern itself stays."
        )
        row = QHBoxLayout(self)
        row.setContentsMargins(16, 8, 12, 8)
        row.addWidget(self.words, 1)
        row.addWidget(self.back)
        row.addWidget(self.away)
        self.hide()

    def say(self, sentence: str) -> None:
        self.words.setText(sentence)
