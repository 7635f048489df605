"""Chains: validation, places by length, parts, nearest, crossings, flattening."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from core.curve import Affine, Chain, Cubic, Line, Place, Point, Ring, Vector
from core.errors import CurveError
from tests.core.curve.shapes import affines, chains, close, directions, points, same_point, shares

STEP = Chain.through([Point(0, 0), Point(10, 0), Point(10, 10), Point(20, 10)])


def place_on(chain: Chain, share: float) -> Place:
    """A place from one number in [0, 1]."""
    k = min(int(share * len(chain)), len(chain) - 1)
    return Place(k, min(1.0, share * len(chain) - k))


def test_an_empty_chain_is_refused() -> None:
    with pytest.raises(CurveError, match="at least one segment"):
        Chain(())
    with pytest.raises(CurveError, match="at least one segment"):
        Chain.through([Point(0, 0)])


def test_a_gap_is_refused_however_small() -> None:
    a, b = Line(Point(0, 0), Point(1, 0)), Line(Point(1.0000000001, 0), Point(2, 0))
    with pytest.raises(CurveError, match="gap before its segment 2"):
        Chain((a, b))


def test_a_ring_that_does_not_close_is_refused() -> None:
    with pytest.raises(CurveError, match="does not close"):
        Ring(STEP.segments)


@pytest.mark.parametrize("count", [0, 1, 2])
def test_a_polygon_of_fewer_than_three_points_is_refused(count: int) -> None:
    with pytest.raises(CurveError, match="three points"):
        Ring.polygon([Point(k, 0) for k in range(count)])


def test_a_chain_is_a_sequence_of_its_segments() -> None:
    assert (len(STEP), list(STEP)) == (3, list(STEP.segments))
    assert (STEP.start, STEP.end, STEP.closed) == (Point(0, 0), Point(20, 10), False)
    assert Ring.polygon([Point(0, 0), Point(1, 0), Point(0, 1)]).closed


@given(chains())
def test_length_is_the_sum(chain: Chain) -> None:
    close(chain.length(), sum(s.length() for s in chain), 0.0, "length")
    assert len(chain.lengths_before) == len(chain) + 1
    assert chain.lengths_before[0] == 0.0


@given(chains(), shares)
def test_length_to_undoes_at_length(chain: Chain, share: float) -> None:
    wanted = share * chain.length()
    place = chain.at_length(wanted)
    close(chain.length_to(place), wanted, 1e-8, "length_to(at_length(s))")


@given(chains(), st.floats(0.0, 1e6))
def test_at_length_is_kept_on_the_chain(chain: Chain, beyond: float) -> None:
    same_point(chain.at(chain.at_length(-beyond)), chain.start, 1e-9, "before the start")
    past = chain.at(chain.at_length(chain.length() + beyond))
    same_point(past, chain.end, 1e-6, "past the end")


def test_at_length_in_a_joint_is_the_start_of_the_next_segment() -> None:
    for rounding in (0.0, 1e-12, -1e-12):
        assert STEP.at_length(rounding) == Place(0, 0.0)
        assert STEP.at_length(10.0 + rounding) == Place(1, 0.0)
        assert STEP.at_length(30.0 + rounding) == Place(2, 1.0)


def test_at_length_passes_over_segments_without_length() -> None:
    chain = Chain.through([Point(0, 0), Point(1, 0), Point(1, 0), Point(2, 0)])
    assert chain.at_length(1.0) == Place(2, 0.0)
    assert chain.at(chain.at_length(1.5)) == Point(1.5, 0)


@given(chains(), shares, shares)
def test_part_runs_from_place_to_place(chain: Chain, a: float, b: float) -> None:
    first, last = sorted((place_on(chain, a), place_on(chain, b)))
    assume(first < last and (first.t, last) != (1.0, Place(first.index + 1, 0.0)))
    part = chain.part(first, last)
    assert (part.start, part.end) == (chain.at(first), chain.at(last)), "ends of the part"
    wanted = chain.length_to(last) - chain.length_to(first)
    close(part.length(), wanted, 1e-8, "length of the part")


@given(chains())
def test_the_part_from_start_to_end_is_the_very_same(chain: Chain) -> None:
    whole = chain.part(Place(0, 0.0), Place(len(chain) - 1, 1.0))
    assert whole == Chain(chain.segments)


@pytest.mark.parametrize(
    ("first", "last"),
    [
        (Place(1, 0.5), Place(1, 0.5)),
        (Place(1, 0.5), Place(1, 0.2)),
        (Place(2, 0.5), Place(0, 0.5)),
        (Place(0, 1.0), Place(1, 0.0)),
        (Place(2, 0.0), Place(1, 1.0)),
    ],
)
def test_a_part_without_length_is_refused(first: Place, last: Place) -> None:
    with pytest.raises(CurveError, match="no length"):
        STEP.part(first, last)


@given(chains(), points)
def test_nearest_is_the_nearest_of_all_segments(chain: Chain, p: Point) -> None:
    found = chain.nearest(p)
    each = [s.nearest(p).distance for s in chain]
    assert found.distance == min(each), f"wanted {min(each)}, got {found.distance}"
    assert found.place.index == each.index(min(each)), "the first of the nearest"
    assert found.point == chain.at(found.place)


def test_nearest_at_a_joint_is_the_end_of_the_first() -> None:
    assert STEP.nearest(Point(15, -5)).place == Place(0, 1.0)


@given(chains(), points, directions)
def test_meets_are_on_the_line_in_order(chain: Chain, origin: Point, along: Vector) -> None:
    found = chain.meets(origin, along)
    assert list(found) == sorted(set(found)), f"in order, each once: {found}"
    for place in found:
        off = along.cross(chain.at(place) - origin)
        assert abs(off) <= 2e-9, f"distance from the line: wanted 0, got {off}"


@given(chains(), st.integers(0, 3), directions)
def test_a_line_through_a_joint_meets_it_once(chain: Chain, k: int, along: Vector) -> None:
    """A line segment used to lose its ends to rounding, so a joint could be missed."""
    assume(k + 1 < len(chain))
    joint = chain.segments[k].end
    for s in chain.segments[k : k + 2]:
        assume(max(abs(along.cross(p - joint)) for p in s.controls) > 1e-6)
    there = [p for p in chain.meets(joint, along) if p in (Place(k, 1.0), Place(k + 1, 0.0))]
    assert there == [Place(k + 1, 0.0)], f"wanted the joint once, got {there}"


def test_a_ring_is_met_once_where_it_closes() -> None:
    ring = Ring.polygon([Point(0, 0), Point(10, 0), Point(10, 10), Point(0, 10)])
    found = ring.meets(Point(0, 0), Vector(1, 1))
    assert found == (Place(0, 0.0), Place(2, 0.0)), f"the two corners, got {found}"


def test_the_ends_of_a_segment_along_the_line_are_met() -> None:
    found = STEP.meets(Point(-5, 0), Vector(1, 0))
    assert found == (Place(1, 0.0),), f"where the step leaves the line, got {found}"


@given(chains())
def test_bounds_hold_all_segments_tightly(chain: Chain) -> None:
    box = chain.bounds()
    parts = [s.bounds() for s in chain]
    assert all(box.holds(b) for b in parts), "holds each segment"
    assert box.x0 == min(b.x0 for b in parts)
    assert box.y1 == max(b.y1 for b in parts)


@given(chains(), affines, shares)
def test_reversed_and_mapped(chain: Chain, by: Affine, share: float) -> None:
    assert chain.reversed().reversed() == chain, "reversed twice"
    place = place_on(chain, share)
    same_point(chain.mapped(by).at(place), by.point(chain.at(place)), 1e-10, "mapped")
    back = Place(len(chain) - 1 - place.index, 1.0 - place.t)
    same_point(chain.reversed().at(back), chain.at(place), 1e-11, "reversed")


def off_polyline(chain: Chain, flat: NDArray[np.float64]) -> float:
    """Largest distance of dense points of the chain from the polyline."""
    dense = np.concatenate([s.points(np.linspace(0.0, 1.0, 301)) for s in chain])
    a, b = flat[:-1, None], flat[1:, None]
    way = b - a
    square = np.maximum((way**2).sum(axis=2), 1e-300)
    t = np.clip(((dense[None] - a) * way).sum(axis=2) / square, 0.0, 1.0)
    gaps = np.linalg.norm(a + t[..., None] * way - dense[None], axis=2)
    return float(gaps.min(axis=0).max())


@settings(deadline=None, max_examples=25)
@given(chains(most=3), st.sampled_from((0.5, 5.0)))
def test_flattening_keeps_its_tolerance_at_1_and_100_times_the_size(
    chain: Chain, tolerance: float
) -> None:
    for size in (0.01, 1.0):
        scaled = chain.mapped(Affine.scale(size))
        flat = scaled.flattened(tolerance=tolerance)
        got = off_polyline(scaled, flat)
        assert got <= tolerance + 1e-9, f"size {size}: wanted {tolerance}, got {got}"


@given(chains())
def test_flattening_passes_through_all_joints(chain: Chain) -> None:
    rows = {tuple(row) for row in chain.flattened(tolerance=1.0).tolist()}
    for s in chain:
        assert (s.start.x, s.start.y) in rows, "joint"
    assert (chain.end.x, chain.end.y) in rows, "end"


@given(chains(most=3))
def test_lengths_of_ever_finer_flattenings_rise_to_the_length(chain: Chain) -> None:
    lengths = [
        float(np.hypot(*np.diff(chain.flattened(tolerance=e), axis=0).T).sum()) for e in (1.0, 0.01)
    ]
    assert lengths[-1] <= chain.length() + 1e-6, "a polyline is no longer than its curve"
    assert lengths[-1] >= 0.99 * chain.length() - 1.0, f"wanted near {chain.length()}: {lengths}"


def test_tangent_and_curvature_are_those_of_the_segment() -> None:
    arch = Cubic(Point(20, 10), Point(20, 50), Point(120, 50), Point(120, 10))
    chain = Chain((*STEP.segments, arch))
    assert chain.tangent(Place(1, 0.5)) == Vector(0, 1)
    assert chain.curvature(Place(1, 0.5)) == 0.0
    assert chain.tangent(Place(3, 0.5)) == arch.tangent(0.5)
    assert chain.curvature(Place(3, 0.5)) == arch.curvature(0.5)
    assert all(a.end == b.start for a, b in pairwise(chain))
    assert math.isclose(chain.length_to(Place(2, 0.5)), 25.0)
