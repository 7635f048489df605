"""What lines and cubics promise alike, for any of them."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import integrate

from core.curve import Affine, Cubic, Line, Point, Segment, Vector
from core.errors import CurveError
from tests.core.curve.shapes import (
    affines,
    angles,
    close,
    coordinates,
    cubics,
    directions,
    points,
    same_point,
    sampled,
    segments,
    shares,
)

# Rounding of coordinates of up to 6,000 mm, a few times over.
ROUNDING = 1e-11


def test_the_comparisons_can_fail() -> None:
    with pytest.raises(AssertionError, match=r"wanted 1.0, got 2.0, tolerance 0.5"):
        close(2.0, 1.0, 0.5, "length")
    with pytest.raises(AssertionError, match=r"tolerance 0.5"):
        same_point(Point(0, 0), Point(1, 0), 0.5, "end")


@given(segments)
def test_at_gives_the_ends_exactly(s: Segment) -> None:
    assert (s.at(0.0), s.at(1.0)) == (s.start, s.end), "at(0), at(1) are the very ends"
    flat = s.points(np.array([0.0, 1.0]))
    assert flat.tolist() == [[s.start.x, s.start.y], [s.end.x, s.end.y]], "and in points()"


@given(segments, shares)
def test_points_agree_with_at(s: Segment, t: float) -> None:
    x, y = s.points(np.array([t]))[0]
    same_point(Point(x, y), s.at(t), ROUNDING, "points() against at()")


@given(segments, shares, shares)
def test_split_parts_rejoin_and_lie_on_the_curve(s: Segment, t: float, u: float) -> None:
    before, after = s.split(t)
    assert before.start == s.start, "the first part starts where the whole does"
    assert before.end == after.start == s.at(t), "the parts join exactly in at(t)"
    assert after.end == s.end, "the last part ends where the whole does"
    same_point(before.at(u), s.at(u * t), ROUNDING, "first part")
    same_point(after.at(u), s.at(t + u * (1.0 - t)), ROUNDING, "second part")


@given(segments, shares, shares, shares)
def test_part_is_the_curve_between(s: Segment, a: float, b: float, u: float) -> None:
    t0, t1 = sorted((a, b))
    part = s.part(t0, t1)
    assert (part.start, part.end) == (s.at(t0), s.at(t1)), "part ends exactly in at(t0), at(t1)"
    same_point(part.at(u), s.at(t0 + u * (t1 - t0)), 2 * ROUNDING, "inside the part")


@given(segments)
def test_the_part_from_0_to_1_is_the_very_same(s: Segment) -> None:
    assert s.part(0.0, 1.0) == s, "part(0, 1)"


@pytest.mark.parametrize("t", [-1e-12, 1.0 + 1e-12, math.nan, math.inf])
def test_split_outside_is_refused(t: float) -> None:
    a, b = Point(0, 0), Point(1, 0)
    for s in (Line(a, b), Cubic(a, a, b, b)):
        with pytest.raises(CurveError):
            s.split(t)
        with pytest.raises(CurveError):
            s.part(0.0, t)


def test_a_part_that_runs_backward_is_refused() -> None:
    a, b = Point(0, 0), Point(1, 0)
    for s in (Line(a, b), Cubic(a, a, b, b)):
        with pytest.raises(CurveError):
            s.part(0.7, 0.3)


@given(segments, st.floats(0.01, 0.99))
def test_derivative_is_the_finite_difference(s: Segment, t: float) -> None:
    h = 1e-4
    # Five points: exact for polynomials of degree 4, so only rounding is left.
    ahead, ahead2, back, back2 = s.at(t + h), s.at(t + 2 * h), s.at(t - h), s.at(t - 2 * h)
    slope = ((ahead - back) * 8.0 - (ahead2 - back2)) / (12.0 * h)
    assert (slope - s.derivative(t)).norm <= 1e-7, (
        f"derivative: wanted {slope}, got {s.derivative(t)}, tolerance 1e-7"
    )


@given(cubics, shares)
def test_higher_derivatives_are_those_of_the_derivative(s: Cubic, t: float) -> None:
    h = 1e-3
    second = (s.derivative(t + h) - s.derivative(t - h)) / (2.0 * h)
    third = (s.second_derivative(t + h) - s.second_derivative(t - h)) / (2.0 * h)
    assert (second - s.second_derivative(t)).norm <= 1e-6, "second, tolerance 1e-6"
    assert (third - s.third_derivative()).norm <= 1e-6, "third, tolerance 1e-6"


@given(segments)
def test_reversed_twice_is_the_very_same(s: Segment) -> None:
    assert s.reversed().reversed() == s, "reversed twice"


@given(segments, shares)
def test_reversed_runs_backward(s: Segment, t: float) -> None:
    same_point(s.reversed().at(1.0 - t), s.at(t), ROUNDING, "reversed")


@given(segments, affines, shares)
def test_mapped_commutes_with_at(s: Segment, by: Affine, t: float) -> None:
    same_point(s.mapped(by).at(t), by.point(s.at(t)), 1e-10, "mapped")


@given(segments)
def test_bounds_hold_the_curve_and_are_tight(s: Segment) -> None:
    box, flat = s.bounds(), sampled(s)
    low, high = flat.min(axis=0), flat.max(axis=0)
    # Between samples 1/2000 apart the curve bulges by at most h^2 / 8 of its second
    # derivative, which is below 6 x 16,000 mm.
    for got, wanted, sign in (
        (box.x0, low[0], -1),
        (box.y0, low[1], -1),
        (box.x1, high[0], 1),
        (box.y1, high[1], 1),
    ):
        beyond = sign * (got - wanted)
        assert -ROUNDING <= beyond <= 0.004, (
            f"bounds: wanted {wanted}, got {got}, tolerance 0.004 outside, {ROUNDING} inside"
        )


@given(segments, points)
def test_nearest_beats_every_sample(s: Segment, p: Point) -> None:
    found = s.nearest(p)
    assert 0.0 <= found.t <= 1.0
    assert found.point == s.at(found.t), "the point is at(t)"
    assert found.distance == found.point.distance(p), "the distance is that of the point"
    flat = sampled(s)
    best = float(np.hypot(flat[:, 0] - p.x, flat[:, 1] - p.y).min())
    assert found.distance <= best + 2e-9, (
        f"nearest: wanted at most {best}, got {found.distance}, tolerance 2e-9"
    )


@given(segments, shares, points)
def test_nearest_leaves_no_sliver_beside_an_end(s: Segment, t: float, p: Point) -> None:
    for found in (s.nearest(p), s.nearest(s.at(t))):
        end = s.start if found.t < 0.5 else s.end
        gap = found.point.distance(end)
        assert gap == 0.0 or gap > 1e-9, f"a sliver of {gap} mm at t {found.t}"


@given(segments, shares)
def test_nearest_to_a_point_of_the_curve_is_that_point(s: Segment, t: float) -> None:
    # Beside a cusp the distance has a double root, found to the root of the rounding only.
    close(s.nearest(s.at(t)).distance, 0.0, 1e-6, "distance of a point on the curve")


@given(segments, points, directions)
def test_meets_are_on_the_line_and_rise(s: Segment, origin: Point, along: Vector) -> None:
    found = s.meets(origin, along)
    assert list(found) == sorted(set(found)), f"rising and each once: {found}"
    for t in found:
        assert 0.0 <= t <= 1.0
        off = along.cross(s.at(t) - origin)
        assert abs(off) <= 2e-9, f"distance from the line: wanted 0, got {off}, tolerance 2e-9"


@given(segments, points, directions)
def test_meets_misses_no_crossing(s: Segment, origin: Point, along: Vector) -> None:
    flat = sampled(s)
    off = along.x * (flat[:, 1] - origin.y) - along.y * (flat[:, 0] - origin.x)
    ts = np.linspace(0.0, 1.0, len(flat))
    found = s.meets(origin, along)
    for k in np.flatnonzero((off[:-1] < -1e-9) != (off[1:] < -1e-9)):
        if min(abs(off[k]), abs(off[k + 1])) < 1e-8:
            continue
        inside = [t for t in found if ts[k] <= t <= ts[k + 1]]
        assert inside, f"a crossing between t {ts[k]} and {ts[k + 1]} is not in {found}"


@given(segments, shares, directions)
def test_a_line_through_a_point_of_the_curve_meets_it_there(
    s: Segment, t: float, along: Vector
) -> None:
    off = [abs(along.cross(p - s.at(t))) for p in s.controls]
    assume(max(off) > 1.0)
    through = s.at(t)
    nearest = min((s.at(u).distance(through) for u in s.meets(through, along)), default=math.inf)
    # A touching place is only as sharp as the square root of rounding.
    assert nearest <= 0.01, f"meets: wanted a place at {through}, nearest {nearest} mm away"


@given(segments, shares, shares)
def test_length_is_the_sum_over_a_split(s: Segment, a: float, b: float) -> None:
    before, after = s.split(a)
    close(before.length() + after.length(), s.length(), 3e-9, "length of two parts")
    close(s.length_to(a), before.length(), 2e-9, "length_to against the part")
    assert s.length_to(0.0) == 0.0
    close(s.length_to(1.0), s.length(), 0.0, "length_to(1)")
    if a < b:
        assert s.length_to(a) <= s.length_to(b) + 2e-9, "length_to rises"


@given(segments)
def test_length_lies_between_chord_and_control_polygon(s: Segment) -> None:
    cs = s.controls
    polygon = sum(a.distance(b) for a, b in itertools.pairwise(cs))
    chord = s.start.distance(s.end)
    assert chord - 1e-9 <= s.length() <= polygon + 1e-9, (
        f"length: wanted from {chord} to {polygon}, got {s.length()}"
    )


@given(segments, shares)
def test_length_of_at_length_is_that_length(s: Segment, share: float) -> None:
    wanted = share * s.length()
    t = s.at_length(wanted)
    assert 0.0 <= t <= 1.0
    close(s.length_to(t), wanted, 3e-9, "length_to(at_length(s))")


@given(segments, st.floats(0.0, 1e6))
def test_at_length_is_kept_on_the_curve(s: Segment, beyond: float) -> None:
    assert s.at_length(-beyond) == 0.0, "before the start"
    if s.length() > 0.0:
        assert s.at_length(s.length() + beyond) == 1.0, "beyond the end"


@given(segments, angles, points, coordinates)
def test_length_does_not_depend_on_how_the_page_lies(
    s: Segment, angle: float, about: Point, dx: float
) -> None:
    there = Affine.move(dx, -dx) @ Affine.scale(1.0, -1.0) @ Affine.turn(angle, about)
    close(s.mapped(there).length(), s.length(), 3e-9, "length after turn, mirror and move")


@given(segments)
def test_area_term_is_the_integral(s: Segment) -> None:
    def share(t: float) -> float:
        p, v = s.at(t), s.derivative(t)
        return (p.x * v.y - p.y * v.x) / 2.0

    # Degree 5: three Gauss nodes are exact.
    wanted, _ = integrate.fixed_quad(np.vectorize(share), 0.0, 1.0, n=3)
    close(s.area_term(), float(wanted), 1e-7, "area term (mm^2)")
