"""What is put right with the mouse, and what is sewn to what."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QGridLayout,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from app.window import theme
from app.window.document import EdgeId, State
from app.window.session import Session
from app.window.table.tools.marking import (
    Correcting,
    MarkDart,
    SetGrain,
    SewEdges,
    SplitEdge,
    edge_named,
    in_sizes_too,
)
from app.window.tied import with_tie
from app.window.way.page_of import headline, words
from app.window.way.partners import Pair, pairs_in_sizes, pairs_of, together_words
from core.piece.sizes import sizes_of

DART_TIP = "A dart that was not found is not carried along. Show its mouth and its apex."
GRAIN_TIP = "Lengths are measured along the grain, and it says at which end the hem is."
SEW_TIP = "Seams that are sewn together get equal lengths. Show two edges of different pieces."
SPLIT_TIP = "Where two seams were taken for one. Notches and corners take hold of the pointer."
APART_TIP = "These two are not sewn together: each goes on by itself."
YES_TIP = "They are sewn together: what one gets, the other gets."
EVERY_TIP = (
    "What you say of a piece or an edge holds in every size; without the tick it is said of one"
    " size alone. A dart goes by its place on the edge, a taper point by its height above the hem."
)
NONE_SEWN = "No two edges are known to be sewn together. Show them with Sew edges."
ALONE = "There is one piece only, so nothing here is sewn to another."
# Pixels: two pairs at least, and no more than leaves room for what is not certain.
LIST_LEAST, LIST_MOST = 40, 108
WHICH = Qt.ItemDataRole.UserRole


class MouseBox(QWidget):
    """``wanted`` carries the tool to be put in hand."""

    wanted = Signal(object)

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.dart = self._tool(MarkDart, "Mark a dart", DART_TIP)
        self.grain = self._tool(SetGrain, "Set the grain", GRAIN_TIP)
        self.sew = _button("Sew edges", SEW_TIP, self._begin_sewing)
        self.split = self._tool(SplitEdge, "Split an edge", SPLIT_TIP)
        self.every = QCheckBox("In every size")
        self.every.setToolTip(EVERY_TIP)
        self.every.setAccessibleDescription(EVERY_TIP)
        self.every.setChecked(True)
        self.every.toggled.connect(self._say_of_every_size)
        self.list = QListWidget()
        self.list.setAccessibleName("Edges that are sewn together")
        self.list.setSizeAdjustPolicy(QListWidget.SizeAdjustPolicy.AdjustToContents)
        self.list.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Maximum)
        self.list.setMinimumHeight(LIST_LEAST)
        self.list.setMaximumHeight(LIST_MOST)
        self.list.currentItemChanged.connect(lambda *_: self._allow())
        self.yes = _button("They are", YES_TIP, lambda: self._say(sewn=True))
        self.yes.setAccessibleName("They are sewn together")
        self.apart = _button("They are not", APART_TIP, lambda: self._say(sewn=False))
        self.apart.setAccessibleName("They are not sewn together")
        self.together = words()
        self._lay_out()
        session.sheets_shown.connect(self._list)
        session.state_told.connect(self._tell)
        self._list()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.SPACE + 2)
        tools, answers = QGridLayout(), QHBoxLayout()
        tools.setSpacing(theme.SPACE + 2)
        for k, button in enumerate((self.dart, self.grain, self.split, self.sew)):
            tools.addWidget(button, k // 2, k % 2)
        answers.addWidget(headline("Sewn together"), 1)
        answers.addWidget(self.yes)
        answers.addWidget(self.apart)
        column.addWidget(self.every)
        column.addLayout(tools)
        column.addLayout(answers)
        column.addWidget(self.list)
        column.addWidget(self.together)

    def _tool(self, kind: type[Correcting], text: str, tip: str) -> QPushButton:
        return _button(text, tip, lambda: self.wanted.emit(kind(self._session)))

    def _begin_sewing(self) -> None:
        self.wanted.emit(SewEdges(self._session))

    def _say_of_every_size(self, on: bool) -> None:
        self._session.every_size = on
        self._list()

    def _list(self) -> None:
        self.every.setVisible(len(sizes_of(self._session.state.sheets.pieces.values())) > 1)
        row = self.list.currentRow()
        self.list.clear()
        state = self._session.state
        for pair in pairs_in_sizes(state) if self.every.isChecked() else pairs_of(state):
            item = QListWidgetItem(pair.words, self.list)
            item.setData(WHICH, pair)
            item.setToolTip(pair.why)
        self.list.setCurrentRow(min(max(row, 0), self.list.count() - 1))
        self.list.setVisible(self.list.count() > 0)
        self._allow()
        self._tell()

    def _allow(self) -> None:
        pair = self._pair
        self.apart.setEnabled(pair is not None)
        self.yes.setEnabled(pair is not None and not pair.sure)

    def _tell(self) -> None:
        text = together_words(self._session.state)
        if not self.list.count():
            text = " ".join(filter(None, (_none_sewn(self._session.state), text)))
        if text != self.together.text():
            self.together.setText(text)

    @property
    def _pair(self) -> Pair | None:
        item = self.list.currentItem()
        found = item.data(WHICH) if item is not None else None
        return found if isinstance(found, Pair) else None

    def _say(self, *, sewn: bool) -> None:
        pair = self._pair
        if pair is None:
            return
        state = self._session.settled
        a, b = EdgeId(*pair.first), EdgeId(*pair.second)
        every = self.every.isChecked()
        names = " and ".join(edge_named(state, e) for e in (a, b))
        text = f"{names} sewn together" if sewn else f"{names} not sewn together"
        text += in_sizes_too(state, a, b, every_size=every)
        self._session.commit(text, with_tie(state, a, b, sewn=sewn, every_size=every))


def _none_sewn(state: State) -> str:
    """What is said in the place of the list."""
    several = len(state.sheets.pieces) > 1
    return NONE_SEWN if several else ALONE


def _button(text: str, tip: str, does: Callable[[], None]) -> QPushButton:
    button = QPushButton(text)
    button.setToolTip(tip)
    button.setAccessibleDescription(tip)
    button.clicked.connect(lambda _=False: does())
    return button
