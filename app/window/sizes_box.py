"""One amount for every size, or an amount for each."""

from __future__ import annotations

from enum import Enum

from PySide6.QtWidgets import QWidget

from app.window.page_parts import label, page_grid
from app.window.segments import LengthEdit, Segments
from app.window.session import Session
from core.piece.sizes import sizes_of


class Amounts(Enum):
    """How the amount goes over the sizes."""

    ONE = "one for all sizes"
    EACH = "one for each"


WHY: dict[Enum, str] = {
    Amounts.ONE: "Every size gets the same amount, each along its own taper.",
    Amounts.EACH: "A larger size often wants more. Drawing the hem, or typing the amount above,"
    " then moves all of them by as much.",
}


class SizesBox(QWidget):
    """Hidden for a pattern in one size."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.amounts = Segments(Amounts, self._go, name="Amount:", why=WHY)
        self.edits: dict[str, LengthEdit] = {}
        self._words: list[QWidget] = []
        self._grid = page_grid(self)
        self._grid.addWidget(label("Amount"), 0, 0)
        self._grid.addWidget(self.amounts, 0, 1)
        session.sheets_shown.connect(self._list)
        session.state_shown.connect(self._show)
        session.attempted.connect(self._show)
        self._list()

    def _list(self) -> None:
        """A row for each size that lies on the table."""
        sizes = sizes_of(self._session.state.sheets.pieces.values())
        if tuple(self.edits) != sizes:
            for part in (*self.edits.values(), *self._words):
                self._grid.removeWidget(part)
                part.deleteLater()
            self.edits, self._words = {}, []
            for row, size in enumerate(sizes, 1):
                self._add(row, size)
        self._show()

    def _add(self, row: int, size: str) -> None:
        edit = LengthEdit(self._session, name=f"Amount for size {size}")
        edit.taken.connect(lambda mm, s=size: self._take(s, mm))
        words = label(f"Size {size}")
        self._grid.addWidget(words, row, 0)
        self._grid.addWidget(edit, row, 1)
        self.edits[size] = edit
        self._words.append(words)

    def _show(self) -> None:
        state = self._session.state
        self.setVisible(len(self.edits) > 1 and state.level is None)
        self.amounts.show_one(Amounts.EACH if state.each_size else Amounts.ONE)
        for part in (*self.edits.values(), *self._words):
            part.setVisible(state.each_size)
        # Each frame of a drag comes by here, mostly with all of them hidden.
        for size, edit in self.edits.items() if state.each_size else ():
            edit.show_mm(state.amount_of(size))

    def _go(self, way: Amounts) -> None:
        self._session.commit_preview()
        state = self._session.settled
        if state.each_size is not (way is Amounts.EACH):
            self._session.attempt(state.for_each_size(on=way is Amounts.EACH))

    def _take(self, size: str, mm: float) -> None:
        self._session.commit_preview()
        self._session.attempt(self._session.settled.with_amount(size, mm))
