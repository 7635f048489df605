"""Blocks where they are inserted: turned, mirrored, scaled, nested; ezdxf is the reference."""

from __future__ import annotations

import math

import ezdxf
import pytest
from dxf_made import as_bytes, paths
from ezdxf.document import Drawing
from ezdxf.entities import DXFEntity, Insert
from ezdxf.math import Vec3
from hypothesis import given, settings
from hypothesis import strategies as st

from core.curve import Chain, Point
from core.errors import FileError
from core.files.dxf import read_dxf

TOLERANCE = 5e-5


def piece_block(document: Drawing, name: str = "A", **more: object) -> None:
    block = document.blocks.new(name, base_point=(3, -2), **more)
    block.add_lwpolyline([(0, 0, 0.4), (60, 5, 0), (50, 90, -0.2)], format="xyb", close=True)
    block.add_line((0, 0), (20, 30))
    block.add_arc((5, 5), 10, 30, 200)
    block.add_circle((9, 9), 4)
    block.add_ellipse((1, 2), (9, 3), 0.4, 0.5, 5.0)
    block.add_spline().control_points = [(0, 0), (10, 30), (20, -5), (40, 10), (44, 3)]
    block.query("SPLINE")[0].dxf.degree = 3
    block.query("SPLINE")[0].knots = [0, 0, 0, 0, 0.5, 1, 1, 1, 1]


def own_points(entity: DXFEntity) -> list[Vec3]:
    """A dozen points of an entity in its own block, by ezdxf's exact formulas."""
    kind = entity.dxftype()
    if kind == "LWPOLYLINE":
        return [p for part in entity.virtual_entities() for p in own_points(part)]
    if kind == "LINE":
        return [entity.dxf.start, entity.dxf.end]
    if kind == "SPLINE":
        return list(entity.construction_tool().approximate(12))
    if kind == "ELLIPSE":
        return list(entity.vertices(entity.params(12)))
    angles = entity.angles(12) if kind == "ARC" else range(0, 360, 30)
    return list(entity.vertices(angles))


def reference(insert: Insert) -> list[list[Point]]:
    """Points of everything in the insert, moved by ezdxf's own transformation."""
    out = []
    matrix = insert.matrix44()
    for entity in insert.block():
        if isinstance(entity, Insert):
            nested = [[Vec3(p.x, -p.y) for p in ps] for ps in reference(entity)]
        else:
            nested = [own_points(entity)]
        for ps in nested:
            out.append([Point(p.x, -p.y) for p in matrix.transform_vertices(ps)])
    return out


def check(document: Drawing) -> None:
    (insert,) = document.modelspace().query("INSERT")
    shapes = paths(read_dxf("a.dxf", as_bytes(document)))
    wanted = reference(insert)
    assert len(shapes) == len(wanted)
    for shape, points in zip(shapes, wanted, strict=True):
        chain = shape.geometry
        assert isinstance(chain, Chain)
        off = max(chain.nearest(p).distance for p in points)
        assert off < TOLERANCE, f"wanted ezdxf's place, got {off} mm beside it, tol {TOLERANCE}"


numbers = st.floats(-200, 200).map(lambda x: round(x, 3))
sizes = st.sampled_from([1.0, -1.0, 2.0, 0.5, 25.4])


@settings(max_examples=25, deadline=None)
@given(numbers, numbers, st.floats(-360, 360), sizes, sizes)
def test_any_insert_lies_where_ezdxf_puts_it(x, y, angle, sx, sy) -> None:
    document = ezdxf.new("R2010", units=4)
    piece_block(document)
    look = {"rotation": angle, "xscale": sx, "yscale": sy}
    document.modelspace().add_blockref("A", (x, y), dxfattribs=look)
    check(document)


@settings(max_examples=10, deadline=None)
@given(numbers, st.floats(-360, 360), sizes, sizes)
def test_nested_inserts_lie_where_ezdxf_puts_them(x, angle, sx, sy) -> None:
    document = ezdxf.new("R2010", units=4)
    piece_block(document)
    outer = document.blocks.new("B", base_point=(1, 1))
    outer.add_blockref("A", (7, x), dxfattribs={"rotation": 30, "xscale": -1.5, "yscale": 1.5})
    look = {"rotation": angle, "xscale": sx, "yscale": sx}
    document.modelspace().add_blockref("B", (x, sy), dxfattribs=look)
    check(document)


