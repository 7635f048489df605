"""Lengths as the window shows and reads them: centimetres, or inches with their fractions."""

from __future__ import annotations

from enum import Enum

from core.measure import MM_PER_INCH, Unit, in_cm, in_inches, parse_length, told_in

# An amount nearer than this, in mm, to a round figure is shown as that figure.
EXACT = 0.005


class Shown(Enum):
    """The unit in which lengths are shown, and in which a bare number is meant."""

    CM = "cm"
    INCH = "inch"

    @property
    def sign(self) -> str:
        """As it stands behind a figure."""
        return "cm" if self is Shown.CM else "in"

    @property
    def word(self) -> str:
        """In a sentence."""
        return "cm" if self is Shown.CM else "inches"

    @property
    def step_mm(self) -> float:
        """One step of a drag."""
        return 5.0 if self is Shown.CM else MM_PER_INCH / 8

    @property
    def fine_mm(self) -> float:
        """One step of an arrow key, and of a drag with Shift."""
        return 1.0 if self is Shown.CM else MM_PER_INCH / 16

    @property
    def leap_mm(self) -> float:
        """One step of an arrow key with Shift."""
        return 10.0 if self is Shown.CM else MM_PER_INCH / 2

    @property
    def grid_mm(self) -> float:
        """The mesh of the grid on the table."""
        return 50.0 if self is Shown.CM else 2 * MM_PER_INCH


# A drag with Alt keeps to no step; what it gives is still a length one can measure.
FREE_MM = 0.1


def typed(text: str, shown: Shown) -> float:
    """Millimetres of what was typed; a bare number is in the shown unit.

    Raises MeasureError for what cannot be read.
    """
    text = text.strip()
    if text and (text[-1].isdigit() or text[-1].isnumeric()):
        text = f"{text} {shown.sign}"
    return parse_length(text)


def with_unit(mm: float, shown: Shown) -> str:
    """``12.0 cm`` or ``4 3/4 in``; finer where the amount is not a round one."""
    if shown is Shown.CM:
        return in_cm(mm, decimals=1 if abs(mm - round(mm)) < EXACT else 2)
    sixteenths = mm / MM_PER_INCH * 16
    if abs(sixteenths - round(sixteenths)) * MM_PER_INCH / 16 < EXACT:
        return in_inches(mm)
    return f"{mm / MM_PER_INCH:.2f} in"


def signed(mm: float, shown: Shown) -> str:
    """``+6.0 cm``, ``−2 1/2 in``; no sign at nought."""
    sign = "" if abs(mm) < EXACT else "+" if mm > 0 else "−"
    return sign + with_unit(abs(mm), shown)


def bare(mm: float, shown: Shown) -> str:
    """For a table whose head says the unit: ``41.4`` or ``16 5/16``."""
    text = in_cm(mm) if shown is Shown.CM else in_inches(mm)
    return text.rsplit(" ", 1)[0]


def in_unit(sentence: str, shown: Shown) -> str:
    """The sentence with its lengths in the shown unit."""
    return told_in(sentence, Unit.CM if shown is Shown.CM else Unit.INCH)


def to_step(mm: float, step_mm: float) -> float:
    """The nearest whole number of steps."""
    return round(mm / step_mm) * step_mm
