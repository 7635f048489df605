"""What starting costs, and pictures of the window."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QObject, QSettings, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.window.main import MainWindow
from app.window.picture import take_picture
from app.window.starting import show
from tests.app.hands import Answers

LOADED = "import sys, app, app.window; print([m for m in sys.modules if m.startswith(%r)])"


def test_to_import_the_window_loads_no_qt() -> None:
    done = subprocess.run(
        [sys.executable, "-c", LOADED % "PySide6"], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"


def test_the_window_stands_before_the_craft_is_loaded() -> None:
    line = (
        "import sys, app.window.main; print([m for m in sys.modules"
        " if m.startswith(('numpy', 'shapely', 'core.curve', 'core.alter', 'app.lesson'))])"
    )
    done = subprocess.run([sys.executable, "-c", line], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


NAMED = """
import os, sys
import PySide6.QtCore as core
from PySide6.QtWidgets import QApplication
from PySide6.QtCore import QSettings
from app.window.main import MainWindow
from app.window.starting import application
app = application()
window = MainWindow(settings=QSettings(sys.argv[1], QSettings.Format.IniFormat))
window.show()
app.processEvents()
print("Qt" in vars(core), "numpy" in sys.modules, "core.measure" in sys.modules)
"""


def test_the_window_is_painted_without_all_names_of_qt(tmp_path: Path) -> None:
    """Regression: making 155 enums for the one name took a third of the time until it stood."""
    words = [sys.executable, "-c", NAMED, str(tmp_path / "settings.ini")]
    done = subprocess.run(words, capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False"] * 3


@pytest.fixture
def unshown(qtbot: QtBot, qapp: object, answers: Answers, tmp_path: Path) -> MainWindow:
    """A window that was made and not shown yet."""
    settings = QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)
    window = MainWindow(ask=answers, settings=settings)
    qtbot.addWidget(window)
    return window


def test_what_was_named_is_opened_once_the_window_was_painted(
    qtbot: QtBot, unshown: MainWindow, front: Path
) -> None:
    show(unshown, [front])
    assert unshown.isVisible()
    assert unshown.middle.count() == 1, "wanted the front alone at first"
    qtbot.waitUntil(lambda: unshown.bar.name.accessibleName() == "front.svg", timeout=20_000)
    assert unshown.table.isVisible()
    qtbot.wait(10)
    QTest.keyClick(unshown, Qt.Key.Key_W, Qt.KeyboardModifier.ControlModifier)
    assert unshown.welcome.isVisible()


class Shown(QObject):
    """Remembers every window that is shown, however short."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.windows: list[str] = []

    def eventFilter(self, widget: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.Show and isinstance(widget, QWidget) and widget.isWindow():
            self.windows.append(type(widget).__name__)
        return False


def test_no_part_of_the_bench_flashes_up_as_a_window_of_its_own(
    qtbot: QtBot, qapp: QApplication, unshown: MainWindow
) -> None:
    shown = Shown(unshown)
    qapp.installEventFilter(shown)
    with qtbot.waitExposed(unshown):
        unshown.show()
    assert unshown.bench.session.state.empty
    qapp.removeEventFilter(shown)
    assert shown.windows == ["MainWindow"]


def test_a_button_pressed_before_the_craft_is_there_waits_for_it(
    qtbot: QtBot, unshown: MainWindow, answers: Answers, front: Path
) -> None:
    with qtbot.waitExposed(unshown):
        unshown.show()
    answers.open_files = [front]
    QTest.mouseClick(unshown.welcome.open, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: unshown.bar.name.accessibleName() == "front.svg", timeout=20_000)


def test_the_readers_are_loaded_with_the_first_file_and_not_before() -> None:
    line = (
        "import sys, app.window.bench; print([m for m in sys.modules"
        " if m.startswith(('ezdxf', 'svgelements', 'core.files'))])"
    )
    done = subprocess.run([sys.executable, "-c", line], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_a_picture_is_as_large_as_asked(qapp: object, front: Path, tmp_path: Path) -> None:
    out = tmp_path / "window.png"
    take_picture(out, [front], by_mm=50.0, size=(1000, 700))
    picture = QImage(str(out))
    assert (picture.width(), picture.height()) == (1000, 700)
