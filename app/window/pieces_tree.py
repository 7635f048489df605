"""The pieces, their edges, and what each length becomes: the table's mirror in words."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from collections import Counter

from PySide6.QtCore import QEvent, QItemSelectionModel, QSignalBlocker, QSize, Qt, QTimer
from PySide6.QtGui import QBrush, QColor, QShowEvent
from PySide6.QtWidgets import (
    QSizePolicy,
    QTreeWidgetItem,
    QWidget,
)

from app.window import theme
from app.window.document import EdgeId, PieceId
from app.window.lengths import bare
from app.window.lengths_tree import RIGHT, LengthsTree
from app.window.outcome import outcome
from app.window.session import MANY, Session
from core.alter.figures import edge_length, hem_width
from core.alter.model import Altered
from core.piece.model import Edge, Piece, Role
from core.piece.sizes import sizes_of

CHOOSE = QItemSelectionModel.SelectionFlag.ClearAndSelect | QItemSelectionModel.SelectionFlag.Rows
WHICH = Qt.ItemDataRole.UserRole
ROW_HEIGHT = 20
# Below this, in mm, two lengths are shown as the same one.
SAME = 0.05


class PiecesTree(LengthsTree):
    """A row for each piece, with a box to take it into the change; below it its edges. Pieces
    of a pattern in several sizes stand under their size, which has a box too."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__("Pieces and their edges", indent=20, parent=parent)
        self._session = session
        self._fonts = [theme.type_of(theme.TEXT_PX, bold=bold) for bold in (False, True)]
        self.setMinimumHeight(96)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Maximum)
        self._stale = False
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.timeout.connect(self._list_waiting)
        self._alike: Counter[str] = Counter()
        self._pieces: dict[PieceId, QTreeWidgetItem] = {}
        self._sizes: dict[str, QTreeWidgetItem] = {}
        self._edges: dict[EdgeId, QTreeWidgetItem] = {}
        self._widths: dict[PieceId, QTreeWidgetItem] = {}
        session.sheets_shown.connect(self._list_soon)
        session.state_told.connect(self._follow)
        session.unit_shown.connect(self._fill)
        session.edge_selected.connect(self._follow_selection)
        self.itemChanged.connect(self._switch)
        self.currentItemChanged.connect(self._select)
        self._list_anew()

    def _list_soon(self) -> None:
        """Very many pieces wait until the list is seen, or for a turn of the event loop."""
        self._stale = len(self._session.state.sheets.pieces) > MANY
        if not self._stale:
            self._list_anew()
        elif self.isVisible():
            self._soon.start()

    def _list_waiting(self) -> None:
        if self._stale:
            self._list_anew()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._list_waiting()

    def _list_anew(self) -> None:
        self._stale = False
        with QSignalBlocker(self):
            self.clear()
            self._pieces, self._sizes, self._edges, self._widths = {}, {}, {}, {}
            pieces = self._session.state.sheets.pieces
            nested = {which for which, piece in pieces.items() if piece.size}
            self.setRootIsDecorated(bool(nested))
            self.setItemsExpandable(bool(nested))
            self._alike = Counter(p.name for p in pieces.values())
            for size in sizes_of(pieces.values()):
                self._list_size(size)
            for which, piece in pieces.items():
                self._list_piece(which, piece)
            # When all are there, for each row added after that would lay out all of them anew.
            for row in (*self._sizes.values(), *self._pieces.values()):
                row.setFirstColumnSpanned(True)
            for size_row in self._sizes.values():
                size_row.setExpanded(True)
            for which, row in self._pieces.items():
                # The edges of twenty pieces are too much to read: they open on demand.
                row.setExpanded(which not in nested)
        self._fill()
        self._follow_selection()
        self.updateGeometry()

    def sizeHint(self) -> QSize:
        """As high as all its rows, where there is room for that."""
        rows = len(self._sizes) + len(self._pieces)
        for row in self._pieces.values():
            rows += row.childCount() if row.isExpanded() else 0
        return QSize(200, self.header().sizeHint().height() + rows * ROW_HEIGHT + 8)

    def _list_size(self, size: str) -> None:
        row = QTreeWidgetItem(self, [f"Size {size}"])
        row.setData(0, WHICH, size)
        row.setFont(0, self._fonts[1])
        row.setToolTip(0, "Ticked, all pieces of this size take part in the change.")
        self._sizes[size] = row

    def _list_piece(self, which: PieceId, piece: Piece) -> None:
        name = [self._name(which, piece)]
        home = self._sizes.get(piece.size)
        row = QTreeWidgetItem(self, name) if home is None else QTreeWidgetItem(home, name)
        self._pieces[which] = row
        row.setData(0, WHICH, which)
        row.setFont(0, theme.type_of(theme.TEXT_PX, bold=True))
        if piece.hem is None:
            row.setToolTip(0, "It stays as it is. Click the edge that is its hem and say so.")
            row.setText(0, f"{self._name(which, piece)}: no hem found")
            row.setForeground(0, QBrush(QColor(theme.look().quiet)))
        else:
            row.setToolTip(0, "Ticked, the piece takes part in the change.")
            row.setCheckState(0, Qt.CheckState.Checked)
        for index, edge in enumerate(piece.edges):
            child = QTreeWidgetItem(row, [_edge_words(edge)])
            child.setToolTip(0, f"{edge.because.word}: {edge.because.why}")
            if _doubted(edge):
                child.setForeground(0, QBrush(QColor(theme.look().vermilion_text)))
            child.setData(0, WHICH, EdgeId(which, index))
            self._edges[EdgeId(which, index)] = child
        if piece.hem is not None:
            width = QTreeWidgetItem(row, ["hem width"])
            width.setFlags(Qt.ItemFlag.ItemIsEnabled)
            self._widths[which] = width

    def _name(self, which: PieceId, piece: Piece) -> str:
        """With its file, where two pieces have the same name."""
        if self._alike[piece.name] == 1:
            return piece.name
        return f"{piece.name}, {self._session.state.sheet(which.sheet).drawing.path.stem}"

    def _follow(self) -> None:
        """While a gesture lasts only a list that is seen follows it."""
        if self.isVisible() or not self._session.previewing:
            self._fill()

    def _fill(self) -> None:
        """All figures and ticks anew."""
        if self._stale:
            return
        self.show_unit(self._session.shown.word)
        state, result = self._session.state, outcome(self._session.state)
        with QSignalBlocker(self):
            for which, row in self._pieces.items():
                piece = state.piece(which)
                if piece.hem is not None:
                    row.setCheckState(0, _tick({which not in state.off}))
                self._fill_piece(which, piece, result.altered.get(which))
            for size, row in self._sizes.items():
                if of_size := self._of_size(size):
                    row.setCheckState(0, _tick({which not in state.off for which in of_size}))

    def _fill_piece(self, which: PieceId, piece: Piece, altered: Altered | None) -> None:
        for index, edge in enumerate(piece.edges):
            if altered is None:
                length = edge_length(piece, edge)
                before, after = length, length
            else:
                figure = altered.figures.edges[index]
                before, after = figure.before_mm, figure.after_mm
            self._set(self._edges[EdgeId(which, index)], before, after)
        if which in self._widths:
            before = hem_width(piece)
            after = altered.figures.hem_width_after_mm if altered else before
            self._set(self._widths[which], before, after)

    def _set(self, item: QTreeWidgetItem, before: float, after: float) -> None:
        shown = self._session.shown
        differs = abs(after - before) >= SAME
        for column, mm in ((1, before), (2, after)):
            item.setText(column, bare(mm, shown))
            item.setTextAlignment(column, RIGHT)
            bold = differs and column == 2
            item.setFont(column, self._fonts[bold])
            look = theme.look()
            item.setForeground(column, QBrush(QColor(look.ink if bold else look.quiet)))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() is QEvent.Type.PaletteChange:
            self._list_anew()

    def _of_size(self, size: str) -> tuple[PieceId, ...]:
        """The pieces of a size that can take part in a change."""
        pieces = self._session.state.sheets.pieces
        return tuple(which for which, p in pieces.items() if p.size == size and p.hem)

    def _switch(self, item: QTreeWidgetItem, column: int) -> None:
        which = item.data(0, WHICH)
        if column != 0 or not isinstance(which, PieceId | str):
            return
        on = item.checkState(0) is Qt.CheckState.Checked
        state = self._session.settled
        sized = isinstance(which, str)
        meant = self._of_size(which) if isinstance(which, str) else (which,)
        switched = state.all_switched(meant, on=on)
        if switched.off != state.off:
            name = f"size {which}" if sized else state.piece(meant[0]).name
            text = f"Change {name} too" if on else f"Leave {name} as it is"
            self._session.commit(text, switched)

    def _select(self, item: QTreeWidgetItem | None) -> None:
        which = item.data(0, WHICH) if item is not None else None
        self._session.select(which if isinstance(which, EdgeId) else None)

    def _follow_selection(self) -> None:
        selected = self._session.selected
        item = self._edges.get(selected) if selected else None
        with QSignalBlocker(self):
            if item is None:
                self.clearSelection()
                # A current row would keep a click on it from selecting it again.
                self.selectionModel().clearCurrentIndex()
            else:
                self.setCurrentItem(item, 0, CHOOSE)
                self.scrollToItem(item)
        self.viewport().update()


def _tick(on: set[bool]) -> Qt.CheckState:
    """Ticked when all are on, half when only some are."""
    if len(on) > 1:
        return Qt.CheckState.PartiallyChecked
    return Qt.CheckState.Checked if on == {True} else Qt.CheckState.Unchecked


def _edge_words(edge: Edge) -> str:
    return f"? {edge.role.value}" if _doubted(edge) else edge.role.value


def _doubted(edge: Edge) -> bool:
    """An edge that is nothing in particular needs nobody to look at it."""
    return not edge.because.sure and edge.role is not Role.OTHER
