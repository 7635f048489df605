"""The allotment shorts with allowances, on the layers of the sewn-products interchange.

Layers after ASTM D6673-10: 1 boundary and text, 2 turn points, 3 curve points, 4 notches,
7 grain line, 8 internal lines, 13 drill holes, 14 sew line.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from core.curve import Chain, Point
from sample_pieces.drawing import shorts
from sample_pieces.drawing.allowance import CHOP, Dot, cutting_line, stitching_line
from sample_pieces.drawing.dxf import Plane, Tag, encoded, header, section
from sample_pieces.drawing.part import Notch, Part

SEAM = 10.0
TURN_UP = 25.0
ALLOWANCES = {
    "waist": SEAM,
    "side": SEAM,
    "corner": TURN_UP,
    "hem": TURN_UP,
    "inseam": SEAM,
    "rise": SEAM,
}
NOTCH_DEPTH = 6.0
LETTER = 8.0
LAYERS = ("1", "2", "3", "4", "7", "8", "13", "14")
# "Units: METRIC" in that standard means millimetres with two decimals.
PLANE = Plane(height=shorts.SHEET[1], decimals=2)


def draw() -> bytes:
    parts = shorts.pieces()
    tags = header([("$ACADVER", 1, "AC1009")])
    tags += section("TABLES", _layers())
    tags += section("BLOCKS", [tag for part in parts for tag in _block(part)])
    tags += section("ENTITIES", [*_sheet_texts(), *(t for p in parts for t in _insert(p))])
    return encoded([*tags, (0, "EOF")])


def _layers() -> list[Tag]:
    tags: list[Tag] = [(0, "TABLE"), (2, "LAYER"), (70, str(len(LAYERS)))]
    for name in LAYERS:
        tags += [(0, "LAYER"), (2, name), (70, "0"), (62, "7"), (6, "CONTINUOUS")]
    return [*tags, (0, "ENDTAB")]


def _sheet_texts() -> list[Tag]:
    lines = ("Style Name: ALLOTMENT SHORTS", "Units: METRIC")
    return _texts(Point(shorts.SHEET[0] / 2, 620.0), lines)


def _insert(part: Part) -> list[Tag]:
    return [(0, "INSERT"), (8, "1"), (2, _block_name(part)), (10, "0.00"), (20, "0.00")]


def _block_name(part: Part) -> str:
    return part.name.upper()


def _block(part: Part) -> list[Tag]:
    name = _block_name(part)
    cut = cutting_line(part, ALLOWANCES)
    tags: list[Tag] = [(0, "BLOCK"), (8, "1"), (2, name), (70, "0"), (10, "0.00"), (20, "0.00")]
    tags += _polyline("1", [d.at for d in cut], closed=True)
    tags += _dots("2", cut, turn=True) + _dots("3", cut, turn=False)
    tags += [t for n in part.notches for t in _notch(part, n)]
    tags += _line("7", part.grain.start, part.grain.end)
    tags += [t for _, chain in part.inner for t in _polyline("8", _chopped(chain))]
    tags += [t for p in part.drills for t in _point("13", p)]
    tags += _polyline("14", [d.at for d in stitching_line(part)], closed=True)
    tags += _texts(part.label, (f"Piece Name: {name}", "Quantity: 2"))
    return [*tags, (0, "ENDBLK"), (8, "1")]


def _polyline(layer: str, points: Sequence[Point], *, closed: bool = False) -> list[Tag]:
    flag = "1" if closed else "0"
    tags: list[Tag] = [(0, "POLYLINE"), (8, layer), (66, "1"), (70, flag)]
    for p in points:
        tags += [(0, "VERTEX"), (8, layer), *PLANE.at(p)]
    return [*tags, (0, "SEQEND"), (8, layer)]


def _chopped(chain: Chain) -> list[Point]:
    return [Point(float(x), float(y)) for x, y in chain.flattened(tolerance=CHOP)]


def _point(layer: str, p: Point, *, more: Sequence[Tag] = ()) -> list[Tag]:
    return [(0, "POINT"), (8, layer), *PLANE.at(p), *more]


def _dots(layer: str, dots: Sequence[Dot], *, turn: bool) -> list[Tag]:
    return [t for d in dots if d.turn is turn for t in _point(layer, d.at)]


def _notch(part: Part, notch: Notch) -> list[Tag]:
    """On the cutting line; Z is its depth, 39 its width (a slit), 50 the way into the piece."""
    at = notch.at.moved(notch.inward, -ALLOWANCES[notch.name.split("-")[0]])
    angle = math.degrees(math.atan2(-notch.inward.y, notch.inward.x)) % 360.0
    more = [(30, PLANE.number(NOTCH_DEPTH)), (39, "0.00"), (50, PLANE.number(angle))]
    return _point("4", at, more=more)


def _line(layer: str, start: Point, end: Point) -> list[Tag]:
    return [(0, "LINE"), (8, layer), *PLANE.at(start), *PLANE.to(end)]


def _texts(first: Point, lines: Sequence[str]) -> list[Tag]:
    tags: list[Tag] = []
    for k, line in enumerate(lines):
        at = Point(first.x, first.y + 1.5 * LETTER * k)
        tags += [(0, "TEXT"), (8, "1"), *PLANE.at(at), (40, PLANE.number(LETTER)), (1, line)]
        # 72 = 1: centred on the second point.
        tags += [(72, "1"), *PLANE.to(at)]
    return tags
