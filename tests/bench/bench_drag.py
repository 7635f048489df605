"""How long one frame of a drag takes: ``python tests/bench/bench_drag.py [FILE | --sizes]``.

Front and back, or (``--sizes``) both in ten sizes drawn over each other, table of 1280 x 800, on
a screen that is not there. Prints medians; asserts nothing, for a time says more about the
computer than about the code. The ratio to a bare repaint says more.
"""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from nest import ten_sizes_as_svg  # noqa: E402
from PySide6.QtCore import QEvent, QPointF, QSettings, Qt  # noqa: E402
from PySide6.QtGui import QMouseEvent  # noqa: E402
from PySide6.QtTest import QTest  # noqa: E402
from PySide6.QtWidgets import QApplication  # noqa: E402

from app.window.main import MainWindow  # noqa: E402
from app.window.outcome import outcome  # noqa: E402
from app.window.starting import application  # noqa: E402
from app.window.table.canvas import Table  # noqa: E402
from app.window.table.holds import Part, holds_of  # noqa: E402
from app.window.theme import PAGE_WIDTH  # noqa: E402
from app.window.ways import first_level  # noqa: E402

FRAMES = 200
SAMPLE = ROOT / "sample_pieces" / "allotment_shorts.svg"


def median_ms(frame: Callable[[int], None]) -> float:
    """Of one frame; each call gets its number."""
    times = []
    for k in range(FRAMES):
        start = time.perf_counter()
        frame(k)
        times.append(time.perf_counter() - start)
    return statistics.median(times) * 1000


def main() -> None:
    app = application()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(sys.argv[1]) if len(sys.argv) > 1 else SAMPLE
        if path.name == "--sizes":
            path = Path(folder, "ten_sizes.svg")
            path.write_text(ten_sizes_as_svg(), encoding="utf-8")
        settings = QSettings(f"{folder}/bench.ini", QSettings.Format.IniFormat)
        window = MainWindow(settings=settings)
        window.resize(1280 + PAGE_WIDTH, 880)
        window.show()
        window.opening.open([path])
        app.processEvents()
        _measure(app, window, path.name)


def _measure(app: QApplication, window: MainWindow, name: str) -> None:
    table, session = window.table, window.session

    def alter(k: int) -> None:
        outcome(replace(session.settled.by(5.0 + k * 0.5), draft=True))

    def settle(k: int) -> None:
        outcome(session.settled.by(5.0 + k * 0.5))

    def bare(_: int) -> None:
        table.repaint()

    # Of sizes that lie over each other only the largest has a grip.
    grips = ((k, table.grip(k)) for k in session.settled.altering)
    which, place = next((k, at) for k, at in grips if at is not None)
    grip, down = QPointF(*place.middle), session.settled.piece(which).grain.down

    def move(k: int) -> None:
        px = (5.0 + k * 0.5) * table.view.scale
        _mouse(table, QEvent.Type.MouseMove, grip + QPointF(down.x * px, down.y * px))

    def drag(k: int) -> None:
        move(k)
        table.repaint()

    def whole(k: int) -> None:
        move(k)
        app.processEvents()

    print(f"{name}, table {table.width()} x {table.height()}, medians of {FRAMES}")
    repaint = median_ms(bare)
    print(f"  altering the pieces, all marks   {median_ms(settle):6.2f} ms")
    print(f"  altering what is to be seen      {median_ms(alter):6.2f} ms")
    print(f"  bare repaint of the table        {repaint:6.2f} ms")
    _mouse(table, QEvent.Type.MouseButtonPress, grip)
    frame = median_ms(drag)
    print(f"  drag frame: alter and repaint    {frame:6.2f} ms   {frame / repaint:.1f} x bare")
    frame = median_ms(whole)
    print(f"  the same with the page painted   {frame:6.2f} ms   {frame / repaint:.1f} x bare")
    _mouse(table, QEvent.Type.MouseButtonRelease, grip)
    session.set_by(30.0)
    for what, part in (("taper point", Part.TAPER), ("seam end", Part.SEAM_END)):
        held = next((h for h in holds_of(table.sights) if h.part is part), None)
        if held is not None:
            aside = QPointF(0.3, 0.0) if part is Part.SEAM_END else QPointF(0.0, -0.3)
            _drag(window, what, QPointF(*table.view.to_px(held.at)), aside, repaint)
    session.set_level(first_level(session.settled))
    level = next(filter(None, map(table.level_grip, session.settled.altering)))
    _drag(window, "level", QPointF(*level.middle), QPointF(0.0, 0.2), repaint)


def _drag(window: MainWindow, name: str, at: QPointF, step: QPointF, repaint: float) -> None:
    """Frames of a drag that goes a step further in each, and is given up."""
    table = window.table

    def frame(k: int) -> None:
        _mouse(table, QEvent.Type.MouseMove, at + step * k)
        table.repaint()

    _mouse(table, QEvent.Type.MouseButtonPress, at)
    took = median_ms(frame)
    print(f"  drag of a {name + ':':23}{took:6.2f} ms   {took / repaint:.1f} x bare")
    QTest.keyClick(table, Qt.Key.Key_Escape)


def _mouse(table: Table, kind: QEvent.Type, at: QPointF) -> None:
    left, none = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
    held = none if kind is QEvent.Type.MouseButtonRelease else left
    where, keys = table.mapToGlobal(at), Qt.KeyboardModifier.AltModifier
    QApplication.sendEvent(table, QMouseEvent(kind, at, where, left, held, keys))


if __name__ == "__main__":
    main()
