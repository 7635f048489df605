"""Slow work: the window goes on answering, shows what is done, and lets one give it up."""

from __future__ import annotations

import gc
import sys
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import pytest
from PySide6.QtCore import QObject, Qt, QTimer
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.window import busy as busy_module
from app.window.busy import BusySheet, StoppedError
from app.window.main import MainWindow
from core.files.write import rendered
from tests.app.hands import Answers, click, type_length

# So long (s) does the work of these tests take: long enough to be shown, and for what is given up
# long enough never to be done.
SLOW, ENDLESS = 1.2, 60.0
# So often at least does the event loop turn meanwhile, also on a computer that does much else;
# or half as often as any thread gets its turn beside that work there: a system may let each of
# two threads of the same right run for a tenth of a second before the other.
TURNS = 8


@pytest.fixture
def quick_sheet(monkeypatch: pytest.MonkeyPatch) -> None:
    """What takes a while is shown after a tenth of a second."""
    monkeypatch.setattr(busy_module, "SHOWN_AFTER", 0.1)


def slowly(seconds: float) -> Iterator[int]:
    """Keeps Python at work for so long, as a reader does."""
    until, k = time.perf_counter() + seconds, 0
    while time.perf_counter() < until:
        k += 1
        yield k


def turns_beside_it(seconds: float) -> int:
    """How often a thread that only sleeps gets its turn beside such work."""
    worker = threading.Thread(target=lambda: [None for _ in slowly(seconds)])
    count = 0
    worker.start()
    while worker.is_alive():
        time.sleep(0.005)
        count += 1
    return count


class Turns(QObject):
    """How often the event loop turned."""

    def __init__(self) -> None:
        super().__init__()
        self.count = 0
        self._timer = QTimer(self)
        self._timer.timeout.connect(self._turn)
        self._timer.start(5)

    def _turn(self) -> None:
        self.count += 1


def when_shown(window: MainWindow, does: Callable[[BusySheet], object]) -> list[str]:
    """Does something to the sheet once it is there; what it said is put into the list."""
    said: list[str] = []
    look = QTimer(window)

    def see() -> None:
        sheet = window.session.busy.sheet
        if sheet is not None and sheet.isVisible():
            look.stop()
            said.append(sheet.words.text())
            does(sheet)

    look.timeout.connect(see)
    look.start(10)
    return said


def slow_reader(
    monkeypatch: pytest.MonkeyPatch, seconds: float, *, seen: Sequence[str] = ("at once",)
) -> None:
    """Lets every file take so long to be read, and longer where nothing was `seen` by then."""
    from app.window import opening

    read = opening._read

    def slow(path: Path, mm_per_unit: float | None) -> object:
        for _ in slowly(seconds):
            pass
        for _ in slowly(ENDLESS):
            if seen:
                break
        return read(path, mm_per_unit)

    monkeypatch.setattr(opening, "_read", slow)


