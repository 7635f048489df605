"""A choice of few, side by side; and a length to be typed. The same manners everywhere."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from enum import Enum
from typing import Generic, TypeVar

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QLineEdit, QPushButton, QWidget

from app.window.lengths import typed, with_unit
from app.window.session import Session
from core.errors import MeasureError

One = TypeVar("One", bound=Enum)


class Segments(QWidget, Generic[One]):
    """One of an enum's members, each called by its value or by what `words` says.

    ``chosen`` gets what a person picked, and only that.
    """

    def __init__(
        self,
        members: Iterable[One],
        chosen: Callable[[One], object],
        *,
        name: str,
        why: Mapping[Enum, str],
        words: Mapping[One, str] | None = None,
    ) -> None:
        super().__init__()
        self._why, self._name = why, name
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        group = QButtonGroup(self)
        self.buttons: dict[One, QPushButton] = {}
        for member in members:
            text = (words or {}).get(member, str(member.value))
            button = QPushButton(text)
            button.setCheckable(True)
            button.setAccessibleName(f"{name} {text}")
            button.clicked.connect(lambda _=False, m=member: chosen(m))
            group.addButton(button)
            row.addWidget(button, 1)
            self.buttons[member] = button
        self._shape()
        self.allow(True)

    def _shape(self) -> None:
        """Rounded at both ends only, one line between any two."""
        ends = list(self.buttons.values())
        for button in ends:
            button.setProperty("segment", "middle")
        ends[0].setProperty("segment", "first")
        ends[-1].setProperty("segment", "last")

    def show_one(self, member: One) -> None:
        """Marks the member that holds."""
        self.buttons[member].setChecked(True)

    def allow(self, allowed: bool, why_not: str = "") -> None:
        """Greys all of it out when it does not matter; the tooltip then says why."""
        for member, button in self.buttons.items():
            button.setEnabled(allowed)
            button.setToolTip(self._why.get(member, "") if allowed else why_not)
            button.setAccessibleDescription(button.toolTip())


# What a step of the arrow keys does to a length.
NUDGES = {Qt.Key.Key_Up: 1, Qt.Key.Key_Down: -1}


class LengthEdit(QLineEdit):
    """A length in the unit shown. ``taken`` carries mm, or None for a box left empty.

    What cannot be read is told in the session's message line and left to be put right; Esc
    brings back what holds. Arrow up makes it 1 mm or 1/16 in more, arrow down less; with Shift
    1 cm or 1/2 in.
    """

    taken = Signal(object)

    def __init__(self, session: Session, *, name: str, empty: str | None = None) -> None:
        super().__init__()
        self._session, self._empty = session, empty
        self._holds: float | None = None
        self.setAccessibleName(name)
        self.setPlaceholderText(empty or "")
        self.returnPressed.connect(self._take)
        self.installEventFilter(self)
        session.unit_shown.connect(self.show_again)

    def show_mm(self, mm: float | None) -> None:
        """Shows what holds."""
        if mm != self._holds or not self.isModified():
            self._holds = mm
            self.show_again()

    def show_again(self) -> None:
        """What holds, in the place of what was typed."""
        text = "" if self._holds is None else with_unit(self._holds, self._session.shown)
        if text != self.text() or self.isModified():
            self.setText(text)

    def _take(self) -> None:
        text = self.text().strip()
        if not text and self._empty is not None:
            self._give(None)
            return
        try:
            self._give(typed(text, self._session.shown))
        except MeasureError as error:
            self._session.refuse(str(error))
            self.selectAll()

    def _give(self, mm: float | None) -> None:
        self.setModified(False)
        if mm != self._holds:
            self.taken.emit(mm)
        self.show_again()

    def _nudge(self, sign: int, keys: Qt.KeyboardModifier) -> None:
        """From what was typed or holds, and never below nothing: no length that is asked for is."""
        if self.isModified():
            self._take()
        shown = self._session.shown
        step = shown.leap_mm if keys & Qt.KeyboardModifier.ShiftModifier else shown.fine_mm
        if self._holds is not None:
            self._give(max(self._holds + sign * step, 0.0))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Esc puts back what holds; leaving the box takes what was typed, if it can be read."""
        if isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress:
            if event.key() in NUDGES:
                self._nudge(NUDGES[Qt.Key(event.key())], event.modifiers())
                return True
            if event.key() == Qt.Key.Key_Escape:
                self.show_again()
                self._session.refuse("")
                return True
        elif isinstance(event, QFocusEvent) and event.type() is QEvent.Type.FocusOut:
            if self.isModified():
                self._take()
            self.show_again()
        return super().eventFilter(watched, event)
