"""Open and self-crossing outlines: the sentence says where, in mm."""

from __future__ import annotations

from core.curve import Chain, Point, Ring
from core.piece.model import Shape
from core.piece.recognise import recognise
from core.piece.unsound import crossing, where_crossing, where_open


def open_square(gap: float, *, right: float = 0.0) -> list[Shape]:
    rows = [(0, 0), (200, 0), (200, 500), (0, 500), (0, gap)]
    return [Shape(0, Chain.through(Point(x + right, y) for x, y in rows))]


def test_open_outline_tells_its_ends_and_the_gap() -> None:
    said = where_open(open_square(3.5))
    assert "x 0.0, y 0.0 mm and x 0.0, y 3.5 mm are 3.5 mm apart" in said, said


def test_lines_that_go_nowhere_are_no_outline() -> None:
    short = [Shape(0, Chain.through((Point(0, 0), Point(30, 0))))]
    straight = [Shape(0, Chain.through((Point(0, 0), Point(0, 900))))]
    two = [*open_square(3.5), *open_square(8.0, right=900.0)]
    for shapes in (short, straight, two, []):
        assert where_open(shapes) == ""


def test_beside_grain_and_fold_the_open_outline_is_told_all_the_same() -> None:
    """Hardly a pattern is without straight lines; parts that meet in corners are one outline."""
    (square,) = open_square(3.5)
    assert isinstance(square.geometry, Chain)
    parts = [Shape(k, Chain((s,))) for k, s in enumerate(square.geometry.segments)]
    grain = Shape(8, Chain.through((Point(100, 50), Point(100, 450))))
    fold = Shape(9, Chain.through((Point(20, 100), Point(20, 400))))
    for outline in ([square], parts):
        said = where_open([*outline, grain, fold])
        assert "3.5 mm apart" in said, said


def test_crossing_lies_where_the_two_lines_meet() -> None:
    """A bow of two triangles: the diagonals of the rectangle 200 x 500 meet in its middle."""
    bow = Ring.polygon([Point(0, 0), Point(200, 500), Point(200, 0), Point(0, 500)])
    at = crossing(bow)
    assert at is not None
    assert at.distance(Point(100, 250)) < 1e-6
    assert "x 100.0, y 250.0 mm" in where_crossing("Front", bow)


def test_plain_and_dented_outlines_cross_nowhere() -> None:
    square = Ring.polygon([Point(0, 0), Point(200, 0), Point(200, 500), Point(0, 500)])
    dart = Ring.polygon(
        [Point(0, 0), Point(99, 0), Point(100, 90), Point(101, 0), Point(200, 0), Point(90, 500)]
    )
    assert crossing(square) is None
    assert crossing(dart) is None


def test_recognition_names_the_crossing() -> None:
    bow = Ring.polygon([Point(0, 0), Point(200, 500), Point(190, 0), Point(10, 500)])
    _, problems = recognise([Shape(0, bow)])
    assert any("crosses itself at" in p for p in problems), problems
