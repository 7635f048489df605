"""The pieces: what lies on the table, which take part, and what is sewn to what."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QPushButton, QSizePolicy, QWidget

from app.window.document import PieceId
from app.window.session import Session
from app.window.way.page_of import StagePage, headline, words
from app.window.way.partners import partners_of, together_words

WHICH = Qt.ItemDataRole.UserRole


class PiecesPage(StagePage):
    """``wanted`` asks for further files."""

    wanted = Signal()

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(
            "Which pieces are made longer or shorter?",
            "Ticked pieces change together, so that what is sewn together still fits.",
            parent=parent,
        )
        self._session = session
        self.list = QListWidget()
        self.list.setAccessibleName("Pieces that take part in the change")
        self.list.setWordWrap(True)
        self.list.setSizeAdjustPolicy(QListWidget.SizeAdjustPolicy.AdjustToContents)
        self.list.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Maximum)
        self.list.itemChanged.connect(self._switch)
        self.more = QPushButton("Put more pieces on the table …")
        self.more.setToolTip("Front and back often come in two files; here they are matched.")
        self.more.clicked.connect(self.wanted)
        self.said = words()
        self.add(self.list, self.more, headline("Sewn together"), self.said)
        self.end()
        session.sheets_shown.connect(self._list)
        session.state_told.connect(self._tick)
        self._list()

    def _list(self) -> None:
        with QSignalBlocker(self.list):
            self.list.clear()
            for which, piece in self._session.state.sheets.pieces.items():
                text = piece.name if piece.hem else f"{piece.name}: no hem found"
                item = QListWidgetItem(text, self.list)
                item.setData(WHICH, which)
                item.setFlags(item.flags() & ~Qt.ItemFlag.ItemIsUserCheckable)
                if piece.hem is not None:
                    item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
                else:
                    item.setToolTip("It stays as it is until one of its edges is called the hem.")
        self._tick()

    def _tick(self) -> None:
        state = self._session.state
        sewn = partners_of(state) or ("No edges were found that are sewn to each other.",)
        told = "\n".join(filter(None, (*sewn, together_words(state))))
        if told != self.said.text():
            self.said.setText(told)
        with QSignalBlocker(self.list):
            for item in self._items():
                which = item.data(WHICH)
                if state.sheets.pieces[which].hem is not None:
                    on = which not in state.off
                    item.setCheckState(Qt.CheckState.Checked if on else Qt.CheckState.Unchecked)

    def _items(self) -> list[QListWidgetItem]:
        return [self.list.item(k) for k in range(self.list.count())]

    def _switch(self, item: QListWidgetItem) -> None:
        which: PieceId = item.data(WHICH)
        on = item.checkState() is Qt.CheckState.Checked
        switched = self._session.settled.switched(which, on=on)
        if switched.off != self._session.settled.off:
            name = self._session.state.piece(which).name
            self._session.commit(f"Change {name} too" if on else f"Leave {name} as it is", switched)
