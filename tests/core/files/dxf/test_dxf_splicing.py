"""Writing back: only what was altered differs, and the result is sound and true."""

from __future__ import annotations

import math
import subprocess
import sys

import ezdxf
import pytest
from dxf_made import (
    as_bytes,
    audited,
    by_hand,
    changed_lines,
    edit,
    farthest,
    line_text,
    moved,
    paths,
    polyline,
    reread,
    stretched,
)
from hypothesis import given, settings
from hypothesis import strategies as st

from core.curve import Affine, Chain, Cubic, Line, Point, Ring, Vector
from core.errors import FileError
from core.files.dxf import read_dxf, splice_dxf
from core.files.edits import PathEdit

WITHIN = 0.02
OUTLINE = [(0.1, 0.2), (100.25, 0.2), (100.25, 300.5), (50, 310, 0.25), (0.1, 300.5)]


def outline_file(version: str, *, crlf: bool = False) -> bytes:
    document = ezdxf.new(version, units=4)
    msp = document.modelspace()
    points = [(*p, 0.0) if len(p) == 2 else p for p in OUTLINE]
    if version == "R12":
        msp.add_polyline2d(points, format="xyb", close=True, dxfattribs={"layer": "cut"})
    else:
        msp.add_lwpolyline(points, format="xyb", close=True, dxfattribs={"layer": "cut"})
    msp.add_text("left alone", dxfattribs={"insert": (5, 5)})
    return as_bytes(document, crlf=crlf)


FILES = [("R12", True), ("R12", False), ("R2000", False), ("R2018", True), ("R2018", False)]


@pytest.mark.parametrize(("version", "crlf"), FILES)
def test_no_edit_gives_the_same_bytes(version, crlf) -> None:
    data = outline_file(version, crlf=crlf)
    assert splice_dxf(read_dxf("a.dxf", data).source, data, {}) == data


@pytest.mark.parametrize(("version", "crlf"), FILES)
def test_only_the_moved_numbers_differ(version, crlf) -> None:
    """Two corners of the hem go down by 20 mm: two lines of the file change, no more."""
    data = outline_file(version, crlf=crlf)
    reading = read_dxf("a.dxf", data)
    shape = paths(reading)[0]
    change = stretched(shape, lambda p: p.y > -1.0, Vector(0.0, 20.0))
    after = splice_dxf(reading.source, data, {shape.key: change})
    gone, come = changed_lines(data, after)
    end = b"\r\n" if crlf else b"\n"
    assert gone == [b"0.2" + end] * 2
    assert come == [b"-19.8" + end] * 2
    audited(after)
    wanted = Ring(tuple(s for new in change.new for s in new))
    assert farthest(paths(reread(after))[0].geometry, wanted) < 1e-9


