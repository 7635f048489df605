"""The selected edge: what it is taken for, why, and a box to put that right."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.window import theme
from app.window.messages import Messages
from app.window.session import Session
from core.piece.model import Role

NONE = "Click an edge on the table, or in the list, to see what it is taken for."


class RoleChoice(QComboBox):
    """All roles. The wheel scrolls the page and never changes the role under the pointer."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        for role in Role:
            self.addItem(role.value, role)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("This edge is the")

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()


class EdgeBox(QWidget):
    """Follows the selection."""

    def __init__(
        self, session: Session, messages: Messages, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._session, self._messages = session, messages
        self.head = QLabel("This edge")
        self.head.setObjectName("head")
        self.why = QLabel(NONE)
        self.why.setObjectName("quiet")
        self.why.setWordWrap(True)
        self.role = RoleChoice()
        self.role.activated.connect(self._correct)
        row = QHBoxLayout()
        row.addWidget(self.head)
        row.addStretch(1)
        row.addWidget(self.role)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.SPACE)
        column.addLayout(row)
        column.addWidget(self.why)
        session.edge_selected.connect(self._show)
        session.sheets_shown.connect(self._show)
        self._show()

    def _show(self) -> None:
        which = self._session.selected
        self.head.setVisible(which is not None)
        self.role.setVisible(which is not None)
        if which is None:
            self.why.setText(NONE)
            return
        piece = self._session.settled.piece(which.piece)
        edge = piece.edges[which.number]
        self.head.setText(f"{piece.name}: this edge is the")
        self.role.setCurrentIndex(self.role.findData(edge.role))
        sign = "" if edge.because.sure else "? "
        self.why.setText(f"{sign}{edge.because.word.capitalize()}: {edge.because.why}.")

    def _correct(self, index: int) -> None:
        which = self._session.selected
        role = self.role.itemData(index)
        if which is None:
            return
        state = self._session.settled
        piece = state.piece(which.piece)
        if piece.edges[which.number].role is role:
            return
        with self._messages.guarding():
            self._session.commit(
                f"{piece.name}: this edge is the {role.value}", state.with_role(which, role)
            )
        self._show()
