"""Darts as notches and as lines, and what is no dart."""

from __future__ import annotations

from itertools import pairwise

import pytest

from core.curve import Chain, Line, Point, Ring
from core.piece.corners import corners
from core.piece.darts import line_darts, notch_darts
from core.piece.model import Kind, Role, Shape
from core.piece.recognise import recognise
from tests.core.piece.hands import as_drawn, digitised
from tests.core.piece.rows import case
from tests.core.piece.true_pieces import shorts, straight_skirt
from tests.core.piece.truth import with_waist_dart

EQUAL = 0.01


def _rectangle(*top: Point) -> Ring:
    """A piece 300 wide and 500 high whose upper edge runs through the given points."""
    return Ring.polygon([Point(0, 0), *top, Point(300, 0), Point(300, 500), Point(0, 500)])


def _notches(ring: Ring) -> tuple[object, ...]:
    return notch_darts(ring, corners(ring))


def _line(key: int, a: Point, b: Point, kind: Kind | None = None) -> Shape:
    return Shape(key, Chain((Line(a, b),)), kind=kind)


def test_a_notch_with_equal_legs_is_a_sure_dart() -> None:
    ring = _rectangle(Point(140, 0), Point(150, 90), Point(160, 0))
    (dart,) = notch_darts(ring, corners(ring))
    assert dart.because.sure
    assert dart.apex == Point(150, 90)
    assert dart.intake == pytest.approx(20.0)
    assert abs(dart.legs[0] - dart.legs[1]) <= EQUAL


def test_the_mouth_is_in_ring_order_whichever_way_the_ring_runs() -> None:
    ring = _rectangle(Point(140, 0), Point(150, 90), Point(160, 0)).reversed()
    (dart,) = notch_darts(ring, corners(ring))
    assert dart.mouth == (Point(160, 0), Point(140, 0))
    assert dart.mouth_places is not None
    assert [ring.at(p) for p in dart.mouth_places] == list(dart.mouth)


def test_two_notches_side_by_side_are_two_darts() -> None:
    ring = _rectangle(
        Point(80, 0), Point(90, 90), Point(100, 0), Point(180, 0), Point(190, 70), Point(200, 0)
    )
    assert len(_notches(ring)) == 2


@pytest.mark.parametrize(
    ("top", "why"),
    [
        ([Point(140, 0), Point(150, 9), Point(160, 0)], "a notch for matching is shallow"),
        ([Point(80, 0), Point(150, 90), Point(220, 0)], "too wide"),
        ([Point(140, 0), Point(150, 400), Point(160, 0)], "too long"),
        ([Point(140, 0), Point(215, 60), Point(200, 0)], "legs too different"),
        ([Point(140, 0), Point(150, -90), Point(160, 0)], "it points outwards"),
        ([Point(100, 0), Point(100, 80), Point(180, 80), Point(180, 0)], "a pocket has a floor"),
    ],
)
def test_what_is_no_dart(top: list[Point], why: str) -> None:
    assert not _notches(_rectangle(*top)), why


def test_legs_that_differ_a_little_are_an_unsure_dart() -> None:
    ring = _rectangle(Point(140, 0), Point(158, 90), Point(160, -6))
    (dart,) = notch_darts(ring, corners(ring))
    assert not dart.because.sure


def test_two_nameless_lines_to_a_common_point_are_an_unsure_dart() -> None:
    tip = Point(150, 90)
    lines = [_line(1, Point(140, 0), tip), _line(2, tip, Point(160, 0))]
    (dart,) = line_darts(_rectangle(), lines)
    assert not dart.because.sure
    assert set(dart.shapes) == {1, 2}
    assert dart.mouth_places is None


def test_two_lines_called_a_dart_are_sure() -> None:
    tip = Point(150, 90)
    lines = [_line(k, Point(x, 0), tip, Kind.DART) for k, x in ((1, 140), (2, 160))]
    (dart,) = line_darts(_rectangle(), lines)
    assert dart.because.sure


def test_a_pocket_of_three_lines_is_no_dart() -> None:
    corners_of = [Point(100, 0), Point(100, 90), Point(180, 90), Point(180, 0)]
    lines = [_line(k, a, b) for k, (a, b) in enumerate(pairwise(corners_of))]
    assert not line_darts(_rectangle(), lines)
    assert not line_darts(_rectangle(), [Shape(1, Chain.through(corners_of))])


def test_a_pocket_corner_that_meets_two_edges_is_no_dart() -> None:
    # A slanted opening: its ends lie on the outline, but on two of its edges.
    lines = [_line(1, Point(260, 0), Point(240, 60)), _line(2, Point(240, 60), Point(300, 70))]
    assert not line_darts(_rectangle(), lines)


def test_a_pleat_of_two_parallel_lines_is_no_dart() -> None:
    lines = [_line(1, Point(140, 0), Point(140, 80)), _line(2, Point(160, 0), Point(160, 80))]
    assert not line_darts(_rectangle(), lines)


@pytest.mark.parametrize("v", [True, False])
@pytest.mark.parametrize("piece", [shorts(), straight_skirt()], ids=["shorts", "skirt"])
def test_drawn_darts_lie_on_the_waist_and_leave_no_stray_lines(piece: object, v: bool) -> None:
    truth = with_waist_dart(piece, notched=False)  # type: ignore[arg-type]
    (found,), _ = recognise(case("", truth, as_drawn, v_dart=v).shapes)
    (dart,) = found.darts
    assert dart.on is Role.WAIST
    kinds = {m.shape: m.kind for m in found.marks}
    assert all(kinds[k] is Kind.DART for k in dart.shapes)


@pytest.mark.parametrize(("step", "noise"), [(1.0, 0.2), (3.0, 0.2), (8.0, 0.2)])
@pytest.mark.parametrize("seed", range(4))
def test_a_digitised_notch_is_one_dart(step: float, noise: float, seed: int) -> None:
    truth = with_waist_dart(shorts(), notched=True)
    shapes = case("", truth, digitised(step, noise, seed), exact=False).shapes
    (found,), _ = recognise(shapes)
    (dart,) = found.darts
    wanted = truth.darts[0].apex
    assert dart.apex.distance(wanted) <= 0.3, f"wanted {wanted}, got {dart.apex} (+-0.3)"
    assert dart.intake == pytest.approx(24.0, abs=0.5)
