"""The edges: what is not certain, one after the other, and a box to put it right."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from app.window.edge_box import EdgeBox
from app.window.findings import Sign, Told, doubts_of
from app.window.findings_list import LEAST, ToldList
from app.window.lengths import in_unit
from app.window.messages import Messages
from app.window.session import Session
from app.window.way.mouse_box import MouseBox
from app.window.way.page_of import StagePage, headline
from app.window.way.tools_box import ToolsBox

WELL = "Everything is certain. Click an edge on the table to see what it is taken for."
# Pixels of the list: two lines when all is certain, else all that the page has left.
TWO_LINES, MANY = 56, 16_777_215


class EdgesPage(StagePage):
    """``pointed`` carries the doubt whose place is to be shown, ``tool_wanted`` a tool."""

    pointed = Signal(object)
    tool_wanted = Signal(object)

    def __init__(self, session: Session, messages: Messages, parent: QWidget) -> None:
        super().__init__(
            "Is each edge what it is taken for?",
            "The seams are carried on from the taper points, the green diamonds; the hem is what"
            " is moved. Look at what has a question mark, and click any edge to change it.",
            parent=parent,
        )
        self._session = session
        self.doubts = ToldList("What is not certain")
        self.doubts.pointed.connect(self.pointed)
        self.edge = EdgeBox(session, messages)
        self.add(self.doubts, stretch=1)
        self.tools = ToolsBox(session, messages)
        self.mouse = MouseBox(session)
        self.mouse.wanted.connect(self.tool_wanted)
        self.add(self.mouse)
        self.add(headline("The edge chosen"), self.edge, self.tools)
        self.column.addStretch(0)
        session.state_told.connect(self._list)
        session.sheets_shown.connect(self._list)
        session.unit_shown.connect(self._list)
        self.mouse.every.toggled.connect(lambda _: self._list())
        self._list()

    def _list(self) -> None:
        shown = self._session.shown
        doubts = doubts_of(self._session.state, every_size=self._session.every_size)
        told = tuple(
            Told(d.sign, in_unit(d.sentence, shown), d.piece, d.place, d.edge) for d in doubts
        )
        self.doubts.setMinimumHeight(LEAST if told else TWO_LINES)
        self.doubts.setMaximumHeight(MANY if told else TWO_LINES)
        self.doubts.show_all(told or (Told(Sign.WELL, WELL),))
