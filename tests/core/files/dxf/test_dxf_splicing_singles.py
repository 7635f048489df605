"""Lines, arcs, ellipses, splines, points and writing: altered and written back."""

from __future__ import annotations

import io

import ezdxf
import pytest
from dxf_made import (
    as_bytes,
    audited,
    changed_lines,
    edit,
    farthest,
    moved,
    paths,
    polyline,
    reread,
    stretched,
)

from core.curve import Affine, Chain, Cubic, Point, Vector
from core.files.dxf import read_dxf, splice_dxf
from core.files.edits import PathEdit, PointEdit

WITHIN = 0.02


def one_entity(add, version: str = "R2010"):
    document = ezdxf.new(version, units=4)
    add(document.modelspace())
    data = as_bytes(document)
    reading = read_dxf("a.dxf", data)
    return data, reading, paths(reading)[0]


SINGLES = {
    "LINE": lambda m: m.add_line((0, 0), (30, 40)),
    "ARC": lambda m: m.add_arc((10, 10), 50, 20, 130),
    "CIRCLE": lambda m: m.add_circle((10, 10), 50),
    "ELLIPSE": lambda m: m.add_ellipse((1, 2), (90, 30), 0.4, 0.5, 5.0),
    "SPLINE": lambda m: m.add_open_spline([(0, 0), (10, 30), (20, -5), (40, 10), (44, 3)]),
}


@pytest.mark.parametrize("kind", SINGLES)
def test_moved_whole_it_stays_what_it_is(kind) -> None:
    data, reading, shape = one_entity(SINGLES[kind])
    by = Vector(12.5, -7.25)
    after = splice_dxf(reading.source, data, {0: moved(shape, by)})
    (entity,) = audited(after).modelspace()
    assert entity.dxftype() == kind
    again = paths(reread(after))[0].geometry
    off = farthest(again, shape.geometry.mapped(Affine.move(by.x, by.y)))
    assert off < 1e-8, f"wanted it moved by {by}, got {off} mm beside it, tol 1e-8"


@pytest.mark.parametrize("kind", SINGLES)
@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_bent_into_something_else_it_is_still_true(kind, version) -> None:
    if version == "R12" and kind in ("ELLIPSE", "SPLINE"):
        return
    data, reading, shape = one_entity(SINGLES[kind], version)
    first, last = shape.geometry.segments[0], shape.geometry.segments[-1]
    away = Point(last.end.x + 30.0, last.end.y + 55.0)
    tail = Cubic(last.end, last.end.moved(last.tangent(1.0), 20.0), Point(away.x, away.y - 9), away)

    def change(k, s):
        return (s, tail) if s is last else (s,)

    after = splice_dxf(reading.source, data, {0: edit(shape, change)})
    audited(after)
    again = paths(reread(after))
    wanted = Chain((*shape.geometry.segments, tail))
    got = Chain(tuple(s for a in again for s in a.geometry.segments))
    off = farthest(got, wanted)
    assert off <= WITHIN, f"wanted within {WITHIN} mm, got {off}"
    assert got.start.distance(first.start) < 1e-6
    if kind == "SPLINE":
        assert off < 1e-7, f"a spline is rewritten exactly, got {off}"
    assert {s.words for s in again} == {("0",)}


def test_shortened_arc_stays_an_arc() -> None:
    data, reading, shape = one_entity(SINGLES["ARC"])
    change = edit(shape, lambda k, s: (s.split(0.3)[1],) if k == 0 else (s,))
    after = splice_dxf(reading.source, data, {0: change})
    (arc,) = audited(after).modelspace()
    assert arc.dxftype() == "ARC"
    assert arc.dxf.radius == pytest.approx(50.0, abs=1e-4)
    gone, _ = changed_lines(data, after)
    assert len(gone) == 1, f"wanted only the first angle to go, got {gone}"


def test_line_over_new_corners_becomes_several() -> None:
    data, reading, shape = one_entity(SINGLES["LINE"])
    new = polyline((0, 0), (10, -20), (25, -20), (30, -40))
    after = splice_dxf(reading.source, data, {0: PathEdit(0, shape.geometry.segments, (new,))})
    lines = list(audited(after).modelspace())
    assert [e.dxftype() for e in lines] == ["LINE"] * 3
    assert len({e.dxf.handle for e in lines}) == 3
    assert tuple(s.geometry.segments[0] for s in paths(reread(after))) == new
    seed = int(ezdxf.read(io.StringIO(after.decode())).header["$HANDSEED"], 16)
    assert seed > max(int(e.dxf.handle, 16) for e in lines)


@pytest.mark.parametrize("kind", SINGLES)
def test_removed_it_is_gone(kind) -> None:
    data, reading, shape = one_entity(lambda m: (SINGLES[kind](m), m.add_line((0, 0), (1, 1))))
    after = splice_dxf(reading.source, data, {0: edit(shape, lambda *_: ())})
    assert [e.dxftype() for e in audited(after).modelspace()] == ["LINE"]


def test_points_and_writing_move_with_their_second_point() -> None:
    def draw(msp):
        msp.add_line((0, 0), (30, 40))
        msp.add_point((3, 4, 2.5), dxfattribs={"angle": 30})
        msp.add_text("x").set_placement((5, 6), align=ezdxf.enums.TextEntityAlignment.MIDDLE)
        msp.add_mtext("y", dxfattribs={"insert": (7, 8)})

    data, reading, _ = one_entity(draw)
    by = Vector(1.5, -10.0)
    edits = {
        s.key: PointEdit(s.key, s.geometry, s.geometry + by)
        for s in reading.shapes
        if isinstance(s.geometry, Point)
    }
    document = audited(splice_dxf(reading.source, data, edits))
    point, text, mtext = list(document.modelspace())[1:]
    assert tuple(point.dxf.location) == (4.5, 14.0, 2.5)
    assert point.dxf.angle == 30
    assert tuple(text.dxf.align_point)[:2] == (6.5, 16.0)
    assert tuple(mtext.dxf.insert)[:2] == (8.5, 18.0)
    gone = splice_dxf(reading.source, data, {1: PointEdit(1, Point(3, -4), None)})
    assert [e.dxftype() for e in audited(gone).modelspace()] == ["LINE", "TEXT", "MTEXT"]


def test_places_of_a_spline_that_stay_were_written_with_other_digits() -> None:
    """Of two Bezier curves joined, the second one's end moved: the first one keeps its text."""
    document = ezdxf.new("R2010", units=4)
    spline = document.modelspace().add_spline()
    spline.control_points = [(k * 100 / 7, k * k / 3, 0) for k in range(7)]
    spline.knots = [0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 2]
    data = as_bytes(document)
    reading = read_dxf("a.dxf", data)
    end = reading.shapes[0].geometry.end
    edit_ = stretched(reading.shapes[0], lambda p: p == end, Vector(5.0, 5.0))
    after = splice_dxf(reading.source, data, {0: edit_})
    for k in range(6):
        assert f"\n 10\n{k * 100 / 7!r}\n 20\n{k * k / 3!r}\n".encode() in after, k
    audited(after)
