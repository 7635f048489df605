"""Lengths with units, as CSS defines them.

Source: W3C CSS Values and Units 3, absolute lengths (1 in = 25.4 mm = 96 px = 72 pt).
"""

from __future__ import annotations

import math
import re
from typing import NamedTuple

from core.files.svg.numbers import NUMBER

PX_PER_INCH = 96
PX_MM = 25.4 / PX_PER_INCH
# Relative units count from the usual size of letters, 16 px; nothing better is said.
EM_PX = 16.0

MM: dict[str, float] = {
    "mm": 1.0,
    "cm": 10.0,
    "in": 25.4,
    "pt": 25.4 / 72,
    "pc": 25.4 / 6,
    "q": 0.25,
}
_PX: dict[str, float] = {"": 1.0, "px": 1.0, "em": EM_PX, "rem": EM_PX, "ex": EM_PX / 2}
_LENGTH = re.compile(rf"\s*({NUMBER})\s*([a-zA-Z]*|%)\s*")


class Length(NamedTuple):
    """A length as it was written: ``unit`` in lower case, "" when there is none."""

    value: float
    unit: str

    @property
    def mm(self) -> float | None:
        """Millimetres, when the unit is one of paper; None for px, %, em and bare numbers."""
        return self.value * MM[self.unit] if self.unit in MM else None

    def user(self, whole: float) -> float:
        """User units (px); `whole` is what 100 % are."""
        if self.unit == "%":
            return self.value / 100 * whole
        if self.unit in MM:
            return self.value * MM[self.unit] / PX_MM
        return self.value * _PX[self.unit]


def length(text: str) -> Length | None:
    """The length, blanks and capitals allowed ("210 MM"); None when it is not one."""
    found = _LENGTH.fullmatch(text)
    if not found:
        return None
    value, unit = float(found[1]), found[2].lower()
    if not math.isfinite(value) or not (unit in MM or unit in _PX or unit == "%"):
        return None
    return Length(value, unit)
