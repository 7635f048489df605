"""The frames of a lesson drawn: thick enough for a projector, the step's own lines thickest.

All widths are in units: a pixel of the screen, or as much more as a sheet of paper needs.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPen, QPolygonF

from app.lesson.script import DASHED, ORANGE, Laid, Lesson, lines_of
from app.window import theme
from app.window.table.drawing import NO_BRUSH
from app.window.table.paths import kept_path, point_of
from app.window.table.view import Margins, View
from core.alter.model import Step, StepKind
from core.curve import Box, Chain, Point
from core.paper.free_place import free_place

GHOST, EARLIER, NOW = 2.0, 2.5, 6.0
DIAMOND = 10.0
# Pixels: the height of a name, and how much wider than itself its place is; how many times its
# height that is high.
NAME_PX, NAME_AIR, NAME_ROOM = 20, 16, 1.3
AIR = 36.0
DASHES = (5.0, 4.0)


class Hand(NamedTuple):
    """A painter in mm, and the size of a unit in mm."""

    painter: QPainter
    unit: float

    def take(self, colour: str, width: float, dashes: tuple[float, ...] = ()) -> None:
        """Takes that pen up; nothing is filled with it."""
        pen = QPen(QColor(colour), width * self.unit)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap if dashes else Qt.PenCapStyle.RoundCap)
        if dashes:
            pen.setDashPattern(list(dashes))
        self.painter.setPen(pen)
        self.painter.setBrush(NO_BRUSH)

    def draw(self, chain: Chain) -> None:
        self.painter.drawPath(kept_path(chain))

    def diamond(self, p: Point) -> None:
        r = DIAMOND * self.unit
        self.painter.setBrush(QColor(theme.look().sheet))
        corners = ((p.x, p.y - r), (p.x + r, p.y), (p.x, p.y + r), (p.x - r, p.y))
        self.painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in corners]))
        self.painter.setBrush(NO_BRUSH)


@dataclass(frozen=True)
class Fitted:
    """A box in mm fitted into a room of the painter's own pixels."""

    view: View
    room: QRectF
    unit_px: float

    @staticmethod
    def into(box: Box, room: QRectF, unit_px: float) -> Fitted:
        air = AIR * unit_px
        view = View.fitted(box, room.width(), room.height(), Margins(air, air, air, air))
        return Fitted(view, room, unit_px)

    def hand(self, painter: QPainter) -> Hand:
        """From here on the painter draws in mm."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.translate(self.room.topLeft())
        painter.scale(self.view.scale, self.view.scale)
        painter.translate(-self.view.x, -self.view.y)
        return Hand(painter, self.unit_px / self.view.scale)

    def px(self, p: Point) -> QPointF:
        x, y = self.view.to_px(p)
        return QPointF(x, y) + self.room.topLeft()


def paint_frame(
    painter: QPainter, lesson: Lesson, number: int, room: QRectF, unit_px: float
) -> None:
    """Step `number` of the lesson, filling the room; the steps before it more quietly."""
    fitted = Fitted.into(lesson.box, room, unit_px)
    painter.save()
    hand = fitted.hand(painter)
    for k, laid in enumerate(lesson.laid):
        painter.save()
        painter.translate(laid.spot.x, laid.spot.y)
        _paint_laid(hand, laid, [frame.steps[k] for frame in lesson.frames[: number + 1]])
        painter.restore()
    painter.restore()
    for laid in lesson.laid:
        write_name(painter, fitted, laid)


def _paint_laid(hand: Hand, laid: Laid, steps: list[Step | None]) -> None:
    paint_before(hand, laid)
    for step in steps[:-1]:
        if step is not None and step.kind is not StepKind.CHECK:
            _paint_earlier(hand, step)
    if steps[-1] is not None:
        _paint_now(hand, laid, steps[-1])


def paint_before(hand: Hand, laid: Laid) -> None:
    """The pattern as it was, in grey dashes, its darts too."""
    hand.take(theme.look().ghost, GHOST, DASHES)
    before = laid.altered.before
    hand.draw(before.outline.ring)
    if before.stitching is not None:
        hand.take(theme.look().ghost, GHOST / 2, DASHES)
        hand.draw(before.stitching.ring)
    for dart in before.darts:
        if dart.mouth_places is not None:
            # The outline itself runs along its legs.
            continue
        a, b = dart.mouth
        hand.painter.drawPolyline(QPolygonF([point_of(p) for p in (a, dart.apex, b)]))


def _paint_earlier(hand: Hand, step: Step) -> None:
    hand.take(theme.look().faint, EARLIER)
    for chain in step.lines:
        hand.draw(chain)
    hand.take(theme.look().faint, EARLIER)
    for p in step.points:
        hand.diamond(p)


def _paint_now(hand: Hand, laid: Laid, step: Step) -> None:
    if step.kind is StepKind.CHECK:
        hand.painter.fillPath(kept_path(laid.altered.piece.outline.ring), theme.look().wash)
    if step.kind in (StepKind.SPREAD, StepKind.FOLD):
        _paint_band(hand, step)
    colour = _colour(step.kind)
    hand.take(colour, NOW, DASHED.get(step.kind, ()))
    for chain in step.lines:
        hand.draw(chain)
    hand.take(theme.look().green, NOW / 2)
    for p in step.points:
        hand.diamond(p)


def _paint_band(hand: Hand, step: Step) -> None:
    """What is put in or folded out between the two lines, in stripes."""
    upper, lower = step.lines
    corners = (upper.start, upper.end, lower.end, lower.start)
    brush = QBrush(QColor(theme.look().orange), Qt.BrushStyle.BDiagPattern)
    brush.setTransform(hand.painter.worldTransform().inverted()[0])
    hand.painter.setPen(Qt.PenStyle.NoPen)
    hand.painter.setBrush(brush)
    hand.painter.drawPolygon(QPolygonF([point_of(p) for p in corners]))


def _colour(kind: StepKind) -> str:
    look = theme.look()
    if kind is StepKind.TRIM:
        return look.vermilion
    return look.orange if kind in ORANGE else look.blue


def write_name(painter: QPainter, fitted: Fitted, laid: Laid) -> None:
    """The piece's name on it, where no step draws a line; text is set in pixels, or a mm would be
    its size."""
    font = theme.type_of(round(NAME_PX * fitted.unit_px))
    painter.setFont(font)
    painter.setPen(QColor(theme.look().quiet))
    before, metrics = laid.altered.before, painter.fontMetrics()
    wide = (metrics.horizontalAdvance(before.name) + NAME_AIR * fitted.unit_px) / fitted.view.scale
    high = NAME_ROOM * metrics.height() / fitted.view.scale
    at = fitted.px(free_place(before.outline.ring, lines_of(laid), wide, high) + laid.spot)
    half = 150 * fitted.unit_px
    place = QRectF(at.x() - half, at.y() - half / 4, 2 * half, half / 2)
    painter.drawText(place, Qt.AlignmentFlag.AlignCenter, before.name)
