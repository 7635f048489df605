"""What is seen, on paper: a picture to talk about, never a pattern to cut by."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QMarginsF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QPagedPaintDevice,
    QPageLayout,
    QPageSize,
    QPainter,
    QPdfWriter,
    QPixmap,
)

from app.window import theme
from app.window.table.canvas import Table
from app.window.table.painting import Painting
from core.errors import PaperError
from core.measure import MM_PER_INCH

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

MARGIN_MM = 15.0
LINE_MM = 8.0
# So many dots of the paper to a pixel of the screen, each way: else it is blurred.
FINER = 3.0
NOT_TO_SCALE = "Not to scale: a picture to look at, not a pattern to cut by."


def picture_on_paper(table: Table, path: Path, title: str) -> None:
    """Saves what the table shows as a PDF page of A4, lying; FileError when it cannot be."""
    from core.files.write import save_bytes

    page = QBuffer()
    page.open(QBuffer.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(page)
    writer.setPageSize(QPageSize(QPageSize.PageSizeId.A4))
    writer.setPageOrientation(QPageLayout.Orientation.Landscape)
    writer.setTitle(title)
    _paint(writer, table, title)
    save_bytes(path, bytes(page.data().data()))


def picture_to_printer(table: Table, printer: QPrinter, title: str) -> None:
    """Sends the same page to the printer, on its paper and as it lies there; PaperError when the
    printer takes none."""
    printer.setDocName(title)
    _paint(printer, table, title)


def picture_of(table: Table) -> QPixmap:
    """What the table shows, finer than on the screen and on a light ground: paper is white."""
    picture = QPixmap(QSize(table.width(), table.height()) * FINER)
    picture.setDevicePixelRatio(FINER)
    with theme.lent(theme.LIGHT):
        painter = QPainter(picture)
        Painting().paint(painter, replace(table.scene(), ratio=FINER), following=False)
        painter.end()
    return picture


def _paint(device: QPagedPaintDevice, table: Table, title: str) -> None:
    """The picture as large as the page lets it be, what it is called above, the caution below."""
    margins = QMarginsF(MARGIN_MM, MARGIN_MM, MARGIN_MM, MARGIN_MM)
    device.setPageMargins(margins, QPageLayout.Unit.Millimeter)
    painter = QPainter()
    if not painter.begin(device):
        raise PaperError(
            "The printer does not take the page. See that it is on and has paper, or save the"
            " picture as a PDF."
        )
    picture, px_per_mm = picture_of(table), device.logicalDpiY() / MM_PER_INCH
    page = QRectF(painter.viewport())
    line = LINE_MM * px_per_mm
    painter.setFont(theme.type_of(round(4.2 * px_per_mm), bold=True))
    painter.drawText(QRectF(0, 0, page.width(), line), Qt.AlignmentFlag.AlignLeft, title)
    room = page.adjusted(0, line, 0, -line)
    size = picture.size().scaled(room.size().toSize(), Qt.AspectRatioMode.KeepAspectRatio)
    target = QRectF(0, room.top(), size.width(), size.height())
    painter.drawPixmap(target, picture, QRectF(picture.rect()))
    painter.setFont(theme.type_of(round(3.2 * px_per_mm)))
    foot = QRectF(0, page.height() - line, page.width(), line)
    painter.drawText(foot, Qt.AlignmentFlag.AlignBottom, NOT_TO_SCALE)
    painter.end()
