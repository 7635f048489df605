"""A piece on paper: all lines in black, widths in mm. The painter is in mm of the pattern."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPen

from app.window.document import UNSEEN
from app.window.table.paths import path_of, point_of
from core.curve import Box, Chain, Point, Ring, Vector
from core.paper.free_place import free_place
from core.paper.tiling import Outline
from core.piece.corners import outward, outward_sign
from core.piece.model import Dart, Kind, Mark, Piece

# Widths in mm: the line that is cut, and all others.
CUT, FINE = 0.5, 0.25
DASHES, NOTCH, DRILL, NAME_MM, WRITING_MM = (12.0, 8.0), 6.0, 2.5, 7.0, 4.0
# Flattening (mm) for the question which sheets are needed.
COARSE = 0.5


@dataclass(frozen=True)
class Laid:
    """A piece, and by how much it is moved to its place."""

    piece: Piece
    spot: Vector

    @property
    def box(self) -> Box:
        b, v = self.piece.outline.ring.bounds(), self.spot
        return Box(b.x0 + v.x, b.y0 + v.y, b.x1 + v.x, b.y1 + v.y)

    def outline(self) -> Outline:
        """As a closed polyline, in its place."""
        flat: Outline = self.piece.outline.ring.flattened(tolerance=COARSE)
        return np.asarray(flat + np.array((self.spot.x, self.spot.y)))


def draw_piece(painter: QPainter, laid: Laid) -> None:
    """Cutting line, stitching line, darts, marks, grain, notches, name."""
    piece = laid.piece
    painter.save()
    painter.translate(laid.spot.x, laid.spot.y)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(pen(CUT))
    painter.drawPath(path_of(piece.outline.ring))
    if piece.stitching is not None:
        painter.setPen(pen(FINE, dashed=True))
        painter.drawPath(path_of(piece.stitching.ring))
    painter.setPen(pen(FINE))
    for mark in piece.marks:
        if mark.kind in UNSEEN:
            continue
        if isinstance(mark.geometry, Chain):
            painter.drawPath(path_of(mark.geometry))
        elif mark.kind is Kind.TEXT:
            if mark in _writing(piece):
                write(painter, mark.text, mark.geometry, WRITING_MM)
        elif mark.kind is Kind.NOTCH:
            _draw_notch(painter, piece, mark.geometry)
        else:
            painter.drawEllipse(point_of(mark.geometry), DRILL / 2, DRILL / 2)
    for dart in piece.darts:
        _draw_dart(painter, dart)
    write(painter, piece.name, name_place(piece), NAME_MM, bold=True)
    painter.restore()


def name_place(piece: Piece) -> Point:
    """Where the name is written: off the grain, all other lines and what the file writes."""
    wide = _width(piece.name, NAME_MM, bold=True) + NAME_MM
    lines = [m.geometry for m in piece.marks if m.kind not in UNSEEN]
    written = [_around(m) for m in _writing(piece)]
    legs = [Chain.through((d.mouth[0], d.apex, d.mouth[1])) for d in piece.darts]
    full = (piece.sewn.ring, *legs, *(g for g in lines if isinstance(g, Chain)), *written)
    return free_place(piece.outline.ring, full, wide, 2 * NAME_MM)


def _writing(piece: Piece) -> list[Mark]:
    """What the file writes on the piece, but for its name, which is written larger."""
    told = ("", piece.name, piece.title)
    texts = (m for m in piece.marks if m.kind is Kind.TEXT and isinstance(m.geometry, Point))
    return [m for m in texts if m.text.rsplit(":", 1)[-1].strip() not in told]


def _around(mark: Mark) -> Chain:
    """The middle line of what is written there: a box that crosses it lies over the writing."""
    assert isinstance(mark.geometry, Point)
    half = _width(mark.text, WRITING_MM) / 2
    p = mark.geometry
    return Chain.through((Point(p.x - half, p.y), Point(p.x + half, p.y)))


def pen(width: float, *, dashed: bool = False) -> QPen:
    made = QPen(Qt.GlobalColor.black, width)
    made.setCapStyle(Qt.PenCapStyle.FlatCap)
    made.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    if dashed:
        made.setDashPattern(list(DASHES))
    return made


def _draw_notch(painter: QPainter, piece: Piece, p: Point) -> None:
    """A short line into the piece."""
    ring: Ring = piece.outline.ring
    near = ring.nearest(p)
    inward = -outward(ring, ring.tangent(near.place), outward_sign(ring))
    painter.drawLine(point_of(near.point), point_of(near.point.moved(inward, NOTCH)))


def _draw_dart(painter: QPainter, dart: Dart) -> None:
    """Legs that no line of the file draws."""
    if dart.mouth_places is None and not dart.shapes:
        for end in dart.mouth:
            painter.drawLine(point_of(end), point_of(dart.apex))


def _font(high_mm: float, *, bold: bool = False) -> QFont:
    font = QFont()
    # In hundredths of a mm: a font of a few whole pixels would be crooked.
    font.setPixelSize(round(high_mm * 100))
    font.setBold(bold)
    return font


def _width(text: str, high_mm: float, *, bold: bool = False) -> float:
    """Of a line of writing, in mm."""
    return QFontMetricsF(_font(high_mm, bold=bold)).horizontalAdvance(text) / 100.0


def write(
    painter: QPainter, text: str, middle: Point, high_mm: float, *, bold: bool = False
) -> None:
    """A line of writing about a place, in letters about so high."""
    painter.save()
    painter.translate(QPointF(middle.x, middle.y))
    painter.scale(0.01, 0.01)
    painter.setFont(_font(high_mm, bold=bold))
    room = QRectF(-40_000.0, -high_mm * 100, 80_000.0, high_mm * 200)
    painter.drawText(room, Qt.AlignmentFlag.AlignCenter, text)
    painter.restore()
