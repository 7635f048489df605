"""The digging trousers as a drawing of the year 2000 format, millimetres by its header."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import count

from core.curve import Line, Point
from sample_pieces.drawing import trousers
from sample_pieces.drawing.dxf import Plane, Tag, encoded, header, section

PLANE = Plane(height=trousers.HEIGHT, decimals=4)
LETTER = 18.0
MILLIMETRES = "4"
# Fixed handles, so that every drawing of the file is the same; entities get theirs above these.
TABLES = {
    "VPORT": "1",
    "LTYPE": "2",
    "LAYER": "3",
    "STYLE": "4",
    "VIEW": "5",
    "UCS": "6",
    "APPID": "7",
    "DIMSTYLE": "8",
    "BLOCK_RECORD": "9",
}
MODEL = "20"
SPACES = (("*Model_Space", MODEL), ("*Paper_Space", "21"))
LINES = ("Continuous", "16")
ROOT, GROUPS = "30", "31"
FIRST_ENTITY = 0x40
NEXT_HANDLE = "FFF"


def draw() -> bytes:
    tags = header(
        [
            ("$ACADVER", 1, "AC1015"),
            ("$DWGCODEPAGE", 3, "ANSI_1252"),
            ("$HANDSEED", 5, NEXT_HANDLE),
            ("$INSUNITS", 70, MILLIMETRES),
            ("$MEASUREMENT", 70, "1"),
        ]
    )
    tags += section("CLASSES", [])
    tags += section("TABLES", _tables())
    tags += section("BLOCKS", [tag for name, key in SPACES for tag in _space(name, key)])
    tags += section("ENTITIES", _entities())
    tags += section("OBJECTS", _objects())
    return encoded([*tags, (0, "EOF")])


def _tables() -> list[Tag]:
    rows = {
        "LTYPE": [_linetype(n, h) for n, h in (("ByBlock", "14"), ("ByLayer", "15"), LINES)],
        "LAYER": [_layer(n, h) for n, h in (("0", "10"), ("GRAIN", "11"), ("KNEE", "12"))],
        "STYLE": [_text_style()],
        "APPID": [_record("APPID", "18", "RegAppTableRecord", "ACAD")],
        "BLOCK_RECORD": [_space_record(n, h) for n, h in SPACES],
    }
    return [tag for name, key in TABLES.items() for tag in _table(name, key, rows.get(name, []))]


def _table(name: str, key: str, rows: list[list[Tag]]) -> list[Tag]:
    top: list[Tag] = [(0, "TABLE"), (2, name), (5, key), (330, "0")]
    top += [(100, "AcDbSymbolTable"), (70, str(len(rows)))]
    if name == "DIMSTYLE":
        top.append((100, "AcDbDimStyleTable"))
    return [*top, *(tag for row in rows for tag in row), (0, "ENDTAB")]


def _record(table: str, key: str, kind: str, name: str, *, flags: bool = True) -> list[Tag]:
    tags: list[Tag] = [(0, table), (5, key), (330, TABLES[table])]
    tags += [(100, "AcDbSymbolTableRecord"), (100, f"AcDb{kind}"), (2, name)]
    return [*tags, (70, "0")] if flags else tags


def _linetype(name: str, key: str) -> list[Tag]:
    row = _record("LTYPE", key, "LinetypeTableRecord", name)
    return [*row, (3, ""), (72, "65"), (73, "0"), (40, "0.0")]


def _layer(name: str, key: str) -> list[Tag]:
    return [*_record("LAYER", key, "LayerTableRecord", name), (62, "7"), (6, LINES[0])]


def _text_style() -> list[Tag]:
    row = _record("STYLE", "17", "TextStyleTableRecord", "Standard")
    sizes: list[Tag] = [(40, "0.0"), (41, "1.0"), (50, "0.0"), (71, "0"), (42, "2.5")]
    return [*row, *sizes, (3, "txt"), (4, "")]


def _space_record(name: str, key: str) -> list[Tag]:
    return [*_record("BLOCK_RECORD", key, "BlockTableRecord", name, flags=False), (340, "0")]


def _space(name: str, key: str) -> list[Tag]:
    """The empty block that stands for a space; its handles follow that of its record."""
    begin, end = (f"{int(key, 16) + k:X}" for k in (4, 6))
    origin = [(10, "0.0"), (20, "0.0"), (30, "0.0")]
    tags: list[Tag] = [(0, "BLOCK"), (5, begin), (330, key), (100, "AcDbEntity"), (8, "0")]
    tags += [(100, "AcDbBlockBegin"), (2, name), (70, "0"), *origin, (3, name), (1, "")]
    tags += [(0, "ENDBLK"), (5, end), (330, key), (100, "AcDbEntity"), (8, "0")]
    return [*tags, (100, "AcDbBlockEnd")]


def _objects() -> list[Tag]:
    tags: list[Tag] = [(0, "DICTIONARY"), (5, ROOT), (330, "0"), (100, "AcDbDictionary")]
    tags += [(281, "1"), (3, "ACAD_GROUP"), (350, GROUPS)]
    tags += [(0, "DICTIONARY"), (5, GROUPS), (330, ROOT), (100, "AcDbDictionary"), (281, "1")]
    return tags


def _entities() -> list[Tag]:
    handles = (f"{k:X}" for k in count(FIRST_ENTITY))
    return [tag for block in trousers.blocks() for tag in _piece(block, handles)]


def _piece(block: trousers.Block, handles: Iterator[str]) -> list[Tag]:
    return [
        *_outline(block.steps, handles),
        *_line(block.part.grain, "GRAIN", handles),
        *_line(block.knee, "KNEE", handles),
        *_text(block.part.label, block.part.name, handles),
    ]


def _entity(kind: str, layer: str, handles: Iterator[str]) -> list[Tag]:
    return [(0, kind), (5, next(handles)), (330, MODEL), (100, "AcDbEntity"), (8, layer)]


def _outline(steps: Sequence[trousers.Step], handles: Iterator[str]) -> list[Tag]:
    """Closed; y points up in the file, so that every bulge turns its sign."""
    tags = _entity("LWPOLYLINE", "0", handles)
    tags += [(100, "AcDbPolyline"), (90, str(len(steps))), (70, "1")]
    for s in steps:
        tags += PLANE.at(s.start)
        if s.bulge != 0.0:
            tags.append((42, f"{-s.bulge:.10f}"))
    return tags


def _line(line: Line, layer: str, handles: Iterator[str]) -> list[Tag]:
    tags = [*_entity("LINE", layer, handles), (100, "AcDbLine"), *PLANE.at(line.start)]
    return [*tags, (30, "0.0"), *PLANE.to(line.end), (31, "0.0")]


def _text(at: Point, words: str, handles: Iterator[str]) -> list[Tag]:
    tags = [*_entity("TEXT", "0", handles), (100, "AcDbText"), *PLANE.at(at), (30, "0.0")]
    # 72 = 1: centred on the second point.
    tags += [(40, f"{LETTER}"), (1, words), (72, "1"), *PLANE.to(at), (31, "0.0")]
    return [*tags, (100, "AcDbText")]
