"""Arcs and bulges as cubics, held against the true circle and ellipse."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from core.curve import Cubic, Line, Point, Segment
from core.curve.arcs import ARC_TOLERANCE, bulge_arc, elliptical_arc, pieces_for, unit_arc
from core.errors import CurveError
from tests.core.curve.shapes import angles, close, points, same_point

# The promise to the maker; ARC_TOLERANCE is what is aimed at.
PROMISED = 1e-4
sweeps = st.floats(-2 * math.pi, 2 * math.pi).filter(lambda a: abs(a) > 1e-3)
bulges = st.one_of(st.floats(1e-6, 50.0), st.floats(-50.0, -1e-6))


def dense(segments: tuple[Segment, ...], count: int = 401) -> NDArray[np.float64]:
    return np.concatenate([s.points(np.linspace(0.0, 1.0, count)) for s in segments])


def off_circle(segments: tuple[Segment, ...], centre: Point, radius: float) -> float:
    """Largest distance of dense points from the circle."""
    p = dense(segments)
    return float(np.abs(np.hypot(p[:, 0] - centre.x, p[:, 1] - centre.y) - radius).max())


@pytest.mark.parametrize("radius", [1e-3, 1.0, 30.0, 250.0, 1000.0, 1e5])
@pytest.mark.parametrize("sweep", [0.01, math.pi / 2, -3.0, 2 * math.pi])
def test_arcs_keep_their_tolerance_at_every_radius(radius: float, sweep: float) -> None:
    arcs = elliptical_arc(Point(12, -7), radius, radius, start=0.7, sweep=sweep)
    got = off_circle(arcs, Point(12, -7), radius)
    # The leading term counts the pieces; the rest is 4 in a thousand at a right angle.
    wanted = 1.01 * ARC_TOLERANCE + 1e-15 * radius
    assert got <= wanted, f"radius {radius}: wanted at most {wanted}, got {got}"


@pytest.mark.parametrize("tolerance", [1e-2, 1e-4, 1e-6, 1e-8])
def test_a_stated_tolerance_is_kept_without_waste(tolerance: float) -> None:
    arcs = elliptical_arc(
        Point(0, 0), 1000.0, 1000.0, start=0.0, sweep=2 * math.pi, tolerance=tolerance
    )
    got = off_circle(arcs, Point(0, 0), 1000.0)
    assert got <= 1.01 * tolerance, f"wanted at most {tolerance}, got {got}"
    fewer = unit_arc(0.0, 2 * math.pi, max(4, len(arcs) - 1))
    assert len(arcs) == 4 or off_circle(fewer, Point(0, 0), 1.0) * 1000.0 > tolerance


def test_the_error_of_one_cubic_is_its_closed_form() -> None:
    for angle in (0.1, 0.5, 1.0, math.pi / 2):
        got = off_circle(unit_arc(0.0, angle, 1), Point(0, 0), 1.0)
        wanted = 2 / 27 * math.sin(angle / 4) ** 6 / math.cos(angle / 4) ** 2
        close(got, wanted, 1e-3 * wanted + 1e-15, f"radial error over {angle}")


@given(
    centre=points,
    rx=st.floats(1.0, 1000.0),
    ry=st.floats(1.0, 1000.0),
    turn=angles,
    start=angles,
    sweep=sweeps,
)
def test_ellipses_of_up_to_a_metre_are_within_the_promise(
    *, centre: Point, rx: float, ry: float, turn: float, start: float, sweep: float
) -> None:
    arcs = elliptical_arc(centre, rx, ry, turn=turn, start=start, sweep=sweep)
    p = dense(arcs, 101) - (centre.x, centre.y)
    u = (math.cos(turn) * p[:, 0] + math.sin(turn) * p[:, 1]) / rx
    v = (-math.sin(turn) * p[:, 0] + math.cos(turn) * p[:, 1]) / ry
    # A point off the unit circle by e lies within e times the larger radius of the ellipse.
    got = float(np.abs(np.hypot(u, v) - 1.0).max()) * max(rx, ry)
    assert got <= PROMISED, f"distance from the ellipse: wanted {PROMISED}, got {got}"
    assert got <= 1.01 * ARC_TOLERANCE, f"aimed at {ARC_TOLERANCE}, got {got}"


@given(
    centre=points,
    rx=st.floats(1.0, 1000.0),
    ry=st.floats(1.0, 1000.0),
    turn=angles,
    start=angles,
    sweep=sweeps,
)
def test_an_arc_starts_and_ends_at_its_angles_and_has_no_gap(
    *, centre: Point, rx: float, ry: float, turn: float, start: float, sweep: float
) -> None:
    arcs = elliptical_arc(centre, rx, ry, turn=turn, start=start, sweep=sweep)

    def true(a: float) -> Point:
        x, y = rx * math.cos(a), ry * math.sin(a)
        c, s = math.cos(turn), math.sin(turn)
        return Point(centre.x + c * x - s * y, centre.y + s * x + c * y)

    same_point(arcs[0].start, true(start), 1e-11, "start")
    same_point(arcs[-1].end, true(start + sweep), 1e-11, "end")
    assert all(a.end == b.start for a, b in pairwise(arcs)), "joined exactly"
    for a, b in pairwise(arcs):
        turned = abs(a.tangent(1.0).angle_to(b.tangent(0.0)))
        assert turned <= 1e-6, f"a kink of {turned} rad between two arcs"


@pytest.mark.parametrize(("radius", "sweep"), [(0.0, 3.0), (5.0, 0.0), (-1.0, 1.0)])
def test_an_arc_without_extent_is_one_piece(radius: float, sweep: float) -> None:
    assert pieces_for(radius, sweep) == 1


def centre_of(start: Point, end: Point, bulge: float) -> tuple[Point, float]:
    """Centre and radius of a bulge, from its sagitta: closed form."""
    chord = end - start
    radius = chord.norm * (1 + bulge * bulge) / (4 * abs(bulge))
    to_centre = chord.square() * ((1 - bulge * bulge) / (4 * bulge))
    return start.towards(end, 0.5) + to_centre, radius


@given(points, st.floats(1.0, 800.0), angles, bulges)
def test_bulges_lie_on_their_circle_and_end_exactly(
    start: Point, length: float, angle: float, bulge: float
) -> None:
    end = Point(start.x + length * math.cos(angle), start.y + length * math.sin(angle))
    arcs = bulge_arc(start, end, bulge)
    assert (arcs[0].start, arcs[-1].end) == (start, end), "the ends are exact"
    assert all(a.end == b.start for a, b in pairwise(arcs)), "joined exactly"
    centre, radius = centre_of(start, end, bulge)
    got = off_circle(arcs, centre, radius)
    wanted = 1.01 * ARC_TOLERANCE + 4e-16 * radius
    assert got <= wanted, f"distance from the circle: wanted at most {wanted}, got {got}"


@given(st.floats(0.1, 800.0), bulges)
def test_the_length_of_a_bulge_is_that_of_its_arc(chord: float, bulge: float) -> None:
    arcs = bulge_arc(Point(0, 0), Point(chord, 0), bulge)
    radius = chord * (1 + bulge * bulge) / (4 * abs(bulge))
    wanted = 4 * math.atan(abs(bulge)) * radius
    close(sum(s.length() for s in arcs), wanted, 1e-4, "arc length")


@given(st.floats(0.1, 800.0), bulges)
def test_the_middle_of_a_bulge_is_its_sagitta_away(chord: float, bulge: float) -> None:
    """Sagitta b c / 2, on the side of smaller y for a positive bulge along x."""
    arcs = bulge_arc(Point(0, 0), Point(chord, 0), bulge)
    ys = dense(arcs)[:, 1]
    far = ys[np.abs(ys).argmax()]
    close(float(far), -bulge * chord / 2, 1e-4 + 1e-5 * abs(bulge) * chord, "sagitta")


@given(points, points, bulges)
def test_a_bulge_backward_is_the_opposite_bulge(a: Point, b: Point, bulge: float) -> None:
    there, back = bulge_arc(a, b, bulge), bulge_arc(b, a, -bulge)
    assert len(there) == len(back)
    for s, t in zip(there, reversed(back), strict=True):
        for u in (0.0, 0.3, 1.0):
            size = 1e-11 + 1e-14 * a.distance(b) * abs(bulge)
            same_point(t.at(1.0 - u), s.at(u), size, "backward")


def test_a_positive_bulge_turns_from_x_towards_y() -> None:
    for bulge in (0.3, 1.0, 2.0):
        arcs = bulge_arc(Point(0, 0), Point(10, 0), bulge)
        assert all(isinstance(s, Cubic) and s.curvature(0.5) > 0.0 for s in arcs)
        assert all(s.curvature(0.5) < 0.0 for s in bulge_arc(Point(0, 0), Point(10, 0), -bulge))


@pytest.mark.parametrize("bulge", [0.0, 1e-12, -1e-10])
def test_a_bulge_of_next_to_nothing_is_straight(bulge: float) -> None:
    a, b = Point(0, 0), Point(100, 0)
    assert bulge_arc(a, b, bulge) == (Line(a, b),)


def test_a_bulge_without_a_chord_is_a_line_without_length() -> None:
    a = Point(3, 4)
    assert bulge_arc(a, a, 1.0) == (Line(a, a),)


@pytest.mark.parametrize("chord", [10.0, 1000.0, 1e4])
@pytest.mark.parametrize("bulge", [2e-9, -1e-8, 1e-6, 1e-4])
def test_a_flat_bulge_is_not_lost_in_a_far_centre(chord: float, bulge: float) -> None:
    """Its centre lies up to 1e12 mm away; reckoned from there the arc was 1e-4 mm off."""
    arcs = bulge_arc(Point(300, 500), Point(300 + chord, 500), bulge)
    highest = max(abs(y - 500.0) for y in dense(arcs)[:, 1])
    close(highest, abs(bulge) * chord / 2, 1e-5 * abs(bulge) * chord + 1e-12, "sagitta")


@pytest.mark.parametrize("bulge", [math.nan, math.inf, -math.inf])
def test_a_bulge_that_is_no_number_is_refused(bulge: float) -> None:
    with pytest.raises(CurveError, match="not a number"):
        bulge_arc(Point(0, 0), Point(1, 0), bulge)


def test_a_nearly_full_circle() -> None:
    arcs = bulge_arc(Point(0, 0), Point(0.01, 0), 1e5)
    radius = 0.01 * (1 + 1e10) / 4e5
    close(sum(s.length() for s in arcs), 4 * math.atan(1e5) * radius, 1e-3, "length")
    assert (arcs[0].start, arcs[-1].end) == (Point(0, 0), Point(0.01, 0))
