"""Splicing shapes other than paths, writing and dots: they stay what they are where they can."""

from __future__ import annotations

import pytest

from core.curve import Affine, Cubic, Line, Point, Vector
from core.files.edits import PointEdit
from tests.core.files.svg.build import (
    assert_drawn,
    assert_points,
    d_of,
    flat,
    line,
    only,
    parts_of,
    read,
    splice,
    spliced,
    svg,
    with_corner_moved,
)

STEP = Vector(0.5, 0.25)


def test_points_of_a_polygon_are_spliced_by_pairs() -> None:
    data = svg('<polygon class="k" points="0,0 10,0\n 10,10   0,10 "/>')
    old = only(data)
    assert b'"0,0 10,0\n 10.5,10.25   0,10 "' in spliced(data, 0, with_corner_moved(old, 2, STEP))
    cut = [*parts_of(old)[:1], [line(10, 0, 0, 10)], [], parts_of(old)[3]]
    assert b'points="0,0 10,0\n 0,10 "' in spliced(data, 0, cut)
    for corner in range(4):
        new = with_corner_moved(old, corner, STEP)
        out = spliced(data, 0, new)
        assert b"<polygon" in out
        assert_drawn(only(out), flat(new))


def test_points_of_a_polyline_can_be_added() -> None:
    data = svg('<polyline points="0,0,10,0,10,10"/>')
    old = only(data)
    new = [parts_of(old)[0], [line(10, 0, 12, 5), line(12, 5, 10, 10), line(10, 10, 9, 9)]]
    out = spliced(data, 0, new)
    assert b"<polyline points=" in out
    assert_drawn(only(out), flat(new))


BOW = [Cubic(Point(10, 0), Point(12, 3), Point(12, 7), Point(10, 10))]


@pytest.mark.parametrize(
    "element",
    [
        '<polygon points="0,0 10,0 10,10 0,10" {}/>',
        '<rect width="10" height="10" {}/>',
        '<rect width="10" height="10" rx="0" {}></rect>',
        '<s:rect xmlns:s="http://www.w3.org/2000/svg" width="10" height="10" {}></s:rect>',
    ],
)
def test_a_curve_makes_a_path_of_it(element: str) -> None:
    keep = 'id="a" class="outline" style="fill:none"'
    data = svg(element.format(keep))
    new = parts_of(only(data))
    new[1] = tuple(BOW)
    out = spliced(data, 0, new)
    assert_drawn(only(out), flat(new))
    assert keep.encode() in out
    assert b"rect" not in out
    assert b"path" in out
    assert b'width="10"' not in out


SHIFTS = [
    ('<rect x="1" y="2" width="9" height="7"/>', '<rect x="1.5" y="2.25" width="9" height="7"/>'),
    ('<rect width="9" height="7" rx="2"/>', '<rect width="9" height="7" rx="2" x="0.5" y="0.25"/>'),
    ('<circle cx="50" cy="50" r="4"/>', '<circle cx="50.5" cy="50.25" r="4"/>'),
    ('<ellipse cx="5e1" cy="5" rx="4" ry="3"/>', '<ellipse cx="50.5" cy="5.25" rx="4" ry="3"/>'),
    ('<line x1="1" y1="2" x2="3" y2="4"/>', '<line x1="1.5" y1="2.25" x2="3.5" y2="4.25"/>'),
]


@pytest.mark.parametrize(("element", "changed"), SHIFTS)
def test_a_shift_changes_only_the_place(element: str, changed: str) -> None:
    data = svg(element)
    new = [(type(s)(*(p + STEP for p in s.controls)),) for s in only(data)]
    assert spliced(data, 0, new) == svg(changed)


def test_a_line_that_turns_stays_a_line() -> None:
    data = svg('<line x1="1" y1="2" x2="3" y2="4"/>')
    assert spliced(data, 0, [[line(1, 2, 3, 9)]]) == svg('<line x1="1" y1="2" x2="3" y2="9"/>')


def test_a_circle_that_is_reshaped_is_a_path() -> None:
    data = svg('<circle cx="50" cy="50" r="40" class="hole"/>')
    new = [(s.mapped(Affine.scale(1, 1.5)),) for s in only(data)]
    out = spliced(data, 0, new)
    assert b'<path class="hole" d="' in out
    assert_drawn(only(out), flat(new))


def test_a_rounded_rectangle_of_which_a_side_moves_keeps_its_arcs() -> None:
    data = svg('<rect width="100" height="60" rx="10"/>')
    old = only(data)
    new = parts_of(old)
    first = old.segments[0]
    new[0] = (Line(first.start, Point(50, 0)), Line(Point(50, 0), first.end))
    out = spliced(data, 0, new)
    assert d_of(out).count("A") == 4
    assert_drawn(only(out), flat(new))


# --- writing and dots -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("element", "changed"),
    [
        ('<text x="3" y="4">a</text>', '<text x="3.5" y="4.25">a</text>'),
        (
            '<text x="3" y="4">a<tspan x="3" y="9">b</tspan><tspan dy="2">c</tspan></text>',
            '<text x="3.5" y="4.25">a<tspan x="3.5" y="9.25">b</tspan>'
            '<tspan dy="2">c</tspan></text>',
        ),
        (
            '<text x="3 4" y="4">ab</text>',
            '<text x="3 4" y="4" transform="translate(0.5,0.25)">ab</text>',
        ),
        (
            '<text transform="matrix(1 0 0 1 5 6)">ab</text>',
            '<text transform="translate(0.5,0.25) matrix(1 0 0 1 5 6)">ab</text>',
        ),
    ],
)
def test_writing_moves(element: str, changed: str) -> None:
    data = svg(element)
    reading = read(data)
    old = reading.shapes[0].geometry
    assert splice(data, reading, {0: PointEdit(0, old, old + STEP)}) == svg(changed)


@pytest.mark.parametrize("own", ['x="3" y="4"', 'x="3 9" y="4"', 'x="1mm" y="4"', ""])
def test_writing_moves_under_transforms(own: str) -> None:
    text = f'<text {own} transform="skewX(20)">a</text>'
    data = svg(f'<g transform="rotate(30) scale(2 -1)">{text}</g>')
    reading = read(data)
    old = reading.shapes[0].geometry
    out = splice(data, reading, {0: PointEdit(0, old, old + STEP)})
    assert_points([read(out).shapes[0].geometry], [old + STEP], 1e-8)


def test_writing_and_dots_can_go() -> None:
    data = svg('<text x="1" y="1">a</text><path d="M5 5h0M9 9l0 0"/>')
    reading = read(data)
    edits = {k: PointEdit(k, reading.shapes[k].geometry, None) for k in (0, 1)}
    out = splice(data, reading, edits)
    assert [s.geometry for s in read(out).shapes] == [Point(9, 9)]
    edits[2] = PointEdit(2, Point(9, 9), None)
    assert splice(data, reading, edits) == svg("")


def test_dots_move() -> None:
    data = svg('<path d="m5 5h0m4 4l0 0m1 1h5"/>')
    reading = read(data)
    out = splice(data, reading, {0: PointEdit(0, Point(5, 5), Point(7, 6))})
    assert [s.geometry for s in read(out).shapes[:2]] == [Point(7, 6), Point(9, 9)]
    assert read(out).shapes[2].geometry == reading.shapes[2].geometry


# --- anything, anywhere -----------------------------------------------------------------
