"""Blocks on the layers of the sewn-products interchange, as a drawing of release 12.

Layers after ASTM D6673-10: 1 boundary and text, 2 turn points, 3 curve points, 4 notches,
7 grain line, 8 internal lines, 13 drill holes, 14 sew line.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from core.curve import Chain, Point
from sample_pieces.drawing.allowance import CHOP, Dot, stitching_line
from sample_pieces.drawing.dxf import Plane, Tag, encoded, header, section
from sample_pieces.drawing.part import Notch, Part

NOTCH_DEPTH = 6.0
LETTER = 8.0
LAYERS = ("1", "2", "3", "4", "7", "8", "13", "14")


@dataclass(frozen=True)
class Sheet:
    """What all blocks of a file share: its plane, its style's name, where that is written, and
    the allowances by the first word of an edge's name."""

    plane: Plane
    style: str
    words_at: Point
    allowances: Mapping[str, float]

    @classmethod
    def of(
        cls, size: tuple[float, float], style: str, words_y: float, allowances: Mapping[str, float]
    ) -> Sheet:
        """`size` is the sheet's width and height in mm; metric files have two decimals."""
        plane = Plane(height=size[1], decimals=2)
        return cls(plane, style, Point(size[0] / 2, words_y), allowances)

    def draw(self, pieces: Sequence[tuple[Part, Sequence[Dot]]]) -> bytes:
        """The whole file: each piece with its cutting line."""
        tags = header([("$ACADVER", 1, "AC1009")])
        tags += section("TABLES", _layers())
        tags += section("BLOCKS", [tag for part, cut in pieces for tag in self._block(part, cut)])
        inserts = [t for p, _ in pieces for t in self._insert(p)]
        tags += section("ENTITIES", [*self._sheet_texts(), *inserts])
        return encoded([*tags, (0, "EOF")])

    def _sheet_texts(self) -> list[Tag]:
        lines = (f"Style Name: {self.style}", "Units: METRIC")
        return self._texts(self.words_at, lines)

    def _insert(self, part: Part) -> list[Tag]:
        return [(0, "INSERT"), (8, "1"), (2, _block_name(part)), (10, "0.00"), (20, "0.00")]

    def _block(self, part: Part, cut: Sequence[Dot]) -> list[Tag]:
        name = _block_name(part)
        tags: list[Tag] = [(0, "BLOCK"), (8, "1"), (2, name), (70, "0"), (10, "0.00"), (20, "0.00")]
        tags += self._polyline("1", [d.at for d in cut], closed=True)
        tags += self._dots("2", cut, turn=True) + self._dots("3", cut, turn=False)
        tags += [t for n in part.notches for t in self._notch(part, n)]
        tags += self._line("7", part.grain.start, part.grain.end)
        tags += [t for _, chain in part.inner for t in self._polyline("8", _chopped(chain))]
        tags += [t for p in part.drills for t in self._point("13", p)]
        tags += self._polyline("14", [d.at for d in stitching_line(part)], closed=True)
        tags += self._texts(part.label, (f"Piece Name: {name}", "Quantity: 2"))
        return [*tags, (0, "ENDBLK"), (8, "1")]

    def _polyline(self, layer: str, points: Sequence[Point], *, closed: bool = False) -> list[Tag]:
        flag = "1" if closed else "0"
        tags: list[Tag] = [(0, "POLYLINE"), (8, layer), (66, "1"), (70, flag)]
        for p in points:
            tags += [(0, "VERTEX"), (8, layer), *self.plane.at(p)]
        return [*tags, (0, "SEQEND"), (8, layer)]

    def _point(self, layer: str, p: Point, *, more: Sequence[Tag] = ()) -> list[Tag]:
        return [(0, "POINT"), (8, layer), *self.plane.at(p), *more]

    def _dots(self, layer: str, dots: Sequence[Dot], *, turn: bool) -> list[Tag]:
        return [t for d in dots if d.turn is turn for t in self._point(layer, d.at)]

    def _notch(self, part: Part, notch: Notch) -> list[Tag]:
        """On the cutting line; Z is its depth, 39 its width (a slit), 50 the way into the piece."""
        at = notch.at.moved(notch.inward, -self.allowances[notch.name.split("-")[0]])
        angle = math.degrees(math.atan2(-notch.inward.y, notch.inward.x)) % 360.0
        more = [(30, self.plane.number(NOTCH_DEPTH)), (39, "0.00"), (50, self.plane.number(angle))]
        return self._point("4", at, more=more)

    def _line(self, layer: str, start: Point, end: Point) -> list[Tag]:
        return [(0, "LINE"), (8, layer), *self.plane.at(start), *self.plane.to(end)]

    def _texts(self, first: Point, lines: Sequence[str]) -> list[Tag]:
        tags: list[Tag] = []
        for k, line in enumerate(lines):
            at = Point(first.x, first.y + 1.5 * LETTER * k)
            tags += [
                (0, "TEXT"),
                (8, "1"),
                *self.plane.at(at),
                (40, self.plane.number(LETTER)),
                (1, line),
            ]
            # 72 = 1: centred on the second point.
            tags += [(72, "1"), *self.plane.to(at)]
        return tags


def _layers() -> list[Tag]:
    tags: list[Tag] = [(0, "TABLE"), (2, "LAYER"), (70, str(len(LAYERS)))]
    for name in LAYERS:
        tags += [(0, "LAYER"), (2, name), (70, "0"), (62, "7"), (6, "CONTINUOUS")]
    return [*tags, (0, "ENDTAB")]


def _block_name(part: Part) -> str:
    return part.name.upper()


def _chopped(chain: Chain) -> list[Point]:
    return [Point(float(x), float(y)) for x, y in chain.flattened(tolerance=CHOP)]
