"""A window on a screen that is not there, with settings of its own, and patterns to open."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QSettings
from pytestqt.qtbot import QtBot

from app.window.ask import Leave
from app.window.main import MainWindow
from app.window.starting import application
from tests.app.hands import Answers
from tests.app.legs import MM, leg_svg

HERE = Path(__file__).parent
SAMPLES = HERE.parents[1] / "sample_pieces"


def pytest_collection_modifyitems(items: Sequence[pytest.Item]) -> None:
    """Warnings of Qt fail a test, but for one that only the screen that is not there gives."""
    for item in items:
        if HERE in item.path.parents:
            ignored = pytest.mark.qt_log_ignore("does not support propagateSizeHints", extend=True)
            item.add_marker(ignored)


@pytest.fixture(scope="session")
def qapp_cls() -> object:
    """pytest-qt asks for the application's class; ours comes with its look."""

    class Dressed:
        def __new__(cls, *_: object) -> object:
            return application()

    return Dressed


@pytest.fixture
def answers() -> Answers:
    return Answers()


@pytest.fixture
def make_window(
    qtbot: QtBot, answers: Answers, tmp_path: Path
) -> Iterator[Callable[[], MainWindow]]:
    """Makes windows of 1280 x 800 that are shown, and closes them at the end."""
    made: list[MainWindow] = []

    def make() -> MainWindow:
        path = str(tmp_path / "settings.ini")
        window = MainWindow(ask=answers, settings=QSettings(path, QSettings.Format.IniFormat))
        made.append(window)
        window.resize(1280, 800)
        with qtbot.waitExposed(window):
            window.show()
        return window

    yield make
    answers.leave = Leave.DISCARD
    for window in made:
        window.close()
        window.deleteLater()


@pytest.fixture
def window(make_window: Callable[[], MainWindow]) -> MainWindow:
    return make_window()


@pytest.fixture
def kept_in(tmp_path: Path) -> Path:
    return tmp_path / "kept"


@pytest.fixture
def keeping(
    qtbot: QtBot, answers: Answers, tmp_path: Path, kept_in: Path
) -> Callable[[], MainWindow]:
    """Makes windows that keep their work in the folder of the test."""

    def make() -> MainWindow:
        settings = QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)
        window = MainWindow(ask=answers, settings=settings, recovery=kept_in)
        answers.leave = Leave.DISCARD
        qtbot.addWidget(window)
        with qtbot.waitExposed(window):
            window.show()
        window.look_for_lost_work()
        return window

    return make


@pytest.fixture
def front(tmp_path: Path) -> Path:
    path = tmp_path / "front.svg"
    path.write_text(leg_svg("front", mirrored=False, root=MM))
    return path


@pytest.fixture
def back(tmp_path: Path) -> Path:
    path = tmp_path / "back.svg"
    path.write_text(leg_svg("back", mirrored=True, root=MM))
    return path


@pytest.fixture
def shorts(window: MainWindow, tmp_path: Path) -> MainWindow:
    """The window with a copy of the shorts of the samples open."""
    path = tmp_path / "shorts.svg"
    path.write_bytes((SAMPLES / "allotment_shorts.svg").read_bytes())
    window.opening.open([path])
    return window


@pytest.fixture
def no_unit(tmp_path: Path) -> Path:
    path = tmp_path / "bare.svg"
    path.write_text(leg_svg("front", mirrored=False, root='viewBox="0 0 600 700"'))
    return path


@pytest.fixture
def both(window: MainWindow, front: Path, back: Path) -> MainWindow:
    """The window with front and back open."""
    window.opening.open([front, back])
    return window
