"""The rulers along the top and the left of the table."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPixmap

from app.window import theme
from app.window.lengths import Shown
from app.window.table.ticks import ticks
from app.window.table.view import View

BREADTH = 24
LONG, SHORT = 8, 4
NUMBER_PX = 10


class Rulers:
    """Both strips as pictures, made anew only when something in them does."""

    def __init__(self) -> None:
        self._made_of: tuple[object, ...] = ()
        self._top, self._left = QPixmap(), QPixmap()

    def draw(self, painter: QPainter, size: QSize, ratio: float, view: View, shown: Shown) -> None:
        made_of = (size, ratio, view, shown, theme.look().dark)
        if made_of != self._made_of:
            self._top = _strip(size.width(), ratio, view.x, view.scale, shown, upright=False)
            self._left = _strip(size.height(), ratio, view.y, view.scale, shown, upright=True)
            self._made_of = made_of
        painter.drawPixmap(0, 0, self._left)
        painter.drawPixmap(0, 0, self._top)
        painter.fillRect(0, 0, BREADTH, BREADTH, QColor(theme.look().sheet))
        painter.setPen(QColor(theme.look().quiet))
        painter.setFont(theme.type_of(NUMBER_PX))
        corner = QRectF(0, 0, BREADTH, BREADTH)
        painter.drawText(corner, Qt.AlignmentFlag.AlignCenter, shown.sign)


def _strip(
    length: int, ratio: float, start: float, scale: float, shown: Shown, *, upright: bool
) -> QPixmap:
    size = QSize(BREADTH, length) if upright else QSize(length, BREADTH)
    picture = QPixmap(size * ratio)
    picture.setDevicePixelRatio(ratio)
    picture.fill(QColor(theme.look().sheet))
    painter = QPainter(picture)
    edge = BREADTH - 0.5
    painter.setPen(QPen(QColor(theme.look().line), 1))
    painter.drawLine(_turned(QLineF(0, edge, length, edge), upright))
    _draw_ticks(painter, length, start, scale, shown, upright=upright)
    painter.end()
    return picture


def _draw_ticks(
    painter: QPainter, length: int, start: float, scale: float, shown: Shown, *, upright: bool
) -> None:
    painter.setFont(theme.type_of(NUMBER_PX))
    metrics = QFontMetricsF(painter.font())
    for tick in ticks(start, start + length / scale, scale, shown):
        at = round((tick.mm - start) * scale) + 0.5
        reach = BREADTH - (LONG if tick.number else SHORT)
        painter.setPen(QPen(QColor(theme.look().ghost), 1))
        painter.drawLine(_turned(QLineF(at, reach, at, BREADTH), upright))
        half = metrics.horizontalAdvance(tick.number) / 2
        if tick.number and at > BREADTH + LONG and at + half < length:
            painter.setPen(QColor(theme.look().quiet))
            _draw_number(painter, tick.number, at, half, upright=upright)


def _draw_number(painter: QPainter, text: str, at: float, half: float, *, upright: bool) -> None:
    if not upright:
        painter.drawText(QPointF(at - half, BREADTH - LONG - 4), text)
        return
    painter.save()
    painter.translate(BREADTH - LONG - 4, at)
    painter.rotate(-90)
    painter.drawText(QPointF(-half, 0), text)
    painter.restore()


def _turned(line: QLineF, upright: bool) -> QLineF:
    return QLineF(line.y1(), line.x1(), line.y2(), line.x2()) if upright else line