@pytest.mark.parametrize(("version", "crlf"), FILES)
def test_added_vertices_carry_layer_and_fresh_handles(version, crlf) -> None:
    """The first side goes on over a new corner and a curve; a step at the other end goes."""
    data = outline_file(version, crlf=crlf)
    reading = read_dxf("a.dxf", data)
    shape = paths(reading)[0]
    a, b = shape.geometry.segments[0].start, shape.geometry.segments[0].end
    corner, joint = Point(20.0, 30.0), Point(60.0, 40.0)
    bend = Cubic(joint, Point(70.0, 42.0), Point(90.0, 30.0), b)

    def change(k, s):
        return (Line(a, corner), Line(corner, joint), bend) if k == 0 else (s,)

    after = splice_dxf(reading.source, data, {shape.key: edit(shape, change)})
    document = audited(after)
    again = paths(reread(after))[0].geometry
    wanted = Ring((*change(0, None), *shape.geometry.segments[1:]))
    off = farthest(again, wanted)
    assert off <= WITHIN, f"wanted within {WITHIN} mm, got {off}"
    (line,) = document.modelspace().query("LWPOLYLINE POLYLINE")
    if version == "R12":
        handles = [v.dxf.handle for v in line.vertices]
        assert len(set(handles)) == len(handles)
        assert {v.dxf.layer for v in line.vertices} == {"cut"}
    gone, _ = changed_lines(data, after)
    assert len(gone) <= 2, f"wanted at most count and handle seed to go, got {gone}"


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_arc_that_goes_on_keeps_its_circle(version) -> None:
    """Half of a bulge is kept, the rest is replaced: two vertices more, the same radius."""
    data = outline_file(version)
    reading = read_dxf("a.dxf", data)
    shape = paths(reading)[0]
    arc = [k for k, s in enumerate(shape.geometry) if isinstance(s, Cubic)]
    half, last = arc[len(arc) // 2], arc[-1]
    cut = shape.geometry.segments[half].start
    end = shape.geometry.segments[last].end

    def change(k, s):
        if k == half:
            return (Line(cut, end),)
        return () if half < k <= last else (s,)

    after = splice_dxf(reading.source, data, {0: edit(shape, change)})
    audited(after)
    again = paths(reread(after))[0].geometry
    wanted = Ring(tuple(x for k, s in enumerate(shape.geometry) for x in change(k, s)))
    off = farthest(again, wanted)
    assert off < 5e-5, f"wanted the kept half on its circle, got {off} mm beside it, tol 5e-5"
    assert len(changed_lines(data, after)[0]) <= 3


def test_spline_fitted_polyline_becomes_a_plain_one() -> None:
    """Vertices that a program fitted are drawn; those of the frame are not (VERTEX, code 70)."""
    rows = [(0, 0, 16), (0, 0, 8), (20, 12.5, 8), (40, 0, 8), (20, 30, 16), (40, 0, 16)]
    vertices = "".join(f"|0|VERTEX|8|0|10|{x}|20|{y}|70|{f}" for x, y, f in rows)
    data = by_hand(f"0|POLYLINE|8|0|66|1|70|4|75|6{vertices}|0|SEQEND|8|0")
    reading = read_dxf("a.dxf", data)
    shape = reading.shapes[0]
    assert shape.geometry.segments == polyline((0, 0), (20, -12.5), (40, 0))
    change = stretched(shape, lambda p: p.x == 40, Vector(0.0, 5.0))
    after = splice_dxf(reading.source, data, {0: change})
    (line,) = audited(after).modelspace()
    assert line.dxf.flags == 0
    assert [v.dxf.flags for v in line.vertices] == [0, 0, 0]
    assert reread(after).shapes[0].geometry.segments == polyline((0, 0), (20, -12.5), (40, 5))


def test_line_in_space_takes_chords_for_a_curve() -> None:
    """A 3D polyline knows no bulges."""
    document = ezdxf.new("R2010", units=4)
    document.modelspace().add_polyline3d([(0, 0, 7), (50, 0, 7), (90, 40, 7)])
    data = as_bytes(document)
    reading = read_dxf("a.dxf", data)
    shape = paths(reading)[0]
    bend = Cubic(Point(0, 0), Point(10, 15), Point(40, 15), Point(50, 0))
    after = splice_dxf(reading.source, data, {0: edit(shape, lambda k, s: (s,) if k else (bend,))})
    (line,) = audited(after).modelspace()
    assert {v.dxf.location.z for v in line.vertices} == {7}
    off = farthest(paths(reread(after))[0].geometry, Chain((bend, shape.geometry.segments[1])))
    assert off <= WITHIN, f"wanted within {WITHIN} mm, got {off}"


def test_repeated_vertex_stays_where_nothing_moved() -> None:
    entity = "0|LWPOLYLINE|8|0|90|5|70|1|10|0|20|0|10|9|20|0|10|9|20|0|10|9|20|9|10|0|20|0"
    data = by_hand(entity)
    reading = read_dxf("a.dxf", data)
    change = stretched(reading.shapes[0], lambda p: p.y == -9, Vector(1.0, 0.0))
    gone, come = changed_lines(data, splice_dxf(reading.source, data, {0: change}))
    assert (gone, come) == ([b"9\n"], [b"10.0\n"])
    change = stretched(reading.shapes[0], lambda p: p == Point(9, 0), Vector(1.0, 0.0))
    after = splice_dxf(reading.source, data, {0: change})
    wanted = polyline((0, 0), (10, 0), (9, -9), (0, 0))
    assert reread(after).shapes[0].geometry.segments == wanted


def test_other_programs_data_stays_with_the_old_and_is_not_doubled() -> None:
    document = ezdxf.new("R2010", units=4)
    document.appids.add("MAKER")
    line = document.modelspace().add_line((0, 0), (30, 40))
    line.set_xdata("MAKER", [(1000, "mine"), (1010, (1, 2, 3))])
    line.set_reactors(["0"])
    data = as_bytes(document)
    reading = read_dxf("a.dxf", data)
    new = polyline((0, 0), (10, -20), (30, -40))
    shape = paths(reading)[0]
    after = splice_dxf(reading.source, data, {0: PathEdit(0, shape.geometry.segments, (new,))})
    audited(after)
    assert after.count(b"mine") == 1
    assert after.count(b"ACAD_REACTORS") == data.count(b"ACAD_REACTORS")


def test_removed_steps_take_their_vertices_along() -> None:
    data = outline_file("R2010")
    reading = read_dxf("a.dxf", data)
    shape = paths(reading)[0]
    segments = shape.geometry.segments
    straight = Line(segments[2].start, segments[-1].start)
    new = tuple(
        (straight,) if k == 2 else () if 2 < k < len(segments) - 1 else (s,)
        for k, s in enumerate(segments)
    )
    after = splice_dxf(reading.source, data, {0: PathEdit(0, segments, new)})
    (line,) = audited(after).modelspace().query("LWPOLYLINE")
    assert len(line) == 4
    assert paths(reread(after))[0].geometry == Ring((*segments[:2], straight, segments[-1]))


def test_hole_in_an_open_line_makes_two_of_it() -> None:
    for version in ("R12", "R2010"):
        document = ezdxf.new(version, units=4)
        points = [(0, 0), (10, 5), (20, 0), (30, 5), (40, 0)]
        if version == "R12":
            document.modelspace().add_polyline2d(points)
        else:
            document.modelspace().add_lwpolyline(points)
        data = as_bytes(document)
        reading = read_dxf("a.dxf", data)
        shape = paths(reading)[0]
        change = edit(shape, lambda k, s: () if k in (1, 2) else (s,))
        after = splice_dxf(reading.source, data, {0: change})
        audited(after)
        got = [s.geometry.segments for s in paths(reread(after))]
        old = shape.geometry.segments
        assert got == [old[:1], old[3:]]


def test_hole_in_a_closed_line_opens_it() -> None:
    data = outline_file("R2010")
    reading = read_dxf("a.dxf", data)
    shape = paths(reading)[0]
    after = splice_dxf(reading.source, data, {0: edit(shape, lambda k, s: () if k == 1 else (s,))})
    audited(after)
    again = paths(reread(after))[0].geometry
    old = shape.geometry.segments
    assert not isinstance(again, Ring)
    assert again.segments == (*old[2:], old[0])


def test_kept_numbers_keep_odd_spellings() -> None:
    """Spaces, plus signs and long decimals of untouched numbers come out as they went in."""
    entity = "0|LWPOLYLINE|8|0|90|3|70|0|10|  +0.10000000000000001|20|1E1|10|5.50|20|0|10|9|20|9.0"
    data = by_hand(entity)
    reading = read_dxf("a.dxf", data)
    change = stretched(reading.shapes[0], lambda p: p.x == 9.0, Vector(1.25, 0.0))
    after = splice_dxf(reading.source, data, {0: change})
    gone, come = changed_lines(data, after)
    assert (gone, come) == ([b"9\n"], [b"10.25\n"])


@st.composite
def bulge_lines(draw):
    n = draw(st.integers(3, 8))
    angles = [2 * math.pi * k / n for k in range(n)]
    radii = [draw(st.floats(50, 300)) for _ in range(n)]
    bulges = [draw(st.sampled_from([0.0, 0.0, 0.3, -0.4, 1.0, 0.05])) for _ in range(n)]
    points = [(r * math.cos(a), r * math.sin(a)) for r, a in zip(radii, angles, strict=True)]
    return [(round(x, 4), round(y, 4), b) for (x, y), b in zip(points, bulges, strict=True)]


@settings(max_examples=30, deadline=None)
@given(bulge_lines(), st.booleans(), st.sampled_from(["R12", "R2010"]), st.floats(-90, 90))
def test_any_bulge_line_comes_back_after_a_turn(points, closed, version, angle) -> None:
    """Turned as a whole: read again it is the turned line, as good as exactly."""
    document = ezdxf.new(version, units=4)
    add = document.modelspace()
    add = add.add_polyline2d if version == "R12" else add.add_lwpolyline
    add(points, format="xyb", close=closed)
    data = as_bytes(document)
    reading = read_dxf("a.dxf", data)
    shape = paths(reading)[0]
    turn = Affine.turn(math.radians(angle))
    change = edit(shape, lambda _, s: (s.mapped(turn),))
    after = splice_dxf(reading.source, data, {0: change})
    again = paths(reread(after))[0].geometry
    off = farthest(again, shape.geometry.mapped(turn), samples=4)
    assert off < 5e-5, f"wanted the turned line, got {off} mm beside it, tol 5e-5"
    assert len(again) == len(shape.geometry)


def test_inches_are_written_back_in_inches() -> None:
    data = by_hand(line_text(1, 2, 3, 4.5), header=("$INSUNITS", "70", "1"))
    reading = read_dxf("a.dxf", data)
    change = stretched(reading.shapes[0], lambda p: p.y < -100, Vector(0.0, -25.4))
    gone, come = changed_lines(data, splice_dxf(reading.source, data, {0: change}))
    assert (gone, come) == ([b"4.5\n"], [b"5.5\n"])


def test_other_bytes_than_were_read_are_refused() -> None:
    data = by_hand(line_text(1, 2, 3, 4))
    reading = read_dxf("a.dxf", data)
    with pytest.raises(FileError, match="Open it again"):
        splice_dxf(reading.source, data + b"\n", {0: moved(reading.shapes[0], Vector(1, 0))})


@pytest.mark.parametrize("entity", [line_text(0, 0, 30, 40), "0|CIRCLE|8|0|10|0|20|0|40|9"])
def test_edit_that_changes_nothing_leaves_the_bytes(entity) -> None:
    data = by_hand(entity)
    reading = read_dxf("a.dxf", data)
    same = edit(reading.shapes[0], lambda _, s: (s,))
    assert splice_dxf(reading.source, data, {0: same}) == data


def test_many_vertices_take_time_in_proportion() -> None:
    """Quadratic work on 20,000 vertices would take minutes; the test's own limit ends it."""
    n = 20_000
    turn = 2 * math.pi / n
    rows = "".join(
        f"|10|{5000 * math.cos(turn * k):.4f}|20|{5000 * math.sin(turn * k):.4f}" for k in range(n)
    )
    data = by_hand(f"0|LWPOLYLINE|8|0|90|{n}|70|1{rows}")
    reading = read_dxf("a.dxf", data)
    shape = reading.shapes[0]
    middle = shape.geometry.segments[n // 2].start
    change = stretched(shape, lambda p: p == middle, Vector(-1.5, 0.0))
    after = splice_dxf(reading.source, data, {0: change})
    assert data[:1000] == after[:1000]
    gone = [a for a, b in zip(data.split(), after.split(), strict=True) if a != b]
    assert len(gone) == 1


def test_plain_files_do_not_load_the_helper_library() -> None:
    """It costs 0.2 s and writes a font cache where the person did not ask for one."""
    code = (
        "import sys; from core.files.dxf import read_dxf; "
        f"read_dxf('a.dxf', {by_hand(line_text(0, 0, 30, 40))!r}); "
        "sys.exit('ezdxf' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
