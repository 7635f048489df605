"""Roots of small polynomials on the unit interval."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from numpy.polynomial import polynomial

from core.curve.roots import extrema, real_roots
from tests.core.curve.shapes import close

coefficients = st.lists(st.floats(-1e3, 1e3), min_size=1, max_size=6)


def spread(places: list[float], least: float) -> bool:
    """Are all places at least that far apart?"""
    return all(b - a >= least for a, b in pairwise(sorted(places)))


@given(st.lists(st.floats(-1.0, 2.0), min_size=1, max_size=5), st.floats(1e-6, 1e6))
def test_all_roots_come_back_in_order(places: list[float], size: float) -> None:
    assume(spread([0.0, 1.0, *places], 0.02))
    c = [float(x) * size for x in polynomial.polyfromroots(places)]
    wanted = sorted(t for t in places if 0.0 <= t <= 1.0)
    got = real_roots(c)
    assert len(got) == len(wanted), f"wanted {wanted}, got {got}"
    for g, w in zip(got, wanted, strict=True):
        close(g, w, 1e-7, "root")


@given(coefficients)
def test_every_root_is_a_zero_and_every_change_of_sign_has_a_root(c: list[float]) -> None:
    got = real_roots(c)
    assert list(got) == sorted(set(got)), f"rising, each once: {got}"
    size = sum(map(abs, c))
    for t in got:
        assert 0.0 <= t <= 1.0
        value = float(polynomial.polyval(t, c))
        assert abs(value) <= 4e-15 * size, f"value at {t}: wanted 0, got {value}"
    ts = np.linspace(0.0, 1.0, 501)
    values = polynomial.polyval(ts, c)
    for k in np.flatnonzero(values[:-1] * values[1:] < 0.0):
        if min(abs(values[k]), abs(values[k + 1])) > 1e-13 * size:
            assert any(ts[k] <= t <= ts[k + 1] for t in got), f"no root near {ts[k]} in {got}"


@given(coefficients, st.floats(-1e-12, 1e-12))
def test_a_negligible_leading_coefficient_changes_nothing(c: list[float], tiny: float) -> None:
    c = [*c, tiny]
    for t in real_roots(c):
        value = float(polynomial.polyval(t, c))
        assert abs(value) <= 4e-15 * sum(map(abs, c)), f"value at {t}: wanted 0, got {value}"


@pytest.mark.parametrize("size", [5e-324, 1e-320, 1e-300, 1e-150, 1.0, 1e150, 1e300])
def test_quadratic_at_every_size(size: float) -> None:
    got = real_roots((2 * size, -9 * size, 4 * size))
    assert len(got) == 1, f"wanted one root, got {got}"
    close(got[0], 0.25, 1e-15, "root")


def test_quadratic_without_cancellation() -> None:
    # t^2 - 1e8 t + 1: the schoolbook formula has 7.45e-9 for the small root.
    close(real_roots((1.0, -1e8, 1.0))[0], 1e-8, 1e-23, "the small root")


@pytest.mark.parametrize("where", [0.0, 0.3, 0.5, 1.0])
@pytest.mark.parametrize("times", [1, 2, 3, 4, 5])
def test_a_root_that_counts_many_times_is_found_once(where: float, times: int) -> None:
    c = [float(x) for x in polynomial.polyfromroots([where] * times)]
    got = real_roots(c)
    assert len(got) == 1, f"wanted one root at {where}, got {got}"
    # Rounding moves a root that counts n times by its n-th root.
    close(got[0], where, 4.0 * 1e-15 ** (1.0 / times), "root")


def test_touching_counts_within_the_slack() -> None:
    near = (0.25 + 1e-10, -1.0, 1.0)
    assert real_roots(near) == (), "1e-10 above zero is not zero"
    assert real_roots(near, slack=1e-9) == (0.5,), "but within the slack it is"
    assert real_roots((1e-10, 1.0), slack=1e-9) == (0.0,), "an end within the slack"
    assert real_roots((-1.0 - 1e-10, 1.0), slack=1e-9) == (1.0,), "the other end"


@pytest.mark.parametrize(
    "c",
    [
        (),
        (0.0,),
        (3.0,),
        (0.0, 0.0, 0.0),
        (1.0, 0.0, 0.0, 0.0),
        (math.nan, 1.0, 2.0),
        (1.0, math.nan, -2.0, 0.0),
        (1.0, -2.0, math.inf),
        (-math.inf, 1.0, 1.0),
    ],
)
def test_no_roots_where_there_is_nothing_to_solve(c: tuple[float, ...]) -> None:
    assert real_roots(c) == (), f"roots of {c}"


@given(coefficients)
def test_extrema_are_where_it_turns_back(c: list[float]) -> None:
    stops = [0.0, *extrema(c), 1.0]
    size = sum(map(abs, c))
    for a, b in pairwise(stops):
        values = polynomial.polyval(np.linspace(a, b, 101), c)
        steps = np.diff(values)
        noise = 1e-14 * size
        assert (steps >= -noise).all() or (steps <= noise).all(), f"turns back in {a}..{b}"
