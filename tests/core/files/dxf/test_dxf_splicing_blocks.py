"""Alterations inside blocks: by the inverse map, or in a copy for one insert alone."""

from __future__ import annotations

import ezdxf
import pytest
from dxf_made import (
    as_bytes,
    audited,
    changed_lines,
    farthest,
    moved,
    paths,
    reread,
    stretched,
)

from core.curve import Affine, Ring, Vector
from core.errors import FileError
from core.files.dxf import read_dxf, splice_dxf


def placed(*looks: dict, version: str = "R2010") -> bytes:
    document = ezdxf.new(version, units=4)
    block = document.blocks.new("LEG", base_point=(3, 1))
    points = [(0, 0, 0.3), (60, 0, 0), (50, 90, 0)]
    if version == "R12":
        block.add_polyline2d(points, format="xyb", close=True)
    else:
        block.add_lwpolyline(points, format="xyb", close=True)
    block.add_line((5, 5), (40, 20))
    for k, look in enumerate(looks):
        document.modelspace().add_blockref("LEG", (200 * k, 30), dxfattribs=look)
    return as_bytes(document)


LOOKS = [
    {},
    {"rotation": 90},
    {"rotation": 33, "xscale": -1},
    {"xscale": 2.0, "yscale": 2.0},
    {"xscale": 1.5, "yscale": 0.5, "rotation": 20},
]


@pytest.mark.parametrize("look", LOOKS)
def test_edit_inside_a_block_inserted_once(look) -> None:
    data = placed(look)
    reading = read_dxf("a.dxf", data)
    shape = paths(reading)[0]
    corner = shape.geometry.segments[-1].start
    by = Vector(4.0, -9.0)
    change = stretched(shape, lambda p: p == corner, by)
    after = splice_dxf(reading.source, data, {0: change})
    audited(after)
    wanted = Ring(tuple(s for new in change.new for s in new))
    off = farthest(paths(reread(after))[0].geometry, wanted)
    assert off < 1e-6, f"wanted the corner moved by {by}, got {off} mm beside it, tol 1e-6"
    gone, come = changed_lines(data, after)
    assert len(gone) == len(come) <= 2


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_block_inserted_twice_is_copied_for_the_altered_one(version) -> None:
    data = placed({}, {"rotation": 30}, version=version)
    reading = read_dxf("a.dxf", data)
    shapes = paths(reading)
    second = shapes[2]
    assert second.group == 1
    corner = second.geometry.segments[-1].start
    change = stretched(second, lambda p: p == corner, Vector(4.0, -9.0))
    after = splice_dxf(reading.source, data, {second.key: change})
    document = audited(after)
    assert [e.dxf.name for e in document.modelspace()] == ["LEG", "LEG_2"]
    again = paths(reread(after))
    wanted = Ring(tuple(s for new in change.new for s in new))
    assert farthest(again[2].geometry, wanted) < 1e-6
    for k in (0, 1, 3):
        assert again[k].geometry == shapes[k].geometry
    gone, _ = changed_lines(data, after)
    assert len(gone) <= 2, f"wanted only the INSERT's name and the handle seed to go, got {gone}"


def test_both_inserts_altered_get_a_copy_each() -> None:
    data = placed({}, {"rotation": 30})
    reading = read_dxf("a.dxf", data)
    shapes = paths(reading)
    edits = {k: moved(shapes[k], Vector(float(k + 1), 0.0)) for k in (0, 2)}
    after = splice_dxf(reading.source, data, edits)
    audited(after)
    again = paths(reread(after))
    for k in (0, 2):
        by = Affine.move(k + 1.0, 0.0)
        assert farthest(again[k].geometry, shapes[k].geometry.mapped(by)) < 1e-6


def test_one_of_a_grid_cannot_be_altered_alone() -> None:
    data = placed({"column_count": 2, "column_spacing": 100})
    reading = read_dxf("a.dxf", data)
    with pytest.raises(FileError, match="Explode it"):
        splice_dxf(reading.source, data, {0: moved(paths(reading)[0], Vector(1, 0))})


def test_edit_two_blocks_deep() -> None:
    document = ezdxf.new("R2010", units=4)
    document.blocks.new("IN").add_line((0, 0), (30, 40))
    document.blocks.new("OUT").add_blockref("IN", (5, 5), dxfattribs={"rotation": 90})
    document.modelspace().add_blockref("OUT", (1, 2), dxfattribs={"xscale": 2, "yscale": 2})
    data = as_bytes(document)
    reading = read_dxf("a.dxf", data)
    shape = paths(reading)[0]
    end = shape.geometry.end
    change = stretched(shape, lambda p: p == end, Vector(6.0, -4.0))
    after = splice_dxf(reading.source, data, {0: change})
    got = paths(reread(after))[0].geometry
    assert got.end.distance(end + Vector(6.0, -4.0)) < 1e-8
    assert got.start == shape.geometry.start
