"""The bar above, the foot below, and the strip in which the window speaks."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QAction, QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QMenu,
    QPushButton,
    QSizePolicy,
    QToolButton,
    QWidget,
)

from app.window import theme
from app.window.messages import Messages
from app.window.way.stage import Stage

if TYPE_CHECKING:
    # The bars stand before the craft is brought along.
    from app.window.session import Session
    from app.window.way.way import Way

CAUTION = (
    "Before you cut: print the test square and measure it; try the altered pattern in cheap"
    " cloth first."
)

# In this order they go into a menu where the window is narrow: pixels that the name keeps then,
# and of the whole bar.
PUT_AWAY = ("Clear the table", "Save as …", "Redo", "Lesson", "Undo")
NAME_LEAST, LEAST_BAR = 150, 400

VIEW_TIP = (
    "Dark ground for tired eyes, inches, full screen for a class, and the table as a picture."
)
ONWARD_TIP = "The usual order of the work; every stage can be reached from the left as well."
ONWARD = {
    Stage.PIECES: "On to the scale",
    Stage.SCALE: "On to the edges",
    Stage.EDGES: "On to the length",
    Stage.LENGTH: "On to the check",
    Stage.CHECK: "On to paper",
    Stage.PAPER: "Save",
}


class TopBar(QFrame):
    """File names and whether there is unsaved work; the actions as buttons."""

    def __init__(self, actions: Sequence[QAction], parent: QWidget) -> None:
        super().__init__(parent)
        self._session: Session | None = None
        self.setObjectName("bar")
        self.setFixedHeight(theme.BAR_HEIGHT)
        self.name = _NameLabel()
        self.changed = QLabel("changed")
        self.changed.setObjectName("quiet")
        row = self._row = QHBoxLayout(self)
        row.setContentsMargins(16, 0, 16, 0)
        row.setSpacing(2 * theme.SPACE)
        row.addWidget(self.name)
        row.addWidget(self.changed)
        row.addStretch(1)
        self.buttons = {action.text(): _button(action) for action in actions}
        for button in self.buttons.values():
            row.addWidget(button)
        self.rest = QToolButton()
        self.rest.setText("More")
        self.rest.setAccessibleName("What finds no room on the bar")
        self.rest.setToolTip("What finds no room on the bar")
        self.rest.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.rest.setMenu(QMenu(self.rest))
        self.rest.hide()
        row.addWidget(self.rest)
        self.name.show_names(())
        self.changed.hide()

    def follow(self, session: Session) -> None:
        """Shows what is open there."""
        self._session = session
        session.state_told.connect(self._show)
        session.sheets_shown.connect(self._show)
        session.saved_or_not.connect(self._show)
        self._show()

    def hang(self, menu: QMenu, under: str | None = None) -> None:
        """A menu under the button of that name; without one, under a button of its own."""
        if under is not None:
            button = self.buttons[under]
            button.setPopupMode(QToolButton.ToolButtonPopupMode.MenuButtonPopup)
        else:
            button = QToolButton()
            button.setText(menu.title())
            button.setAccessibleName(menu.title())
            button.setToolTip(VIEW_TIP)
            button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
            self._row.addWidget(button)
        button.setMenu(menu)

    def minimumSizeHint(self) -> QSize:
        return QSize(LEAST_BAR, theme.BAR_HEIGHT)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._make_room()

    def _make_room(self) -> None:
        """Puts away, into a menu, what there is no room for; what is rarely pressed first."""
        menu, away = self.rest.menu(), [self.buttons[text] for text in PUT_AWAY]
        wide = [w for b in self.findChildren(QToolButton) if b not in {self.rest, *away}
                for w in (b.sizeHint().width(),)]  # fmt: skip
        gap = self._row.spacing()
        room = self.width() - 32 - NAME_LEAST - sum(w + gap for w in wide)
        kept = [b.sizeHint().width() + gap for b in away]
        count = 0
        if sum(kept) > room:
            room -= self.rest.sizeHint().width() + gap
            while count < len(kept) and sum(kept[count:]) > room:
                count += 1
        menu.clear()
        for k, button in enumerate(away):
            button.setVisible(k >= count)
            if k < count:
                menu.addAction(button.defaultAction())
        self.rest.setVisible(count > 0)

    def _show(self) -> None:
        if self._session is None:
            return
        paths = [s.drawing.path for s in self._session.state.sheets.all]
        self.name.show_names([p.name for p in paths])
        self.name.setToolTip("\n".join(str(p) for p in paths))
        self.changed.setVisible(self._session.changed)


class _NameLabel(QLabel):
    """All names, cut short where they do not fit."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("name")
        self._whole = ""
        self.setMaximumWidth(420)
        self.setMinimumWidth(40)

    def show_names(self, names: Sequence[str]) -> None:
        self._whole = ", ".join(names) or "Hemward"
        self.setAccessibleName(self._whole)
        self.updateGeometry()
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        text, metrics, room = self._whole, self.fontMetrics(), self.width()
        if metrics.horizontalAdvance(text) > room:
            from PySide6.QtCore import Qt

            text = metrics.elidedText(text, Qt.TextElideMode.ElideMiddle, room)
        self.setText(text)

    def sizeHint(self) -> QSize:
        """As wide as the whole of it, so that the bar gives it room where there is some."""
        wide = self.fontMetrics().horizontalAdvance(self._whole) + 4
        return QSize(min(wide, self.maximumWidth()), super().sizeHint().height())


