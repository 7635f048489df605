"""How long until the window stands: ``python tests/bench/bench_start.py [STARTS]``.

Each start is a process of its own, timed from outside until the window was painted: a bare
QMainWindow of PySide6, the window of Hemward empty, and the window with a sample seen on its
table. They take turns, so that what else the computer does falls on all alike. Prints medians
and ratios within the run; asserts nothing.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SAMPLE = ROOT / "sample_pieces" / "allotment_shorts.svg"
STARTS = 15

# Says when the event loop comes round after the window was painted.
PAINTED = """
import os, sys
from PySide6.QtCore import QEvent, QObject, QTimer
class Watch(QObject):
    def __init__(self, widget):
        super().__init__(widget)
        widget.installEventFilter(self)
    def eventFilter(self, widget, event):
        if event.type() == QEvent.Type.Paint:
            widget.removeEventFilter(self)
            QTimer.singleShot(0, lambda: (os.write(1, b"painted\\n"), os._exit(0)))
        return False
"""
BARE = f"""
from PySide6.QtWidgets import QApplication, QMainWindow
{PAINTED}
app = QApplication(sys.argv[:1])
window = QMainWindow()
window.resize(1280, 800)
Watch(window)
window.show()
app.exec()
"""
EMPTY = f"""
{PAINTED}
from app.window.main import MainWindow
shown = MainWindow.show
def show(window):
    Watch(window)
    shown(window)
MainWindow.show = show
from app.__main__ import main
main(sys.argv[1:])
"""
SEEN = f"""
{PAINTED}
from app.window.bench import Bench
put = Bench._show_welcome_or_work
def _show_welcome_or_work(bench):
    put(bench)
    if not bench.session.state.empty:
        Watch(bench.table)
Bench._show_welcome_or_work = _show_welcome_or_work
from app.__main__ import main
main(sys.argv[1:])
"""
WINDOWS = {
    "a bare window": (BARE, []),
    "Hemward, empty": (EMPTY, []),
    "Hemward, a sample on the table": (SEEN, [str(SAMPLE)]),
}


def seconds_until_painted(script: str, words: list[str], home: str) -> float:
    """From the start of a process until it says that its window was painted."""
    kept = {"XDG_DATA_HOME": home, "XDG_CONFIG_HOME": home, "PYTHONPATH": str(ROOT)}
    env = {"QT_QPA_PLATFORM": "offscreen", **os.environ, **kept}
    # Installed programs are compiled once, not at every start.
    env.pop("PYTHONDONTWRITEBYTECODE", None)
    begun = time.perf_counter()
    with subprocess.Popen(
        [sys.executable, "-c", script, *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env=env,
    ) as run:
        assert run.stdout is not None
        assert run.stdout.readline() == b"painted\n", "the window was never painted"
        return time.perf_counter() - begun


def main() -> None:
    starts = int(sys.argv[1]) if len(sys.argv) > 1 else STARTS
    times: dict[str, list[float]] = {name: [] for name in WINDOWS}
    with tempfile.TemporaryDirectory() as home:
        for _ in range(starts + 1):
            for name, (script, words) in WINDOWS.items():
                times[name].append(seconds_until_painted(script, words, home))
    # The first of each compiled what was not yet.
    times = {name: found[1:] for name, found in times.items()}
    bare = statistics.median(times["a bare window"])
    print(f"until painted, medians of {starts} starts")
    for name, found in times.items():
        median = statistics.median(found)
        print(f"  {name:32s} {median * 1000:6.0f} ms   {median / bare:5.2f} times the bare one")


if __name__ == "__main__":
    main()
