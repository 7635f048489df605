"""Painting the table; while a hem is dragged only where it is no longer the same."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QPainter, QPixmap, QRegion

from app.window.table import drawing, written
from app.window.table.backdrop import Backdrop
from app.window.table.near import Near
from app.window.table.rect import Rect
from app.window.table.rulers import Rulers
from app.window.table.scene import Scene, moved_between
from app.window.table.tools.paint import draw_figures, draw_tool


class Painting:
    """Paints scenes. Of a drag it keeps the picture of one, and paints what moved over that."""

    def __init__(self) -> None:
        self._backdrop, self._rulers = Backdrop(), Rulers()
        self._picture = QPixmap()
        self._was: Scene | None = None
        self._now: Scene | None = None
        self._moved: tuple[Rect, ...] | None = None

    def follow(self, scene: Scene) -> QRegion | None:
        """Where a drag that comes to this scene must be painted; None for everywhere."""
        before = self._moved
        self._look(scene)
        if self._moved is None or before is None:
            return None
        return _region((*before, *self._moved))

    def paint(self, painter: QPainter, scene: Scene, *, following: bool) -> None:
        """The scene; `following` when a drag shows it, which will show others like it."""
        if not following:
            self._picture, self._was, self._now, self._moved = QPixmap(), None, None, None
            self._paint(painter, scene)
            return
        self._look(scene)
        if self._moved is None:
            self._keep(scene)
        painter.drawPixmap(0, 0, self._picture)
        if self._moved:
            painter.setClipRegion(_region(self._moved), Qt.ClipOperation.IntersectClip)
            self._paint(painter, scene, self._moved)

    def _look(self, scene: Scene) -> None:
        """Finds what moved since the picture was kept."""
        if self._now is None or not self._now.shows_the_same(scene):
            self._moved = None if self._was is None else moved_between(self._was, scene)
            self._now = scene

    def _keep(self, scene: Scene) -> None:
        self._picture = QPixmap(QSize(scene.width, scene.height) * scene.ratio)
        self._picture.setDevicePixelRatio(scene.ratio)
        painter = QPainter(self._picture)
        self._paint(painter, scene)
        painter.end()
        self._was, self._moved = scene, ()

    def _paint(self, painter: QPainter, scene: Scene, where: Sequence[Rect] | None = None) -> None:
        size, view = QSize(scene.width, scene.height), scene.view
        still = self._backdrop.picture(size, scene.ratio, view, scene.shown, scene.sights)
        painter.drawPixmap(0, 0, still)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.save()
        painter.scale(view.scale, view.scale)
        painter.translate(-view.x, -view.y)
        _draw_pieces(painter, scene, None if where is None else Near.seen(where, view))
        painter.restore()
        if scene.tool is not None:
            draw_tool(painter, scene.tool, scene.sights, view, scene.shown)
        written.draw_labels(painter, scene.notes, where)
        hem, level = scene.held
        written.draw_grips(painter, scene.notes, hem)
        written.draw_level_grips(painter, scene.notes, level)
        draw_figures(painter, scene.figures or {})
        self._rulers.draw(painter, size, scene.ratio, view, scene.shown)


def _draw_pieces(painter: QPainter, scene: Scene, near: Near | None) -> None:
    px = 1.0 / scene.view.scale
    drawing.draw_sights(painter, scene.sights, scene.selected, px, near)
    if scene.place is not None:
        drawing.draw_place(painter, scene.place, px)


def _region(rects: Sequence[Rect]) -> QRegion:
    region = QRegion()
    for r in rects:
        x, y = math.floor(r.x0), math.floor(r.y0)
        region += QRect(x, y, math.ceil(r.x1) - x, math.ceil(r.y1) - y)
    return region
