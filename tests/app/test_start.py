"""What starting costs, and pictures of the window."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from PySide6.QtGui import QImage

from app.window.picture import take_picture

LOADED = "import sys, app, app.window; print([m for m in sys.modules if m.startswith(%r)])"


def test_to_import_the_window_loads_no_qt() -> None:
    done = subprocess.run(
        [sys.executable, "-c", LOADED % "PySide6"], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"


def test_the_readers_are_loaded_with_the_first_file_and_not_before() -> None:
    line = (
        "import sys, app.window.main; print([m for m in sys.modules"
        " if m.startswith(('ezdxf', 'svgelements', 'core.files'))])"
    )
    done = subprocess.run([sys.executable, "-c", line], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_a_picture_is_as_large_as_asked(qapp: object, front: Path, tmp_path: Path) -> None:
    out = tmp_path / "window.png"
    take_picture(out, [front], by_mm=50.0, size=(1000, 700))
    picture = QImage(str(out))
    assert (picture.width(), picture.height()) == (1000, 700)
