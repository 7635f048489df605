"""Where the fit line stops: closed forms, and the same answer however the curve is cut up."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.curve import Cubic, Point, Ring
from core.piece.model import Piece, Taper
from core.piece.recognise import recognise
from tests.core.piece.hands import as_drawn
from tests.core.piece.rows import case
from tests.core.piece.true_pieces import curved_shorts, one_cubic_side, shorts, straight_skirt
from tests.core.piece.truth import Truth, with_corners

# The same shape with more points: the same taper point within this (mm).
SAME_PLACE = 0.01
CORNERS = {
    "true arc": with_corners(shorts(), ("arc", 58.0, 0.0)),
    "small arc": with_corners(shorts(), ("arc", 15.0, 0.0)),
    "one cubic": with_corners(shorts(), ("cubic", 58.0, 58.0)),
    "elliptic": with_corners(shorts(), ("cubic", 90.0, 50.0)),
    "long handles": with_corners(shorts(), ("long", 60.0, 70.0)),
    "very long": with_corners(straight_skirt(), ("long", 110.0, 90.0)),
    "on a curved seam": with_corners(curved_shorts(), ("cubic", 58.0, 58.0)),
    "seam and corner in one": one_cubic_side(),
}


def _only(truth: Truth) -> Piece:
    (piece,), _ = recognise(case("", truth, as_drawn).shapes)
    return piece


def _resplit(piece_ring: Ring, cuts: list[tuple[int, float]]) -> Ring:
    """The ring with its segments cut where told (index modulo size, t)."""
    segments = list(piece_ring.segments)
    for index, t in cuts:
        k = index % len(segments)
        segments[k : k + 1] = segments[k].split(t)
    return Ring(tuple(segments))


def _tapers(truth: Truth, ring: Ring) -> list[tuple[Point, Taper]]:
    shapes = case("", truth, as_drawn).shapes
    drawn = (type(shapes[0])(0, ring, shapes[0].words), *shapes[1:])
    (piece,), _ = recognise(drawn)
    assert piece.hem is not None
    return [(piece.ring.at(t.place), t) for t in (piece.hem.first, piece.hem.last)]


@pytest.mark.parametrize("name", CORNERS)
@settings(max_examples=25, deadline=None)
@given(cuts=st.lists(st.tuples(st.integers(0, 30), st.floats(0.02, 0.98)), max_size=4))
def test_splitting_a_segment_anywhere_moves_no_taper_point(
    name: str, cuts: list[tuple[int, float]]
) -> None:
    truth = CORNERS[name]
    wanted = _tapers(truth, truth.ring)
    got = _tapers(truth, _resplit(truth.ring, cuts))
    for (p, a), (q, b) in zip(wanted, got, strict=True):
        assert p.distance(q) <= SAME_PLACE, f"wanted {p}, got {q} (+-{SAME_PLACE} mm)"
        turn = math.degrees(a.down.angle_to(b.down))
        assert abs(turn) <= 0.01, f"the direction turned by {turn} degrees (+-0.01)"


@pytest.mark.parametrize("name", [n for n in CORNERS if n != "seam and corner in one"])
def test_the_corner_ends_where_it_was_set_on(name: str) -> None:
    truth = CORNERS[name]
    (point, down), _ = truth.tapers
    (got, taper), _ = _tapers(truth, truth.ring)
    # Long handles bend so little where they begin that the beginning is nowhere sharp.
    place = 15.0 if "long" in name else 0.01
    assert got.distance(point) <= place, f"wanted {point}, got {got} (+-{place} mm)"
    turn = math.degrees(taper.down.angle_to(down))
    assert abs(turn) <= 0.2, f"turned by {turn} degrees (+-0.2)"


def test_seam_and_corner_in_one_cubic_part_inside_it() -> None:
    truth = one_cubic_side()
    piece = _only(truth)
    assert piece.hem is not None
    place = piece.hem.first.place
    cubic = piece.ring.segments[place.index]
    assert isinstance(cubic, Cubic)
    assert 0.1 < place.t < 0.9, f"wanted inside the cubic, got t = {place.t}"
    hip = truth.edges[0].chain.start
    gone = piece.ring.at(place).distance(hip)
    assert gone > 60.0, f"the seam is only {gone} mm long"
    bend = abs(cubic.curvature(place.t))
    assert bend <= 1.0 / 500.0, f"wanted a calm seam, got a radius of {1.0 / bend} mm"


@pytest.mark.parametrize("radius", [15.0, 40.0, 80.0, 120.0])
def test_a_quarter_circle_ends_at_its_tangent_point(radius: float) -> None:
    truth = with_corners(straight_skirt(), ("arc", radius, 0.0))
    (got, taper), _ = _tapers(truth, truth.ring)
    wanted = Point(248.0, 600.0 - radius)
    assert got.distance(wanted) <= 1e-6, f"wanted {wanted}, got {got} (+-1e-6 mm)"
    assert abs(taper.down.x) <= 1e-9, f"wanted straight down, got {taper.down}"
    assert f"{radius:.0f} mm" in taper.because.why
