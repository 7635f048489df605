"""A small label at the pointer that says what lies under it."""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt
from PySide6.QtWidgets import QLabel, QWidget

# Pixels from the pointer, above it: below it the tool tips appear.
ASIDE, ABOVE = 14, 10


class HoverLabel(QLabel):
    """Follows the pointer within its table; the mouse goes through it."""

    def __init__(self, table: QWidget) -> None:
        super().__init__(table)
        self._table = table
        self.setObjectName("hover")
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.hide()

    def say(self, words: str, at: QPointF) -> None:
        """These words beside the pointer, within the table; none hide the label."""
        if not words:
            self.hide()
            return
        if words != self.text():
            self.setText(words)
            self.adjustSize()
        x, y = at.x() + ASIDE, at.y() - ABOVE - self.height()
        if x + self.width() > self._table.width():
            x = at.x() - ASIDE - self.width()
        self.move(round(max(x, 0.0)), round(y if y >= 0.0 else at.y() + 2 * ABOVE))
        self.show()
