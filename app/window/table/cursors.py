"""The shape that the pointer takes over what can be held."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt

from app.window.document import PieceId
from app.window.table.pointing import Under
from core.curve import Vector

Shape = Qt.CursorShape


def cursor_over(under: Under, down: Callable[[PieceId], Vector]) -> Shape:
    """Of a grip along the grain of its piece, which `down` tells."""
    grip = under.hem_grip or under.level_grip
    if grip is not None:
        way = down(grip)
        return Shape.SizeVerCursor if abs(way.y) >= abs(way.x) else Shape.SizeHorCursor
    if under.hold is not None:
        return Shape.SizeAllCursor
    return Shape.PointingHandCursor if under.edge is not None else Shape.ArrowCursor
