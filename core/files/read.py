"""One door for all formats: a path becomes a Drawing with its pieces recognised."""

from __future__ import annotations

from pathlib import Path

from core.errors import FileError, PieceError
from core.files.drawing import BINARY_MARK, Drawing, Format
from core.files.garbage import no_collecting
from core.files.reading import Reading
from core.piece.recognise import recognised
from core.piece.unsound import where_open

# A pattern sheet is a few megabytes; beyond this it is not one.
LARGEST = 100 * 1024 * 1024
CLOSE_THEM = "Close the outline of each piece in the program that made the file, and open it again."


def read(path: Path | str, *, mm_per_unit: float | None = None) -> Drawing:
    """The drawing in the file, with all that was recognised on its pieces.

    `mm_per_unit` says how long one of the file's units is, where the person knows better
    or the file does not say; UnitUnknownError when it is needed. FileError when the file is
    missing, cannot be opened, is of no known kind, or holds nothing that can be read.
    """
    path = Path(path)
    return read_bytes(path, _load(path), mm_per_unit=mm_per_unit)


def read_bytes(path: Path, data: bytes, *, mm_per_unit: float | None = None) -> Drawing:
    """As ``read``, for bytes already at hand; `path` gives the name and the format."""
    if not data.strip():
        raise FileError(f"{path.name} is empty. Choose the file that holds the pattern.")
    form, said = _format(path, data)
    with no_collecting():
        reading = _reading(form, path.name, data, mm_per_unit)
        try:
            found = recognised(reading.shapes)
        except PieceError as trouble:
            raise FileError(f"{path.name}: {trouble}") from None
    problems = (*said, *reading.problems, *found.problems)
    if not found.pieces:
        none = f"{path.name}: no closed outline was found, so there is no piece."
        problems = (*problems, f"{none} {where_open(reading.shapes) or CLOSE_THEM}")
    return Drawing(
        path=path,
        format=form,
        data=data,
        unit=reading.unit,
        shapes=reading.shapes,
        as_read=found.pieces,
        pieces=found.pieces,
        source=reading.source,
        noted=problems,
        leading=found.leading,
        cleaned=reading.cleaned,
        told_unit=mm_per_unit,
    )


def _load(path: Path) -> bytes:
    try:
        if path.is_dir():
            raise FileError(f"{path.name} is a folder. Choose a file in it.")
        if path.stat().st_size > LARGEST:
            raise FileError(f"{path.name} is larger than 100 MB. That is no pattern sheet.")
        return path.read_bytes()
    except FileNotFoundError:
        raise FileError(f"{path} was not found. Check the name and the folder.") from None
    except OSError as error:
        raise FileError(f"{path} could not be opened: {error.strerror}.") from None


def _format(path: Path, data: bytes) -> tuple[Format, tuple[str, ...]]:
    """By what the file begins with, else by the name's ending; a sentence where they differ."""
    named = next((f for f in Format if path.suffix.lower() == f.value), None)
    seen = _seen(data)
    if seen is not None and named not in (None, seen):
        kind = seen.value.lstrip(".").upper()
        told = f"{path.name} holds {kind} whatever its name says, and was read as that."
        return seen, (told,)
    if seen is None and named is None:
        raise FileError(
            f"{path.name} is neither an SVG nor a DXF file. Save the pattern as one of these."
        )
    return seen or named or Format.SVG, ()


def _seen(data: bytes) -> Format | None:
    """The kind of which the first bytes leave no doubt."""
    head = data[:4096].removeprefix(b"\xef\xbb\xbf").lstrip()
    if head.startswith((BINARY_MARK, b"999")) or head.split()[:2] == [b"0", b"SECTION"]:
        return Format.DXF
    return Format.SVG if head.startswith(b"<") and b"<svg" in head else None


def _reading(form: Format, name: str, data: bytes, mm_per_unit: float | None) -> Reading:
    # Each reader brings its library along; only the one that is needed is loaded.
    if form is Format.SVG:
        from core.files.svg import read_svg

        return read_svg(name, data, mm_per_unit=mm_per_unit)
    from core.files.dxf import read_dxf

    return read_dxf(name, data, mm_per_unit=mm_per_unit)
