"""A page that is rolled where the window is lower than what stands on it."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QWidget

# The least height, in pixels, in which a page can be read.
LEAST = 120


class Rolling(QScrollArea):
    """As high as there is room; lists on the page shrink first, then all of it is rolled."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("rolling")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def hold(self, page: QWidget) -> None:
        """Takes the page, which was made inside of its viewport."""
        self.setFixedWidth(page.minimumWidth())
        self._page = page
        self.setWidget(page)
        page.installEventFilter(self)

    def minimumSizeHint(self) -> QSize:
        return QSize(self.minimumWidth(), LEAST)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """What stands on the page has changed, so it may want another height."""
        if event.type() is QEvent.Type.LayoutRequest:
            self._fit()
        return super().eventFilter(watched, event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        layout, width = self._page.layout(), self._page.minimumWidth()
        least = layout.minimumHeightForWidth(width) if layout else 0
        self._page.resize(width, max(self.viewport().height(), least))
