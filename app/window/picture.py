"""A picture of the window: ``python -m app.window.picture OUT.png FILES... --by 12cm``."""

from __future__ import annotations

import argparse
import os
import tempfile
from pathlib import Path

from core.measure import parse_length


def main() -> None:
    """Opens the files in a window that no screen shows, and saves how it looks."""
    parser = argparse.ArgumentParser(prog="python -m app.window.picture", description=main.__doc__)
    parser.add_argument("out", type=Path, help="the PNG file to write")
    parser.add_argument("files", type=Path, nargs="*", help="patterns to open")
    parser.add_argument("--by", type=parse_length, default=0.0, help="change, for example 12cm")
    parser.add_argument("--size", type=_size, default=(1280, 800), help="for example 1280x800")
    parser.add_argument("--inch", action="store_true", help="show lengths in inches")
    parser.add_argument("--edge", default="", help="select an edge: piece name/role")
    options = parser.parse_args()
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    take_picture(
        options.out,
        options.files,
        by_mm=options.by,
        size=options.size,
        inch=options.inch,
        edge=options.edge,
    )


def take_picture(
    out: Path,
    files: list[Path],
    *,
    by_mm: float = 0.0,
    size: tuple[int, int] = (1280, 800),
    inch: bool = False,
    edge: str = "",
) -> None:
    """Saves a picture of the window with these files changed by `by_mm`."""
    from PySide6.QtCore import QSettings

    from app.window.lengths import Shown
    from app.window.main import MainWindow
    from app.window.starting import application

    app = application()
    with tempfile.TemporaryDirectory() as folder:
        settings = QSettings(f"{folder}/picture.ini", QSettings.Format.IniFormat)
        window = MainWindow(settings=settings)
        window.resize(*size)
        window.show()
        window.session.show_in(Shown.INCH if inch else Shown.CM)
        window.opening.open(files)
        app.processEvents()
        window.session.set_by(by_mm)
        _select(window, edge)
        for _ in range(10):
            app.processEvents()
        if not window.grab().save(str(out)):
            raise SystemExit(f"{out} could not be written. Choose another name or folder.")


def _select(window: object, edge: str) -> None:
    from app.window.document import EdgeId
    from app.window.main import MainWindow

    assert isinstance(window, MainWindow)
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
