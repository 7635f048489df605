"""The findings as a list; a click shows the place each one speaks of."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

import time

from PySide6.QtCore import QEvent, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QFontMetrics, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QListWidget, QListWidgetItem, QWidget

from app.window import theme
from app.window.busy import AT_ONCE, LOOK_MS, Job
from app.window.checks import checked
from app.window.findings import Sign, Told, findings_of
from app.window.session import Session
from core.measure import unbroken

SIGN_WIDTH = 20
# The least height of a list (pixels): some three findings.
LEAST = 132
# How long (s) rows are set before events are looked for again.
SLICE = 0.02
# What takes long is looked for when nothing has happened for so long.
IDLE_MS = 40


class ToldList(QListWidget):
    """Findings as a list. ``pointed`` is emitted with the one whose place is to be shown."""

    pointed = Signal(object)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.told: tuple[Told, ...] = ()
        self._next = self._slices = 0
        self._rest = QTimer(self)
        self._rest.timeout.connect(self._set_some)
        self._metrics = QFontMetrics(theme.type_of(theme.SMALL_PX))
        self.setAccessibleName(name)
        self.setMinimumHeight(LEAST)
        self.setWordWrap(True)
        self.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.itemClicked.connect(self._point)
        self.itemActivated.connect(self._point)

    def show_all(self, told: tuple[Told, ...]) -> None:
        """These, in the place of those that were shown."""
        if told == self.told:
            return
        self.told = told
        while self.count() > len(told):
            self.takeItem(self.count() - 1)
        # All at once before the first row is set: each row set lays out all that are there.
        self.addItems([""] * (len(told) - self.count()))
        self._set_from(0)

    @property
    def slices(self) -> int:
        """In how many goes the rows were set, since they were last told."""
        return self._slices

    def _set_from(self, row: int) -> None:
        """Sets the rows from that one on, a few at a time, so that the window goes on answering;
        of a list that is not seen no more than the first few until it is.
        """
        self._next, self._slices = row, 0
        self._set_some()

    def _set_some(self) -> None:
        until = time.perf_counter() + SLICE
        self._slices += 1
        while self._next < len(self.told):
            self._set_row(self._next)
            self._next += 1
            if time.perf_counter() > until:
                break
        if self._next >= len(self.told):
            self._rest.stop()
        elif self.isVisible():
            self._rest.start()
        else:
            self._rest.stop()

    def _set_row(self, k: int) -> None:
        item, one = self.item(k), self.told[k]
        row = self.itemWidget(item)
        if isinstance(row, FindingRow):
            row.show_told(one)
        else:
            self.setItemWidget(item, FindingRow(one))
        self._name(item, one)
        self._settle_height(k)

    def showEvent(self, event: QShowEvent) -> None:
        """What was left until it is seen."""
        super().showEvent(event)
        if self._next < len(self.told):
            self._rest.start()

    def _name(self, item: QListWidgetItem, told: Told) -> None:
        item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{told.sign.value} {told.sentence}")
        item.setToolTip("Click to see where." if told.place is not None else "")

    def _settle_height(self, k: int) -> None:
        """A row as high as its words need at the present width."""
        width = self.viewport().width() - SIGN_WIDTH
        flag, words = Qt.TextFlag.TextWordWrap, unbroken(self.told[k].sentence)
        high = self._metrics.boundingRect(0, 0, width, 10_000, flag, words).height()
        self.item(k).setSizeHint(QSize(width, high + 2 * theme.SPACE + 4))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            # A scroll bar may come, and with it this call, while rows are still being set.
            self._next = 0
            self._rest.start()

    def changeEvent(self, event: QEvent) -> None:
        """In another look the signs have other colours."""
        super().changeEvent(event)
        if event.type() is QEvent.Type.PaletteChange:
            for k, told in enumerate(self.told[: self.count()]):
                row = self.itemWidget(self.item(k))
                if isinstance(row, FindingRow):
                    row.show_told(told, anew=True)

    def _point(self, item: QListWidgetItem) -> None:
        self.pointed.emit(self.told[self.row(item)])


class FindingsList(ToldList):
    """Follows the document; what takes long is looked for when the hands are still."""

    checked_anew = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__("Findings", parent)
        self._session = session
        self.checks: tuple[Told, ...] | None = None
        session.state_told.connect(self._list)
        session.unit_shown.connect(self._list)
        self._idle = QTimer(self)
        self._idle.setSingleShot(True)
        self._idle.setInterval(IDLE_MS)
        self._idle.timeout.connect(self._begin_check)
        self._seen = QTimer(self)
        self._seen.setSingleShot(True)
        self._seen.timeout.connect(self._idle.start)
        self._job: Job[object] | None = None
        self._look = QTimer(self)
        self._look.setInterval(LOOK_MS)
        self._look.timeout.connect(self._end_check)
        self._list()

    def check(self) -> None:
        """Walks the seams of what is settled, and tells what comes of it."""
        self._drop_check()
        if self._session.state is self._session.settled:
            self._tell(checked(self._session.settled))

    def _begin_check(self) -> None:
        """Beside the window, which goes on answering."""
        state = self._session.settled
        self._drop_check()
        if self._session.state is state:
            self._job = Job(lambda: checked(state))
            self._job.done(within=AT_ONCE)
            self._look.start()
            self._end_check()

    def _end_check(self) -> None:
        job = self._job
        if job is not None and job.done():
            self._drop_check()
            job.found()
            # It is remembered, so that this takes no time.
            self.check()

    def _drop_check(self) -> None:
        """What is being walked is of no interest any more."""
        job, self._job = self._job, None
        self._seen.stop()
        self._idle.stop()
        self._look.stop()
        if job is not None and not job.done():
            job.stop()

    def _list(self) -> None:
        """What can be told at once; the rest when the hands are still.

        While a gesture lasts only a list that is seen follows it.
        """
        if self._session.previewing and not self.isVisible():
            return
        self._drop_check()
        self._tell(None)
        # From the next turn of the event loop on: first it is to be seen.
        self._seen.start()

    def _tell(self, checks: tuple[Told, ...] | None) -> None:
        self.checks = checks
        self.show_all(findings_of(self._session.state, self._session.shown, checks))
        self.checked_anew.emit()


class FindingRow(QWidget):
    """Sign and sentence."""

    def __init__(self, told: Told) -> None:
        super().__init__()
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self._sign, self._words = QLabel(), QLabel()
        self._sign.setFixedWidth(SIGN_WIDTH)
        self._words.setWordWrap(True)
        self._words.setStyleSheet(f"font-size: {theme.SMALL_PX}px")
        line = QHBoxLayout(self)
        line.setContentsMargins(0, theme.SPACE, 0, theme.SPACE)
        line.setSpacing(0)
        for label in (self._sign, self._words):
            label.setAlignment(Qt.AlignmentFlag.AlignTop)
            line.addWidget(label, 1 if label is self._words else 0)
        self.show_told(told)

    def show_told(self, told: Told, *, anew: bool = False) -> None:
        """Takes the place of what was said here before; `anew` in another look."""
        if anew or self._sign.text() != told.sign.value:
            self._sign.setText(told.sign.value)
            self._sign.setStyleSheet(f"color: {_colour(told.sign)}; font-weight: 700")
        words = unbroken(told.sentence)
        if self._words.text() != words:
            self._words.setText(words)


def _colour(sign: Sign) -> str:
    look = theme.look()
    named = {Sign.WELL: look.green, Sign.NOTE: look.quiet}
    return named.get(sign, look.vermilion)
