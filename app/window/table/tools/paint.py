"""How tools are drawn: the mark that takes hold, readings, and rulers laid to edges."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPen, QTransform

from app.window import theme
from app.window.document import EdgeId
from app.window.lengths import Shown
from app.window.table.coarse import flat
from app.window.table.labels import Polyline, Wish, beside, place
from app.window.table.paths import path_of
from app.window.table.rect import Rect
from app.window.table.sights import Sight
from app.window.table.tools.measuring import Measuring
from app.window.table.tools.readings import Measure, Reading, Traced, marks_of, traced, words_of
from app.window.table.tools.spots import Spot
from app.window.table.tools.tool import Tool
from app.window.table.view import View
from core.curve import Chain, Vector

# Sizes in pixels.
MARK, TAKEN, FIGURE_PX, NUMBER_PX, PILL = 6.0, 4.0, 12, 10, 22.0
LONG, SHORT = 11.0, 6.0
# A figure lies on a ground of its own, so it may lie over lines.
NO_LINES = np.empty((0, 4))


def draw_tool(
    painter: QPainter, tool: Tool, sights: Sequence[Sight], view: View, shown: Shown
) -> None:
    """Readings and what is being done; what is written comes later, with `draw_figures`."""
    sketch = tool.sketch if isinstance(tool, Measuring) else None
    for edge in tool.edges:
        _draw_edge(painter, edge, sights, view)
    for reading in (*tool.readings, *((sketch,) if sketch else ())):
        _draw_reading(painter, reading, sights, view, shown)
    if not isinstance(tool, Measuring):
        _draw_draft(painter, tool.draft, view)
    for spot in tool.taken:
        _draw_taken(painter, spot, view)
    if tool.cursor is not None:
        _draw_mark(painter, tool.cursor, view)


def _draw_edge(painter: QPainter, edge: EdgeId, sights: Sequence[Sight], view: View) -> None:
    """As heavy as a stretch that is measured."""
    for sight in sights:
        if sight.which == edge.piece and edge.number < len(sight.now.edges):
            chain = sight.now.edge_chain(sight.now.edges[edge.number])
            painter.strokePath(_in_px(chain, sight.spot, view), _pen(4.0))


def _pen(width: float, *, dashed: bool = False) -> QPen:
    made = QPen(QColor(theme.look().purple), width)
    made.setCapStyle(Qt.PenCapStyle.FlatCap)
    if dashed:
        made.setDashPattern([4, 3])
    return made


def _draw_reading(
    painter: QPainter, reading: Reading, sights: Sequence[Sight], view: View, shown: Shown
) -> None:
    found = traced(reading, sights)
    if not found.segments:
        return
    if reading.measure is Measure.RULER:
        _draw_ruler(painter, found, _outside(reading, sights), view, shown)
        return
    painter.setBrush(Qt.BrushStyle.NoBrush)
    dashed = reading.measure is Measure.BETWEEN
    painter.setPen(_pen(2.0 if dashed else 4.0, dashed=dashed))
    for path in _paths(found, view):
        painter.drawPath(path)
    for spot in reading.spots:
        _draw_taken(painter, spot, view)


def _paths(found: Traced, view: View) -> Iterator[QPainterPath]:
    """The segments in pixels; a closed dart parts them."""
    run = [found.segments[0]]
    for s in found.segments[1:]:
        if s.start != run[-1].end:
            yield _in_px(Chain(tuple(run)), found.spot, view)
            run = []
        run.append(s)
    yield _in_px(Chain(tuple(run)), found.spot, view)


def _in_px(chain: Chain, spot: Vector, view: View) -> QPainterPath:
    path = path_of(chain)
    path.translate(spot.x - view.x, spot.y - view.y)
    return QTransform.fromScale(view.scale, view.scale).map(path)


def _outside(reading: Reading, sights: Sequence[Sight]) -> float:
    """+1 where outside the piece lies to the right of the edge as it is walked; else -1."""
    sight = next(s for s in sights if reading.edge and s.which == reading.edge.piece)
    outside = -1.0 if sight.now.ring.signed_area() > 0.0 else 1.0
    return -outside if reading.from_end else outside


def _draw_ruler(painter: QPainter, found: Traced, side: float, view: View, shown: Shown) -> None:
    """Marks outside the edge, numbered from its end."""
    lines: list[QLineF] = []
    for mark in marks_of(found, view.scale, shown):
        x, y = view.to_px(mark.at)
        out = mark.along.square() * side
        reach = LONG if mark.number else SHORT
        lines.append(QLineF(x, y, x + out.x * reach, y + out.y * reach))
    painter.setPen(_pen(1.5))
    painter.drawLines(lines)
    for path in _paths(found, view):
        painter.strokePath(path, _pen(2.5))
    painter.setFont(theme.type_of(NUMBER_PX))
    painter.setPen(QColor(theme.look().ink))
    for rect, number in _numbers(found, side, view, shown):
        box = QRectF(rect.x0, rect.y0, rect.x1 - rect.x0, rect.y1 - rect.y0)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, number)


def _numbers(found: Traced, side: float, view: View, shown: Shown) -> Iterator[tuple[Rect, str]]:
    """The numbers of a ruler, and where each stands: off the long mark, whichever way that goes."""
    metrics = QFontMetricsF(theme.type_of(NUMBER_PX))
    for mark in marks_of(found, view.scale, shown):
        if mark.number:
            x, y = view.to_px(mark.at)
            out = mark.along.square() * side
            width, height = metrics.horizontalAdvance(mark.number) + 4, metrics.height()
            far = LONG + 3 + (abs(out.x) * width + abs(out.y) * height) / 2
            yield Rect.about(x + out.x * far, y + out.y * far, width, height), mark.number


def rulers_at(tool: Tool, sights: Sequence[Sight], view: View, shown: Shown) -> Iterator[Rect]:
    """What the numbers of rulers cover, in pixels."""
    for reading in tool.readings:
        if reading.measure is Measure.RULER:
            found = traced(reading, sights)
            for rect, _ in _numbers(found, _outside(reading, sights), view, shown):
                yield rect


def _draw_draft(painter: QPainter, spots: Sequence[Spot], view: View) -> None:
    painter.setPen(_pen(2.0, dashed=True))
    points = [QPointF(*view.to_px(s.at)) for s in spots]
    painter.drawPolyline(points)


def _draw_taken(painter: QPainter, spot: Spot, view: View) -> None:
    """A small full square, unlike diamonds and rings."""
    x, y = view.to_px(spot.at)
    square = QRectF(x - TAKEN, y - TAKEN, 2 * TAKEN, 2 * TAKEN)
    painter.fillRect(square, QColor(theme.look().purple))
    painter.setPen(QPen(QColor(theme.look().sheet), 1))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(square)


def _draw_mark(painter: QPainter, spot: Spot, view: View) -> None:
    """At a mark that takes hold an open square; else a small cross."""
    x, y = view.to_px(spot.at)
    painter.setPen(_pen(2.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if spot.marked:
        painter.drawRect(QRectF(x - MARK, y - MARK, 2 * MARK, 2 * MARK))
    cross = MARK / 2 if spot.marked else MARK
    lines = [QLineF(x - cross, y, x + cross, y), QLineF(x, y - cross, x, y + cross)]
    painter.drawLines(lines)


def figures_of(
    tool: Tool,
    sights: Sequence[Sight],
    view: View,
    shown: Shown,
    *,
    room: Rect,
    taken: Sequence[Rect],
) -> dict[tuple[int, str], Rect]:
    """A place for the figure of each reading, off the grips and off each other: its number in
    the row of readings and its words, and where they go in pixels.
    """
    metrics = QFontMetricsF(theme.type_of(FIGURE_PX, bold=True))
    wishes = []
    for k, reading in enumerate(tool.readings):
        found = traced(reading, sights)
        if not found.segments or found.mm <= 0.0:
            continue
        words = words_of(reading, sights, shown)
        line = flat(found.segments)
        off = np.array((found.spot.x - view.x, found.spot.y - view.y))
        line = (line + off) * view.scale
        width = metrics.horizontalAdvance(words) + 16
        far = LONG + 20 if reading.measure is Measure.RULER else 8.0
        where = tuple(beside(Polyline(line), outward=1.0, width=width, height=PILL, gap=far))
        wishes.append(Wish((k, words), width, PILL, where))
    taken = (*taken, *rulers_at(tool, sights, view, shown))
    return place(wishes, room=room, taken=taken, lines=NO_LINES)


def draw_figures(painter: QPainter, figures: dict[tuple[int, str], Rect]) -> None:
    painter.setFont(theme.type_of(FIGURE_PX, bold=True))
    for (_, words), rect in figures.items():
        pill = QRectF(rect.x0, rect.y0, rect.x1 - rect.x0, rect.y1 - rect.y0)
        painter.setPen(QPen(QColor(theme.look().purple), 1.5))
        painter.setBrush(QColor(theme.look().sheet))
        painter.drawRoundedRect(pill, 4, 4)
        painter.setPen(QColor(theme.look().ink))
        painter.drawText(pill, Qt.AlignmentFlag.AlignCenter, words)
