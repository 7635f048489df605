"""The rail at the left: the stages of the work, each with how far it is."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QKeySequence, QPainter, QPaintEvent, QPen, QShortcut
from PySide6.QtWidgets import QAbstractButton, QFrame, QVBoxLayout, QWidget

from app.window import theme
from app.window.way.stage import Stage
from app.window.way.stages import Mark, Standing
from app.window.way.way import Way
from core.measure import unbroken

WIDTH, HEIGHT = 148, 72
# Where the window is low or narrow: its rings alone, at least.
NARROW, LOW = 56, 42
RING = 26
WHY = {
    Stage.PIECES: "What lies on the table, and which pieces take part in the change.",
    Stage.SCALE: "A pattern that prints a little too small is found out by a ruler, or in cloth.",
    Stage.EDGES: "What each edge is taken for decides where the seams go on.",
    Stage.LENGTH: "How much longer or shorter, and how.",
    Stage.CHECK: "What is sewn together must still go together.",
    Stage.PAPER: "Save the altered pattern, and take it to the table.",
}


class StageButton(QAbstractButton):
    """A stage: its number or sign in a ring, its word, and how far it is."""

    def __init__(self, stage: Stage) -> None:
        super().__init__()
        self.stage = stage
        self.standing = Standing(Mark.OPEN, "")
        self.setCheckable(True)
        self.setFixedWidth(WIDTH)
        self.setMinimumHeight(LOW)
        self.setMaximumHeight(HEIGHT)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setToolTip(f"{WHY[stage]} (Ctrl+{stage.number})")
        self.show_standing(self.standing)

    def show_standing(self, standing: Standing) -> None:
        self.standing = standing
        sign = {Mark.DONE: "done", Mark.LOOK: "wants looking at", Mark.OPEN: "open"}
        self.setAccessibleName(f"{self.stage.number}. {self.stage.value}: {standing.words}")
        self.setAccessibleDescription(sign[standing.mark])
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(WIDTH, HEIGHT)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        look = theme.look()
        if self.isChecked():
            painter.fillRect(self.rect(), QColor(look.sheet))
            painter.fillRect(0, 0, 4, self.height(), QColor(look.blue))
        elif self.underMouse():
            painter.fillRect(self.rect(), QColor(look.ground))
        self._draw_ring(painter)
        if self.width() > NARROW:
            self._draw_words(painter)
        if self.hasFocus():
            painter.setPen(QPen(QColor(look.blue), 1, Qt.PenStyle.DotLine))
            painter.drawRect(self.rect().adjusted(5, 2, -3, -3))
        painter.end()

    def _draw_ring(self, painter: QPainter) -> None:
        mark, look = self.standing.mark, theme.look()
        colour = {Mark.DONE: look.green, Mark.LOOK: look.vermilion, Mark.OPEN: look.ghost}[mark]
        if self.isChecked() and mark is Mark.OPEN:
            colour = look.blue
        ring = QRectF(14, 14 - self._higher, RING, RING)
        painter.setPen(QPen(QColor(colour), 2))
        painter.drawEllipse(ring)
        painter.setFont(theme.type_of(theme.TEXT_PX, bold=True))
        sign = mark.value or str(self.stage.number)
        painter.drawText(ring, Qt.AlignmentFlag.AlignCenter, sign)

    @property
    def _higher(self) -> float:
        """By how much ring and words are moved up where the button is low."""
        return min((HEIGHT - self.height()) / 2, 11.0)

    def _draw_words(self, painter: QPainter) -> None:
        look, left, up = theme.look(), 14 + RING + 9, self._higher
        room = WIDTH - left - 4
        painter.setFont(theme.type_of(theme.TEXT_PX + 1, bold=self.isChecked()))
        painter.setPen(QColor(look.ink))
        painter.drawText(
            QRectF(left, 13 - up, room, 22), Qt.AlignmentFlag.AlignVCenter, self.stage.value
        )
        painter.setFont(theme.type_of(theme.SMALL_PX - 1))
        painter.setPen(QColor(look.quiet))
        words = Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap
        below = QRectF(left, 35 - up, room, self.height() - (35 - up))
        painter.drawText(below, int(words), unbroken(self.standing.words))


class WayRail(QFrame):
    """All stages below each other; one can jump."""

    def __init__(self, way: Way, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("rail")
        self.setFixedWidth(WIDTH)
        self.setAccessibleName("The way through the work")
        self._way = way
        self.buttons = {stage: StageButton(stage) for stage in Stage}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 8)
        column.setSpacing(0)
        for stage, button in self.buttons.items():
            button.clicked.connect(lambda _=False, s=stage: self._go(s))
            column.addWidget(button, 1)
            QShortcut(QKeySequence(f"Ctrl+{stage.number}"), self, lambda s=stage: self._go(s))
        column.addStretch(0)
        way.went.connect(self._show_now)
        self._show_now()

    def narrow(self, on: bool) -> None:
        """Rings alone, or with their words."""
        for part in (self, *self.buttons.values()):
            part.setFixedWidth(NARROW if on else WIDTH)

    def show_standings(self, standings: Mapping[Stage, Standing]) -> None:
        for stage, standing in standings.items():
            if self.buttons[stage].standing != standing:
                self.buttons[stage].show_standing(standing)

    def _go(self, stage: Stage) -> None:
        self._way.go(stage)
        self._show_now()

    def _show_now(self) -> None:
        for stage, button in self.buttons.items():
            button.setChecked(stage is self._way.now)
