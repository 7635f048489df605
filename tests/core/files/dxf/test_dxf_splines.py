"""SPLINE to cubics against ezdxf's own evaluation, and against closed forms."""

from __future__ import annotations

import math

import ezdxf
import numpy as np
import pytest
from dxf_made import as_bytes
from ezdxf.math import BSpline as Reference
from hypothesis import given, settings
from hypothesis import strategies as st

from core.curve import Affine, Chain, Cubic, Point, Ring
from core.files.dxf import read_dxf
from core.files.dxf.splines import BSpline, drawn

PROMISED = 1e-3


def beside(chain: Chain, points) -> float:
    return max(chain.nearest(Point(p.x, -p.y)).distance for p in points)


def read_spline(**look) -> tuple[Chain, Reference]:
    document = ezdxf.new("R2010", units=4)
    spline = document.modelspace().add_spline(degree=look["degree"])
    spline.control_points = look["points"]
    spline.knots = look["knots"]
    if "weights" in look:
        spline.weights = look["weights"]
    (shape,) = read_dxf("a.dxf", as_bytes(document)).shapes
    reference = Reference(
        look["points"], order=look["degree"] + 1, knots=look["knots"], weights=look.get("weights")
    )
    assert isinstance(shape.geometry, Chain)
    return shape.geometry, reference


def curve(spline: BSpline) -> Chain:
    rows = drawn(spline, most=20_000)
    assert rows is not None
    return Chain.drawn(rows)


def clamped(count: int, degree: int) -> list[float]:
    inner = count - degree
    return [0.0] * degree + [float(k) for k in range(inner + 1)] + [float(inner)] * degree


def unclamped(count: int, degree: int) -> list[float]:
    return [float(k) for k in range(count + degree + 1)]


def domain_points(reference: Reference, count: int, degree: int, n: int = 60):
    knots = reference.knots()
    return reference.points(np.linspace(knots[degree], knots[count] - 1e-9, n).tolist())


coordinate = st.floats(-300, 300).map(lambda x: round(x, 2))
controls = st.lists(st.tuples(coordinate, coordinate), min_size=7, max_size=12, unique=True)


@settings(max_examples=60, deadline=None)
@given(controls, st.sampled_from([1, 2, 3, 4, 5]), st.sampled_from([clamped, unclamped]))
def test_any_degree_and_any_ends_follow_the_spline(points, degree, knots_of) -> None:
    knots = knots_of(len(points), degree)
    chain = curve(BSpline(degree, knots, points))
    reference = Reference(points, order=degree + 1, knots=knots)
    dense = domain_points(reference, len(points), degree)
    off = max(chain.nearest(Point(p.x, p.y)).distance for p in dense)
    assert off < PROMISED, f"wanted ezdxf's curve, got {off} mm beside it, tol {PROMISED}"
    if degree == 3:
        assert off < 1e-8 * 300 + 1e-6, f"degree 3 is exact, got {off}"


def test_unclamped_spline_is_clamped_first() -> None:
    """A uniform cubic B-spline starts at (P0 + 4 P1 + P2) / 6, not at its first control point."""
    points = [(0, 0), (30, 60), (90, 30), (120, 90), (180, 0)]
    chain, _ = read_spline(degree=3, points=points, knots=unclamped(5, 3))
    assert chain.start.distance(Point(35.0, -45.0)) < 1e-9
    assert chain.start != Point(0, 0)


def test_periodic_spline_closes() -> None:
    square = [(0, 0), (100, 0), (100, 100), (0, 100)]
    points = square + square[:3]
    chain, _ = read_spline(degree=3, points=points, knots=unclamped(7, 3))
    assert isinstance(chain, Ring)
    assert len(chain) == 4
    reference = Reference([(x, y) for x, y in points], order=4, knots=unclamped(7, 3))
    ps = list(domain_points(reference, 7, 3, 4000))
    area = abs(sum(a.x * b.y - b.x * a.y for a, b in zip(ps, [*ps[1:], ps[0]], strict=True))) / 2
    assert chain.area() == pytest.approx(area, rel=1e-5)


