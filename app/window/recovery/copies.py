"""Copies of unsaved work on disk: one folder and one lock for each window.

``work.json`` holds the values, a file for each opened pattern its bytes, named by their print.
The lock beside the folder belongs to the window for as long as it lives, so that no other one
takes its copy for what a crash left behind.
"""

from __future__ import annotations

import contextlib
import json
import uuid
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from PySide6.QtCore import QDateTime, QFileInfo, QLockFile

from app.window.document import State
from app.window.recovery.values import print_of, values_of
from core.errors import FileError

WORK, BYTES_ENDING, LOCK_ENDING = "work.json", ".pattern", ".lock"
# The values of a table full of corrected pieces take less by far.
LARGEST = 64 * 1024 * 1024


class Copy:
    """The copy of one window. Whoever makes one holds its lock until it is left or removed."""

    def __init__(self, folder: Path, lock: QLockFile) -> None:
        self.folder, self._lock = folder, lock

    @staticmethod
    def begin(inside: Path) -> Copy:
        """A new one; FileError when there is no room for it."""
        from core.files.write import make_folder

        make_folder(inside)
        folder = inside / uuid.uuid4().hex
        lock = _locked(folder)
        if lock is None:
            raise FileError(f"{inside} cannot be written to, so unsaved work is not kept there.")
        return Copy(folder, lock)

    @staticmethod
    def left_behind(inside: Path) -> list[Copy]:
        """Those that no living window holds, the last one written first."""
        folders = _folders(inside)
        held = [(folder, _locked(folder)) for folder in folders]
        found = [Copy(folder, lock) for folder, lock in held if lock is not None]
        for empty in [c for c in found if not c._holds_work()]:
            # The window ended before it had written anything that could be brought back.
            empty.remove()
            found.remove(empty)
        return sorted(found, key=lambda c: c.written.toMSecsSinceEpoch(), reverse=True)

    @property
    def work(self) -> Path:
        """The file with the values."""
        return self.folder / WORK

    @property
    def written(self) -> QDateTime:
        """When it was last written."""
        return QFileInfo(str(self.work)).lastModified()

    def write(self, state: State) -> None:
        """Keeps this state in the place of the one before, in one step; FileError."""
        from core.files.write import make_folder, save_bytes

        make_folder(self.folder)
        prints = {}
        for sheet in state.sheets.all:
            prints[sheet.number] = name = print_of(sheet.drawing.data)
            if not self._bytes(name).exists():
                save_bytes(self._bytes(name), sheet.drawing.data)
        text = json.dumps(values_of(state, prints), ensure_ascii=False)
        save_bytes(self.work, text.encode("utf-8", "surrogatepass"))

    def values(self) -> Mapping[str, Any]:
        """What was kept; FileError, with the reason alone as its text, when it is spoiled."""
        try:
            if self.work.stat().st_size > LARGEST:
                raise FileError("it is far too large")
            found = json.loads(self.work.read_bytes())
        except OSError as error:
            raise FileError(error.strerror or "it cannot be opened") from None
        except (ValueError, RecursionError):
            raise FileError("it is spoiled") from None
        if not isinstance(found, dict):
            raise FileError("it does not hold what Hemward keeps")
        return found

    def bytes_of(self, name: str) -> bytes:
        """The bytes of a pattern as it was opened; FileError when they are not the same."""
        try:
            data = self._bytes(name).read_bytes()
        except (OSError, ValueError):
            raise FileError("the bytes of a pattern are missing in it") from None
        if print_of(data) != name:
            raise FileError("the bytes of a pattern in it are spoiled")
        return data

    def remove(self) -> None:
        """Takes away all that `write` may have left there, and nothing else."""
        for path in self._own():
            with contextlib.suppress(OSError):
                path.unlink()
        with contextlib.suppress(OSError):
            self.folder.rmdir()
        self.leave()

    def leave(self) -> None:
        """Lets go of the lock; the next start finds what is there."""
        self._lock.unlock()

    def _holds_work(self) -> bool:
        return self.work.exists() or any(p not in self._own() for p in self._all())

    def _own(self) -> list[Path]:
        return [p for p in self._all() if _is_own(p.name)]

    def _all(self) -> list[Path]:
        with contextlib.suppress(OSError):
            return list(self.folder.iterdir())
        return []

    def _bytes(self, name: str) -> Path:
        # The name may come from a spoiled file: it must not lead elsewhere.
        return self.folder / f"{Path(name).name}{BYTES_ENDING}"


def _is_own(name: str) -> bool:
    """Names that are written here, and those of the files with which a saving begins."""
    unfinished = name.startswith(".") and (f"{WORK}." in name or f"{BYTES_ENDING}." in name)
    return name == WORK or name.endswith(BYTES_ENDING) or unfinished


def _folders(inside: Path) -> Iterator[Path]:
    with contextlib.suppress(OSError):
        yield from sorted(p for p in inside.iterdir() if p.is_dir())


def _locked(folder: Path) -> QLockFile | None:
    """The lock of that folder, unless a living window has it."""
    lock = QLockFile(str(folder.with_name(folder.name + LOCK_ENDING)))
    # A window may be left open for days; only one whose process is gone has left its copy.
    lock.setStaleLockTime(0)
    return lock if lock.tryLock(0) else None
