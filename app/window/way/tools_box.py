"""What can be put right on the chosen edge and its piece, beside the edge's role."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from app.window import theme
from app.window.document import EdgeId, PieceId, State
from app.window.in_sizes import corrected, edges_alike, in_how_many, with_taper
from app.window.messages import Messages
from app.window.page_parts import label, page_grid
from app.window.segments import LengthEdit
from app.window.session import Session
from app.window.way.page_of import words
from core.curve import Point
from core.piece.model import Piece
from core.piece.said import called, join_edges, split_edge, with_grain
from core.piece.tapers_alike import way_to

NAME_TIP = "A front is matched with a back by their names, and the sheets are labelled with them."
SPLIT_TIP = "Parts the edge in its middle: for a seam in which two seams were taken for one."
JOIN_TIP = "Makes one edge of this and the next, where a point along it was taken for a corner."
TURN_TIP = "The other end of the piece is the hem: the grain points the other way."
TAPER_TIP = "How long the seam is down to its taper point. From there it is carried on."
NOTHING = "Choose an edge on the table to put its piece right."


class ToolsBox(QWidget):
    """Follows the selection; each tool is one entry of the undo list."""

    def __init__(self, session: Session, messages: Messages) -> None:
        super().__init__()
        self._session, self._messages = session, messages
        self.nothing = words(NOTHING)
        self.name = QLineEdit()
        self.name.setAccessibleName("Name of the piece")
        self.name.setToolTip(NAME_TIP)
        self.name.editingFinished.connect(self._rename)
        self.tapers = [LengthEdit(session, name=f"Seam to its taper point, {k}") for k in (1, 2)]
        self.labels = [label("") for _ in self.tapers]
        for last, edit in enumerate(self.tapers):
            edit.setToolTip(TAPER_TIP)
            edit.taken.connect(lambda mm, last=bool(last): self._slide(mm, last=last))
        self.split = _button("Split in its middle", SPLIT_TIP, self._split)
        self.join = _button("Join with the next", JOIN_TIP, self._join)
        self.turn = _button("The hem is at the other end", TURN_TIP, self._turn)
        self._lay_out()
        session.edge_selected.connect(self._show)
        session.sheets_shown.connect(self._show)
        session.unit_shown.connect(self._show)
        self._show()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        self.body = QWidget()
        grid = page_grid(self.body)
        grid.addWidget(label("Piece"), 0, 0)
        grid.addWidget(self.name, 0, 1)
        grid.addWidget(words("How far down each seam its taper point lies:"), 1, 0, 1, 2)
        for k, (word, edit) in enumerate(zip(self.labels, self.tapers, strict=True), 2):
            grid.addWidget(word, k, 0)
            grid.addWidget(edit, k, 1)
        row = QHBoxLayout()
        row.setSpacing(theme.SPACE + 2)
        row.addWidget(self.split)
        row.addWidget(self.join)
        grid.addLayout(row, 4, 0, 1, 2)
        grid.addWidget(self.turn, 5, 0, 1, 2)
        column.addWidget(self.nothing)
        column.addWidget(self.body)

    @property
    def _chosen(self) -> EdgeId | None:
        return self._session.selected

    def _show(self) -> None:
        which = self._chosen
        self.body.setVisible(which is not None)
        self.nothing.setVisible(which is None)
        if which is None:
            return
        piece = self._session.settled.piece(which.piece)
        if self.name.text() != piece.title:
            self.name.setText(piece.title)
        # Of a long name the beginning tells which piece it is.
        self.name.home(False)
        has_hem = piece.hem is not None and len(piece.edges) > 2
        for last, (word, edit) in enumerate(zip(self.labels, self.tapers, strict=True)):
            word.setVisible(has_hem)
            edit.setVisible(has_hem)
            if has_hem:
                seam = piece.edges[1 if last else -1]
                word.setText(seam.role.value.capitalize())
                edit.show_mm(piece.edge_chain(seam).length())
        self.turn.setEnabled(has_hem)

    def _correct(self, text: str, correction: Callable[[Piece, int], Piece]) -> None:
        """One entry, or a sentence that says why not; of a nest in every size, if that is asked.
        The correction gets a piece and the number of its edge."""
        which = self._chosen
        if which is None:
            return
        state = self._session.settled
        edges = edges_alike(state, which) if self._session.every_size else (which,)
        with self._messages.guarding():
            after = corrected(state, edges, correction)
            if after is not state:
                self._commit(text, after, which.piece, len(edges))
        self._show()

    def _commit(self, text: str, after: State, which: PieceId, count: int) -> None:
        state = self._session.settled
        told = f"{state.piece(which).name}: {text}{in_how_many(state, which, count)}"
        self._session.commit(told, after)

    def _slide(self, mm: float, *, last: bool) -> None:
        """So far down the seam, and on through the hem, into which it may slide too; in another
        size as far above the hem."""
        which = self._chosen
        if which is None:
            return
        state, every = self._session.settled, self._session.every_size
        way = way_to(state.piece(which.piece), last=last)
        at = way.at(way.at_length(max(mm, 0.0)))
        with self._messages.guarding():
            after, count = with_taper(state, which.piece, at, last=last, every=every)
            self._commit("taper point slid", after, which.piece, count)
        self._show()

    def _split(self) -> None:
        self._correct("edge split", lambda p, number: split_edge(p, number, _middle(p, number)))

    def _join(self) -> None:
        self._correct("edges joined", join_edges)

    def _turn(self) -> None:
        self._correct("hem at the other end", lambda p, _: with_grain(p, -p.grain.down))

    def _rename(self) -> None:
        which = self._chosen
        if which is not None and self.name.isModified():
            self.name.setModified(False)
            name = self.name.text()
            self._correct(f"called {name.strip()}", lambda p, _: called(p, name))


def _middle(piece: Piece, number: int) -> Point:
    chain = piece.edge_chain(piece.edges[number])
    return chain.at(chain.at_length(chain.length() / 2.0))


def _button(text: str, tip: str, does: Callable[[], None]) -> QPushButton:
    button = QPushButton(text)
    button.setToolTip(tip)
    button.clicked.connect(lambda _=False: does())
    return button
