"""Contour darts: both ends inside the piece; drawn as one closed line, or as several."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from core.curve import Affine, Chain, Line, Point, Ring
from core.piece.contour import contour_darts
from core.piece.model import Kind, Piece, Shape
from core.piece.recognise import recognise

# 26 mm wide, 240 long, widest 110 below its upper tip.
UPPER, LOWER = Point(140.0, 120.0), Point(140.0, 360.0)
LEFT, RIGHT = Point(127.0, 230.0), Point(153.0, 230.0)
PANEL = Ring.polygon([Point(0, 0), Point(280, 0), Point(300, 600), Point(-20, 600)])
SAME = 1e-9


def _closed(points: list[Point], *words: str, kind: Kind | None = None) -> Shape:
    return Shape(5, Ring.polygon(points), words, kind=kind)


def _lines(*rows: list[Point], kind: Kind | None = None) -> list[Shape]:
    return [Shape(5 + k, Chain.through(row), kind=kind) for k, row in enumerate(rows)]


def _diamond(*, wide: float = 26.0, long: float = 240.0) -> list[Point]:
    high, half = 120.0, wide / 2
    return [
        Point(140.0, high),
        Point(140.0 + half, high + long / 2),
        Point(140.0, high + long),
        Point(140.0 - half, high + long / 2),
    ]


def test_a_closed_line_of_four_sides_is_a_contour_dart() -> None:
    (dart,) = contour_darts(PANEL, [_closed([UPPER, RIGHT, LOWER, LEFT], kind=Kind.DART)])
    assert set(dart.tips) == {UPPER, LOWER}
    assert set(dart.sides) == {LEFT, RIGHT}
    assert dart.intake == pytest.approx(26.0, abs=SAME)
    assert dart.because.sure
    assert dart.shapes == (5,)


@pytest.mark.parametrize("start", range(4))
@pytest.mark.parametrize("turned", [False, True])
def test_wherever_it_is_begun_and_whichever_way_it_runs(start: int, turned: bool) -> None:
    points = [UPPER, RIGHT, LOWER, LEFT]
    points = [*points[start:], *points[:start]]
    (dart,) = contour_darts(PANEL, [_closed(points[::-1] if turned else points)])
    assert set(dart.tips) == {UPPER, LOWER}
    around = dart.corners
    assert all(a.distance(b) > 100.0 for a, b in pairwise((*around, around[0]))), around


@pytest.mark.parametrize(
    "rows",
    [
        [[UPPER, RIGHT], [RIGHT, LOWER], [LOWER, LEFT], [LEFT, UPPER]],
        [[LOWER, RIGHT], [UPPER, LEFT], [LOWER, LEFT], [RIGHT, UPPER]],
        [[UPPER, RIGHT, LOWER], [UPPER, LEFT, LOWER]],
        [[UPPER, RIGHT, LOWER, LEFT, UPPER]],
        [[RIGHT, UPPER, LEFT], [LEFT, LOWER, RIGHT]],
    ],
    ids=["four lines", "four lines mixed", "two sides", "one open line", "two ends"],
)
@pytest.mark.parametrize("kind", [Kind.DART, None])
def test_lines_that_join_are_one_contour_dart(rows: list[list[Point]], kind: Kind | None) -> None:
    (dart,) = contour_darts(PANEL, _lines(*rows, kind=kind))
    assert set(dart.tips) == {UPPER, LOWER}
    assert dart.intake == pytest.approx(26.0, abs=SAME)
    assert set(dart.shapes) == {5 + k for k in range(len(rows))}
    assert dart.because.sure is (kind is Kind.DART), "a nameless one is never sure"


def test_sides_drawn_with_more_points_make_the_same_dart() -> None:
    points = [UPPER, UPPER.towards(RIGHT, 0.3), RIGHT, LOWER, LEFT, LEFT.towards(UPPER, 0.5)]
    (dart,) = contour_darts(PANEL, [_closed(points)])
    assert set(dart.corners) == {UPPER, RIGHT, LOWER, LEFT}


@pytest.mark.parametrize(
    ("points", "why"),
    [
        (_diamond(wide=100.0, long=240.0), "as wide as a patch set on its corner"),
        (_diamond(wide=26.0, long=500.0), "longer than a body from bust to hip"),
        (_diamond(wide=6.0, long=30.0), "a small sign"),
        ([Point(100, 200), Point(250, 200), Point(250, 212), Point(100, 212)], "a welt pocket"),
        ([Point(100, 200), Point(250, 230), Point(250, 242), Point(100, 212)], "a slanted welt"),
        ([UPPER, Point(170.0, 200.0), LOWER, Point(127.0, 330.0)], "sides of unequal length"),
        ([UPPER, RIGHT, LOWER], "three sides"),
        ([UPPER, RIGHT, LOWER, Point(145.0, 230.0)], "both sides on one hand"),
    ],
)
def test_what_is_no_contour_dart(points: list[Point], why: str) -> None:
    assert not contour_darts(PANEL, [_closed(points, kind=Kind.DART)]), why


def test_one_that_reaches_the_edge_is_no_contour_dart() -> None:
    up = Affine.move(0.0, -120.0)
    on_edge = [up.point(p) for p in (UPPER, RIGHT, LOWER, LEFT)]
    assert not contour_darts(PANEL, [_closed(on_edge)])
    beside = [p + (Point(400.0, 0.0) - Point(0.0, 0.0)) for p in on_edge]
    assert not contour_darts(PANEL, [_closed(beside)])


def test_two_of_them_are_two() -> None:
    shift = Point(60.0, 0.0) - Point(0.0, 0.0)
    first = _lines([UPPER, RIGHT, LOWER], [UPPER, LEFT, LOWER])
    second = [Shape(s.key + 10, Chain.through([c + shift for c in _points(s)])) for s in first]
    assert len(contour_darts(PANEL, [*first, *second])) == 2


def _points(shape: Shape) -> list[Point]:
    assert isinstance(shape.geometry, Chain)
    return [shape.geometry.start, *(s.end for s in shape.geometry)]


def _recognised(down: float, *shapes: Shape) -> Piece:
    """A panel, its grain line drawn at that angle of the page, and what else is on it."""
    turn = Affine.turn(math.radians(down))
    grain = Shape(2, Chain((Line(Point(60, 100), Point(60, 500)),)), ("grain",), kind=Kind.GRAIN)
    turned = [
        Shape(s.key, s.geometry.mapped(turn), s.words, kind=s.kind)
        for s in (Shape(0, PANEL, ("skirt",)), grain, *shapes)
        if isinstance(s.geometry, Chain)
    ]
    (piece,), _ = recognise(turned)
    return piece


@pytest.mark.parametrize("down", [0.0, 30.0, -75.0])
def test_the_upper_tip_comes_first_however_the_piece_lies(down: float) -> None:
    piece = _recognised(down, _closed([LOWER, LEFT, UPPER, RIGHT], "waist dart"))
    (dart,) = piece.contours
    assert not piece.darts
    assert (dart.tips[1] - dart.tips[0]).unit().dot(piece.grain.down) == pytest.approx(1.0)
    (mark,) = (m for m in piece.marks if m.shape == 5)
    assert mark.kind is Kind.DART


def test_a_large_one_that_the_file_calls_a_dart_is_sure() -> None:
    big = _diamond(wide=60.0, long=400.0)
    (dart,) = _recognised(0.0, _closed(big, "dart", kind=None)).contours
    assert dart.because.sure, dart.because.why


def test_its_side_is_not_taken_for_the_grain_line() -> None:
    """Nameless lines, the longest straight ones on the piece, and no grain line is drawn."""
    lines = _lines([UPPER, RIGHT], [RIGHT, LOWER], [LOWER, LEFT], [LEFT, UPPER])
    (piece,), _ = recognise([Shape(0, PANEL), *lines])
    assert piece.contours
    assert piece.grain.shape is None, piece.grain.because.why
