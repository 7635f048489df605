"""A list of lengths before and after, in two columns of figures beside their names."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTreeWidget, QWidget

RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
FIGURE_WIDTH = 76


class LengthsTree(QTreeWidget):
    """Names as wide as there is room, figures at the right; called `name` when it is read out."""

    def __init__(self, name: str, *, indent: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setColumnCount(3)
        self.setRootIsDecorated(False)
        self.setIndentation(indent)
        self.setItemsExpandable(False)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        header = self.header()
        header.setStretchLastSection(False)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        for column in (1, 2):
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
            header.resizeSection(column, FIGURE_WIDTH)
            self.headerItem().setTextAlignment(column, RIGHT)

    def show_unit(self, word: str) -> None:
        """Heads the columns; `word` is the unit of the figures."""
        self.setHeaderLabels([f"Lengths in {word}", "before", "after"])
