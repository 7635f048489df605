"""All sheets as one PDF: first the test square and the plan, then the pattern, true to scale."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QBuffer, QMarginsF, QPointF, QRectF, QSizeF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter, QPdfWriter, QPolygonF

from app.paper.pattern import FINE, Laid, draw_piece, pen, write
from core.curve import Box, Point
from core.files.write import save_bytes
from core.measure import MM_PER_INCH
from core.paper.formats import MARGIN, OVERLAP, Paper, Size
from core.paper.tiling import Sheet, Tiling, tiled

# Dots an inch of the page's own measure; lines in a PDF are exact at any.
DPI = 1200
SQUARE_MM, SQUARE_IN = 100.0, 4.0
ARROW = 5.0
CARE = (
    "Print at 100 %, with no fitting to the page. Measure both sides of both squares before you",
    "print the rest: a square of 1 in that reads 15/16 in costs 2 1/2 in over 40 in.",
    "Try the altered pattern in cheap cloth before you cut good cloth.",
)


def save_sheets(
    laid: Sequence[Laid],
    path: Path,
    *,
    paper: Paper = Paper.A4,
    margin: float = MARGIN,
    overlap: float = OVERLAP,
    breathe: Callable[[], object] = lambda: None,
) -> Tiling:
    """Saves the pieces on as many sheets as they need, after one with the test square.

    `breathe` is called after each sheet; what it raises ends it, and nothing is saved.
    PaperError when they cannot be laid on that paper, FileError when it cannot be saved.
    """
    outlines = [one.outline() for one in laid]
    tiling = tiled(outlines, paper.size, margin=margin, overlap=overlap)
    page = QBuffer()
    page.open(QBuffer.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(page)
    writer.setResolution(DPI)
    writer.setPageMargins(QMarginsF(0.0, 0.0, 0.0, 0.0), QPageLayout.Unit.Millimeter)
    writer.setTitle(", ".join(one.piece.name for one in laid))
    _sized(writer, paper.size)
    painter = QPainter(writer)
    painter.scale(DPI / MM_PER_INCH, DPI / MM_PER_INCH)
    try:
        draw_page(painter, tiling, laid, 0, upright=paper.size)
        for k in range(len(tiling.sheets)):
            breathe()
            _sized(writer, tiling.paper)
            writer.newPage()
            draw_page(painter, tiling, laid, k + 1, upright=paper.size)
    finally:
        painter.end()
    save_bytes(path, bytes(page.data().data()))
    return tiling


def draw_page(
    painter: QPainter, tiling: Tiling, laid: Sequence[Laid], number: int, *, upright: Size
) -> None:
    """The page of that number, the first one (0) on `upright` paper: the test square and the plan;
    then the sheets in their order. The painter is in mm from the corner of the paper.
    """
    if number == 0:
        _draw_first(painter, tiling, laid, upright)
    else:
        _draw_sheet(painter, tiling, tiling.sheets[number - 1], laid)


def _sized(writer: QPdfWriter, size: Size) -> None:
    exact = QPageSize.SizeMatchPolicy.ExactMatch
    writer.setPageSize(QPageSize(QSizeF(*size), QPageSize.Unit.Millimeter, "", exact))


def _draw_first(painter: QPainter, tiling: Tiling, laid: Sequence[Laid], size: Size) -> None:
    """The test squares, what to do with them, and how the sheets lie together."""
    left, top = MARGIN + 5.0, MARGIN + 5.0
    painter.setPen(pen(FINE))
    for text, side, x in (
        (f"{SQUARE_MM / 10:.0f} cm", SQUARE_MM, left),
        ("1 in", MM_PER_INCH, left + SQUARE_MM + 20.0),
    ):
        painter.drawRect(QRectF(x, top, side, side))
        write(painter, text, Point(x + side / 2, top + side / 2), 5.0)
    for k, line in enumerate(CARE):
        write(painter, line, Point(size.width / 2, top + SQUARE_MM + 12.0 + 7.0 * k), 3.6)
    room = Box(left, top + SQUARE_MM + 42.0, size.width - left, size.height - top)
    _draw_plan(painter, tiling, laid, room)


def _draw_plan(painter: QPainter, tiling: Tiling, laid: Sequence[Laid], room: Box) -> None:
    """All sheets small, with their labels and the pieces on them."""
    whole = tiling.sheets[0].part
    for sheet in tiling.sheets[1:]:
        whole = whole | sheet.part
    scale = min(room.width / whole.width, room.height / whole.height)
    painter.save()
    painter.translate(room.x0, room.y0)
    painter.scale(scale, scale)
    painter.translate(-whole.x0, -whole.y0)
    for one in laid:
        draw_piece(painter, one)
    painter.setPen(pen(FINE / scale, dashed=True))
    for sheet in tiling.sheets:
        painter.drawRect(_rect(sheet.part))
        corner = Point(sheet.part.x0 + 6.0 / scale, sheet.part.y0 + 4.0 / scale)
        write(painter, sheet.label, corner, 3.5 / scale)
    painter.restore()


def _draw_sheet(painter: QPainter, tiling: Tiling, sheet: Sheet, laid: Sequence[Laid]) -> None:
    """What lies on that sheet; its border, label, and the sheets beside it."""
    painter.save()
    painter.translate(tiling.margin - sheet.part.x0, tiling.margin - sheet.part.y0)
    painter.setClipRect(_rect(sheet.part))
    for one in laid:
        if _touch(one.box, sheet.part):
            draw_piece(painter, one)
    painter.setClipping(False)
    painter.setPen(pen(FINE, dashed=True))
    painter.drawRect(_rect(sheet.part))
    _draw_joins(painter, tiling, sheet)
    part = sheet.part
    write(painter, sheet.label, Point(part.x0 + 12.0, part.y0 + 10.0), 8.0, bold=True)
    write(painter, "100 %", Point(part.x0 + 12.0, part.y0 + 18.0), 3.0)
    painter.restore()


def _draw_joins(painter: QPainter, tiling: Tiling, sheet: Sheet) -> None:
    """On the middle of the overlap with each sheet beside it a lozenge, half on either one when
    they are taped, and that sheet's label."""
    part, half = sheet.part, tiling.overlap / 2.0
    for rows, columns, x, y in (
        (0, 1, part.x1 - half, part.centre.y),
        (0, -1, part.x0 + half, part.centre.y),
        (1, 0, part.centre.x, part.y1 - half),
        (-1, 0, part.centre.x, part.y0 + half),
    ):
        other = tiling.beside(sheet, rows, columns)
        if other is None:
            continue
        corners = ((x, y - ARROW), (x + ARROW, y), (x, y + ARROW), (x - ARROW, y))
        painter.setPen(pen(FINE))
        painter.drawPolygon(QPolygonF([QPointF(*c) for c in corners]))
        inwards = Point(x - columns * 12.0, y - rows * 12.0)
        write(painter, other.label, inwards, 4.0)


def _touch(a: Box, b: Box) -> bool:
    return a.x0 <= b.x1 and b.x0 <= a.x1 and a.y0 <= b.y1 and b.y0 <= a.y1


def _rect(box: Box) -> QRectF:
    return QRectF(box.x0, box.y0, box.width, box.height)
