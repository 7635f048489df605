"""The direction in which a seam runs out at its end."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.curve import Chain, Cubic, Line, Point, Vector
from core.piece.direction import end_direction, end_fit


def _degrees(a: Vector, b: Vector) -> float:
    return abs(math.degrees(a.angle_to(b)))


def _row(points: list[tuple[float, float]]) -> tuple[Line, ...]:
    chain = Chain.through(Point(x, y) for x, y in points)
    return tuple(s for s in chain if isinstance(s, Line))


@given(
    step=st.floats(4.0, 10.0),
    which=st.integers(0, 100),
    off=st.floats(-0.2, 0.2),
    angle=st.floats(0.0, 6.28),
)
@settings(max_examples=200, deadline=None)
def test_one_noisy_point_hardly_swings_it(
    step: float, which: int, off: float, angle: float
) -> None:
    down = Vector(0.0, 1.0).turned(angle)
    ends = [Point(0, 0).moved(down, step * k) for k in range(int(150 / step) + 1)]
    k = which % len(ends)
    ends[k] = ends[k].moved(down.square(), off)
    got = end_direction(tuple(Line(a, b) for a, b in pairwise(ends)))
    assert _degrees(got, down) < 0.15, f"swung by {_degrees(got, down)} degrees (limit 0.15)"


@pytest.mark.parametrize("radius", [300.0, 500.0, 900.0, 2000.0])
@pytest.mark.parametrize("step", [2.0, 5.0, 10.0])
def test_a_sampled_circle_gives_the_tangent_at_its_end(radius: float, step: float) -> None:
    count = int(200.0 / step)
    angles = [-step * k / radius for k in range(count, -1, -1)]
    got = end_direction(_row([(radius * math.cos(a), radius * math.sin(a)) for a in angles]))
    off = _degrees(got, Vector(0.0, 1.0))
    assert off <= 0.5, f"wanted straight down, got {off} degrees off (+-0.5)"


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize("step", [2.0, 4.0, 8.0])
def test_noise_on_every_point_of_a_straight_seam(seed: int, step: float) -> None:
    rng = np.random.default_rng(seed)
    xs = rng.uniform(-0.14, 0.14, int(160 / step))
    got = end_fit(_row([(float(x), step * k) for k, x in enumerate(xs)]))
    off = _degrees(got.down, Vector(0.0, 1.0))
    assert off < 0.3, f"swung by {off} degrees (limit 0.3)"
    assert math.degrees(got.spread) < 0.2


def test_a_straight_seam_below_a_curved_one_keeps_its_own_direction() -> None:
    curve = [(400 - 400 * math.cos(a), 400 * math.sin(a)) for a in np.linspace(-0.5, 0.0, 40)]
    got = end_direction(_row([*curve, *((0.0, 5.0 * k) for k in range(1, 13))]))
    off = _degrees(got, Vector(0.0, 1.0))
    assert off <= 0.2, f"wanted the straight end, got {off} degrees off (+-0.2)"


def test_a_ruled_line_points_where_it_points() -> None:
    row = _row([(0.0, 0.0), (5.0, 3.0), (2.0, 8.0), (12.0, 38.0)])
    assert end_direction(row) == row[-1].tangent(1.0)


def test_a_curve_gives_its_end_tangent() -> None:
    curve = Cubic(Point(0, 0), Point(0, 50), Point(30, 90), Point(60, 100))
    assert end_direction((curve,)) == curve.tangent(1.0)


def test_a_corner_above_the_end_is_not_fitted_over() -> None:
    across = [(60.0 - 5 * k, -60.0) for k in range(13)]
    row = _row([*across, *((0.0, -55.0 + 5 * k) for k in range(12))])
    assert _degrees(end_direction(row), Vector(0.0, 1.0)) < 1e-9


def test_a_row_shorter_than_a_fit_gives_its_last_line() -> None:
    row = _row([(0.0, 0.0), (0.1, 5.0), (0.0, 10.0)])
    assert end_direction(row) == row[-1].tangent(1.0)
