"""Lengths as people write them: ``60mm``, ``6,5 cm``, ``2 1/2 in``, ``2½"``."""

from __future__ import annotations

import math
import re
import unicodedata
from dataclasses import dataclass
from enum import Enum

from core.errors import MeasureError

# W3C CSS Values and Units 3, absolute lengths: exact.
MM_PER_INCH = 25.4
# To this (mm) the trade trues seams: 1/16 in (Threads no. 200, Dec 2018).
TRUED = MM_PER_INCH / 16
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
# A difference of two lengths that is told in mm, or in hundredths of an inch, is less than this.
NOT_LITTLE = 20.0
# Lengths nearer to each other (mm) than this may read the same in centimetres.
TOLD_APART = 1.0
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
    # It brings a good deal along that the first painted window does not need.
    from fractions import Fraction

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
    head, common = f"{whole} " if whole else "", math.gcd(rest, parts)
    return f"{sign}{head}{rest // common}/{parts // common} in"


def _no_minus_zero(value: float, decimals: int) -> float:
    return 0.0 if round(value, decimals) == 0 else value


# Between the parts of a length: a whole number and its fraction, a number and its unit.
_WITHIN = re.compile(
    r"(?<=\d) (?=\d+/\d)|(?<=\d) (?=(?:mm|cm|m|in|sq in)(?![a-z]))|(?<=\d sq) (?=in\b)"
)


def unbroken(words: str) -> str:
    """The words with no place for a line break within a length: ``15`` at the end of a line and
    ``3/8 in`` at the start of the next are read as two lengths."""
    return _WITHIN.sub("\u00a0", words)


class Unit(Enum):
    """The unit in which lengths are told to a person."""

    CM = "cm"
    INCH = "in"

    @classmethod
    def of(cls, text: str) -> Unit:
        """The unit that a written length is in: inches, else centimetres."""
        return cls.INCH if re.search(r"(in|inch|inches|[\"″”])\s*$", text.lower()) else cls.CM


@dataclass(frozen=True, slots=True)
class Length:
    """A length of a sentence, in mm; ``little`` when it is one of a few millimetres."""

    mm: float
    decimals: int = 1
    little: bool = False

    def told_in(self, unit: Unit) -> str:
        """For a person. A little length that is under 1/16 in is told in mm even in inches."""
        if unit is Unit.CM:
            return f"{self.mm:.1f} mm" if self.little else in_cm(self.mm, decimals=self.decimals)
        if self.little or self.decimals > 1:
            small = 0.0 < abs(self.mm) < MM_PER_INCH / 16
            return f"{self.mm:.1f} mm" if small else f"{self.mm / MM_PER_INCH:.2f} in"
        return in_inches(self.mm)


def differences(*mm: float) -> tuple[Length, ...]:
    """By how much lengths differ, told in one sentence and therefore alike: as little, or as any
    length where one of them is not. What would read the same in centimetres is told in mm."""
    off = [abs(one) for one in mm]
    near = len(off) > 1 and max(off) - min(off) < TOLD_APART
    little = near or max(off) < NOT_LITTLE
    return tuple(Length(abs(one), little=little) for one in mm)


@dataclass(frozen=True, slots=True)
class Area:
    """An area of a sentence, in mm²."""

    mm2: float

    def told_in(self, unit: Unit) -> str:
        """For a person: ``0.080 m²``, or ``124 sq in``."""
        if unit is Unit.CM:
            return f"{self.mm2 / 1e6:.3f} m²"
        return f"{self.mm2 / MM_PER_INCH**2:.0f} sq in"


@dataclass(frozen=True, slots=True)
class ByUnit:
    """A length of a sentence that is another one where lengths are told in inches."""

    cm: Length
    inch: Length

    def told_in(self, unit: Unit) -> str:
        return (self.cm if unit is Unit.CM else self.inch).told_in(unit)


class Sentence(str):
    """A sentence for a person whose lengths are kept as values: a str that tells them in cm,
    and ``told_in`` that tells them in another unit. ``form`` has a name in braces for each
    value; values are lengths, areas, words, or sentences again.
    """

    __slots__ = ("_form", "_values")
    _form: str
    _values: dict[str, object]

    def __new__(cls, form: str, **values: object) -> Sentence:
        made = super().__new__(cls, _filled(form, values, Unit.CM))
        made._form, made._values = form, values
        return made

    def told_in(self, unit: Unit) -> str:
        return _filled(self._form, self._values, unit)

    def like(self, other: str, *, within: float) -> bool:
        """Does the other say the same, but for lengths that differ by at most so many mm?"""
        if not isinstance(other, Sentence) or self._form != other._form:
            return self == other
        return self._values.keys() == other._values.keys() and all(
            _like(mine, other._values[name], within) for name, mine in self._values.items()
        )


def _like(mine: object, other: object, within: float) -> bool:
    if isinstance(mine, Length) and isinstance(other, Length):
        return abs(mine.mm - other.mm) <= within
    if isinstance(mine, Sentence) and isinstance(other, str):
        return mine.like(other, within=within)
    return mine == other


def _filled(form: str, values: dict[str, object], unit: Unit) -> str:
    told = {
        k: v.told_in(unit) if isinstance(v, Length | Area | ByUnit | Sentence) else v
        for k, v in values.items()
    }
    return form.format(**told)


# A length in a plain sentence, and not the cm of an area.
_TOLD = re.compile(r"(\d+(?:\.\d+)?)([ \u00a0])(cm|mm)\b(?![²³])")


def told_in(sentence: str, unit: Unit) -> str:
    """A sentence with its lengths in a unit; of a plain one, which has them in cm or mm, in
    decimals as fine as they were told: a fraction of a rounded figure could mislead.
    """
    if isinstance(sentence, Sentence):
        return sentence.told_in(unit)
    return sentence if unit is Unit.CM else _TOLD.sub(_in_inches, sentence)


def _in_inches(found: re.Match[str]) -> str:
    coarse = found[3] == "cm"
    mm = float(found[1]) * (10.0 if coarse else 1.0)
    if 0.0 < mm < MM_PER_INCH / 16:
        return found[0]
    return f"{mm / MM_PER_INCH:.{1 if coarse else 2}f}\u00a0in"
