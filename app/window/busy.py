"""Slow work beside the window, which goes on answering; one can give it up.

Python lets one thread run at a time, so the worker hands over often; what it does must be pure
values of the core. What paints pages stays in the window's own thread and takes a
breath after each page instead.
"""

from __future__ import annotations

import ctypes
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Thread
from typing import Any, Generic, TypeVar

from PySide6.QtCore import QEventLoop, QObject, QPoint, Qt, QTimer, Signal
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QWidget,
)

from app.window.collecting import Collecting, Not
from core.errors import HemwardError

# What is done within this time (s) needs no turn of the event loop.
AT_ONCE = 0.03
# After this time (s) it is shown that something is being done.
SHOWN_AFTER = 0.5
# How often (ms) it is looked whether the work is done.
LOOK_MS = 10
# And how often (ms) whether one that was given up has ended.
LATER_MS = 500
# How long (s) a worker that was given up is waited for; then it ends by itself, unheard.
PARTING = 0.5

Found = TypeVar("Found")
Breathe = Callable[[], None]
NO_INPUT = QEventLoop.ProcessEventsFlag.ExcludeUserInputEvents


class StoppedError(HemwardError):
    """A person gave the work up."""


class _Stop(BaseException):
    """Ends a worker wherever it is. No failure, so that no reader takes it for one."""


class Job(Generic[Found]):
    """One piece of work in a thread of its own."""

    def __init__(self, work: Callable[[], Found]) -> None:
        self._work = work
        self._found: list[Found] = []
        self._error: BaseException | None = None
        self._thread = Thread(target=self._run, daemon=True)
        self._thread.start()

    def _run(self) -> None:
        try:
            self._found.append(self._work())
        except BaseException as error:
            self._error = error

    def done(self, *, within: float = 0.0) -> bool:
        """Is it done, when waited for so many seconds?"""
        if within:
            self._thread.join(within)
        return not self._thread.is_alive()

    def stop(self) -> None:
        """Ends the thread at its next step of Python."""
        if self._thread.ident is not None:
            ident = ctypes.c_ulong(self._thread.ident)
            ctypes.pythonapi.PyThreadState_SetAsyncExc(ident, ctypes.py_object(_Stop))

    def found(self) -> Found:
        """What came of it; raises what the work raised."""
        if self._error is not None:
            raise self._error
        return self._found[0]


