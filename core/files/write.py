"""One door out: only what was altered changes, and the file is whole at every moment."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from core.curve import Box
from core.errors import FileError
from core.files.drawing import Drawing, Format
from core.files.edits import added, edits


def render(drawing: Drawing, form: Format | None = None) -> bytes:
    """The bytes of the drawing as it is now.

    In its own format only the altered shapes differ from what was read; nothing altered
    gives the identical bytes. In another format: a clean file in mm.
    """
    form = form or drawing.format
    if form is not drawing.format:
        return _fresh(drawing, form)
    changes, new = edits(drawing), added(drawing)
    if not changes and not new:
        return drawing.data
    if form is Format.SVG:
        from core.files.svg import splice_svg

        bounds = _bounds(drawing)
        return splice_svg(drawing.source, drawing.data, changes, new, bounds_mm=bounds)
    from core.files.dxf import splice_dxf

    return splice_dxf(drawing.source, drawing.data, changes, new)


def _fresh(drawing: Drawing, form: Format) -> bytes:
    if form is Format.SVG:
        from core.files.svg import fresh_svg

        return fresh_svg(drawing.pieces)
    from core.files.dxf import fresh_dxf

    return fresh_dxf(drawing.pieces)


def _bounds(drawing: Drawing) -> Box | None:
    boxes = [p.outline.ring.bounds() for p in drawing.pieces]
    if not boxes:
        return None
    out = boxes[0]
    for box in boxes[1:]:
        out = out | box
    return out


def write(drawing: Drawing, path: Path | str) -> Path:
    """Saves the drawing; the format is told by the name's ending. Returns the path.

    FileError when the ending is of no known format, the file cannot be written, or a file that
    was repaired while it was read would be saved over its original; an old file of that name
    is then still there, whole.
    """
    path = Path(path)
    form = next((f for f in Format if f.value == path.suffix.lower()), None)
    if form is None:
        raise FileError(f"{path.name}: end the name with .svg or .dxf, so that the kind is clear.")
    if drawing.cleaned and path.resolve() == drawing.path.resolve():
        raise FileError(
            f"{path.name} was not read as it stands, but in repaired form. Keep it, and save under"
            " another name."
        )
    save_bytes(path, render(drawing, form))
    return path


def save_bytes(path: Path, data: bytes) -> None:
    """Puts the bytes there in one step: a temporary file beside it, synced, then renamed.

    An existing file keeps its permissions; a link keeps pointing to its target.
    """
    try:
        target = Path(os.path.realpath(path))
        handle, name = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent)
        try:
            with os.fdopen(handle, "wb") as out:
                out.write(data)
                out.flush()
                os.fsync(out.fileno())
            Path(name).chmod(_mode(target))
            os.replace(name, target)
        except BaseException:
            with contextlib.suppress(OSError):
                os.unlink(name)
            raise
        _sync_folder(target.parent)
    except OSError as error:
        raise FileError(f"{path} could not be saved: {error.strerror}.") from None


def make_folder(folder: Path) -> None:
    """Makes the folder and those above it, where they are not there; FileError when it cannot."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise FileError(
            f"{folder} cannot be a folder: {error.strerror}. Choose another name to save under."
        ) from None


def _mode(target: Path) -> int:
    if target.exists():
        return target.stat().st_mode & 0o7777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _sync_folder(folder: Path) -> None:
    # Folders cannot be opened for syncing everywhere (Windows); the rename stands anyway.
    with contextlib.suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
