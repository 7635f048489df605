"""The selected edge: what it is taken for, why, and a box to put that right."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.window import theme
from app.window.in_sizes import edges_alike, in_how_many, with_role
from app.window.messages import Messages
from app.window.page_parts import Choice
from app.window.session import Session
from core.piece.model import Role

ROLE_TIP = (
    "What it is when the garment is sewn: a hem is moved, seams are carried on, and mates are told"
    " by what their edges are."
)
YES_TIP = "What you say is certain is not asked again, and is kept with the pattern."
NONE = "Click an edge to see what it is taken for."


class RoleChoice(Choice):
    """All roles."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("This edge is the", "What an edge can be", parent)
        for role in Role:
            self.addItem(role.value, role)
        self.setToolTip(ROLE_TIP)
        self.setFixedWidth(124)


class EdgeBox(QWidget):
    """Follows the selection."""

    def __init__(self, session: Session, messages: Messages, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session, self._messages = session, messages
        self.head = QLabel("This edge")
        self.head.setObjectName("head")
        self.head.setWordWrap(True)
        self.why = QLabel(NONE)
        self.why.setObjectName("quiet")
        self.why.setWordWrap(True)
        self.role = RoleChoice()
        self.role.activated.connect(self._correct)
        row = QHBoxLayout()
        row.addWidget(self.head, 1)
        row.addWidget(self.role)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.SPACE)
        self.yes = QPushButton("Yes, it is")
        self.yes.setAccessibleName("Yes, this edge is what it is taken for")
        self.yes.setToolTip(YES_TIP)
        self.yes.clicked.connect(lambda: self._correct(self.role.currentIndex()))
        below = QHBoxLayout()
        below.addWidget(self.why, 1)
        below.addWidget(self.yes)
        column.addLayout(row)
        column.addLayout(below)
        session.edge_selected.connect(self._show)
        session.sheets_shown.connect(self._show)
        self._show()

    def _show(self) -> None:
        which = self._session.selected
        self.head.setVisible(which is not None)
        self.role.setVisible(which is not None)
        self.yes.hide()
        if which is None:
            self.why.setText(NONE)
            return
        piece = self._session.settled.piece(which.piece)
        edge = piece.edges[which.number]
        self.head.setText(f"{piece.name}: this is the")
        self.role.setCurrentIndex(self.role.findData(edge.role))
        self.yes.setVisible(not edge.because.sure)
        sign = "" if edge.because.sure else "? "
        self.why.setText(f"{sign}{edge.because.word.capitalize()}: {edge.because.why}.")

    def _correct(self, index: int) -> None:
        which = self._session.selected
        role = self.role.itemData(index)
        if which is None:
            return
        state = self._session.settled
        piece = state.piece(which.piece)
        edge = piece.edges[which.number]
        if edge.role is not role or not edge.because.sure:
            edges = edges_alike(state, which) if self._session.every_size else (which,)
            sizes = in_how_many(state, which.piece, len(edges))
            text = f"{piece.name}: this edge is the {role.value}{sizes}"
            with self._messages.guarding():
                after = with_role(state, edges, role)
                self._session.commit(text, after)
        self._show()
