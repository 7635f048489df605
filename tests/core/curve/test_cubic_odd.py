"""Cubics with missing handles, cusps, loops; tangents, curvature, bounds of them."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.curve import Affine, Cubic, Point, Vector
from core.curve.arcs import elliptical_arc
from tests.core.curve.shapes import (
    angles,
    close,
    free_cubics,
    odd_cubics,
    points,
    same_point,
    shares,
)

A, B, C = Point(0, 0), Point(30, 40), Point(100, 0)


def same_way(got: Vector, wanted: Vector, tolerance: float, what: str) -> None:
    """Fail unless two directions differ by less than `tolerance` radians."""
    off = abs(got.angle_to(wanted))
    assert off <= tolerance, f"{what}: wanted {wanted}, got {got}, {off} rad, {tolerance}"


@given(free_cubics, shares)
def test_tangent_is_the_direction_of_the_derivative(c: Cubic, t: float) -> None:
    v = c.derivative(t)
    assume(v.norm > 1e-3)
    close(c.tangent(t).norm, 1.0, 1e-14, "length of a tangent")
    same_way(c.tangent(t), v, 1e-9, "tangent")


@pytest.mark.parametrize(
    ("c", "t", "wanted"),
    [
        (Cubic(A, A, B, C), 0.0, B - A),
        (Cubic(A, B, C, C), 1.0, C - B),
        (Cubic(A, A, A, C), 0.0, C - A),
        (Cubic(A, C, C, C), 1.0, C - A),
        (Cubic(A, A, C, C), 0.0, C - A),
        (Cubic(A, A, C, C), 1.0, C - A),
        (Cubic(A, A, B, B), 0.0, B - A),
    ],
)
def test_tangent_at_a_missing_handle_is_its_limit(c: Cubic, t: float, wanted: Vector) -> None:
    same_way(c.tangent(t), wanted, 1e-12, "tangent at a missing handle")
    near = c.at(abs(t - 1e-5)) - c.at(t)
    same_way(c.tangent(t), near if t == 0.0 else -near, 1e-4, "against the curve beside it")


@given(points, points, points, angles, points)
def test_a_missing_handle_is_seen_wherever_the_page_lies(
    a: Point, b: Point, c: Point, angle: float, about: Point
) -> None:
    assume(min(a.distance(b), b.distance(c)) > 1.0)
    there = Affine.turn(angle, about)
    first = Cubic(a, a, b, c).mapped(there).tangent(0.0)
    same_way(first, there.vector(b - a), 1e-9, "tangent at the start")
    last = Cubic(a, b, c, c).mapped(there).tangent(1.0)
    same_way(last, there.vector(c - b), 1e-9, "tangent at the end")


@given(points, points, points, st.floats(0.05, 0.95))
def test_a_split_keeps_missing_handles_missing(a: Point, b: Point, c: Point, t: float) -> None:
    assert Cubic(a, a, b, c).split(t)[0].c1 == a, "first handle"
    assert Cubic(a, b, c, c).split(t)[1].c2 == c, "last handle"


@given(odd_cubics, shares)
def test_tangents_of_odd_cubics_are_unit_or_null(c: Cubic, t: float) -> None:
    norm = c.tangent(t).norm
    assert norm == 0.0 or abs(norm - 1.0) <= 1e-14, f"wanted 0 or 1, got {norm}"
    if c.start != c.end:
        assert norm > 0.0, "a curve that goes somewhere has a direction everywhere"


@given(st.one_of(odd_cubics, free_cubics), st.lists(shares, max_size=5))
def test_many_tangents_are_each_what_one_is(c: Cubic, ts: list[float]) -> None:
    many = c.tangents(np.array([0.0, *ts, 1.0]))
    for t, (x, y) in zip([0.0, *ts, 1.0], many.tolist(), strict=True):
        same = Vector(x, y) - c.tangent(t)
        assert same.norm <= 1e-12, f"wanted {c.tangent(t)} at {t}, got {(x, y)}"


def test_a_single_point_has_no_direction_and_no_curvature() -> None:
    c = Cubic(B, B, B, B)
    assert (c.tangent(0.5), c.curvature(0.5)) == (Vector(0, 0), 0.0)


@pytest.mark.parametrize("radius", [0.1, 5.0, 250.0, 1e5])
@pytest.mark.parametrize("sweep", [1.0, -1.0])
def test_curvature_of_circles(radius: float, sweep: float) -> None:
    for c in elliptical_arc(Point(7, -3), radius, radius, start=0.4, sweep=sweep):
        for t in (0.0, 0.3, 0.5, 1.0):
            got = c.curvature(t) * radius
            # The curvature of the usual cubic is off by far more than its place.
            close(got, math.copysign(1.0, sweep), 0.01, "curvature times radius")


def test_curvature_of_a_parabola() -> None:
    # y = x^2 has curvature 2 / (1 + 4 x^2)^(3/2): closed form.
    c = Cubic(Point(0, 0), Point(1 / 3, 0), Point(2 / 3, 1 / 3), Point(1, 1))
    for t in (0.0, 0.25, 0.5, 1.0):
        close(c.curvature(t), 2.0 / (1.0 + 4.0 * t * t) ** 1.5, 1e-13, "curvature")


@given(free_cubics, st.floats(0.05, 0.95))
def test_curvature_is_the_turn_per_length(c: Cubic, t: float) -> None:
    h = 1e-5
    assume(c.derivative(t).norm > 100.0)
    turn = c.tangent(t - h).angle_to(c.tangent(t + h))
    way = c.part(t - h, t + h).length()
    close(turn / way, c.curvature(t), 1e-5 * (1.0 + abs(c.curvature(t))), "turn per length")


@given(free_cubics, shares)
def test_curvature_changes_sign_on_the_way_back_and_in_the_mirror(c: Cubic, t: float) -> None:
    assume(c.derivative(t).norm > 1.0)
    k = c.curvature(t)
    mirrored = c.mapped(Affine.scale(1.0, -1.0))
    close(mirrored.curvature(t), -k, 1e-9 * (1.0 + abs(k)), "mirrored")
    u = 1.0 - t
    assume(1.0 - u == t)
    close(c.reversed().curvature(u), -k, 1e-6 * (1.0 + abs(k)), "reversed")


def test_curvature_is_infinite_at_missing_handles_and_cusps_with_the_sign_beside_them() -> None:
    for c, t in (
        (Cubic(A, A, B, C), 0.0),
        (Cubic(A, B, C, C), 1.0),
        (Cubic(Point(0, 0), Point(100, 100), Point(0, 100), Point(100, 0)), 0.5),
    ):
        beside = c.curvature(abs(t - 1e-3))
        assert c.curvature(t) == math.copysign(math.inf, beside), f"at {t} of {c}"


@pytest.mark.parametrize(
    "c",
    [
        Cubic(A, A, C, C),
        Cubic(A, A, A, C),
        Cubic(A, C, C, C),
        Cubic(A, A, Point(50, 0), C),
        Cubic(Point(3, 4), Point(3, 4), Point(6, 8), Point(30, 40)),
    ],
)
def test_a_straight_curve_with_missing_handles_is_not_bent(c: Cubic) -> None:
    # It was infinite wherever the speed was nought, also on straight seams.
    for t in (0.0, 0.5, 1.0):
        close(c.curvature(t), 0.0, 1e-12, f"curvature at {t}")


def test_a_quadratic_is_the_same_curve_as_a_cubic() -> None:
    q = Cubic.from_quadratic(A, B, C)
    for t in (0.0, 0.2, 0.5, 1.0):
        wanted = A.towards(B, t).towards(B.towards(C, t), t)
        same_point(q.at(t), wanted, 1e-13, "from_quadratic")


def test_a_loop_meets_a_line_three_times() -> None:
    loop = Cubic(Point(0, 0), Point(200, 100), Point(-100, 100), Point(100, 0))
    ts = loop.meets(Point(50, 0), Vector(0, 1))
    assert len(ts) == 3, f"wanted three places, got {ts}"
    close(ts[1], 0.5, 1e-12, "the middle one, by symmetry")
    close(ts[0] + ts[2], 1.0, 1e-12, "the outer ones, by symmetry")


def test_a_touching_line_is_met_once() -> None:
    arch = Cubic(Point(0, 0), Point(0, 40), Point(100, 40), Point(100, 0))
    assert arch.meets(Point(-5, 30), Vector(3, 0)) == (0.5,), "at the top"
    assert arch.meets(Point(-5, 30 + 1e-6), Vector(3, 0)) == (), "just above"
    assert len(arch.meets(Point(-5, 30 - 1e-6), Vector(3, 0))) == 2, "just below"


def test_a_curve_along_the_line_gives_nothing() -> None:
    straight = Cubic(A, A.towards(B, 0.3), A.towards(B, 0.8), B)
    assert straight.meets(A, B - A) == ()
    assert straight.meets(A, Vector(0, 0)) == (), "and a line without direction neither"


def test_bounds_of_a_symmetric_arch() -> None:
    box = Cubic(Point(0, 0), Point(0, 40), Point(100, 40), Point(100, 0)).bounds()
    # Its top is at 3/4 of its handles: closed form.
    assert (box.x0, box.y0, box.x1) == (0.0, 0.0, 100.0)
    close(box.y1, 30.0, 1e-13, "top of the arch")
