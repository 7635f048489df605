"""The window. Nothing of Qt is loaded before it is opened."""

from __future__ import annotations

from pathlib import Path

__all__ = ["run"]


def run(paths: list[Path], *, mm_per_unit: float | None = None) -> int:
    """Opens the window with these files, and returns when it is closed.

    `mm_per_unit` says how long one unit is in files that do not say it.
    """
    from app.window.starting import start

    return start(paths, mm_per_unit=mm_per_unit)
