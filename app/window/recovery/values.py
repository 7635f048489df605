"""A state of the document as plain values, and the state made again of them. Knows nothing of Qt.

Only what a person said is kept: which files, their bytes, what was corrected, and the change.
The rest is worked out again, on the same way as when the file was opened.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import fields, replace
from enum import Enum
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from app.window.document import AtLevel, PieceId, Sheet, Sheets, State
from core.alter.level.model import Truing
from core.alter.model import Change, DartCaps, HemDarts, HemWay, Measure, SeamWay, TurnUp
from core.errors import FileError, HemwardError, UnitUnknownError
from core.piece.kept import Plain, known_of, understood_by

if TYPE_CHECKING:
    # The readers and their libraries are loaded when a file is opened, not before.
    from core.files.drawing import Drawing

VERSION = 1
# The choices of a change, by the names of its fields.
CHOICES: dict[str, type[Enum]] = {
    "seams": SeamWay,
    "measure": Measure,
    "hem": HemWay,
    "hem_darts": HemDarts,
    "dart_caps": DartCaps,
    "turn_up": TurnUp,
}
SWITCHES = ("balance_notch", "preview")
# What can go wrong while values are read that are not ours, or were spoiled.
SPOILED = (LookupError, TypeError, ValueError, ArithmeticError, AttributeError, RecursionError)


class MadeAgain(NamedTuple):
    """The files as they were opened, and what was made of them."""

    opened: State
    worked_on: State


def print_of(data: bytes) -> str:
    """By what the bytes of a file are known again (SHA-256)."""
    return sha256(data).hexdigest()


def values_of(state: State, prints: Mapping[int, str]) -> Plain:
    """The settled state as values that JSON can say; `prints` are those of the sheets' bytes."""
    return {
        "version": VERSION,
        "sheets": [_sheet_values(sheet, prints[sheet.number]) for sheet in state.sheets.all],
        "change": _change_values(state.change),
        "level": _level_values(state.level),
        "off": sorted([which.sheet, which.key] for which in state.off),
        "proved": sorted(state.proved),
        "more_by_size": None if state.more_by_size is None else dict(state.more_by_size),
    }


def _sheet_values(sheet: Sheet, bytes_print: str) -> Plain:
    from core.files.ties import ties_as_values

    drawing = sheet.drawing
    corrected = [
        {"number": k, "piece": known_of(piece, exactly=True)}
        for k, (piece, read) in enumerate(zip(drawing.pieces, drawing.as_read, strict=True))
        if piece != read
    ]
    return {
        "number": sheet.number,
        "path": str(drawing.path.resolve()),
        "bytes": bytes_print,
        "mm_per_unit": drawing.unit.mm_per_unit,
        "pieces": corrected,
        "ties": ties_as_values(drawing.ties),
    }


def _change_values(change: Change) -> Plain:
    values = {f.name: getattr(change, f.name) for f in fields(change)}
    return {k: v.value if isinstance(v, Enum) else v for k, v in values.items()}


def _level_values(level: AtLevel | None) -> Plain | None:
    if level is None:
        return None
    return {"at_mm": level.at_mm, "true": level.true.value, "blend_mm": level.blend_mm}


def names_in(values: Mapping[str, Any]) -> list[str]:
    """The names of the files in the values; FileError when these are none of ours."""
    try:
        if values["version"] != VERSION or not values["sheets"]:
            raise FileError("it was kept by another version")
        return [Path(str(sheet["path"])).name for sheet in values["sheets"]]
    except SPOILED:
        raise FileError("it does not hold what Hemward keeps") from None


def change_in(values: Mapping[str, Any]) -> Change:
    """The change in the values; FileError when it is none."""
    try:
        return _change(values["change"])
    except SPOILED:
        raise FileError("it does not hold what Hemward keeps") from None


def state_of(
    values: Mapping[str, Any], bytes_of: Callable[[str], bytes], number: Callable[[], int]
) -> MadeAgain:
    """The state made again: the files read from their bytes, then corrected, then changed.

    `bytes_of` gives the bytes of a print, `number` a number for each sheet. FileError, with the
    reason alone as its text, when the values are spoiled or do not fit the bytes.
    """
    try:
        return _made_again(values, bytes_of, number)
    except FileError:
        raise
    except HemwardError as error:
        raise FileError(str(error).rstrip(".")) from None
    except SPOILED:
        raise FileError("it does not hold what Hemward keeps") from None


def _made_again(
    values: Mapping[str, Any], bytes_of: Callable[[str], bytes], number: Callable[[], int]
) -> MadeAgain:
    from core.files.ties import tie_in

    names_in(values)
    opened, corrected, numbers = [], [], {}
    for kept in values["sheets"]:
        drawing = _read(kept, bytes_of(str(kept["bytes"])))
        new = numbers[int(kept["number"])] = number()
        opened.append(Sheet(new, drawing))
        ties = tuple(tie_in(value) for value in kept.get("ties", ()))
        known = replace(_corrected(drawing, kept["pieces"]), ties=ties)
        corrected.append(Sheet(new, known))
    more = values["more_by_size"]
    worked_on = State(
        sheets=Sheets(tuple(corrected)),
        change=_change(values["change"]),
        level=_level(values["level"]),
        off=frozenset(PieceId(numbers[sheet], int(key)) for sheet, key in values["off"]),
        proved=frozenset(numbers[k] for k in values["proved"]),
        more_by_size=None if more is None else {str(s): _mm(v) for s, v in more.items()},
    )
    return MadeAgain(State(sheets=Sheets(tuple(opened))), worked_on)


def _read(kept: Mapping[str, Any], data: bytes) -> Drawing:
    """In the unit in which it was; that need not be told where the file says it itself."""
    from core.files.read import read_bytes

    path, mm_per_unit = Path(str(kept["path"])), _mm(kept["mm_per_unit"])
    try:
        drawing = read_bytes(path, data)
    except UnitUnknownError:
        return read_bytes(path, data, mm_per_unit=mm_per_unit)
    if drawing.unit.mm_per_unit == mm_per_unit:
        return drawing
    return read_bytes(path, data, mm_per_unit=mm_per_unit)


def _corrected(drawing: Drawing, kept: Any) -> Drawing:
    pieces = list(drawing.pieces)
    for one in kept:
        place = int(one["number"])
        if not 0 <= place < len(pieces):
            raise FileError(f"{drawing.path.name} has no piece number {place + 1}")
        pieces[place] = understood_by(pieces[place], one["piece"])
    return replace(drawing, pieces=tuple(pieces))


def _change(kept: Mapping[str, Any]) -> Change:
    values: dict[str, Any] = {}
    for field in fields(Change):
        value = kept[field.name]
        if field.name in CHOICES:
            values[field.name] = CHOICES[field.name](value)
        elif field.name in SWITCHES:
            values[field.name] = bool(value)
        else:
            values[field.name] = _mm_or_none(value)
    return replace(Change(_mm(kept["by_mm"])), **values)


def _level(kept: Mapping[str, Any] | None) -> AtLevel | None:
    if kept is None:
        return None
    return AtLevel(_mm(kept["at_mm"]), Truing(kept["true"]), _mm_or_none(kept["blend_mm"]))


def _mm_or_none(kept: Any) -> float | None:
    return None if kept is None else _mm(kept)


def _mm(kept: Any) -> float:
    value = float(kept)
    if not math.isfinite(value):
        raise ValueError("not a length")
    return value
