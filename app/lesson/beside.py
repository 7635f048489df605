"""Both ways drawn beside each other, and over each other, with their figures."""

from __future__ import annotations

import math

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath

from app.lesson.compare import Comparison, Way
from app.lesson.paint import DASHES, GHOST, Fitted, Hand
from app.window import theme
from app.window.table.paths import kept_path
from core.curve import Box
from core.measure import MM_PER_INCH, Length, Unit

# Of the published Okabe-Ito set; the one hue that stands for nothing else here.
PURPLE = "#CC79A7"
LINE, THIN = 4.0, 1.5
HEAD_PX, FIGURE_PX = 22, 20
ROW = 30.0
# A part of less than this share of the whole is drawn larger.
PART = 0.9
CAPTION = (
    "Along the taper the seams run on as they were, and the hem takes the width that they lead"
    " to. At a level the hem keeps its width, and the seams are bent to join."
)


def told_rows(found: Comparison, unit: Unit) -> tuple[tuple[str, ...], ...]:
    """What stands under each picture: a head, then a figure a row."""
    name = found.taper.altered.before.name
    box = _whole(found)
    larger = _where_they_differ(found, box).height < PART * box.height
    return (
        (f"{name}, along the taper", *_figures(found.taper, unit)),
        (f"At a level, {Length(found.at_mm).told_in(unit)} down", *_figures(found.level, unit)),
        (
            f"One over the other{', larger' * larger}",
            _area(found.area_mm2, unit),
            "stripes: only at a level",
            "dots: only along the taper",
        ),
    )


def _figures(way: Way, unit: Unit) -> tuple[str, str]:
    kink = round(math.degrees(way.kink), 1)
    turn = f"kink in a seam {kink:.1f}°" if kink else "no kink in the seams"
    return f"hem {Length(way.hem_mm).told_in(unit)} wide", turn


def _area(mm2: float, unit: Unit) -> str:
    square = 100.0 if unit is Unit.CM else MM_PER_INCH**2
    sign = "cm²" if unit is Unit.CM else "sq in"
    count = round(abs(mm2) / square)
    if count == 0:
        return "both take as much cloth"
    return f"at a level {count} {sign} {'more' if mm2 > 0.0 else 'less'} cloth"


def paint_comparison(
    painter: QPainter, found: Comparison, room: QRectF, unit_px: float, unit: Unit
) -> None:
    """Three columns: each way by itself, then both over each other; figures below each."""
    box = _whole(found)
    width, foot = room.width() / 3, 4.4 * ROW * unit_px
    for k, rows in enumerate(told_rows(found, unit)):
        cell = QRectF(room.left() + k * width, room.top(), width, room.height() - foot)
        painter.save()
        painter.setClipRect(cell)
        shown = _where_they_differ(found, box) if k == 2 else box
        _paint_way(Fitted.into(shown, cell, unit_px).hand(painter), found, k)
        painter.restore()
        _write(painter, rows, QRectF(cell.left(), cell.bottom(), width, foot), unit_px)


def _whole(found: Comparison) -> Box:
    """Around the piece as it was and as it becomes either way."""
    box = found.taper.altered.before.outline.ring.bounds()
    for way in (found.taper, found.level):
        box = box | way.altered.piece.outline.ring.bounds()
    return box


def _where_they_differ(found: Comparison, box: Box) -> Box:
    """The part of the box in which the ways differ, which may be by little; else the whole."""
    only = [path.boundingRect() for path in _differences(found)]
    whole = only[0].united(only[1])
    if whole.isEmpty():
        return box
    return Box(whole.left(), whole.top(), whole.right(), whole.bottom())


def _differences(found: Comparison) -> tuple[QPainterPath, QPainterPath]:
    """What the piece has only at a level, and only along the taper."""
    taper = kept_path(found.taper.altered.piece.outline.ring)
    level = kept_path(found.level.altered.piece.outline.ring)
    return level.subtracted(taper), taper.subtracted(level)


def _paint_way(hand: Hand, found: Comparison, column: int) -> None:
    width = LINE
    if column == 2:
        # Thin, or they would cover the little by which the ways differ.
        width = THIN
        _overlay(hand, found)
    else:
        hand.take(theme.look().ghost, GHOST, DASHES)
        hand.draw(found.taper.altered.before.outline.ring)
    if column != 1:
        hand.take(theme.look().blue, width)
        hand.draw(found.taper.altered.piece.outline.ring)
    if column != 0:
        hand.take(PURPLE, width, (4.0, 2.0))
        hand.draw(found.level.altered.piece.outline.ring)


def _overlay(hand: Hand, found: Comparison) -> None:
    """What only one of the ways has: striped at the level, in dots along the taper."""
    at_level, by_taper = _differences(found)
    for path, colour, pattern in (
        (at_level, PURPLE, Qt.BrushStyle.BDiagPattern),
        (by_taper, theme.look().blue, Qt.BrushStyle.Dense5Pattern),
    ):
        wash = QColor(colour)
        wash.setAlpha(110)
        hand.painter.fillPath(path, wash)
        brush = QBrush(QColor(colour), pattern)
        brush.setTransform(hand.painter.worldTransform().inverted()[0])
        hand.painter.fillPath(path, brush)


def _write(painter: QPainter, rows: tuple[str, ...], room: QRectF, unit_px: float) -> None:
    for k, row in enumerate(rows):
        size = HEAD_PX if k == 0 else FIGURE_PX
        painter.setFont(theme.type_of(round(size * unit_px), bold=k == 0))
        painter.setPen(QColor(theme.look().ink if k < 2 else theme.look().quiet))
        place = QRectF(room.left(), room.top() + k * ROW * unit_px, room.width(), ROW * unit_px)
        wide = round(room.width() - ROW * unit_px / 2)
        told = painter.fontMetrics().elidedText(row, Qt.TextElideMode.ElideMiddle, wide)
        painter.drawText(place, Qt.AlignmentFlag.AlignCenter, told)
