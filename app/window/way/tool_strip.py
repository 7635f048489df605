"""The strip above the table: tools for measuring, and the sentence of the tool in hand."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, QSize, Qt
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.window import theme
from app.window.page_parts import label
from app.window.session import Session
from app.window.table.canvas import Table
from app.window.table.tools.measuring import Measuring
from app.window.table.tools.readings import Measure
from app.window.table.tools.tool import Tool

HEIGHT = 40
# The sentence stands beside the tools where it has so much room (pixels), else below them, in two
# lines or three; where the strip is narrow the tools are called by one word.
BESIDE, NARROW = 290, 350
LINES_HIGH = {False: 34, True: 50}
# The share of the sentence in what the tools leave, against 1 for nothing.
WHOLE = 1000
SHORT = {Measure.BETWEEN: "Points", Measure.ALONG: "Seam", Measure.RULER: "Ruler"}
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

    def __init__(self, session: Session, table: Table, parent: QWidget) -> None:
        super().__init__(parent)
        self._session, self._table = session, table
        self.setObjectName("strip")
        self.said = QLabel(IDLE)
        self.said.setObjectName("quiet")
        self.said.setWordWrap(True)
        self.said.setAccessibleName("What to do on the table")
        self.said.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.buttons = {measure: self._button(measure) for measure in Measure}
        self._word = label("Measure")
        above = QWidget()
        above.setFixedHeight(HEIGHT)
        self._row = QHBoxLayout(above)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(theme.SPACE)
        self._row.addWidget(self._word)
        for button in self.buttons.values():
            self._row.addWidget(button)
        self._row.addSpacing(2 * theme.SPACE)
        self._row.addWidget(self.said, WHOLE)
        self._row.addStretch(1)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(12, 0, 12, 0)
        self._column.setSpacing(0)
        self._column.addWidget(above)
        self._low = False
        self._wide = sum(b.sizeHint().width() + theme.SPACE for b in self.buttons.values())
        self._wide += self._word.sizeHint().width() + 2 * theme.SPACE + 24
        self.setFixedHeight(HEIGHT)
        table.tools.changed.connect(self._show)
        session.unit_shown.connect(self._show)

    def minimumSizeHint(self) -> QSize:
        return QSize(200, HEIGHT)

    def low(self, on: bool) -> None:
        """In a low window the sentence goes below only while it says what to click next."""
        self._low = on
        self._lay_out()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay_out()

    def _lay_out(self) -> None:
        """The sentence goes below where it has no room beside the tools."""
        wide, below = self.width(), self.width() - self._wide < BESIDE
        if below is (self._column.indexOf(self.said) < 0):
            if below:
                self._row.removeWidget(self.said)
                self._column.addWidget(self.said, 1)
            else:
                self._column.removeWidget(self.said)
                self._row.insertWidget(self._row.count() - 1, self.said, WHOLE)
        top = Qt.AlignmentFlag.AlignTop if below else Qt.AlignmentFlag.AlignVCenter
        self.said.setAlignment(Qt.AlignmentFlag.AlignLeft | top)
        narrow = wide < NARROW
        self._word.setVisible(not narrow)
        for measure, button in self.buttons.items():
            button.setText(SHORT[measure] if narrow else measure.value)
        seen = not (self._low and below and self._table.tools.tool is None)
        self.said.setVisible(seen)
        self.setFixedHeight(HEIGHT + (LINES_HIGH[narrow] if below and seen else 0))

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
        self._lay_out()


def _told(tool: Tool) -> str:
    """Why the last place was no good, if it was not, and what to click next."""
    return f"! {tool.refusal} {tool.prompt}" if tool.refusal else tool.prompt
