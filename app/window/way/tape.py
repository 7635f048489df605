"""The tape measure below the table: slid, it says how much longer or shorter."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
    QPolygonF,
)
from PySide6.QtWidgets import QWidget

from app.window import theme
from app.window.lengths import Shown, signed, to_step
from app.window.session import Session
from app.window.table.gestures import step_of
from core.measure import MM_PER_INCH

HEIGHT = 52
# As far as the tape reaches to both sides of what is shown in its middle, in mm.
REACH = 350.0
KEYS = {Qt.Key.Key_Right: 1.0, Qt.Key.Key_Left: -1.0}
TIP = "Slide the tape to make the pieces longer, to the right, or shorter. Shift: finer steps."


class Tape(QWidget):
    """One value with the amount in the box and the grip at the hem."""

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(parent)
        self._session = session
        self._held: tuple[float, float] | None = None
        self._made_of: tuple[object, ...] = ()
        self._picture = QPixmap()
        self.setFixedHeight(HEIGHT)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.SizeHorCursor)
        self.setToolTip(TIP)
        self.setAccessibleName("Tape measure")
        self.setAccessibleDescription(TIP)
        session.state_shown.connect(self.update)
        session.unit_shown.connect(self.update)

    @property
    def _px_per_mm(self) -> float:
        return self.width() / (2.0 * REACH)

    def _x(self, mm: float) -> float:
        return self.width() / 2.0 + mm * self._px_per_mm

    # Sliding

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() is Qt.MouseButton.LeftButton and self._session.state.altering:
            self._session.commit_preview()
            self._held = (event.position().x(), self._session.settled.by_mm)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._held is not None:
            from_x, from_mm = self._held
            wished = from_mm + (event.position().x() - from_x) / self._px_per_mm
            step = step_of(event.modifiers(), self._session.shown)
            self._session.preview_by(to_step(wished, step))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._held is not None:
            self._held = None
            self._session.commit_preview()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in KEYS and self._session.state.altering:
            shown, shift = self._session.shown, Qt.KeyboardModifier.ShiftModifier
            step = shown.leap_mm if event.modifiers() & shift else shown.fine_mm
            self._session.preview_by(self._session.state.by_mm + KEYS[key] * step)
        elif key == Qt.Key.Key_Escape:
            self._held = None
            self._session.cancel()
        else:
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        if Qt.Key(event.key()) in KEYS and not event.isAutoRepeat():
            self._session.commit_preview()
        else:
            super().keyReleaseEvent(event)

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        painter, look = QPainter(self), theme.look()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.drawPixmap(0, 0, self._ticks())
        self._draw_amount(painter)
        if self.hasFocus():
            painter.setPen(QPen(QColor(look.blue), 1, Qt.PenStyle.DotLine))
            painter.drawRect(self.rect().adjusted(2, 2, -3, -3))
        painter.end()

    def _ticks(self) -> QPixmap:
        """The tape without its amount, made anew only when something in it does."""
        look, ratio = theme.look(), self.devicePixelRatioF()
        made_of = (self.size(), ratio, self._session.shown, look.dark)
        if made_of != self._made_of:
            picture = QPixmap(self.size() * ratio)
            picture.setDevicePixelRatio(ratio)
            picture.fill(QColor(look.tape))
            painter = QPainter(picture)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(QColor(look.line), 1))
            painter.drawLine(0, 0, self.width(), 0)
            self._draw_ticks(painter)
            painter.end()
            self._picture, self._made_of = picture, made_of
        return self._picture

    def _draw_ticks(self, painter: QPainter) -> None:
        shown = self._session.shown
        small, per_large = (10.0, 10) if shown is Shown.CM else (MM_PER_INCH / 2.0, 8)
        painter.setFont(theme.type_of(theme.SMALL_PX - 1))
        painter.setPen(QPen(QColor(theme.look().ink), 1))
        reach = int(REACH / small)
        for k in range(-reach, reach + 1):
            x = self._x(k * small)
            large = k % per_large == 0
            painter.drawLine(QPointF(x, 0.0), QPointF(x, 14.0 if large else 7.0))
            if large:
                figure = signed(k * small, shown).split(" ")[0].removesuffix(".0")
                rect = QRectF(x - 40.0, 15.0, 80.0, 15.0)
                painter.drawText(rect, Qt.AlignmentFlag.AlignHCenter, figure)

    def _draw_amount(self, painter: QPainter) -> None:
        by, shown, look = self._session.state.by_mm, self._session.shown, theme.look()
        x = min(max(self._x(by), 8.0), self.width() - 8.0)
        painter.setBrush(QColor(look.blue))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.drawPolygon(QPolygonF([QPointF(x - 7, 0), QPointF(x + 7, 0), QPointF(x, 11)]))
        way = "" if by == 0.0 else " longer" if by > 0.0 else " shorter"
        words = f"{signed(abs(by), shown).lstrip('+')}{way}"
        painter.setFont(theme.type_of(theme.SMALL_PX, bold=True))
        painter.setPen(QColor(look.blue))
        left = min(max(x - 70.0, 4.0), self.width() - 144.0)
        rect = QRectF(left, 31.0, 140.0, 18.0)
        painter.drawText(rect, Qt.AlignmentFlag.AlignCenter, words)
