"""Curves as arcs: near enough, smooth, and one arc where it is one."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from core.curve import Chain, Cubic, Line, Point
from core.curve.arcs import bulge_arc
from core.files.dxf.biarc import TOLERANCE, Step, as_steps, distance, one_arc

coordinate = st.floats(-300, 300).map(lambda x: round(x, 3))
points = st.builds(Point, coordinate, coordinate)
cubics = st.builds(Cubic, points, points, points, points)


def drawn(steps: list[Step]) -> Chain:
    return Chain(tuple(s for step in steps for s in bulge_arc(step.start, step.end, step.bulge)))


@settings(max_examples=60, deadline=None)
@given(cubics, st.sampled_from([0.1, 1.0, 10.0]))
def test_arcs_keep_the_tolerance_at_every_size(cubic, size) -> None:
    cubic = Cubic(*(Point(p.x * size, p.y * size) for p in cubic.controls))
    assume(cubic.start != cubic.end)
    steps = as_steps([cubic])
    assert (steps[0].start, steps[-1].end) == (cubic.start, cubic.end)
    off = max(min(distance(cubic.at(k / 100), s) for s in steps) for k in range(101))
    assert off <= TOLERANCE, f"wanted within {TOLERANCE}, got {off}"
    back = max(cubic.nearest(s.at(0.5)).distance for s in drawn(steps[:6]))
    assert back <= TOLERANCE, f"wanted the arcs within {TOLERANCE} of the curve, got {back}"


@settings(max_examples=60, deadline=None)
@given(points, points, st.floats(-2.0, 2.0))
def test_an_arc_comes_back_as_itself(a, b, bulge) -> None:
    assume(a.distance(b) > 1.0 and abs(bulge) > 1e-3)
    (step,) = as_steps(bulge_arc(a, b, bulge))
    assert (step.start, step.end) == (a, b)
    assert step.bulge == pytest.approx(bulge, rel=1e-6), f"wanted {bulge}, got {step.bulge}"


def test_joints_of_arcs_run_smooth() -> None:
    """Each arc leaves in the direction in which the one before it arrives."""
    cubic = Cubic(Point(0, 0), Point(80, 0), Point(120, 60), Point(200, 70))
    steps = as_steps([cubic])
    assert len(steps) > 2
    for before, after in pairwise(steps):
        arrives = (before.end - before.start).turned(2 * math.atan(before.bulge))
        leaves = (after.end - after.start).turned(-2 * math.atan(after.bulge))
        kink = abs(arrives.angle_to(leaves))
        assert kink < 1e-9, f"wanted no kink, got {kink} rad, tol 1e-9"


def test_two_halves_of_an_arc_become_one() -> None:
    whole = bulge_arc(Point(0, 0), Point(60, 10), 0.4)
    halves = [h for s in whole for h in s.split(0.37)]
    assert len(as_steps(halves)) == 1


def test_arcs_that_meet_at_a_corner_stay_two() -> None:
    a = bulge_arc(Point(0, 0), Point(60, 0), 0.4)
    b = bulge_arc(Point(60, 0), Point(120, 0), 0.4)
    assert len(as_steps([*a, *b])) == 2


def test_a_shallow_curve_is_not_flattened_to_a_chord() -> None:
    """Within 0.02 mm of its chord, but its direction at the ends counts: the hem meets a seam."""
    cubic = Cubic(Point(0, 0), Point(1, 0.015), Point(2, 0.015), Point(3, 0))
    steps = as_steps([cubic])
    leaves = (steps[0].end - steps[0].start).turned(-2 * math.atan(steps[0].bulge))
    assert abs(leaves.angle_to(cubic.tangent(0.0))) < 2e-3


def test_straight_cubics_become_straight_steps() -> None:
    cubic = Cubic(Point(0, 0), Point(10, 5), Point(20, 10), Point(30, 15))
    assert [s.bulge for s in as_steps([cubic])] == [0.0]


@pytest.mark.parametrize(
    "cubic",
    [
        Cubic(Point(0, 0), Point(100, 0), Point(0, 0), Point(100, 0)),
        Cubic(Point(0, 0), Point(100, 100), Point(0, 100), Point(100, 0)),
        Cubic(Point(0, 0), Point(100, 100), Point(-100, 100), Point(0, 0)),
        Cubic(Point(0, 0), Point(0, 0), Point(0, 0), Point(50, 0)),
        Cubic(Point(0, 0), Point(0, 0), Point(50, 50), Point(50, 50)),
    ],
    ids=["doubled back", "cusp", "loop onto itself", "no handles", "handles at the ends"],
)
def test_nasty_cubics_end_in_arcs_too(cubic) -> None:
    steps = as_steps([cubic])
    off = max(min(distance(cubic.at(k / 100), s) for s in steps) for k in range(101))
    assert off <= TOLERANCE, f"wanted within {TOLERANCE}, got {off}"


def test_no_single_arc_through_a_wave() -> None:
    wave = Cubic(Point(0, 0), Point(20, 30), Point(40, -30), Point(60, 0))
    assert one_arc([wave], tolerance=TOLERANCE) is None


def test_distance_can_tell() -> None:
    arc = Step(Point(0, 0), Point(10, 0), 1.0)
    assert distance(Point(5, -5), arc) == pytest.approx(0.0, abs=1e-12)
    assert distance(Point(5, 5), arc) == pytest.approx(math.hypot(5, 5))
    assert distance(Point(5, 3), Step(Point(0, 0), Point(10, 0), 0.0)) == 3.0


def test_lines_stay_exact() -> None:
    line = Line(Point(0.1, 0.2), Point(3.3, 4.4))
    assert as_steps([line]) == [Step(line.start, line.end, 0.0)]