def test_mirrored_plane_of_an_insert() -> None:
    document = ezdxf.new("R2010", units=4)
    piece_block(document)
    look = {"rotation": 40, "extrusion": (0, 0, -1)}
    document.modelspace().add_blockref("A", (10, 20), dxfattribs=look)
    check(document)


def test_groups_count_inserts_and_words_name_blocks() -> None:
    document = ezdxf.new("R2010", units=4)
    document.blocks.new("LEG").add_line((0, 0), (10, 50), dxfattribs={"layer": "cut"})
    for x in (0, 100):
        document.modelspace().add_blockref("LEG", (x, 0))
    document.modelspace().add_line((0, 0), (30, 30))
    got = [(s.group, s.group_name, s.words) for s in read_dxf("a.dxf", as_bytes(document)).shapes]
    assert got == [(0, "LEG", ("cut", "LEG")), (1, "LEG", ("cut", "LEG")), (None, "", ("0",))]


def test_nested_symbol_belongs_to_the_piece_around_it() -> None:
    document = ezdxf.new("R12")
    document.blocks.new("NICK").add_line((0, 0), (0, 3), dxfattribs={"layer": "4"})
    block = document.blocks.new("LEG")
    block.add_polyline2d([(0, 0), (50, 0), (50, 90)], close=True, dxfattribs={"layer": "1"})
    block.add_blockref("NICK", (25, 0), dxfattribs={"layer": "4"})
    block.add_text("Units: METRIC", dxfattribs={"layer": "1"})
    document.modelspace().add_blockref("LEG", (0, 0))
    shapes = read_dxf("a.dxf", as_bytes(document)).shapes
    assert {s.group for s in shapes} == {0}


def test_rows_and_columns_of_one_insert() -> None:
    document = ezdxf.new("R2010", units=4)
    document.blocks.new("A").add_line((0, 0), (10, 0))
    look = {"row_count": 2, "column_count": 3, "row_spacing": 40, "column_spacing": 20}
    document.modelspace().add_blockref("A", (1, 0), dxfattribs=look | {"rotation": 90})
    starts = {s.geometry.start for s in paths(read_dxf("a.dxf", as_bytes(document)))}
    wanted = {Point(1.0 - 40 * j, -20.0 * i) for i in range(3) for j in range(2)}
    assert starts == wanted


def test_block_inserted_into_itself_is_refused() -> None:
    document = ezdxf.new("R2010", units=4)
    a, b = document.blocks.new("A"), document.blocks.new("B")
    a.add_line((0, 0), (10, 10))
    a.add_blockref("B", (0, 0))
    b.add_blockref("A", (0, 0))
    document.modelspace().add_blockref("A", (0, 0))
    with pytest.raises(FileError, match=r"ring\.dxf, line \d+: .*inserted into itself"):
        read_dxf("ring.dxf", as_bytes(document))


def test_blocks_within_blocks_that_explode_are_refused() -> None:
    document = ezdxf.new("R2010", units=4)
    document.blocks.new("L0").add_line((0, 0), (10, 10))
    for k in range(1, 9):
        block = document.blocks.new(f"L{k}")
        for n in range(10):
            block.add_blockref(f"L{k - 1}", (n, 0))
    document.modelspace().add_blockref("L8", (0, 0))
    with pytest.raises(FileError, match="blocks within blocks"):
        read_dxf("bomb.dxf", as_bytes(document))


def test_uneven_scale_makes_an_ellipse_of_an_arc() -> None:
    document = ezdxf.new("R2010", units=4)
    document.blocks.new("A").add_circle((0, 0), 10)
    look = {"xscale": 3.0, "yscale": 1.0}
    document.modelspace().add_blockref("A", (0, 0), dxfattribs=look)
    (shape,) = paths(read_dxf("a.dxf", as_bytes(document)))
    worst = 0.0
    for s in shape.geometry:
        for k in range(11):
            p = s.at(k / 10)
            worst = max(worst, abs(math.hypot(p.x / 30, p.y / 10) - 1.0) * 30)
    assert worst < 1e-4, f"wanted the ellipse 30 x 10, got {worst} mm beside it, tol 1e-4"