@pytest.mark.usefixtures("quick_sheet")
def test_the_event_loop_turns_while_a_file_is_read(
    window: MainWindow, front: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    said = when_shown(window, lambda sheet: None)
    slow_reader(monkeypatch, SLOW, seen=said)
    turns = Turns()
    turned: list[tuple[int, float]] = []
    run = window.session.busy.run

    def counted(*args: object, **options: object) -> object:
        before, begun = turns.count, time.perf_counter()
        done = run(*args, **options)  # type: ignore[arg-type]
        turned.append((turns.count - before, time.perf_counter() - begun))
        return done

    monkeypatch.setattr(window.session.busy, "run", counted)
    window.opening.open([front])
    assert said == ["Opening front.svg …"]
    assert not window.session.state.empty
    assert window.session.busy.sheet is None
    got, took = turned[0]
    wanted = max(1.0, min(TURNS, turns_beside_it(SLOW) * took / SLOW / 2))
    assert got >= wanted, f"wanted {wanted} turns in {took:.1f} s at least, got {got}"


@pytest.mark.usefixtures("quick_sheet")
@pytest.mark.parametrize("by", ["button", "key"])
def test_opening_given_up_leaves_everything_as_it_was(
    window: MainWindow, front: Path, back: Path, monkeypatch: pytest.MonkeyPatch, by: str
) -> None:
    window.opening.open([front])
    was = window.session.settled
    slow_reader(monkeypatch, ENDLESS)
    gives_up: dict[str, Callable[[BusySheet], object]] = {
        "button": lambda sheet: click(sheet.cancel),
        "key": lambda sheet: QTest.keyClick(sheet, Qt.Key.Key_Escape),
    }
    when_shown(window, gives_up[by])
    window.opening.open([back])
    assert window.session.settled is was
    assert window.messages.all[-1] == ("Opening back.svg was given up. Everything is as it was.")
    monkeypatch.undo()
    window.opening.open([back])
    assert len(window.session.settled.sheets.all) == 2


@pytest.mark.usefixtures("quick_sheet")
def test_a_change_given_up_leaves_the_length_as_it_was(
    both: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    from app.window import session

    work_out = session.work_out

    def slow(state: object) -> object:
        for _ in slowly(ENDLESS):
            pass
        return work_out(state)  # type: ignore[arg-type]

    monkeypatch.setattr(session, "work_out", slow)
    was = both.session.settled
    when_shown(both, lambda sheet: click(sheet.cancel))
    type_length(both, "6 cm")
    assert both.session.settled is was
    assert both.session.stack.count() == 1, "wanted no entry but that of the second file"
    assert "given up" in both.session.refusal


@pytest.mark.usefixtures("quick_sheet")
def test_saving_given_up_writes_nothing(
    window: MainWindow,
    answers: Answers,
    front: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def slow(*args: object, **options: object) -> bytes:
        for _ in slowly(ENDLESS):
            pass
        return rendered(*args, **options)  # type: ignore[arg-type]

    window.opening.open([front])
    type_length(window, "6 cm")
    answers.save_file = front.with_name("longer.svg")
    monkeypatch.setattr(sys.modules["core.files.write"], "rendered", slow)
    when_shown(window, lambda sheet: click(sheet.cancel))
    assert not window.saving.save()
    left = {p.name for p in front.parent.iterdir()} - {"settings.ini"}
    assert left == {"front.svg"}, f"wanted nothing written, got {left}"
    assert window.session.changed


def test_what_is_quick_shows_nothing(window: MainWindow, front: Path) -> None:
    said = when_shown(window, lambda sheet: None)
    window.opening.open([front])
    type_length(window, "6 cm")
    assert said == []


def test_what_goes_wrong_in_slow_work_comes_out_of_it(window: MainWindow) -> None:
    def fails() -> None:
        time.sleep(0.1)
        raise ZeroDivisionError("by nought")

    with pytest.raises(ZeroDivisionError, match="by nought"):
        window.session.busy.run("Failing", fails)
    assert not window.session.busy.running
    assert window.session.busy.run("After it", lambda: 7) == 7


@pytest.mark.usefixtures("quick_sheet")
def test_what_was_given_up_does_not_run_on(window: MainWindow, qtbot: QtBot) -> None:
    seen: list[int] = []

    def work() -> None:
        for k in slowly(ENDLESS):
            seen[:] = [k]

    before = threading.active_count()
    when_shown(window, lambda sheet: click(sheet.cancel))
    with pytest.raises(StoppedError, match="was given up"):
        window.session.busy.run("Counting", work)
    qtbot.waitUntil(lambda: threading.active_count() == before, timeout=5000)


@pytest.mark.usefixtures("quick_sheet")
def test_what_may_not_be_given_up_offers_no_cancel(window: MainWindow) -> None:
    seen: list[bool] = []

    def see(sheet: BusySheet) -> None:
        QTest.keyClick(sheet, Qt.Key.Key_Escape)
        seen.append(sheet.cancel.isVisible())

    def until_seen() -> int:
        """However long it takes on this computer until the sheet is there."""
        return next(k for k in slowly(ENDLESS) if seen)

    when_shown(window, see)
    assert window.session.busy.run("Writing", until_seen, stoppable=False) > 0
    assert seen == [False]


@pytest.mark.usefixtures("quick_sheet")
def test_the_keys_of_the_window_hold_again_after_slow_work(
    window: MainWindow, front: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    """Once a file was slow to open, Ctrl+1 and Ctrl+Z did nothing any more."""
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    said = when_shown(window, lambda sheet: None)
    slow_reader(monkeypatch, 0.3, seen=said)
    window.opening.open([front])
    qtbot.waitUntil(window.isActiveWindow)


@pytest.mark.usefixtures("quick_sheet")
def test_pages_given_up_end_after_the_page(window: MainWindow) -> None:
    drawn: list[int] = []
    busy = window.session.busy

    def draw() -> None:
        with busy.paging("Drawing the sheets") as breathe:
            for k in range(100):
                time.sleep(0.05)
                drawn.append(k)
                breathe()

    when_shown(window, lambda sheet: click(sheet.cancel))
    with pytest.raises(StoppedError):
        draw()
    assert 0 < len(drawn) < 100
    assert not busy.running


def test_nothing_is_collected_in_a_worker(window: MainWindow) -> None:
    """Regression: a window taken apart in a worker's thread brought the program down."""
    threads: list[bool] = []
    main = threading.main_thread()

    def tell(phase: str, _info: object) -> None:
        if phase == "start":
            threads.append(threading.current_thread() is main)

    def work() -> int:
        # So much garbage in rings is collected many times, if it is collected at all.
        for _ in range(50_000):
            ring: list[object] = []
            ring.append(ring)
        return 7

    gc.callbacks.append(tell)
    try:
        assert window.session.busy.run("Littering", work) == 7
        assert not [t for t in threads if not t], "collected in the worker's thread"
        assert gc.isenabled()
    finally:
        gc.callbacks.remove(tell)
