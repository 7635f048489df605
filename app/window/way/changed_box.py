"""What was changed: the steps that Undo takes back one after the other, and the figures."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QListWidget,
    QSizePolicy,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)
from shiboken6 import isValid

from app.window import theme
from app.window.lengths_tree import RIGHT, LengthsTree
from app.window.session import Session
from app.window.way.changed import Row, rows_of
from app.window.way.page_of import headline, words

# Pixels: the last steps are always seen, and the figures below them.
LIST_LEAST, LIST_MOST = 44, 148
NOTHING = "Nothing yet."
NEXT = "Undo takes this back first."


class ChangedBox(QWidget):
    """Follows the undo list and what is settled."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._texts: list[str] | None = None
        self._rows: tuple[Row, ...] = ()
        self.list = QListWidget()
        self.list.setAccessibleName("What was changed, in order")
        self.list.setSizeAdjustPolicy(QListWidget.SizeAdjustPolicy.AdjustToContents)
        self.list.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Maximum)
        self.list.setMinimumHeight(LIST_LEAST)
        self.list.setMaximumHeight(LIST_MOST)
        self.figures = _Figures()
        self.said = words(NOTHING)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.SPACE + 2)
        column.addWidget(headline("What was changed"))
        column.addWidget(self.said)
        column.addWidget(self.list)
        column.addWidget(self.figures, 1)
        column.addStretch(0)
        session.stack.indexChanged.connect(self._list)
        session.state_told.connect(self._tell)
        session.unit_shown.connect(self._tell)
        self._list()
        self._tell()

    def _list(self) -> None:
        stack = self._session.stack
        if not isValid(stack):
            # It empties itself once more while the window is taken down.
            return
        texts = [stack.text(k) for k in range(stack.index())]
        if texts == self._texts:
            return
        self._texts = texts
        self.list.clear()
        self.list.addItems([f"{k}. {text}" for k, text in enumerate(texts, 1)])
        if texts:
            self.list.item(len(texts) - 1).setToolTip(NEXT)
            self.list.scrollToBottom()
        self.said.setText(f"{NEXT[:-1]}: {texts[-1]}." if texts else NOTHING)

    def _tell(self) -> None:
        if self._session.previewing:
            return
        rows = rows_of(self._session.settled, self._session.shown)
        self.figures.show_rows(rows, self._session.shown.word)


class _Figures(LengthsTree):
    """Lengths before and after, the pieces as headings."""

    def __init__(self) -> None:
        super().__init__("Lengths before and after", indent=16)
        self._shown: tuple[tuple[Row, ...], str] = ((), "")
        self.hide()

    def show_rows(self, rows: tuple[Row, ...], unit: str) -> None:
        if (rows, unit) == self._shown:
            return
        self._shown = rows, unit
        self.show_unit(unit)
        self.clear()
        home, headings = self.invisibleRootItem(), []
        for row in rows:
            if not row.before:
                home = self._heading(row)
                headings.append(home)
            else:
                _figure(home, row)
        # When all are there, for each row added after that would lay out all of them anew.
        for heading in headings:
            heading.setFirstColumnSpanned(True)
            heading.setExpanded(True)
        self.setVisible(bool(rows))

    def _heading(self, row: Row) -> QTreeWidgetItem:
        item = QTreeWidgetItem(self, [row.name])
        item.setFont(0, theme.type_of(theme.TEXT_PX, bold=True))
        return item


def _figure(home: QTreeWidgetItem, row: Row) -> None:
    item = QTreeWidgetItem(home, [*row])
    for column in (1, 2):
        item.setTextAlignment(column, RIGHT)
        item.setFont(column, theme.type_of(theme.TEXT_PX, bold=column == 2))
    told = f"{row.name}: {row.before} before, {row.after} after"
    item.setData(0, Qt.ItemDataRole.AccessibleTextRole, told)
