"""Lengths as people write them: ``60mm``, ``6,5 cm``, ``2 1/2 in``, ``2½"``."""

from __future__ import annotations

import math
import re
import unicodedata
from fractions import Fraction

from core.errors import MeasureError

# W3C CSS Values and Units 3, absolute lengths: exact.
MM_PER_INCH = 25.4
MM_PER_UNIT = {
    "mm": 1.0,
    "cm": 10.0,
    "m": 1000.0,
    "in": MM_PER_INCH,
    "pt": MM_PER_INCH / 72,
    "pc": MM_PER_INCH / 6,
    "q": 0.25,
    "px": MM_PER_INCH / 96,
}
_SPELLINGS = {
    '"': "in",
    "″": "in",
    "”": "in",
    "inch": "in",
    "inches": "in",
    "centimetre": "cm",
    "centimetres": "cm",
    "centimeters": "cm",
    "millimetre": "mm",
    "millimetres": "mm",
    "millimeters": "mm",
}
_FORM = re.compile(
    r"""^\s*(?P<sign>[-+−]?)\s*
    (?:
        (?:(?P<whole>\d+)(?:\s+|\s*-\s*))?(?P<top>\d+)\s*/\s*(?P<bottom>\d+)
      | (?P<decimal>\d+(?:[.,]\d+)?|[.,]\d+)
    )
    \s*(?P<unit>[a-zA-Z]+|["″”])\s*$""",
    re.VERBOSE,
)
# Longer than any garment; a slip of the key, not a length.
LONGEST_MM = 10_000.0


def unit_size(name: str) -> float:
    """Millimetres in one unit of that name; MeasureError for one that is not known."""
    key = name.strip().lower()
    key = _SPELLINGS.get(key, key)
    if key not in MM_PER_UNIT:
        known = ", ".join(MM_PER_UNIT)
        raise MeasureError(f"The unit “{name}” is not known. Use one of: {known}.")
    return MM_PER_UNIT[key]


def parse_length(text: str) -> float:
    """Millimetres of a written length with its unit, decimal point or comma or fraction.

    Nothing is nothing in every unit, so a plain 0 needs none.

    Raises MeasureError, with an example of what would do, for anything else: no number, no
    unit, an unknown unit, a fraction over zero, a length beyond 10 m.
    """
    if text.strip() in ("0", "-0", "+0", "0.0", "0,0"):
        return 0.0
    m = _FORM.match(_with_plain_fractions(text))
    if m is None:
        raise MeasureError(
            f"The length “{text}” cannot be read. Write a number and its unit,"
            " for example 6cm, 60mm, 2.5in or “2 1/2 in”."
        )
    if m["bottom"] and int(m["bottom"]) == 0:
        raise MeasureError(f"The length “{text}” divides by zero. Write for example “2 1/2 in”.")
    value = Fraction((m["decimal"] or m["whole"] or "0").replace(",", "."))
    value += Fraction(int(m["top"]), int(m["bottom"])) if m["top"] else 0
    mm = float(value) * unit_size(m["unit"])
    if mm > LONGEST_MM:
        raise MeasureError(f"The length “{text}” is longer than 10 metres. Check the number.")
    return -mm if m["sign"] in ("-", "−") and mm else mm


def _with_plain_fractions(text: str) -> str:
    """½ and its kin written out as 1/2."""
    return "".join(
        " " + unicodedata.normalize("NFKC", c).replace("⁄", "/")
        if unicodedata.category(c) == "No" and "⁄" in unicodedata.normalize("NFKC", c)
        else c
        for c in text
    )


def in_cm(mm: float, *, decimals: int = 1) -> str:
    """For a person: ``12.0 cm``."""
    return f"{_no_minus_zero(mm / 10.0, decimals):.{decimals}f} cm"


def in_inches(mm: float, *, parts: int = 16) -> str:
    """For a person, to the nearest 1/`parts` of an inch: ``2 1/2 in``."""
    count = math.floor(abs(mm) / MM_PER_INCH * parts + 0.5)
    sign = "−" if mm < 0 and count else ""
    whole, rest = divmod(count, parts)
    if not rest:
        return f"{sign}{whole} in"
    fraction = Fraction(rest, parts)
    head = f"{whole} " if whole else ""
    return f"{sign}{head}{fraction.numerator}/{fraction.denominator} in"


def _no_minus_zero(value: float, decimals: int) -> float:
    return 0.0 if round(value, decimals) == 0 else value
