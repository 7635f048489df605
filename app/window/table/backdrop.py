"""What lies still while a hem is dragged: the ground, its grid, the pieces as they were."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import QLineF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPixmap

from app.window import theme
from app.window.lengths import Shown
from app.window.table.drawing import set_pen
from app.window.table.paths import kept_path
from app.window.table.sights import Sight
from app.window.table.view import View

# A finer mesh than this, in pixels, would be a tint and no grid.
CLOSEST_GRID = 10.0


class Backdrop:
    """A picture of all that, made anew only when something in it is no longer the same."""

    def __init__(self) -> None:
        self._made_of: tuple[object, ...] = ()
        self._picture = QPixmap()

    def picture(
        self, size: QSize, ratio: float, view: View, shown: Shown, sights: Sequence[Sight]
    ) -> QPixmap:
        """For a widget of that size; `ratio` is its device pixels per pixel."""
        rings = tuple((id(s.before.outline), s.spot) for s in sights)
        made_of = (size, ratio, view, shown, rings, theme.look().dark)
        if made_of != self._made_of:
            self._picture = _painted(size, ratio, view, shown, sights)
            self._made_of = made_of
        return self._picture


def _painted(
    size: QSize, ratio: float, view: View, shown: Shown, sights: Sequence[Sight]
) -> QPixmap:
    picture = QPixmap(size * ratio)
    picture.setDevicePixelRatio(ratio)
    picture.fill(QColor(theme.look().ground))
    painter = QPainter(picture)
    _draw_grid(painter, size, view, shown)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(view.scale, view.scale)
    painter.translate(-view.x, -view.y)
    for sight in sights:
        draw_ghost(painter, sight)
    painter.end()
    return picture


def _draw_grid(painter: QPainter, size: QSize, view: View, shown: Shown) -> None:
    mesh = shown.grid_mm
    while mesh * view.scale < CLOSEST_GRID:
        mesh *= 2
    width, height = size.width(), size.height()
    end = view.to_mm(width, height)
    xs = [(k * mesh - view.x) * view.scale for k in _steps(view.x, end.x, mesh)]
    ys = [(k * mesh - view.y) * view.scale for k in _steps(view.y, end.y, mesh)]
    painter.setPen(QPen(QColor(theme.look().grid), 1))
    painter.drawLines([QLineF(round(x) + 0.5, 0, round(x) + 0.5, height) for x in xs])
    painter.drawLines([QLineF(0, round(y) + 0.5, width, round(y) + 0.5) for y in ys])


def _steps(low: float, high: float, mesh: float) -> range:
    return range(math.ceil(low / mesh), math.floor(high / mesh) + 1)


def draw_ghost(painter: QPainter, sight: Sight) -> None:
    """The piece as it was, in quiet dashes."""
    painter.save()
    painter.translate(sight.spot.x, sight.spot.y)
    set_pen(painter, theme.look().ghost, dashes=(5, 4))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(kept_path(sight.before.outline.ring))
    painter.restore()
