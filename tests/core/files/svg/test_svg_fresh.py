"""A fresh SVG of pieces reads back as the same shapes, at true scale."""

from __future__ import annotations

from dataclasses import replace

import pytest

from core.curve import Chain, Cubic, Line, Point, Ring, Vector
from core.errors import FileError
from core.files.across import pattern_of_pieces
from core.files.svg import fresh_svg
from core.piece.model import Because, Dart, Grain, Kind, Mark, Origin, Outline, Piece, Shape
from tests.core.files.svg.build import assert_drawn, assert_points, read

SURE = Because(True, "drawn so")
RING = Ring(
    (
        Line(Point(20, 20), Point(220.123456789, 20)),
        Cubic(Point(220.123456789, 20), Point(215, 90), Point(211, 180), Point(210, 300)),
        Line(Point(210, 300), Point(30, 300)),
        Cubic(Point(30, 300), Point(25, 200), Point(22, 90), Point(20, 20)),
    )
)
INNER = Ring.polygon([Point(30, 30), Point(200, 30), Point(200, 290), Point(35, 290)])


def outline(ring: Ring) -> Outline:
    return Outline(ring, tuple(Origin(0, k) for k in range(len(ring))))


MARKS = (
    Mark(Kind.GRAIN, 1, Chain.through([Point(100, 60), Point(100, 200)])),
    Mark(Kind.NOTCH, 2, Chain.through([Point(215, 90), Point(209, 90)])),
    Mark(Kind.DRILL, 3, Point(120, 130)),
    Mark(Kind.INNER, 4, Chain((RING.segments[1],))),
    Mark(Kind.TEXT, 5, Point(60, 80), "Front <left> & right\ncut 2\u0007"),
)
PIECE = Piece(
    3,
    "Front Leg",
    outline(RING),
    Grain(Vector(0, 1), SURE, 1),
    stitching=outline(INNER),
    darts=(Dart((Point(80, 20), Point(100, 20)), Point(90, 120), SURE),),
    marks=MARKS,
)


def shapes_of(*pieces: Piece) -> tuple[Shape, ...]:
    reading = read(fresh_svg(pattern_of_pieces(pieces)))
    assert reading.unit.mm_per_unit == 1.0
    assert reading.unit.because.sure
    assert reading.problems == ()
    return reading.shapes


def one(shapes: tuple[Shape, ...], word: str) -> Shape:
    (found,) = [s for s in shapes if word in s.words]
    return found


def test_every_shape_comes_back_with_its_class() -> None:
    shapes = shapes_of(PIECE)
    assert_drawn(one(shapes, "outline").geometry, RING.segments, 1e-9)
    assert_drawn(one(shapes, "stitching").geometry, INNER.segments, 1e-9)
    assert_drawn(one(shapes, "grain").geometry, MARKS[0].geometry.segments, 1e-9)
    assert_drawn(one(shapes, "notch").geometry, MARKS[1].geometry.segments, 1e-9)
    assert_drawn(one(shapes, "inner").geometry, MARKS[3].geometry.segments, 1e-9)
    assert_drawn(
        one(shapes, "dart").geometry,
        Chain.through([Point(80, 20), Point(90, 120), Point(100, 20)]).segments,
        1e-9,
    )
    assert_points([one(shapes, "drill").geometry], [Point(120, 130)], 1e-9)
    assert isinstance(one(shapes, "outline").geometry, Ring)


def test_writing_comes_back_line_by_line() -> None:
    text = one(shapes_of(PIECE), "text")
    assert text.text == "Front <left> & right\ncut 2"
    assert text.kind is Kind.TEXT
    assert_points([text.geometry], [Point(60, 80)], 1e-9)


def test_each_piece_is_a_group_with_its_name() -> None:
    shapes = shapes_of(PIECE, replace(PIECE, name="Front Leg"), replace(PIECE, name="12 é"))
    names = [s.group_name for s in shapes if "outline" in s.words]
    assert names == ["Front Leg", "Front Leg", "12 é"]
    assert len({s.group for s in shapes}) == 3
    assert "front-leg-2" in shapes[len(shapes) // 2].words


def test_a_grain_line_is_drawn_where_none_is_marked() -> None:
    grain = one(shapes_of(replace(PIECE, stitching=None, marks=())), "grain").geometry
    assert grain.tangent(grain.at_length(1.0)) == Vector(0, 1)
    box = RING.bounds()
    assert box.holds(grain.bounds())


def test_pieces_left_of_the_origin_move_onto_the_page() -> None:
    away = [type(s)(*(p + Vector(-500, -400) for p in s.controls)) for s in RING]
    shapes = shapes_of(replace(PIECE, outline=outline(Ring(tuple(away))), stitching=None, marks=()))
    box = one(shapes, "outline").geometry.bounds()
    assert box.x0 == pytest.approx(10, abs=1.0)
    assert box.width == pytest.approx(RING.bounds().width, abs=1e-9)


def test_nothing_to_write_is_said() -> None:
    with pytest.raises(FileError, match="no pattern piece"):
        fresh_svg(pattern_of_pieces([]))
