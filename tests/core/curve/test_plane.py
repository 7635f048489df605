"""Points, vectors, boxes and affine maps."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.curve import Affine, Box, Point, Vector
from core.errors import CurveError
from tests.core.curve.shapes import affines, angles, close, directions, points, same_point, shares


@given(points, points)
def test_a_point_and_the_way_to_another_give_the_other(a: Point, b: Point) -> None:
    same_point(a + (b - a), b, 1e-12, "a + (b - a)")
    same_point(a.moved(b - a, 1.0), b, 1e-12, "moved once")
    close(a.distance(b), (b - a).norm, 0.0, "distance against norm")


@given(points, points, shares)
def test_towards_shares_the_distance(a: Point, b: Point, share: float) -> None:
    close(a.towards(b, share).distance(a), share * a.distance(b), 1e-9, "way from a")
    assert a.towards(b, 0.0) == a, "no share stays"


def test_cross_is_positive_from_x_to_y() -> None:
    x, y = Vector(1, 0), Vector(0, 1)
    assert x.cross(y) == 1.0
    assert x.square() == y, "a right angle from x towards y"
    close(x.angle_to(y), math.pi / 2, 1e-15, "angle from x to y")


@given(directions, angles)
def test_turned_by_an_angle_is_that_angle_away(v: Vector, angle: float) -> None:
    assume(abs(angle) < 3.1)
    close(v.angle_to(v.turned(angle)), angle, 1e-12, "angle to the turned vector")


@given(directions)
def test_square_is_a_turn_by_a_right_angle(v: Vector) -> None:
    assert (v.square() - v.turned(math.pi / 2)).norm <= 1e-15
    assert v.dot(v.square()) == 0.0, "exactly square"


@pytest.mark.parametrize("v", [Vector(1, 0), Vector(-1, 0), Vector(0, 1), Vector(0, -1)])
def test_straight_back_is_plus_pi_also_from_minus_zero(v: Vector) -> None:
    assert v.angle_to(-v) == math.pi, f"wanted pi, got {v.angle_to(-v)}"


def test_the_null_vector_has_no_direction() -> None:
    with pytest.raises(ZeroDivisionError):
        Vector(0.0, 0.0).unit()


@given(directions, st.floats(1e-150, 1e150))
def test_unit_has_length_1_at_any_size(v: Vector, size: float) -> None:
    close((v * size).unit().norm, 1.0, 1e-14, "length of a unit vector")


@given(affines, affines, points)
def test_composition_does_the_right_one_first(f: Affine, g: Affine, p: Point) -> None:
    same_point((f @ g).point(p), f.point(g.point(p)), 1e-9, "f @ g")


@given(affines, affines)
def test_area_factors_multiply(f: Affine, g: Affine) -> None:
    close((f @ g).determinant, f.determinant * g.determinant, 1e-11, "determinant")


@given(affines, points, points)
def test_vectors_forget_the_move(f: Affine, p: Point, q: Point) -> None:
    off = f.vector(q - p) - (f.point(q) - f.point(p))
    assert off.norm <= 1e-10, f"vector: wanted the difference of the points, off by {off}"


@given(affines, points)
def test_the_inverse_undoes(f: Affine, p: Point) -> None:
    assume(abs(f.determinant) > 1e-3)
    same_point(f.inverse().point(f.point(p)), p, 1e-6, "inverse after")
    same_point(f.point(f.inverse().point(p)), p, 1e-6, "inverse before")


@pytest.mark.parametrize(
    "flat",
    [
        Affine.scale(0.0),
        Affine.scale(1.0, 0.0),
        Affine(1.0, 2.0, 2.0, 4.0),
        Affine.scale(1e-200),
        Affine(1e-312, 0.0, 0.0, 1e-10),
        Affine(1e200, 0.0, 0.0, 1e200),
        Affine(math.nan, 0.0, 0.0, 1.0),
        Affine(math.inf, 0.0, 0.0, 1.0),
    ],
)
def test_a_map_that_cannot_be_undone_is_refused(flat: Affine) -> None:
    with pytest.raises(CurveError, match="cannot be undone"):
        flat.inverse()


@given(angles, points, points)
def test_a_turn_keeps_its_centre_and_all_distances(angle: float, c: Point, p: Point) -> None:
    turn = Affine.turn(angle, c)
    same_point(turn.point(c), c, 1e-11, "centre of the turn")
    close(turn.point(p).distance(c), p.distance(c), 1e-11, "distance from the centre")
    close(turn.determinant, 1.0, 1e-14, "area factor of a turn")


@given(angles, points)
def test_a_turn_agrees_with_turned_vectors(angle: float, p: Point) -> None:
    o = Point(0.0, 0.0)
    same_point(Affine.turn(angle).point(p), o + (p - o).turned(angle), 1e-12, "turn")


def test_scale_and_move() -> None:
    assert Affine.scale(2.0).point(Point(1, 2)) == Point(2, 4)
    assert Affine.scale(2.0, -1.0).point(Point(1, 2)) == Point(2, -2)
    assert Affine.scale(1.0, -1.0).determinant < 0.0, "a mirror has a negative area factor"
    assert Affine.move(1.0, -1.0).point(Point(1, 2)) == Point(2, 1)


@given(st.lists(points, min_size=1, max_size=6), st.lists(points, min_size=1, max_size=6))
def test_boxes_join(some: list[Point], others: list[Point]) -> None:
    both = Box.around(some) | Box.around(others)
    assert both == Box.around([*some, *others])
    assert both.holds(Box.around(some))
    assert both.holds(Box.around(others))
    assert both.width >= 0.0
    assert both.height >= 0.0


def test_a_box_by_hand() -> None:
    box = Box.around([Point(1, 5), Point(4, 3)])
    assert (box.width, box.height, box.centre) == (3, 2, Point(2.5, 4))
    assert not box.holds(Box(0.5, 3, 4, 5))
    assert box.holds(Box(0.5, 3, 4, 5), margin=0.5), "grown by the margin"


def test_a_box_around_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="around nothing"):
        Box.around([])
