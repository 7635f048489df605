"""What is seen, on paper: a picture to talk about, never a pattern to cut by."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QBuffer, QMarginsF, QRectF, Qt
from PySide6.QtGui import QPageLayout, QPageSize, QPainter, QPdfWriter, QPixmap
from PySide6.QtWidgets import QWidget

from app.window import theme

MARGIN_MM = 15.0
LINE_MM = 8.0
NOT_TO_SCALE = "Not to scale: a picture to look at, not a pattern to cut by."


def picture_on_paper(widget: QWidget, path: Path, title: str) -> None:
    """Saves what the widget shows as a PDF page of A4, lying; FileError when it cannot be."""
    from core.files.write import save_bytes

    page = QBuffer()
    page.open(QBuffer.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(page)
    writer.setPageSize(QPageSize(QPageSize.PageSizeId.A4))
    writer.setPageOrientation(QPageLayout.Orientation.Landscape)
    margins = QMarginsF(MARGIN_MM, MARGIN_MM, MARGIN_MM, MARGIN_MM)
    writer.setPageMargins(margins, QPageLayout.Unit.Millimeter)
    writer.setTitle(title)
    painter = QPainter(writer)
    _paint(painter, widget.grab(), title, writer.resolution() / 25.4)
    painter.end()
    save_bytes(path, bytes(page.data().data()))


def _paint(painter: QPainter, picture: QPixmap, title: str, px_per_mm: float) -> None:
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