class Busy(QObject):
    """Does one thing at a time. While it lasts, nothing else can be done in the window."""

    def __init__(self, window: QWidget | None) -> None:
        super().__init__(window)
        self._window = window
        self.sheet: BusySheet | None = None
        self._running = False
        self._stopped = False
        self.collecting = Collecting()
        self._at_work: list[Job[Any]] = []
        # Looks after a worker that was given up and has not ended yet.
        self._parted = QTimer(self, singleShot=True, interval=LATER_MS)
        self._parted.timeout.connect(self._collect_again)

    @property
    def running(self) -> bool:
        return self._running

    def run(self, what: str, work: Callable[[], Found], *, stoppable: bool = True) -> Found:
        """What `work` gives, which is done in another thread; raises what it raises.

        `what` is said while it takes long ("Opening leg.svg"). StoppedError when it was given
        up; nothing has come of it then.
        """
        if self._running:
            return work()
        job = self._begun(work)
        try:
            if not job.done(within=AT_ONCE):
                self._wait(job, what, stoppable=stoppable)
        finally:
            self._collect_again()
        return job.found()

    def _begun(self, work: Callable[[], Found]) -> Job[Found]:
        """The job, with nothing collected until it is done."""
        self.collecting.ask(Not.WORK, off=True)
        job = Job(work)
        self._at_work.append(job)
        return job

    def _collect_again(self) -> None:
        self._at_work = [j for j in self._at_work if not j.done()]
        if self._at_work:
            self._parted.start()
        else:
            self.collecting.ask(Not.WORK, off=False)

    def _wait(self, job: Job[Found], what: str, *, stoppable: bool) -> None:
        loop, look, begun = QEventLoop(), QTimer(), time.perf_counter()

        def see() -> None:
            if job.done() or self._stopped:
                loop.quit()
            elif self.sheet is None and time.perf_counter() - begun > SHOWN_AFTER:
                self._show(what, stoppable=stoppable)
                # From now on the sheet alone takes what is typed and clicked.
                loop.exit(1)

        look.timeout.connect(see)
        look.start(LOOK_MS)
        with self._taken():
            if loop.exec(NO_INPUT) == 1:
                loop.exec()
            stopped = self._stopped
        if stopped and not job.done():
            job.stop()
            job.done(within=PARTING)
            raise StoppedError(f"{what} was given up. Everything is as it was.")

    @contextmanager
    def paging(self, what: str, *, over: QWidget | None = None) -> Iterator[Breathe]:
        """For work that paints in the window's own thread; call what this gives after each page.

        What is being done is shown `over` that window, if it is not the usual one.
        It raises StoppedError once the work was given up.
        """
        if self._running:
            yield lambda: None
            return
        begun, last = time.perf_counter(), [time.perf_counter()]

        def breathe() -> None:
            now = time.perf_counter()
            if now - last[0] < AT_ONCE:
                return
            if self.sheet is None and now - begun > SHOWN_AFTER:
                self._show(what, stoppable=True, over=over)
            flags = NO_INPUT if self.sheet is None else QEventLoop.ProcessEventsFlag.AllEvents
            QApplication.processEvents(flags)
            last[0] = time.perf_counter()
            if self._stopped:
                raise StoppedError(f"{what} was given up. Everything is as it was.")

        with self._taken():
            yield breathe

    def give_up(self) -> None:
        """Cancel was pressed."""
        self._stopped = True

    @contextmanager
    def _taken(self) -> Iterator[None]:
        self._running, self._stopped = True, False
        try:
            yield
        finally:
            self._running = False
            if self.sheet is not None:
                self.sheet.put_away()
                self.sheet = None

    def _show(self, what: str, *, stoppable: bool, over: QWidget | None = None) -> None:
        self.sheet = BusySheet(what, over or self._window, stoppable=stoppable)
        self.sheet.given_up.connect(self.give_up)
        self.sheet.open()


class BusySheet(QDialog):
    """What is being done, and Cancel. It lies at the foot of the window and takes all input."""

    given_up = Signal()

    def __init__(self, what: str, window: QWidget | None, *, stoppable: bool) -> None:
        super().__init__(window, Qt.WindowType.Dialog | Qt.WindowType.FramelessWindowHint)
        self.setObjectName("busy")
        self.setWindowModality(Qt.WindowModality.WindowModal)
        self.setWindowTitle("Hemward")
        self.setAccessibleName(what)
        self._stoppable = stoppable
        self.words = QLabel(f"{what} …")
        going = QProgressBar()
        going.setRange(0, 0)
        going.setTextVisible(False)
        going.setFixedSize(140, 8)
        going.setAccessibleName("It is being done")
        self.cancel = QPushButton("Cancel")
        self.cancel.setToolTip("Gives it up; everything stays as it was (Esc).")
        self.cancel.setVisible(stoppable)
        self.cancel.clicked.connect(lambda _=False: self.reject())
        row = QHBoxLayout(self)
        row.setContentsMargins(16, 8, 12, 8)
        row.setSpacing(16)
        for part in (self.words, going, self.cancel):
            row.addWidget(part)
        self._lie_at_the_foot(window)

    def _lie_at_the_foot(self, window: QWidget | None) -> None:
        if window is not None:
            self.adjustSize()
            place = QPoint((window.width() - self.width()) // 2, window.height() - 96)
            self.move(window.mapToGlobal(place))

    def reject(self) -> None:
        """Cancel, and Esc: the sheet stays until the work has stopped."""
        if self._stoppable:
            self.cancel.setEnabled(False)
            self.given_up.emit()

    def put_away(self) -> None:
        """The work is over. The keys go to the window again, which not every system sees to."""
        had_keys = self.isActiveWindow()
        self.hide()
        if had_keys and (window := self.parentWidget()) is not None:
            window.activateWindow()
        self.deleteLater()
