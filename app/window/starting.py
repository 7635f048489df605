"""The application around the window."""

from __future__ import annotations

import sys
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from app.window import theme
from app.window.main import MainWindow
from app.window.messages import Messages
from app.window.recovery.keeper import usual_folder


def application() -> QApplication:
    """The one there is, else a new one, with its look."""
    app = QApplication.instance()
    made = app if isinstance(app, QApplication) else QApplication(sys.argv[:1])
    made.setApplicationName("Hemward")
    theme.put_on(made)
    return made


def start(paths: list[Path], *, mm_per_unit: float | None) -> int:
    """Shows the window, then opens the files; the exit code of the application."""
    app = application()
    window = MainWindow(recovery=usual_folder())
    _tell_the_unforeseen(window.messages)
    window.show()
    QTimer.singleShot(0, window.look_for_lost_work)
    QTimer.singleShot(0, lambda: window.opening.open(paths, mm_per_unit=mm_per_unit))
    return app.exec()


def _tell_the_unforeseen(messages: Messages) -> None:
    """What goes wrong in a slot ends in the message bar; the window and the work stay."""

    def tell(kind: type[BaseException], error: BaseException, _: TracebackType | None) -> None:
        if issubclass(kind, Exception):
            messages.tell(error)
        else:
            sys.__excepthook__(kind, error, error.__traceback__)

    sys.excepthook = tell
