"""The page at the right: what the length stage asks for, and what the change does."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QLabel, QVBoxLayout, QWidget

from app.window import theme
from app.window.edge_box import EdgeBox
from app.window.findings_list import FindingsList
from app.window.length_box import LengthBox
from app.window.level_box import LevelBox, WhereBox
from app.window.messages import Messages
from app.window.pieces_tree import PiecesTree
from app.window.session import Session
from app.window.sizes_box import SizesBox
from app.window.ways_box import WaysBox


class LengthPage(QFrame):
    """Question, where, amount, ways, pieces with their lengths, the selected edge, findings."""

    def __init__(self, session: Session, messages: Messages, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("page")
        self.setFixedWidth(theme.PAGE_WIDTH)
        question = QLabel("How much longer or shorter?")
        question.setObjectName("question")
        self.where = WhereBox(session)
        self.length = LengthBox(session)
        self.ways = WaysBox(session, self)
        self.level = LevelBox(session)
        self.sizes = SizesBox(session)
        self.pieces = PiecesTree(session)
        self.edge = EdgeBox(session, messages)
        self.findings = FindingsList(session)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 12, 16, 8)
        column.setSpacing(theme.SPACE + 2)
        for part in (question, self.where, self.length, self.sizes, self.ways, self.level):
            column.addWidget(part)
        column.addWidget(self.pieces, 20)
        column.addWidget(self.edge)
        column.addWidget(_head("Findings"))
        column.addWidget(self.findings, 1)


def _head(text: str) -> QLabel:
    head = QLabel(text)
    head.setObjectName("head")
    return head
