"""A piece on paper: all lines in black, widths in mm. The painter is in mm of the pattern."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QPainter, QPen

from app.window.document import UNSEEN
from app.window.table.paths import path_of, point_of
from core.curve import Box, Chain, Point, Ring, Vector
from core.paper.tiling import Outline
from core.piece.corners import outward, outward_sign
from core.piece.model import Dart, Kind, Piece

# Widths in mm: the line that is cut, and all others.
CUT, FINE = 0.5, 0.25
DASHES, NOTCH, DRILL, NAME_MM = (12.0, 8.0), 6.0, 2.5, 7.0
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
            write(painter, mark.text, mark.geometry, 4.0)
        elif mark.kind is Kind.NOTCH:
            _draw_notch(painter, piece, mark.geometry)
        else:
            painter.drawEllipse(point_of(mark.geometry), DRILL / 2, DRILL / 2)
    for dart in piece.darts:
        _draw_dart(painter, dart)
    centre = piece.outline.ring.bounds().centre
    write(painter, piece.name, centre, NAME_MM, bold=True)
    painter.restore()


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


def write(
    painter: QPainter, text: str, middle: Point, high_mm: float, *, bold: bool = False
) -> None:
    """A line of writing about a place, in letters about so high."""
    font = QFont()
    # In hundredths of a mm: a font of a few whole pixels would be crooked.
    font.setPixelSize(round(high_mm * 100))
    font.setBold(bold)
    painter.save()
    painter.translate(QPointF(middle.x, middle.y))
    painter.scale(0.01, 0.01)
    painter.setFont(font)
    room = QRectF(-40_000.0, -high_mm * 100, 80_000.0, high_mm * 200)
    painter.drawText(room, Qt.AlignmentFlag.AlignCenter, text)
    painter.restore()
