"""The rain breeches as sewn-products interchange (ASTM D6673): a block for each piece and size,
all sizes around the same origin."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from core.curve import Chain, Cubic, Point
from sample_pieces.drawing import breeches
from sample_pieces.drawing.dxf import Plane, Tag, encoded, header, section
from sample_pieces.drawing.part import Part

# "Units: METRIC" in that standard means millimetres with two decimals.
PLANE = Plane(height=breeches.SHEET[1], decimals=2)
LAYERS = ("1", "2", "3", "4", "7", "8")
LETTER = 8.0
# Points follow a curve this near, in mm.
NEAR = 0.1


def draw() -> bytes:
    parts = [(part, size) for size in breeches.SIZES for part in breeches.pieces(size)]
    tags = header([("$ACADVER", 1, "AC1009")])
    tags += section("TABLES", _layers())
    tags += section("BLOCKS", [tag for part, size in parts for tag in _block(part, size)])
    tags += section(
        "ENTITIES", [*_sheet(), *(t for part, size in parts for t in _insert(part, size))]
    )
    return encoded([*tags, (0, "EOF")])


def _layers() -> list[Tag]:
    tags: list[Tag] = [(0, "TABLE"), (2, "LAYER"), (70, str(len(LAYERS)))]
    for name in LAYERS:
        tags += [(0, "LAYER"), (2, name), (70, "0"), (62, "7"), (6, "CONTINUOUS")]
    return [*tags, (0, "ENDTAB")]


def _sheet() -> list[Tag]:
    return _texts(Point(430.0, 700.0), ("Style Name: RAIN BREECHES", "Units: METRIC"))


def _name(part: Part, size: int) -> str:
    return f"{part.name.upper()}_{size}"


def _insert(part: Part, size: int) -> list[Tag]:
    place: list[Tag] = [(10, "0.00"), (20, "0.00")]
    return [(0, "INSERT"), (8, "1"), (2, _name(part, size)), *place]


def _block(part: Part, size: int) -> list[Tag]:
    name = _name(part, size)
    tags: list[Tag] = [(0, "BLOCK"), (8, "1"), (2, name), (70, "0"), (10, "0.00"), (20, "0.00")]
    tags += _polyline("1", [p for p, _ in _boundary(part)], closed=True)
    tags += [t for p, corner in _boundary(part) for t in _point("2" if corner else "3", p)]
    tags += [t for n in part.notches for t in _point("4", n.at)]
    tags += _line("7", part.grain.start, part.grain.end)
    if part.name == breeches.FRONT.name:
        opening = breeches.pocket()[1]
        tags += _line("8", opening.start, opening.end)
    written = (f"Piece Name: {part.name.upper()}", f"Size: {size}", "Quantity: 2")
    return [*tags, *_texts(part.label, written), (0, "ENDBLK"), (8, "1")]


def _boundary(part: Part) -> Iterator[tuple[Point, bool]]:
    """The outline's points; an edge begins with a corner."""
    for edge in part.edges:
        for k, segment in enumerate(edge.chain):
            yield segment.start, k == 0
            if isinstance(segment, Cubic):
                flat = Chain((segment,)).flattened(tolerance=NEAR)
                yield from ((Point(float(x), float(y)), False) for x, y in flat[1:-1])


def _polyline(layer: str, points: Sequence[Point], *, closed: bool) -> list[Tag]:
    tags: list[Tag] = [(0, "POLYLINE"), (8, layer), (66, "1"), (70, "1" if closed else "0")]
    for p in points:
        tags += [(0, "VERTEX"), (8, layer), *PLANE.at(p)]
    return [*tags, (0, "SEQEND"), (8, layer)]


def _point(layer: str, p: Point) -> list[Tag]:
    return [(0, "POINT"), (8, layer), *PLANE.at(p)]


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
