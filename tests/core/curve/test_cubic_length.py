"""Arc length against closed forms, adaptive integration and a general-purpose library."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import svgpathtools
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate

from core.curve import Cubic, Point
from core.curve.roots import extrema
from tests.core.curve.shapes import close, coordinates, cubics, free_cubics

TOLERANCE = 1e-9


@st.composite
def seams(draw: st.DrawFn) -> Cubic:
    """A curve as seams are: it runs on, and leaves its chord by less than half its length."""
    size = draw(st.floats(1.0, 2000.0))
    sideways = st.floats(-0.25 * size, 0.25 * size)
    first, second = draw(st.floats(0.05, 0.45)) * size, draw(st.floats(0.55, 0.95)) * size
    return Cubic(
        Point(0.0, 0.0),
        Point(draw(sideways), first),
        Point(draw(sideways), second),
        Point(draw(sideways), size),
    )


def by_quad(c: Cubic) -> float:
    """Adaptive integration (scipy.integrate.quad) over 64 stretches, cut at the extrema too.

    In one go it misses what happens at a narrow turn: up to 3e-8 mm.
    """
    x, y = c.power_basis().T.tolist()
    stops = sorted({*np.linspace(0.0, 1.0, 65).tolist(), *extrema(x), *extrema(y)})

    def speed(t: float) -> float:
        u = 1.0 - t
        a, b, d = 3 * u * u, 6 * u * t, 3 * t * t
        (x0, y0), (x1, y1), (x2, y2) = steps
        return math.hypot(a * x0 + b * x1 + d * x2, a * y0 + b * y1 + d * y2)

    steps = np.diff(c.array(), axis=0).tolist()
    options = {"epsabs": 1e-13, "epsrel": 1e-13, "limit": 400, "full_output": 1}
    return math.fsum(integrate.quad(speed, a, b, **options)[0] for a, b in pairwise(stops))


@settings(deadline=None)
@given(free_cubics)
def test_length_agrees_with_adaptive_integration(c: Cubic) -> None:
    close(c.length(), by_quad(c), TOLERANCE, "length against scipy.integrate.quad")


@settings(deadline=None)
@given(cubics)
def test_length_of_odd_cubics_agrees_with_adaptive_integration(c: Cubic) -> None:
    close(c.length(), by_quad(c), TOLERANCE, "length against scipy.integrate.quad")


@settings(deadline=None)
@given(seams())
def test_length_of_seams_agrees_with_svgpathtools(c: Cubic) -> None:
    theirs = svgpathtools.CubicBezier(*(complex(p.x, p.y) for p in c.controls))
    # Over the whole at once it stops at a relative error of 1.5e-8.
    stops = np.linspace(0.0, 1.0, 17).tolist()
    wanted = sum(theirs.length(a, b, error=1e-13) for a, b in pairwise(stops))
    close(c.length(), wanted, TOLERANCE, "length against svgpathtools")


@given(*[coordinates] * 4, st.floats(-math.pi, math.pi))
def test_length_of_a_straight_cubic_that_doubles_back(
    a: float, b: float, c: float, d: float, angle: float
) -> None:
    """Closed form: the ways between the places where it turns back, added up."""
    powers = (a, 3 * (b - a), 3 * (a - 2 * b + c), d - a + 3 * (b - c))
    stops = [sum(k * t**n for n, k in enumerate(powers)) for t in (0.0, *extrema(powers), 1.0)]
    wanted = sum(abs(q - p) for p, q in pairwise(stops))
    x, y = math.cos(angle), math.sin(angle)
    got = Cubic(*(Point(s * x, s * y) for s in (a, b, c, d))).length()
    close(got, wanted, TOLERANCE, "length of a straight cubic")


def test_a_handle_that_points_slightly_backward_is_not_lost() -> None:
    # All nodes of the sum lay beyond the turn, so every sum agreed on the signed way and
    # the doubled bit was missing: 4 micrometres here.
    c = Cubic(Point(0, 0), Point(-0.1, 0), Point(50, 0), Point(100, 0))
    powers = (0.0, 3 * -0.1, 3 * (0.2 + 50.0), 100.0 + 3 * (-0.1 - 50.0))
    turn = extrema(powers)[0]
    back = sum(k * turn**n for n, k in enumerate(powers))
    close(c.length(), 100.0 - 2.0 * back, TOLERANCE, "length with the doubled bit")


def test_a_narrow_turn_is_not_passed_over() -> None:
    # The whole and its halves agreed within 1e-9 and both were 7e-9 short.
    c = Cubic(Point(0, 0), Point(0, 0), Point(1, 676), Point(0, 1))
    close(c.length(), 600.4825779985516, TOLERANCE, "length (Gauss graded towards the turn)")


@pytest.mark.parametrize("gap", [1e-1, 1e-3, 1e-6, 1e-9, 0.0])
def test_length_near_a_cusp(gap: float) -> None:
    c = Cubic(Point(0, 0), Point(100, 100 + gap), Point(0, 100 + gap), Point(100, 0))
    close(c.length(), by_quad(c), TOLERANCE, "length near a cusp")


@settings(deadline=None)
@given(cubics, st.sampled_from((1e-3, 1e-1, 1.0, 100.0)))
def test_the_tolerance_is_absolute_at_every_size(c: Cubic, size: float) -> None:
    def scaled(p: Point) -> Point:
        return Point(p.x * size, p.y * size)

    big = Cubic(*(scaled(p) for p in c.controls))
    rounding = 1e-14 * size * 2e4
    close(big.length(), size * c.length(), TOLERANCE * (1.0 + size) + rounding, "length scaled")


def test_a_cubic_on_one_point_has_no_length() -> None:
    p = Point(3.0, 4.0)
    c = Cubic(p, p, p, p)
    assert c.length() == 0.0
    assert c.at_length(1.0) == 0.0


@pytest.mark.parametrize("s", [1e-12, 1e-6, 0.25, 0.5, 1.0])
def test_at_length_at_a_missing_handle(s: float) -> None:
    # Straight with t^3: the length up to t is t^3.
    c = Cubic(Point(0, 0), Point(0, 0), Point(0, 0), Point(1, 0))
    close(c.at_length(s) ** 3, s, 2e-10, "t^3 at that length")


def test_a_coordinate_that_is_no_number_does_not_hang() -> None:
    c = Cubic(Point(0, 0), Point(math.nan, 1), Point(2, 2), Point(3, 0))
    assert math.isnan(c.length())
    assert c.at_length(1.0) == 0.0
