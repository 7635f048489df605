"""Rings: running around them from place to place, starting elsewhere, area."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import Polygon

from core.curve import Affine, Chain, Cubic, Line, Place, Point, Ring
from core.curve.arcs import elliptical_arc
from tests.core.curve.shapes import (
    angles,
    close,
    coordinates,
    points,
    rings,
    rings_with_places,
    same_point,
)

SQUARE = Ring.polygon([Point(0, 0), Point(10, 0), Point(10, 10), Point(0, 10)])
TWO = rings_with_places(count=2)
THREE = rings_with_places(count=3)
Drawn = tuple[Ring, tuple[Place, ...]]


def settled(ring: Ring, p: Place) -> Place:
    """The one name of a place that is a joint."""
    return Place((p.index + 1) % len(ring), 0.0) if p.t == 1.0 else p


@given(TWO)
def test_a_run_starts_and_ends_where_it_should(drawn: Drawn) -> None:
    ring, (a, b) = drawn
    run = ring.run(a, b)
    assert (run.start, run.end) == (ring.at(a), ring.at(b)), "exactly at(a) and at(b)"


@settings(max_examples=300)
@given(TWO)
def test_there_and_on_around_is_the_whole_ring(drawn: Drawn) -> None:
    ring, (a, b) = drawn
    assume(settled(ring, a) != settled(ring, b))
    there, on = ring.run(a, b).length(), ring.run(b, a).length()
    close(there + on, ring.length(), 2e-8, f"run({a}, {b}) and back")


@settings(max_examples=300)
@given(TWO)
def test_the_length_of_a_run_is_the_difference_of_lengths(drawn: Drawn) -> None:
    ring, (a, b) = drawn
    first, last = settled(ring, a), settled(ring, b)
    assume(first != last)
    wanted = ring.length_to(last) - ring.length_to(first)
    wanted += ring.length() if last < first else 0.0
    close(ring.run(a, b).length(), wanted, 2e-8, f"run({a}, {b})")


@given(THREE)
def test_two_runs_in_a_row_are_one_or_go_once_more_around(drawn: Drawn) -> None:
    ring, (a, b, c) = drawn
    names = {settled(ring, p) for p in (a, b, c)}
    assume(len(names) == 3)
    got = ring.run(a, b).length() + ring.run(b, c).length() - ring.run(a, c).length()
    around = min((0.0, ring.length()), key=lambda w: abs(got - w))
    close(got, around, 3e-8, "run(a, b) + run(b, c) - run(a, c)")


@given(TWO)
def test_a_run_from_a_place_to_itself_is_the_whole_ring(drawn: Drawn) -> None:
    ring, (a, _) = drawn
    close(ring.run(a, a).length(), ring.length(), 2e-8, "once around")
    joint = Place(a.index, 1.0)
    other = settled(ring, joint)
    assert len(ring.run(joint, other)) == len(ring), "both names of a joint are one place"


@given(TWO)
def test_whole_segments_of_a_run_are_the_very_same(drawn: Drawn) -> None:
    ring, (a, b) = drawn
    run = ring.run(a, b)
    for s in run.segments[1:-1]:
        assert s in ring.segments, "a segment between the ends is untouched"


@pytest.mark.parametrize("first", [0.0, 0.25, 1.0])
@pytest.mark.parametrize("last", [0.0, 0.75, 1.0])
@pytest.mark.parametrize("i", range(4))
@pytest.mark.parametrize("j", range(4))
def test_runs_round_a_square(i: int, j: int, first: float, last: float) -> None:
    """Closed form: on a square of side 10 a run is 10 times the difference of index plus t."""
    wanted = (10.0 * (j + last - i - first)) % 40.0 or 40.0
    got = SQUARE.run(Place(i, first), Place(j, last))
    close(got.length(), wanted, 1e-12, "length of the run")
    assert all(s.length() > 0.0 for s in got), "no empty segments"


@given(TWO)
def test_starting_elsewhere_is_the_same_ring(drawn: Drawn) -> None:
    ring, (a, _) = drawn
    turned = ring.started_at(a)
    assert isinstance(turned, Ring)
    assert turned.start == turned.end == ring.at(a)
    close(turned.length(), ring.length(), 2e-8, "length")
    close(turned.signed_area(), ring.signed_area(), 1e-6, "area")
    close(len(turned), len(ring) + (0.0 < a.t < 1.0), 0, "one more segment where it splits")


@given(rings())
def test_starting_at_each_joint_in_turn_comes_back(ring: Ring) -> None:
    turned = ring
    for _ in range(len(ring)):
        turned = turned.started_at(Place(0, 1.0))
    assert turned == ring, "once around"


@given(TWO)
def test_part_of_a_ring_is_its_run_where_it_does_not_pass_the_start(drawn: Drawn) -> None:
    ring, places = drawn
    first, last = sorted(settled(ring, p) for p in places)
    assume(first < last)
    assert ring.part(first, last) == ring.run(first, last)


def test_a_ring_of_one_cubic() -> None:
    drop = Ring((Cubic(Point(0, 0), Point(100, 100), Point(-100, 100), Point(0, 0)),))
    a, b = Place(0, 0.25), Place(0, 0.75)
    assert len(drop.run(a, b)) == 1
    assert len(drop.run(b, a)) == 2, "through its start"
    close(drop.run(a, b).length() + drop.run(b, a).length(), drop.length(), 3e-9, "both ways")
    assert drop.run(Place(0, 0.0), Place(0, 1.0)) == Chain(drop.segments)


@given(rings(), angles, points)
def test_area_stays_when_the_page_is_turned_and_changes_sign_in_the_mirror(
    ring: Ring, angle: float, about: Point
) -> None:
    area = ring.signed_area()
    turned = ring.mapped(Affine.turn(angle, about))
    close(turned.signed_area(), area, 1e-5, "turned (mm^2)")
    close(ring.mapped(Affine.scale(-1.0, 1.0)).signed_area(), -area, 1e-7, "mirrored (mm^2)")
    close(ring.reversed().signed_area(), -area, 1e-7, "reversed (mm^2)")
    assert isinstance(ring.reversed(), Ring)
    assert ring.area() == abs(area)


@given(coordinates, coordinates, st.floats(1.0, 500.0), st.floats(0.1, 2.0))
def test_area_agrees_with_a_fine_polygon(x: float, y: float, size: float, lean: float) -> None:
    """Against shapely, which knows nothing of curves: off by the flattening's tolerance."""
    a, b, c = Point(x, y), Point(x + size, y + lean * size / 4), Point(x, y + size)
    ring = Ring(
        (
            Cubic(a, Point(x + size / 4, y - size / 4), Point(x + size, y - size / 3), b),
            Line(b, c),
            Cubic(c, Point(x - size / 3, y + size / 2), Point(x + size / 5, y + size / 3), a),
        )
    )
    tolerance = 1e-4
    flat = Polygon(ring.flattened(tolerance=tolerance))
    assert flat.is_valid, "a simple shape"
    close(ring.area(), flat.area, tolerance * ring.length(), "area against shapely (mm^2)")


def test_area_of_a_parabola_to_its_chord_is_a_fifth() -> None:
    """Closed form: the cubic (t, t^2 ...) of the published list encloses 1/5 with its chord."""
    c = Cubic(Point(0, 0), Point(1 / 3, 0), Point(2 / 3, 1 / 3), Point(2 / 3, 1))
    close(Ring((c, Line(c.end, c.start))).area(), 1 / 5, 1e-15, "area to the chord")


@pytest.mark.parametrize(("rx", "ry"), [(10.0, 10.0), (300.0, 200.0), (0.5, 40.0)])
def test_area_of_an_ellipse(rx: float, ry: float) -> None:
    arcs = elliptical_arc(Point(5, 7), rx, ry, turn=0.3, start=0.1, sweep=2 * math.pi)
    ring = Ring((*arcs[:-1], Cubic(arcs[-1].start, arcs[-1].c1, arcs[-1].c2, arcs[0].start)))
    close(ring.area(), math.pi * rx * ry, 1e-5 * ring.length(), "pi rx ry (mm^2)")
    assert ring.signed_area() > 0.0, "from x towards y"
    same_point(ring.start, arcs[-1].end, 1e-12, "where it closes")
