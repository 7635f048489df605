"""Painting what is written on the table: labels, and the grips with their words."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QLineF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from app.window import theme
from app.window.document import PieceId
from app.window.table.labels import AIR, Rect
from app.window.table.notes import (
    GRIP_AIR,
    GRIP_HEIGHT,
    GRIP_PX,
    GRIP_SIGN,
    LINE_HEIGHT,
    Notes,
    font,
    width_of,
)


def draw_labels(painter: QPainter, notes: Notes, where: Sequence[Rect] | None = None) -> None:
    """All labels; or those that touch one of the rectangles to which the painter is clipped."""
    for note, rect in notes.labels.items():
        if where is not None and not any(rect.grown(AIR).overlaps(r) for r in where):
            continue
        painter.setFont(font(note.px, note.bold))
        for k, text in enumerate(note.lines):
            painter.setPen(QColor(note.colour if k == 0 else theme.look().ink))
            top = rect.y0 + 1 + k * LINE_HEIGHT
            line = QRectF(rect.x0 - 2, top, rect.x1 - rect.x0 + 4, LINE_HEIGHT)
            painter.drawText(line, Qt.AlignmentFlag.AlignCenter, text)


def draw_grips(painter: QPainter, notes: Notes, text: str, held: PieceId | None) -> None:
    """A pill on each hem: a double arrow and the change."""
    for which, rect in notes.grips.items():
        blue = QColor(theme.look().blue).darker(120) if which == held else QColor(theme.look().blue)
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
