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

# How near (mm) straight lines may be asked to follow a curve: a thousandth makes thousands of
# points of a piece, and beyond two millimetres seams no longer fit together.
FINEST, COARSEST = 0.001, 2.0


def render(
    drawing: Drawing, form: Format | None = None, *, polylines: float | None = None
) -> bytes:
    """The bytes of the drawing as it is now.

    In its own format only the altered shapes differ from what was read; nothing altered
    gives the identical bytes. In another format: a clean file in mm. With `polylines` a clean
    DXF, in which curves are straight lines within that many mm; FileError for an SVG, and for
    a tolerance that no pattern can be drawn with.
    """
    form = form or drawing.format
    if polylines is not None:
        return _as_polylines(drawing, form, polylines)
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
    from core.files.across import pattern_of

    if form is Format.SVG:
        from core.files.svg import fresh_svg

        return fresh_svg(pattern_of(drawing))
    from core.files.dxf import fresh_dxf

    return fresh_dxf(pattern_of(drawing))


def _as_polylines(drawing: Drawing, form: Format, tolerance: float) -> bytes:
    if form is Format.SVG:
        raise FileError(
            f"{drawing.path.name}: straight lines for curves are for DXF; an SVG keeps its curves."
            " Save under a name that ends with .dxf, or leave the tolerance out."
        )
    check_polylines(tolerance)
    from core.files.across import pattern_of
    from core.files.dxf import fresh_dxf

    return fresh_dxf(pattern_of(drawing, whole=True), polylines=tolerance)


def check_polylines(tolerance: float) -> None:
    """FileError for a tolerance (mm) of curves drawn as straight lines that makes no pattern."""
    if FINEST <= tolerance <= COARSEST:
        return
    why = "that is coarser than it can be cut" if tolerance > COARSEST else "no line is so fine"
    if tolerance <= 0.0:
        why = "it must be more than nothing"
    raise FileError(
        f"{tolerance:g} mm is no tolerance for curves drawn as straight lines: {why}."
        f" Say one between {FINEST:g} and {COARSEST:g} mm, 0.1 mm for instance."
    )


def _bounds(drawing: Drawing) -> Box | None:
    boxes = [outline.ring.bounds() for outline in drawing.outlines()]
    if not boxes:
        return None
    out = boxes[0]
    for box in boxes[1:]:
        out = out | box
    return out


def write(drawing: Drawing, path: Path | str, *, polylines: float | None = None) -> Path:
    """Saves the drawing; the format is told by the name's ending. Returns the path.

    `polylines` as for ``render``.

    FileError when the ending is of no known format, the file cannot be written, or a file that
    was repaired while it was read would be saved over its original; an old file of that name
    is then still there, whole.
    """
    path = Path(path)
    save_bytes(path, rendered(drawing, path, polylines=polylines))
    return path


def rendered(drawing: Drawing, path: Path, *, polylines: float | None = None) -> bytes:
    """What `write` would save there; FileError as there, but for the writing itself."""
    form = next((f for f in Format if f.value == path.suffix.lower()), None)
    if form is None:
        raise FileError(f"{path.name}: end the name with .svg or .dxf, so that the kind is clear.")
    if drawing.cleaned and path.resolve() == drawing.path.resolve():
        raise FileError(
            f"{path.name} was not read as it stands, but in repaired form. Keep it, and save under"
            " another name."
        )
    return render(drawing, form, polylines=polylines)


def keeps_units(drawing: Drawing, path: Path, *, polylines: float | None = None) -> bool:
    """Is what `write` saves there in the units of the file that was read? A fresh one is in mm."""
    return polylines is None and path.suffix.lower() == drawing.format.value


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
