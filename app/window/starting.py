"""The application around the window."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

import importlib
import sys
from collections.abc import Callable
from pathlib import Path
from threading import Thread
from types import TracebackType

from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication, QWidget

from app.window import theme
from app.window.main import MainWindow
from app.window.messages import Messages
from app.window.recovery.folder import usual_folder

# The craft with its libraries. No Qt among it: that is loaded where it is used.
CRAFT = ("core.alter.together", "core.alter.level.together", "core.check.careful", "core.files.svg")
# Qt's own style, the same on every system.
STYLE = "Fusion"
# How often (s) a thread beside the window's lets that run: a person never waits for it.
HANDOVER = 0.001
# How often to look whether it is there, in ms.
LOOK_MS = 10


def application() -> QApplication:
    """The one there is, else a new one, with its look."""
    made = QApplication.instance()
    if isinstance(made, QApplication):
        made.setStyle(STYLE)
    else:
        # Asked for by the method it would hand over the style, and to make of that an object of
        # Python's, with all its enums, took a third of the time until the window stands.
        made = QApplication([*sys.argv[:1], "-style", STYLE])
    made.setApplicationName("Hemward")
    sys.setswitchinterval(HANDOVER)
    theme.put_on(made)
    return made


def start(paths: list[Path], *, mm_per_unit: float | None) -> int:
    """Shows the window, then opens the files; the exit code of the application."""
    app = application()
    window = MainWindow(recovery=usual_folder())
    _tell_the_unforeseen(window.messages)
    show(window, paths, mm_per_unit=mm_per_unit)
    return app.exec()


def show(window: MainWindow, paths: list[Path], *, mm_per_unit: float | None = None) -> None:
    """Shows the window at once; the craft is brought along after that, and the files opened."""

    def go_on() -> None:
        window.look_for_lost_work()
        window.opening.open(paths, mm_per_unit=mm_per_unit)

    _OncePainted(window, lambda: _bring_craft(window, go_on))
    window.show()


class _OncePainted(QObject):
    """Does something after `widget` was painted for the first time."""

    def __init__(self, widget: QWidget, does: Callable[[], object]) -> None:
        super().__init__(widget)
        self._does = does
        widget.installEventFilter(self)

    def eventFilter(self, widget: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.Paint:
            widget.removeEventFilter(self)
            QTimer.singleShot(0, self, self._does)
        return False


def _bring_craft(window: QWidget, then: Callable[[], object]) -> None:
    """Loads it beside the window, which goes on answering."""
    loading = Thread(target=lambda: [importlib.import_module(name) for name in CRAFT], daemon=True)
    loading.start()
    look = QTimer(window)

    def see() -> None:
        if not loading.is_alive():
            look.stop()
            then()

    look.timeout.connect(see)
    look.start(LOOK_MS)


def _tell_the_unforeseen(messages: Messages) -> None:
    """What goes wrong in a slot ends in the message bar; the window and the work stay."""

    def tell(kind: type[BaseException], error: BaseException, _: TracebackType | None) -> None:
        if issubclass(kind, Exception):
            messages.tell(error)
        else:
            sys.__excepthook__(kind, error, error.__traceback__)

    sys.excepthook = tell
