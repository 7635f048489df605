"""How long the window stands still: ``python tests/bench/bench_freeze.py [PART OF A NAME]``.

Opens, alters and saves large patterns by the window's own ways, prints sheets and a handout of
them, and tells for each how long it took and the longest time between two turns of the event
loop: that long, nothing that a person does would be answered. Asserts nothing.
"""

from __future__ import annotations

import io
import os
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests" / "bench")]
os.environ["XDG_CACHE_HOME"] = tempfile.mkdtemp(prefix="hemward-bench-")

import bench_dxf  # noqa: E402
import bench_svg  # noqa: E402
from nest import SIZES, ten_sizes  # noqa: E402
from PySide6.QtCore import QObject, QSettings, QTimer  # noqa: E402
from PySide6.QtWidgets import QApplication  # noqa: E402

from app.window.ask import Ask  # noqa: E402
from app.window.main import MainWindow  # noqa: E402
from app.window.starting import application  # noqa: E402
from app.window.way.stage import Stage  # noqa: E402
from core.piece.model import Piece  # noqa: E402

TICK_MS = 2


class Answers(Ask):
    """Saves where it is told to, without a question."""

    path = Path()

    def file_to_save(self, suggested: Path) -> Path:
        return self.path.with_suffix(suggested.suffix)

    def sheets_to_save(self, suggested: Path) -> Path:
        return self.path.with_suffix(".pdf")

    def handout_to_save(self, *, practice: bool) -> Path:
        return self.path.with_suffix(".pdf")


class Clock(QObject):
    """Remembers the longest time between two turns of the event loop."""

    def __init__(self) -> None:
        super().__init__()
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.turn)
        self._timer.start(TICK_MS)
        self.begin()

    def begin(self) -> None:
        self.longest, self._last = 0.0, time.perf_counter()

    def turn(self) -> None:
        now = time.perf_counter()
        self.longest, self._last = max(self.longest, now - self._last), now


def outline(piece: Piece, down: float) -> str:
    """Its outline as path data, moved down, with a grain line."""
    words = []
    for k, s in enumerate(piece.outline.ring.segments):
        points = [s.start] if k == 0 else []
        words += [f"M{p.x:.3f} {p.y + down:.3f}" for p in points]
        controls = [getattr(s, name) for name in ("c1", "c2") if hasattr(s, name)]
        kind = "C" if controls else "L"
        words.append(kind + " ".join(f"{p.x:.3f} {p.y + down:.3f}" for p in (*controls, s.end)))
    return "".join(words) + "Z"


def nest(rows: int) -> str:
    """So many pairs of pieces in ten sizes, drawn over each other size by size."""
    out = [bench_svg.HEAD]
    for size in SIZES:
        out.append(f'<g id="size {size}">')
        for piece in ten_sizes():
            if piece.size == size:
                for row in range(rows):
                    name = f"{piece.title} {row + 1}-{size}"
                    out.append(f'<path id="{name}" d="{outline(piece, 900.0 * row)}"/>')
        out.append("</g>")
    return "\n".join([*out, "</svg>"])


def files(folder: Path) -> dict[str, Path]:
    """The patterns by what they are called here."""
    text = io.StringIO()
    bench_dxf.sheet("R2010", 9_000_000).write(text)
    made = {
        "10 MB SVG": ("sheet.svg", bench_svg.HEAD + bench_svg.sheet(10_000_000) + "</svg>"),
        "9 MB DXF": ("sheet.dxf", text.getvalue()),
        "20 pieces, 10 sizes of 2": ("nest.svg", nest(1)),
        "200 pieces, 10 sizes of 20": ("nests.svg", nest(10)),
    }
    for name, data in made.values():
        (folder / name).write_text(data)
    return {what: folder / name for what, (name, _) in made.items()}


def measured(app: QApplication, clock: Clock, what: str, does: Callable[[], object]) -> None:
    """Does it, and waits until the hands would be still again."""
    begun = time.perf_counter()
    clock.begin()
    does()
    clock.turn()
    idle = time.perf_counter() + 0.3
    while time.perf_counter() < idle:
        app.processEvents()
    took = time.perf_counter() - begun - 0.3
    print(f"  {what:10s} {took:7.2f} s   longest standstill {clock.longest * 1000:6.0f} ms")


def work(app: QApplication, path: Path, folder: Path) -> None:
    answers = Answers(None)
    answers.path = folder / "out" / f"{path.stem} out"
    answers.path.parent.mkdir(exist_ok=True)
    settings = QSettings(f"{folder}/bench.ini", QSettings.Format.IniFormat)
    window = MainWindow(ask=answers, settings=settings, recovery=folder / "kept")
    window.show()
    app.processEvents()
    window.bench.session.shown  # noqa: B018
    app.processEvents()
    clock = Clock()
    measured(app, clock, "opening", lambda: window.opening.open([path]))
    measured(app, clock, "altering", lambda: window.session.set_by(30.0))
    measured(app, clock, "undoing", window.bench.undo)
    measured(app, clock, "redoing", window.bench.redo)
    measured(app, clock, "saving", window.saving.save_as)
    window.way.go(Stage.PAPER)
    measured(app, clock, "sheets", window.pages.paper.sheets.save.click)
    measured(app, clock, "lesson", window.lesson.open)
    lesson = window.lesson.window
    if lesson is not None:
        measured(app, clock, "handout", lesson.wants_handout.emit)
        lesson.close()
    for said in window.messages.all:
        print("   ", said[:160])
    window.close()
    window.deleteLater()
    app.processEvents()


def main() -> None:
    wanted = sys.argv[1] if len(sys.argv) > 1 else ""
    app = application()
    with tempfile.TemporaryDirectory() as name:
        for what, path in files(Path(name)).items():
            if wanted in what:
                print(what)
                work(app, path, Path(name))


if __name__ == "__main__":
    main()
