"""Sizes of paper, in mm, upright."""

from __future__ import annotations

from enum import Enum
from typing import NamedTuple

# Printers leave so much of each border white (mm): common practice.
MARGIN = 10.0
# Sheets lie over each other by so much (mm) when they are taped.
OVERLAP = 10.0


class Size(NamedTuple):
    """Width and height in mm."""

    width: float
    height: float

    @property
    def lying(self) -> Size:
        return Size(self.height, self.width)


class Paper(Enum):
    """A sizes by ISO 216; Letter, Tabloid and ARCH E as US printers take them."""

    A4 = "A4"
    A3 = "A3"
    A2 = "A2"
    A1 = "A1"
    A0 = "A0"
    LETTER = "Letter"
    TABLOID = "Tabloid"
    ARCH_E = "Arch E"

    @property
    def size(self) -> Size:
        return _SIZES[self]


_SIZES = {
    Paper.A4: Size(210.0, 297.0),
    Paper.A3: Size(297.0, 420.0),
    Paper.A2: Size(420.0, 594.0),
    Paper.A1: Size(594.0, 841.0),
    Paper.A0: Size(841.0, 1189.0),
    Paper.LETTER: Size(215.9, 279.4),
    Paper.TABLOID: Size(279.4, 431.8),
    Paper.ARCH_E: Size(914.4, 1219.2),
}
