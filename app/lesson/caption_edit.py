"""Where a caption is written: in its own large type, over as many lines as it needs."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QTextOption
from PySide6.QtWidgets import QPlainTextEdit

ENTER = {Qt.Key.Key_Return, Qt.Key.Key_Enter}


class CaptionEdit(QPlainTextEdit):
    """``kept`` is emitted at Enter: a caption is one sentence, which wraps by itself."""

    kept = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Caption of this step")
        self.setTabChangesFocus(True)
        self.setFrameShape(QPlainTextEdit.Shape.NoFrame)
        self.document().setDefaultTextOption(QTextOption(Qt.AlignmentFlag.AlignHCenter))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc goes on to the lesson."""
        if Qt.Key(event.key()) in ENTER:
            self.kept.emit()
        elif Qt.Key(event.key()) is Qt.Key.Key_Escape:
            event.ignore()
        else:
            super().keyPressEvent(event)
