"""Painting what is written on the table: labels, and the grips with their words."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from app.window import theme
from app.window.document import PieceId
from app.window.table.labels import AIR
from app.window.table.note import GRIP_PX, LINE_HEIGHT, WORD_GAP, Note, font, width_of
from app.window.table.notes import GRIP_AIR, GRIP_HEIGHT, GRIP_SIGN, Notes
from app.window.table.rect import Rect

# The dot in which a lead ends on its edge, in pixels.
DOT = 2.0


def draw_labels(painter: QPainter, notes: Notes, where: Sequence[Rect] | None = None) -> None:
    """All labels; or those that touch one of the rectangles to which the painter is clipped."""
    for note, rect in notes.labels.items():
        if where is not None and not any(rect.grown(AIR).overlaps(r) for r in where):
            continue
        _draw_label(painter, note, rect)
    painter.setBrush(QColor(theme.look().quiet))
    for x0, y0, x1, y1 in notes.leads.values():
        painter.setPen(QPen(QColor(theme.look().quiet), 1.0))
        painter.drawLine(QLineF(x0, y0, x1, y1))
        painter.drawEllipse(QPointF(x1, y1), DOT, DOT)


def _draw_label(painter: QPainter, note: Note, rect: Rect) -> None:
    """Its lines below each other; or all in one, which may read upwards."""
    painter.setFont(font(note.px, note.bold))
    painter.save()
    width, height = rect.x1 - rect.x0, rect.y1 - rect.y0
    painter.translate(*rect.middle)
    if note.form.turned:
        painter.rotate(-90.0)
        width, height = height, width
    x, y = -width / 2, -height / 2 + 1
    for k, text in enumerate(note.lines):
        painter.setPen(QColor(getattr(theme.look(), note.colour if k == 0 else "ink")))
        wide = width_of(text, note.px, note.bold) if note.form.in_one else width
        line = QRectF(x - 2, y, wide + 4, LINE_HEIGHT)
        painter.drawText(line, Qt.AlignmentFlag.AlignCenter, text)
        x, y = (x + wide + WORD_GAP, y) if note.form.in_one else (x, y + LINE_HEIGHT)
    painter.restore()


def draw_grips(painter: QPainter, notes: Notes, held: PieceId | None) -> None:
    """A pill on each hem: a double arrow and the change."""
    for which, rect in notes.grips.items():
        blue = QColor(theme.look().blue).darker(120) if which == held else QColor(theme.look().blue)
        text = notes.amounts[which]
        _draw_pill(painter, rect, text, ground=blue, ink=QColor(theme.look().sheet))


def draw_level_grips(painter: QPainter, notes: Notes, held: PieceId | None) -> None:
    """A pill on each level, pale so that it is not taken for the amount: how far down it lies."""
    for which, rect in notes.level_grips.items():
        ground = QColor(theme.look().pale_blue if which == held else theme.look().sheet)
        _draw_pill(painter, rect, notes.levels[which], ground=ground, ink=QColor(theme.look().blue))


def _draw_pill(painter: QPainter, rect: Rect, text: str, *, ground: QColor, ink: QColor) -> None:
    painter.setFont(font(GRIP_PX, True))
    pill = QRectF(rect.x0, rect.y0, rect.x1 - rect.x0, rect.y1 - rect.y0)
    painter.setPen(QPen(ink, 2 if ink == QColor(theme.look().sheet) else 1.5))
    painter.setBrush(ground)
    painter.drawRoundedRect(pill, GRIP_HEIGHT / 2, GRIP_HEIGHT / 2)
    if pill.width() < width_of(text, GRIP_PX, True) + GRIP_SIGN + GRIP_AIR:
        painter.setPen(ink)
        painter.drawText(pill, Qt.AlignmentFlag.AlignCenter, text)
        return
    _draw_double_arrow(painter, rect.x0 + GRIP_AIR + 3, (rect.y0 + rect.y1) / 2, ink)
    painter.setPen(ink)
    painter.drawText(
        pill.adjusted(GRIP_AIR + GRIP_SIGN, 0, -GRIP_AIR, 0),
        Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft,
        text,
    )


def _draw_double_arrow(painter: QPainter, x: float, y: float, ink: QColor) -> None:
    painter.setPen(QPen(ink, 1.5))
    lines = [QLineF(x, y - 6, x, y + 6)]
    for tip, back in ((y - 6, y - 3), (y + 6, y + 3)):
        lines += [QLineF(x - 3, back, x, tip), QLineF(x + 3, back, x, tip)]
    painter.drawLines(lines)
