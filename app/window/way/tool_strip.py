"""The strip above the table: tools for measuring, and the sentence of the tool in hand."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QSizePolicy

from app.window import theme
from app.window.page_parts import label
from app.window.session import Session
from app.window.table.canvas import Table
from app.window.table.tools.measuring import Measuring
from app.window.table.tools.readings import Measure
from app.window.table.tools.tool import Tool

HEIGHT = 40
KEYS = {Measure.BETWEEN: "M", Measure.ALONG: "N", Measure.RULER: "R"}
WHY = {
    Measure.BETWEEN: "From point to point, as with a straight ruler: a pocket from the side seam,"
    " a notch from the hem.",
    Measure.ALONG: "Along the outline between two places, as with a tape set on its edge: two"
    " notches that are to meet must lie as far along both seams.",
    Measure.RULER: "A ruler bent along an edge, from the end that you click near.",
}
IDLE = "Drag a hem, a diamond or a ring; click an edge to choose it."


class ToolStrip(QFrame):
    """Three ways of measuring, each with its key; beside them what to click next."""

    def __init__(self, session: Session, table: Table) -> None:
        super().__init__()
        self._session, self._table = session, table
        self.setObjectName("strip")
        self.setFixedHeight(HEIGHT)
        self.said = QLabel(IDLE)
        self.said.setObjectName("quiet")
        self.said.setWordWrap(True)
        self.said.setAccessibleName("What to do on the table")
        self.said.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.buttons = {measure: self._button(measure) for measure in Measure}
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 0, 12, 0)
        row.setSpacing(theme.SPACE)
        row.addWidget(label("Measure"))
        for button in self.buttons.values():
            row.addWidget(button)
        row.addSpacing(2 * theme.SPACE)
        row.addWidget(self.said, 1)
        table.tools.changed.connect(self._show)
        session.unit_shown.connect(self._show)

    def _button(self, measure: Measure) -> QPushButton:
        key = KEYS[measure]
        button = QPushButton(measure.value)
        button.setCheckable(True)
        button.setToolTip(f"{WHY[measure]} ({key})")
        button.setAccessibleName(f"Measure: {measure.value.lower()}")
        button.setAccessibleDescription(button.toolTip())
        button.clicked.connect(lambda on: self._switch(measure, on=on))
        shortcut = QShortcut(QKeySequence(key), self)
        shortcut.setContext(Qt.ShortcutContext.WindowShortcut)
        shortcut.activated.connect(button.click)
        return button

    def _switch(self, measure: Measure, *, on: bool) -> None:
        if on:
            self._table.pick_up(Measuring(self._session, measure))
        else:
            self._table.tools.put_away()

    def _show(self) -> None:
        tool = self._table.tools.tool
        now = tool.measure if isinstance(tool, Measuring) else None
        for measure, button in self.buttons.items():
            with QSignalBlocker(button):
                button.setChecked(measure is now)
        text = IDLE if tool is None else _told(tool)
        self.said.setText(text)
        self.said.setAccessibleDescription(text)


def _told(tool: Tool) -> str:
    """Why the last place was no good, if it was not, and what to click next."""
    return f"! {tool.refusal} {tool.prompt}" if tool.refusal else tool.prompt
