"""The page at the right: a question, and what its stage asks for."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QLabel, QVBoxLayout, QWidget

from app.window import theme


class StagePage(QFrame):
    """Begins with a question, and a sentence that says what it is for."""

    def __init__(self, question: str, why: str = "", *, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("page")
        self.setFixedWidth(theme.PAGE_WIDTH)
        self.setAccessibleName(question)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(20, 12, 16, 8)
        self.column.setSpacing(theme.SPACE + 2)
        self.column.addWidget(headline(question, "question"))
        if why:
            self.column.addWidget(words(why))

    def add(self, *parts: QWidget, stretch: int = 0) -> None:
        for part in parts:
            self.column.addWidget(part, stretch)

    def end(self) -> None:
        """What stands on the page stands at its top."""
        self.column.addStretch(1)


def headline(text: str, kind: str = "head") -> QLabel:
    label = QLabel(text)
    label.setObjectName(kind)
    label.setWordWrap(True)
    return label


def words(text: str = "") -> QLabel:
    """A sentence in small writing."""
    label = QLabel(text)
    label.setObjectName("quiet")
    label.setWordWrap(True)
    label.setAlignment(Qt.AlignmentFlag.AlignTop)
    return label
