"""The findings as a list; a click shows the place each one speaks of."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QFontMetrics, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QListWidget, QListWidgetItem, QWidget

from app.window import theme
from app.window.busy import AT_ONCE, LOOK_MS, Job
from app.window.checks import checked
from app.window.findings import Sign, Told, findings_of
from app.window.session import Session

SIGN_WIDTH = 20
# What takes long is looked for when nothing has happened for so long.
IDLE_MS = 40


class ToldList(QListWidget):
    """Findings as a list. ``pointed`` is emitted with the one whose place is to be shown."""

    pointed = Signal(object)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.told: tuple[Told, ...] = ()
        self.setAccessibleName(name)
        self.setMinimumHeight(132)
        self.setWordWrap(True)
        self.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.itemClicked.connect(self._point)
        self.itemActivated.connect(self._point)

    def show_all(self, told: tuple[Told, ...]) -> None:
        """These, in the place of those that were shown."""
        if told == self.told:
            return
        was, self.told = self.told, told
        while self.count() > len(told):
            self.takeItem(self.count() - 1)
        there = self.count()
        # All at once before the first row is set: each row set lays out all that are there.
        self.addItems([""] * (len(told) - there))
        for k, one in enumerate(told):
            if k >= there:
                self.setItemWidget(self.item(k), FindingRow(one))
            elif one != was[k]:
                row = self.itemWidget(self.item(k))
                assert isinstance(row, FindingRow)
                row.show_told(one)
            self._name(self.item(k), one)
        self._settle_heights()

    def _name(self, item: QListWidgetItem, told: Told) -> None:
        item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{told.sign.value} {told.sentence}")
        item.setToolTip("Click to see where." if told.place is not None else "")

    def _settle_heights(self) -> None:
        """Each row as high as its words need at the present width."""
        width = self.viewport().width() - SIGN_WIDTH
        metrics = QFontMetrics(theme.type_of(theme.SMALL_PX))
        flag = Qt.TextFlag.TextWordWrap
        # A scroll bar may come, and with it this call, while the rows are still being added.
        for k, told in enumerate(self.told[: self.count()]):
            high = metrics.boundingRect(0, 0, width, 10_000, flag, told.sentence).height()
            self.item(k).setSizeHint(QSize(width, high + 2 * theme.SPACE + 4))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._settle_heights()

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
        self._idle.start()

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
        self._words.setText(told.sentence)


def _colour(sign: Sign) -> str:
    look = theme.look()
    named = {Sign.WELL: look.green, Sign.NOTE: look.quiet}
    return named.get(sign, look.vermilion)
