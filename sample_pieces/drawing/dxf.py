"""DXF by hand: pairs of lines, the same bytes every time.

Group codes as in the DXF reference. Coordinates are mm with y up.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from core.curve import Point

Tag = tuple[int, str]


@dataclass(frozen=True, slots=True)
class Plane:
    """The page turned y up: y becomes `height` - y. Coordinates get `decimals` decimals."""

    height: float
    decimals: int

    def number(self, value: float) -> str:
        return f"{value:.{self.decimals}f}"

    def at(self, p: Point) -> list[Tag]:
        """The codes 10 and 20 of a point of the page."""
        return [(10, self.number(p.x)), (20, self.number(self.height - p.y))]

    def to(self, p: Point) -> list[Tag]:
        """The codes 11 and 21: the far end of a line."""
        return [(11, self.number(p.x)), (21, self.number(self.height - p.y))]


def encoded(tags: Iterable[Tag]) -> bytes:
    """7-bit ASCII; UnicodeEncodeError for anything else."""
    return "".join(f"{code:3d}\n{value}\n" for code, value in tags).encode("ascii")


def section(name: str, content: Iterable[Tag]) -> list[Tag]:
    return [(0, "SECTION"), (2, name), *content, (0, "ENDSEC")]


def header(variables: Iterable[tuple[str, int, str]]) -> list[Tag]:
    """Names with their group code and value."""
    tags: list[Tag] = []
    for name, code, value in variables:
        tags += [(9, name), (code, value)]
    return section("HEADER", tags)
