"""What the boxes of the page are put together from."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from typing import TypeVar

from PySide6.QtCore import QPoint
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QComboBox,
    QGridLayout,
    QLabel,
    QPushButton,
    QWidget,
)

from app.window import theme

Box = TypeVar("Box", bound=QBoxLayout)


class MoreButton(QPushButton):
    """Opens and shuts what is rarely asked for."""

    def __init__(self) -> None:
        super().__init__("More")
        self.setCheckable(True)
        self.setObjectName("more")
        self.setAccessibleName("More: what is rarely asked for")
        self.setToolTip("Ways that few garments need: left alone, they are as most makers do it.")
        self.toggled.connect(lambda on: self.setText("Less" if on else "More"))


class Choice(QComboBox):
    """One of several. The wheel scrolls the page and never changes what is chosen."""

    def __init__(self, name: str, listed: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        from PySide6.QtCore import Qt

        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(name)
        self.view().setAccessibleName(listed)

    def paintEvent(self, event: QPaintEvent) -> None:
        """The style sheet leaves the arrow to be drawn here."""
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(theme.look().quiet), 1.5))
        x, y = self.width() - 15, self.height() // 2
        painter.drawPolyline([QPoint(x - 4, y - 2), QPoint(x, y + 2), QPoint(x + 4, y - 2)])
        painter.end()

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()


def page_grid(parent: QWidget) -> QGridLayout:
    """Words in one column, choices in the next, the same in every box of the page."""
    grid = QGridLayout(parent)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setHorizontalSpacing(theme.SPACE)
    grid.setVerticalSpacing(theme.SPACE + 2)
    grid.setColumnMinimumWidth(0, theme.WORDS_WIDTH)
    grid.setColumnStretch(1, 1)
    return grid


def label(words: str) -> QLabel:
    made = QLabel(words)
    made.setObjectName("quiet")
    return made


def bare_layout(layout: Box) -> Box:
    """The layout without any room around or between its parts."""
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(0)
    return layout
