"""A file's pieces as a small picture."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPixmap

from app.window.document import Sheet, Sheets, State
from app.window.table.drawing import draw_piece
from app.window.table.sights import box_around, sights_of
from app.window.table.view import Margins, View
from core.errors import HemwardError

AIR = 6.0


def small_picture(path: Path, size: QSize, ratio: float) -> QPixmap:
    """The pieces in the file, fitted into `size`; blank for a file that cannot be read."""
    from core.files import read

    picture = QPixmap(size * ratio)
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    try:
        sights = sights_of(State(Sheets((Sheet(0, read(path)),))))
    except HemwardError:
        return picture
    box = box_around(sights)
    if box is None:
        return picture
    view = View.fitted(box, size.width(), size.height(), Margins(AIR, AIR, AIR, AIR))
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(view.scale, view.scale)
    painter.translate(-view.x, -view.y)
    for sight in sights:
        draw_piece(painter, sight, 0.5 / view.scale)
    painter.end()
    return picture