def _button(action: QAction) -> QToolButton:
    button = QToolButton()
    button.setDefaultAction(action)
    button.setAccessibleName(action.text())
    return button


class Foot(QFrame):
    """The standing caution, and the one button that leads on."""

    saving = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("foot")
        self._way: Way | None = None
        row = QHBoxLayout(self)
        row.setContentsMargins(16, 6, 16, 6)
        caution = QLabel(CAUTION)
        caution.setObjectName("quiet")
        caution.setWordWrap(True)
        caution.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.onward = QPushButton(ONWARD[Stage.PIECES])
        self.onward.setObjectName("onward")
        self.onward.setToolTip(ONWARD_TIP)
        self.onward.clicked.connect(self._lead_on)
        row.addWidget(caution, 1)
        row.addWidget(self.onward)
        self.show_onward(False)

    def follow(self, way: Way) -> None:
        """Leads on from where one is there."""
        self._way = way
        way.went.connect(self._show)
        self._show()

    def show_onward(self, on: bool) -> None:
        """There is nowhere to go while nothing is open."""
        self.onward.setVisible(on)

    def _show(self) -> None:
        if self._way is not None:
            self.onward.setText(ONWARD[self._way.now])

    def _lead_on(self) -> None:
        if self._way is None:
            return
        following = self._way.now.following
        if following is None:
            self.saving.emit()
        else:
            self._way.go(following)


class MessageBar(QFrame):
    """The last thing that was said, until it is put away."""

    def __init__(self, messages: Messages, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("message")
        self._said = ""
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setAccessibleName("Message")
        away = QToolButton()
        away.setText("Close")
        away.setAccessibleName("Put the message away")
        away.clicked.connect(self.hide)
        row = QHBoxLayout(self)
        row.setContentsMargins(16, 8, 12, 8)
        row.addWidget(self.words, 1)
        row.addWidget(away)
        messages.said.connect(self._say)
        self.hide()

    def _say(self, sentence: str) -> None:
        # It reads lengths, which the first painted window does not need.
        from core.measure import unbroken

        self._said = sentence
        self.words.setText(unbroken(sentence))
        self.show()

    def put_away(self, sentence: str) -> None:
        """That is no longer so; what was said since stays."""
        if self._said == sentence:
            self.hide()
