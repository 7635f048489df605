"""The pages of all stages, one of them seen."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QStackedWidget, QWidget

from app.window import theme
from app.window.ask import Ask
from app.window.messages import Messages
from app.window.page import LengthPage
from app.window.session import Session
from app.window.way.check_page import CheckPage
from app.window.way.edges_page import EdgesPage
from app.window.way.paper_page import PaperPage
from app.window.way.pieces_page import PiecesPage
from app.window.way.rolling import Rolling
from app.window.way.scale_page import ScalePage
from app.window.way.stage import Stage


class Pages(QStackedWidget):
    """``pointed`` carries a finding whose place is to be shown, ``tool_wanted`` a tool for the
    table; ``wanted`` asks for files."""

    pointed = Signal(object)
    tool_wanted = Signal(object)
    wanted = Signal()

    def __init__(
        self,
        session: Session,
        messages: Messages,
        ask: Ask,
        actions: Sequence[QAction],
        parent: QWidget,
    ) -> None:
        super().__init__(parent)
        self.setFixedWidth(theme.PAGE_WIDTH)
        self._session = session
        # Each is made in its place: of what is moved later, Qt works out the look once more.
        self._rolled = {stage: Rolling(self) for stage in Stage}
        pieces, scale, edges, length, check, paper = (
            self._rolled[stage].viewport() for stage in self._rolled
        )
        self.pieces = PiecesPage(session, pieces)
        self.scale = ScalePage(session, messages, scale)
        self.edges = EdgesPage(session, messages, edges)
        self.length = LengthPage(session, messages, length)
        self.check = CheckPage(session, check)
        self.paper = PaperPage(session, messages, ask, actions, paper)
        self._of = {
            Stage.PIECES: self.pieces,
            Stage.SCALE: self.scale,
            Stage.EDGES: self.edges,
            Stage.LENGTH: self.length,
            Stage.CHECK: self.check,
            Stage.PAPER: self.paper,
        }
        for stage, page in self._of.items():
            self._rolled[stage].hold(page)
            self.addWidget(self._rolled[stage])
        session.edge_selected.connect(self._show_chosen)
        self.pieces.wanted.connect(self.wanted)
        self.edges.tool_wanted.connect(self.tool_wanted)
        for pointing in (self.edges, self.length.findings, self.check.findings):
            pointing.pointed.connect(self.pointed)

    def _show_chosen(self) -> None:
        """What is said of the chosen edge comes in sight, where the page is higher than the
        window; once it stands there."""
        if self._session.selected is not None:
            QTimer.singleShot(0, self, self._roll_to_chosen)

    def _roll_to_chosen(self) -> None:
        self._rolled[Stage.EDGES].ensureWidgetVisible(self.edges.tools, 0, 0)
        self._rolled[Stage.EDGES].ensureWidgetVisible(self.edges.edge, 0, 0)
        self._rolled[Stage.LENGTH].ensureWidgetVisible(self.length.edge, 0, 0)

    def go(self, stage: Stage) -> None:
        self.setCurrentWidget(self._rolled[stage])
