"""How long one unit of the file is: what its texts say, else what its header says.

Texts: ASTM D6673, clause 4.3.1. $INSUNITS: DXF reference, header variables. $MEASUREMENT
only chooses hatch and line type tables and is no unit of length.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from core.curve import Box
from core.errors import UnitUnknownError
from core.files.drawing import Unit
from core.files.written import UNIT_TEXT
from core.piece.model import Because

MM_PER_INCH = 25.4
INSUNITS = {
    1: (MM_PER_INCH, "inches"),
    2: (304.8, "feet"),
    4: (1.0, "millimetres"),
    5: (10.0, "centimetres"),
    6: (1000.0, "metres"),
    10: (914.4, "yards"),
    14: (100.0, "decimetres"),
}
# What the standard knows, and what others write in its place; by how the word begins.
TEXT_UNITS = {
    "met": (1.0, "millimetres"),
    "mi": (1.0, "millimetres"),
    "mm": (1.0, "millimetres"),
    "c": (10.0, "centimetres"),
    "e": (MM_PER_INCH, "inches"),
    "i": (MM_PER_INCH, "inches"),
}
CANDIDATES = (("mm", 1.0), ("cm", 10.0), ("in", MM_PER_INCH))
# A whole drawing of pattern pieces beyond these is more likely in another unit.
SMALLEST, LARGEST = 20.0, 50_000.0


@dataclass(frozen=True, slots=True)
class Said:
    """One statement about the unit and who makes it."""

    mm_per_unit: float
    word: str
    by: str


@dataclass(frozen=True, slots=True)
class Judged:
    """A unit, and sentences about what is doubtful."""

    unit: Unit
    problems: tuple[str, ...]


def by_texts(texts: Iterable[str]) -> Said | None:
    """The unit named by the first text `Units: METRIC`, `Units: ENGLISH` or the like."""
    for text in texts:
        found = UNIT_TEXT.match(text)
        if found:
            said = found[1].lower()
            mm, word = next(v for begin, v in TEXT_UNITS.items() if said.startswith(begin))
            return Said(mm, word, f"the text “{text.strip()}” says so")
    return None


def by_header(number: int | None) -> Said | None:
    """The unit named by $INSUNITS; None for 0 and for units that no pattern uses."""
    if number not in INSUNITS:
        return None
    mm, word = INSUNITS[number]
    return Said(mm, word, f"the file's header says {word} ($INSUNITS {number})")


def stated(text: Said | None, header: Said | None, given: float | None) -> Said | None:
    """The statement that counts: the person's, then the text's, then the header's."""
    if given is not None:
        return Said(given, "the unit given", "you said so")
    return text or header


def judged(name: str, text: Said | None, header: Said | None, box: Box | None) -> Judged:
    """The unit that the file states, and what is doubtful about it.

    `box` lies around what was read in that unit, in mm. Raises UnitUnknownError when
    neither text nor header say anything; `box` is then in file units.
    """
    said = text or header
    if said is None:
        raise UnitUnknownError(_what_to_do(name, box))
    problems, doubt = [], ""
    if text and header and text.mm_per_unit != header.mm_per_unit:
        doubt = header.by
        problems.append(
            f"{name} contradicts itself: {text.by}, but {header.by}. "
            f"It is read in {text.word}; check a known length."
        )
    size = max(box.width, box.height) if box else SMALLEST
    if not SMALLEST <= size <= LARGEST:
        doubt = f"the drawing would then be {_cm(size)} cm at its longest"
        problems.append(f"{name}: {said.by}, but {doubt}. Check a known length, or use --unit.")
    because = Because(not doubt, f"{said.by}, but {doubt}" if doubt else said.by)
    return Judged(Unit(said.mm_per_unit, because), tuple(problems))


def _what_to_do(name: str, box: Box | None) -> str:
    sentence = f"{name} does not say how long one of its units is; say it with --unit"
    if box is None:
        return f"{sentence} mm, --unit cm or --unit in."
    sizes = ", ".join(
        f"{_cm(box.width * mm)} x {_cm(box.height * mm)} cm with --unit {unit}"
        for unit, mm in CANDIDATES
    )
    return f"{sentence}: the whole drawing is {sizes}."


def _cm(mm: float) -> str:
    return f"{mm / 10.0:.4g}" if mm < 10.0 else f"{mm / 10.0:.1f}"