def test_rational_quarter_circle_is_a_circle() -> None:
    r = 200.0
    chain, _ = read_spline(
        degree=2,
        points=[(r, 0), (r, r), (0, r)],
        knots=[0, 0, 0, 1, 1, 1],
        weights=[1.0, math.sqrt(0.5), 1.0],
    )
    off = max(
        abs(math.hypot(p.x, p.y) - r) for s in chain for p in (s.at(k / 20) for k in range(21))
    )
    assert off < PROMISED, f"wanted R {r}, got {off} mm off, tol {PROMISED}"


def test_degree_five_from_a_file() -> None:
    points = [(0, 0), (20, 90), (60, -40), (110, 120), (150, 0), (190, 70), (220, 10)]
    chain, reference = read_spline(degree=5, points=points, knots=clamped(7, 5))
    assert beside(chain, domain_points(reference, 7, 5)) < PROMISED


def test_clamped_cubic_is_the_very_same_curve() -> None:
    points = [(0, 0), (10, 20), (30, 20), (40, 0)]
    chain, _ = read_spline(degree=3, points=points, knots=clamped(4, 3))
    assert chain.segments == (Cubic(Point(0, 0), Point(10, -20), Point(30, -20), Point(40, 0)),)


def test_spline_by_fit_points_goes_through_them() -> None:
    document = ezdxf.new("R2010", units=4)
    fit = [(0, 0), (30, 40), (80, 35), (120, 0)]
    document.modelspace().add_spline(fit_points=fit)
    (shape,) = read_dxf("a.dxf", as_bytes(document)).shapes
    for x, y in fit:
        assert shape.geometry.nearest(Point(x, -y)).distance < PROMISED


def test_spline_whose_numbers_do_not_fit_is_named() -> None:
    document = ezdxf.new("R2010", units=4)
    document.modelspace().add_line((0, 0), (30, 40))
    spline = document.modelspace().add_spline(degree=3)
    spline.control_points = [(0, 0), (1, 1), (2, 0), (3, 1)]
    spline.knots = [0, 0, 1, 1]
    reading = read_dxf("a.dxf", as_bytes(document))
    assert len(reading.shapes) == 1
    assert "empty SPLINE" in reading.problems[0]


def test_mapping_the_spline_maps_the_curve() -> None:
    points = [(0.0, 0.0), (10.0, 20.0), (30.0, 20.0), (40.0, 0.0), (60.0, 9.0)]
    spline = BSpline(3, clamped(5, 3), points)
    by = Affine(2.0, 0.5, -1.0, 1.5, 7.0, 8.0)
    a, b = curve(spline).mapped(by), curve(spline.mapped(by))
    off = max(
        p.distance(q)
        for s, t in zip(a, b, strict=True)
        for p, q in zip(s.controls, t.controls, strict=True)
    )
    assert off < 1e-12, f"wanted equal controls, got {off}, tol 1e-12"


FIT = [(0.0, 0.0), (60.0, 90.0), (100.0, 30.0), (220.0, 80.0)]


@pytest.mark.parametrize("ends", [((0, 1), (0, 1)), ((1, -1), (3, 0))])
def test_end_directions_of_fit_points_were_not_followed(ends) -> None:
    """By up to several mm; ezdxf says what is meant."""
    document = ezdxf.new("R2010", units=4)
    spline = document.modelspace().add_spline(fit_points=FIT)
    spline.dxf.start_tangent, spline.dxf.end_tangent = ((*end, 0) for end in ends)
    (shape,) = read_dxf("a.dxf", as_bytes(document)).shapes
    wanted = spline.construction_tool().approximate(500)
    assert beside(shape.geometry, wanted) <= PROMISED


def test_fit_points_that_stand_twice_ended_in_a_fault() -> None:
    document = ezdxf.new("R2010", units=4)
    space = document.modelspace()
    space.add_spline(fit_points=[FIT[0], FIT[0], *FIT[1:], FIT[-1]])
    space.add_spline(fit_points=FIT)
    space.add_spline(fit_points=[FIT[1]] * 3)
    reading = read_dxf("a.dxf", as_bytes(document))
    doubled, plain = (s.geometry for s in reading.shapes)
    assert doubled.segments == plain.segments
    assert any("1 x empty SPLINE" in p for p in reading.problems)
