"""A picture of the window: ``python -m app.window.picture OUT.png FILES... --by 12cm``."""

from __future__ import annotations

import argparse
import os
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

from app.command.options import length

if TYPE_CHECKING:
    from app.window.main import MainWindow


def main() -> None:
    """Opens the files in a window that no screen shows, and saves how it looks."""
    parser = argparse.ArgumentParser(prog="python -m app.window.picture", description=main.__doc__)
    parser.add_argument("out", type=Path, help="the PNG file to write")
    parser.add_argument("files", type=Path, nargs="*", help="patterns to open")
    parser.add_argument("--by", type=length, default=0.0, help="change, for example 12cm")
    parser.add_argument("--at", type=length, help="change at that level, for example 52cm")
    parser.add_argument("--seams", help="how the seams go on, for example plumb")
    parser.add_argument("--more", action="store_true", help="show what is rarely asked for")
    parser.add_argument("--size", type=_size, default=(1280, 800), help="for example 1280x800")
    parser.add_argument("--inch", action="store_true", help="show lengths in inches")
    parser.add_argument("--stage", default="Length", help="a stage of the work, for example Edges")
    parser.add_argument("--dark", action="store_true", help="on a dark ground")
    parser.add_argument("--edge", default="", help="select an edge: piece name/role")
    options = parser.parse_args()
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    take_picture(
        options.out,
        options.files,
        by_mm=options.by,
        at_mm=options.at,
        seams=options.seams,
        more=options.more,
        size=options.size,
        inch=options.inch,
        edge=options.edge,
        stage=options.stage,
        dark=options.dark,
    )


def take_picture(
    out: Path,
    files: list[Path],
    *,
    by_mm: float = 0.0,
    at_mm: float | None = None,
    seams: str | None = None,
    more: bool = False,
    size: tuple[int, int] = (1280, 800),
    inch: bool = False,
    edge: str = "",
    stage: str = "Length",
    dark: bool = False,
) -> None:
    """Saves a picture of the window with these files changed by `by_mm`."""
    from PySide6.QtCore import QSettings

    from app.window.lengths import Shown
    from app.window.main import MainWindow
    from app.window.starting import application
    from app.window.viewing import DARK_WORD, LIGHT_WORD, LOOK_KEY
    from app.window.way.stage import Stage

    app = application()
    with tempfile.TemporaryDirectory() as folder:
        settings = QSettings(f"{folder}/picture.ini", QSettings.Format.IniFormat)
        settings.setValue(LOOK_KEY, DARK_WORD if dark else LIGHT_WORD)
        window = MainWindow(settings=settings)
        window.viewing.wear(dark=dark)
        window.resize(*size)
        window.show()
        window.session.show_in(Shown.INCH if inch else Shown.CM)
        window.opening.open(files)
        app.processEvents()
        _choose(window, at_mm, seams, more=more)
        window.session.set_by(by_mm)
        _select(window, edge)
        window.way.go(Stage(stage))
        for findings in (window.page.findings, window.pages.check.findings):
            findings.check()
        for _ in range(10):
            app.processEvents()
        if not window.grab().save(str(out)):
            raise SystemExit(f"{out} could not be written. Choose another name or folder.")


def _choose(window: MainWindow, at_mm: float | None, seams: str | None, *, more: bool) -> None:
    from app.window.document import AtLevel
    from app.window.ways import Seams, with_seams

    if at_mm is not None:
        window.session.set_level(AtLevel(at_mm))
    if seams is not None:
        window.session.set_change(with_seams(window.session.settled, Seams(seams)))
    for button in (window.page.ways.more, window.page.level.more):
        button.setChecked(more)


def _select(window: MainWindow, edge: str) -> None:
    from app.window.document import EdgeId

    name, _, role = edge.partition("/")
    for which, piece in window.session.state.sheets.pieces.items():
        for index, one in enumerate(piece.edges):
            if (piece.name, one.role.value) == (name, role):
                window.session.select(EdgeId(which, index))


def _size(text: str) -> tuple[int, int]:
    width, height = text.lower().split("x")
    return int(width), int(height)


if __name__ == "__main__":
    main()
