"""A widget that looks at a plane in mm: it zooms about the pointer and moves with the hand."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QNativeGestureEvent, QWheelEvent
from PySide6.QtWidgets import QWidget

from app.window.table.view import View

ZOOM_STEP = 1.25
ZOOMS = {
    Qt.Key.Key_Plus: ZOOM_STEP, Qt.Key.Key_Equal: ZOOM_STEP, Qt.Key.Key_Minus: 1 / ZOOM_STEP,
}  # fmt: skip


class Ground(QWidget):
    """``view`` is what is seen, ``own`` when the person chose it and is not to be led away."""

    view_moved = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = View()
        self._own_view = False

    @property
    def view(self) -> View:
        return self._view

    def set_view(self, view: View, *, own: bool = True) -> None:
        """Looks elsewhere; `own` when the person did so, who is then not led away again."""
        self._view, self._own_view = view, own
        self._after_looking()
        self.update()
        self.view_moved.emit()

    def _after_looking(self) -> None:
        """What was laid out for the old view holds no longer."""

    def zoom(self, factor: float) -> None:
        """About the middle."""
        self.set_view(self._view.zoomed(factor, self.width() / 2, self.height() / 2))

    def wheelEvent(self, event: QWheelEvent) -> None:
        at, pixels, angle = event.position(), event.pixelDelta(), event.angleDelta()
        zooming = event.modifiers() & Qt.KeyboardModifier.ControlModifier
        if not pixels.isNull() and not zooming:
            self.set_view(self._view.panned(pixels.x(), pixels.y()))
        elif event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            # Some systems turn the angle round themselves when Shift is held.
            self.set_view(self._view.panned((angle.y() or angle.x()) / 2, 0.0))
        else:
            factor = ZOOM_STEP ** (angle.y() / 120.0)
            self.set_view(self._view.zoomed(factor, at.x(), at.y()))
        event.accept()

    def event(self, event: QEvent) -> bool:
        if (
            isinstance(event, QNativeGestureEvent)
            and event.gestureType() is Qt.NativeGestureType.ZoomNativeGesture
        ):
            at = event.position()
            self.set_view(self._view.zoomed(1.0 + event.value(), at.x(), at.y()))
            return True
        return super().event(event)
