"""The amount as a number, and the unit in which lengths are shown."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from html import escape

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.window import theme
from app.window.lengths import Shown, in_unit, signed, typed
from app.window.session import Session
from app.window.work_out import WorkOut
from core.errors import MeasureError
from core.measure import unbroken

HINT = "Drag a hem, slide the tape, or type. + is longer, − is shorter."
HINT_EACH = "Each size has its amount below; what is typed here moves all of them by as much."
UNIT_TIP = "The unit of your own tape and of the instructions; it can be changed at any time."


class LengthBox(QWidget):
    """Shows and takes the amount. What is not possible is said below, where the hint was."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.edit = QLineEdit()
        self.edit.setObjectName("length")
        self.edit.setAccessibleName("How much longer (+) or shorter (−)")
        self.edit.setToolTip(
            "For example 6 cm, -25 mm, 2 1/2 in. A bare number is in the unit shown."
        )
        self.edit.installEventFilter(self)
        self.edit.returnPressed.connect(self._take)
        self.said = QLabel(HINT)
        self.said.setObjectName("quiet")
        self.said.setWordWrap(True)
        self.said.setMinimumHeight(34)
        self.said.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.work_out = QPushButton("Work it out …")
        self.work_out.setObjectName("more")
        self.work_out.setToolTip("From where the hem should be on the body.")
        self.work_out.clicked.connect(lambda _=False: self._ask())
        row = QHBoxLayout()
        row.setSpacing(2 * theme.SPACE)
        row.addWidget(self.edit, 1)
        row.addWidget(UnitSwitch(session))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2 * theme.SPACE)
        column.addLayout(row)
        below = QHBoxLayout()
        below.addWidget(self.said, 1)
        below.addWidget(self.work_out)
        column.addLayout(below)
        session.state_shown.connect(self._show)
        session.unit_shown.connect(self._show)
        session.refused.connect(self._say)
        self._show()

    def _show(self) -> None:
        self.edit.setText(signed(self._session.state.by_mm, self._session.shown))
        self._say(self._session.refusal)

    def _say(self, refusal: str) -> None:
        sign = f'<b style="color: {theme.look().vermilion}">!</b> '
        told = unbroken(in_unit(refusal, self._session.shown))
        hint = HINT_EACH if self._session.state.each_size else HINT
        words = f"{sign}{escape(told)}" if refusal else hint
        if words != self.said.text():
            self.said.setText(words)
            self.said.setStyleSheet(f"color: {theme.look().ink if refusal else theme.look().quiet}")

    def _ask(self) -> None:
        """The amount from what was measured on the body."""
        asked = WorkOut(self._session, self)
        if asked.exec() and asked.amount_mm is not None:
            self._session.set_by(asked.amount_mm)

    def _take(self) -> None:
        try:
            mm = typed(self.edit.text(), self._session.shown)
        except MeasureError as error:
            self._session.refuse(str(error))
            self.edit.selectAll()
            return
        self._session.set_by(mm)
        self._show()
        self.edit.selectAll()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Esc puts back what holds; leaving the box takes what was typed, if it can be read."""
        if isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress:
            if event.key() == Qt.Key.Key_Escape:
                self._show()
                self._session.refuse("")
                return True
        elif isinstance(event, QFocusEvent) and event.type() is QEvent.Type.FocusOut:
            if self.edit.isModified():
                self._take()
            self._show()
        return super().eventFilter(watched, event)


class UnitSwitch(QWidget):
    """cm | inch."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        group = QButtonGroup(self)
        self.buttons: dict[Shown, QPushButton] = {}
        for shown, side in ((Shown.CM, "left"), (Shown.INCH, "right")):
            button = QPushButton(shown.value)
            button.setObjectName(side)
            button.setCheckable(True)
            button.setAccessibleName(f"Show lengths in {shown.value}")
            button.setToolTip(UNIT_TIP)
            button.setMinimumHeight(36)
            button.clicked.connect(lambda _=False, s=shown: session.show_in(s))
            group.addButton(button)
            row.addWidget(button)
            self.buttons[shown] = button
        session.unit_shown.connect(lambda: self._check(session.shown))
        self._check(session.shown)

    def _check(self, shown: Shown) -> None:
        self.buttons[shown].setChecked(True)
