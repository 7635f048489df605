"""Copies of unsaved work, as the tests leave and find them."""

from __future__ import annotations

from pathlib import Path

from app.window.document import State
from app.window.main import MainWindow
from app.window.recovery.copies import WORK, Copy
from tests.app.hands import type_length


def works(kept_in: Path) -> list[Path]:
    """The files with values that are on disk."""
    return sorted(kept_in.glob(f"*/{WORK}"))


def left_by_a_crash(kept_in: Path, state: State) -> Path:
    """A copy of the state whose window is gone; the file with its values."""
    copy = Copy.begin(kept_in)
    copy.write(state)
    copy.leave()
    return copy.work


def opened(window: MainWindow, path: Path) -> State:
    window.opening.open([path])
    return window.session.settled


def work_on(window: MainWindow, path: Path) -> None:
    """Opens a pattern and makes it 6 cm longer, and waits for no timer to keep that."""
    window.opening.open([path])
    type_length(window, "6 cm")
    assert window.keeper is not None
    window.keeper.keep()
