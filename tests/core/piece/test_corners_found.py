"""Corners on ruled, curved and digitised outlines."""

from __future__ import annotations

import math

import numpy as np
import pytest

from core.curve import Affine, Point, Ring
from core.piece.corners import corners
from tests.core.piece.hands import digitised, drawn_by, evenly, ring_of
from tests.core.piece.true_pieces import shorts, straight_skirt, trapezoid
from tests.core.piece.truth import Truth, with_corners, with_waist_dart

HANDS = [(1.0, 0.1), (1.0, 0.2), (2.0, 0.2), (4.0, 0.1), (5.0, 0.2), (8.0, 0.2)]


def _near(ring: Ring, found: tuple[int, ...], p: Point, reach: float) -> int:
    return sum(ring.segments[k].start.distance(p) <= reach for k in found)


@pytest.mark.parametrize(("step", "noise"), HANDS)
@pytest.mark.parametrize("seed", range(4))
def test_a_digitised_right_angle_is_one_corner(step: float, noise: float, seed: int) -> None:
    square = Ring.polygon([Point(0, 0), Point(300, 0), Point(300, 240), Point(0, 240)])
    truth = Truth(trapezoid().edges)
    chains = drawn_by(truth, digitised(step, noise, seed))
    ring = ring_of(chains)
    found = corners(ring)
    for p in (s.start for s in trapezoid().ring):
        count = _near(ring, found, p, 1.0)
        assert count == 1, f"wanted one corner at {p}, got {count}"
    assert len(found) == 4, f"wanted 4 corners, got {len(found)}"
    assert len(corners(square)) == 4


@pytest.mark.parametrize(("step", "noise"), HANDS)
@pytest.mark.parametrize("seed", range(3))
def test_a_corner_that_the_points_step_over_is_one_corner(
    step: float, noise: float, seed: int
) -> None:
    ring = evenly(trapezoid(), step, noise, seed)
    found = corners(ring)
    for p in (s.start for s in trapezoid().ring):
        count = _near(ring, found, p, step + 1.0)
        assert count == 1, f"wanted one corner near {p}, got {count}"
    assert len(found) == 4, f"wanted 4 corners, got {len(found)}"


@pytest.mark.parametrize(("step", "noise"), HANDS)
@pytest.mark.parametrize("radius", [15.0, 30.0, 58.0, 110.0])
def test_a_digitised_rounding_is_no_corner(step: float, noise: float, radius: float) -> None:
    truth = with_corners(straight_skirt(), ("arc", radius, 0.0), ("arc", radius, 0.0))
    ring = ring_of(drawn_by(truth, digitised(step, noise, 3)))
    found = [ring.segments[k].start for k in corners(ring)]
    waist = (Point(0.0, 12.0), Point(226.0, 0.0))
    extra = [p for p in found if min(p.distance(w) for w in waist) > 1.0]
    assert not extra, f"wanted only the two waist corners, got {extra}"
    assert len(found) == 2


def test_a_ruled_step_beside_the_seam_has_both_its_corners() -> None:
    # A step of 15 mm between long lines: too short to be a seam, too few to be digitised.
    points = [
        Point(0, 0),
        Point(200, 0),
        Point(200, 300),
        Point(215, 300),
        Point(215, 340),
        Point(0, 340),
    ]
    assert len(corners(Ring.polygon(points))) == 6


def test_a_ruled_corner_is_one_however_near_a_curve_point_lies_to_it() -> None:
    points = [Point(0, 0), Point(200, 0), Point(200, 290), Point(200, 300), Point(0, 300)]
    found = corners(Ring.polygon(points))
    assert found == (0, 1, 3, 4)


def test_a_shallow_joint_is_a_corner_only_where_the_file_says_so() -> None:
    bend = math.radians(10.0)
    knee = Point(200, 300)
    low = knee + (Point(0, 300) - Point(0, 0)).turned(bend)
    ring = Ring.polygon([Point(0, 0), Point(200, 0), knee, low, Point(0, 600)])
    assert 2 not in corners(ring)
    assert 2 in corners(ring, told=[Point(200.2, 300.0)])
    assert 2 not in corners(ring, told=[Point(205.0, 300.0)])


def test_corners_turn_with_the_piece_and_run_backwards_with_it() -> None:
    ring = ring_of(drawn_by(shorts(), digitised(4.0, 0.1, 2)))
    wanted = {(ring.segments[k].start.x, ring.segments[k].start.y) for k in corners(ring)}
    back = ring.reversed()
    got = {(back.segments[k].start.x, back.segments[k].start.y) for k in corners(back)}
    assert got == wanted
    turn = Affine.turn(1.234)
    turned = ring.mapped(turn)
    assert corners(turned) == corners(ring)


def test_points_on_one_ruled_line_make_no_corner() -> None:
    rng = np.random.default_rng(5)
    xs = sorted(rng.uniform(0, 400, 30))
    points = [
        Point(0, 0),
        *(Point(float(x), 0.0) for x in xs),
        Point(400, 0),
        Point(400, 200),
        Point(0, 200),
    ]
    ring = Ring.polygon(points)
    found = [ring.segments[k].start for k in corners(ring)]
    assert found == [Point(0, 0), Point(400, 0), Point(400, 200), Point(0, 200)]


def test_the_tip_of_a_finely_digitised_dart_is_not_lost_to_its_neighbour() -> None:
    # Beside the tip, one window crosses it and sees a sharper turn than the tip itself.
    truth = with_waist_dart(shorts(), notched=True)
    ring = ring_of(drawn_by(truth, digitised(1.0, 0.2, 0)))
    apex = truth.darts[0].apex
    assert _near(ring, corners(ring), apex, 0.3) == 1
