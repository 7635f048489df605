"""Where unsaved work is kept."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QStandardPaths


def usual_folder() -> Path:
    """Where the system keeps the data of programs; never beside a pattern."""
    where = QStandardPaths.StandardLocation.AppDataLocation
    return Path(QStandardPaths.writableLocation(where)) / "recovery"
