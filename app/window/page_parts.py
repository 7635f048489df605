"""What the boxes of the page are put together from."""

from __future__ import annotations

from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QWidget

from app.window import theme


class MoreButton(QPushButton):
    """Opens and shuts what is rarely asked for."""

    def __init__(self) -> None:
        super().__init__("More")
        self.setCheckable(True)
        self.setObjectName("more")
        self.setAccessibleName("More: what is rarely asked for")
        self.toggled.connect(lambda on: self.setText("Less" if on else "More"))


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
