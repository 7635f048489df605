"""The page at the right: what the length stage asks for, and what the change does."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QLabel, QVBoxLayout, QWidget

from app.window import theme
from app.window.edge_box import EdgeBox
from app.window.findings_list import FindingsList
from app.window.length_box import LengthBox
from app.window.messages import Messages
from app.window.pieces_tree import PiecesTree
from app.window.session import Session


class LengthPage(QFrame):
    """Question, amount, pieces with their lengths, the selected edge, findings."""

    def __init__(self, session: Session, messages: Messages, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("page")
        self.setFixedWidth(theme.PAGE_WIDTH)
        question = QLabel("How much longer or shorter?")
        question.setObjectName("question")
        self.length = LengthBox(session)
        self.pieces = PiecesTree(session)
        self.edge = EdgeBox(session, messages)
        self.findings = FindingsList(session)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 16, 12)
        column.setSpacing(2 * theme.SPACE)
        column.addWidget(question)
        column.addWidget(self.length)
        column.addWidget(self.pieces, 3)
        column.addWidget(self.edge)
        column.addSpacing(theme.SPACE)
        column.addWidget(_head("Findings"))
        column.addWidget(self.findings, 1)


def _head(text: str) -> QLabel:
    head = QLabel(text)
    head.setObjectName("head")
    return head
