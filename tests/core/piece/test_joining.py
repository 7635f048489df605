"""Outlines from loose lines: gaps, directions, side lines, and where each segment came from."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.curve import Affine, Chain, Cubic, Line, Point
from core.piece.join import JOIN, join
from core.piece.model import Outline, Shape
from tests.core.piece.true_pieces import shorts, trousers
from tests.core.piece.truth import with_corners

SQUARE = [Point(0, 0), Point(300, 0), Point(300, 200), Point(0, 200)]


def _shape(key: int, *points: Point) -> Shape:
    return Shape(key, Chain.through(points))


def _sides(gap: float = 0.0) -> list[Shape]:
    """Four sides of a square; each begins `gap` mm beside the end of the one before."""
    ends = zip(SQUARE, (*SQUARE[1:], SQUARE[0]), strict=True)
    return [_shape(k, Point(a.x + gap, a.y), b) for k, (a, b) in enumerate(ends)]


def _edges() -> list[Chain]:
    return [e.chain for e in with_corners(shorts(), ("arc", 40.0, 0.0)).edges]


@pytest.mark.parametrize("gap", [0.0, 0.02, 0.05, 0.0999])
def test_gaps_up_to_a_tenth_are_joined(gap: float) -> None:
    (outline,) = join(_sides(gap))
    assert len(outline.ring) == 4
    assert abs(outline.ring.area() - 60000.0) <= 0.11 * 500


def test_a_gap_of_eleven_hundredths_is_not_joined() -> None:
    assert join(_sides(0.11)) == ()


def test_a_line_closed_by_itself_but_for_a_gap_is_an_outline() -> None:
    (outline,) = join([_shape(7, *SQUARE, Point(0.05, 0.05))])
    assert {o.shape for o in outline.origins} == {7}
    assert abs(outline.ring.area() - 60000.0) < 30.0


def test_an_inner_line_hanging_at_a_corner_is_left_aside() -> None:
    inner = _shape(9, SQUARE[2], Point(150, 100))
    (outline,) = join([*_sides(), inner])
    assert 9 not in {o.shape for o in outline.origins}


def test_a_line_across_between_two_corners_leaves_the_outer_loop() -> None:
    across = _shape(9, SQUARE[0], SQUARE[2])
    (outline,) = join([across, *_sides()])
    assert {o.shape for o in outline.origins} == {0, 1, 2, 3}
    assert outline.ring.area() == pytest.approx(60000.0)


def test_a_curve_bulging_inside_the_outline_is_not_on_the_outer_loop() -> None:
    inside = Cubic(SQUARE[0], Point(40, 40), Point(40, 160), SQUARE[3])
    (outline,) = join([*_sides(), Shape(9, Chain((inside,)))])
    assert 9 not in {o.shape for o in outline.origins}


def test_a_curve_that_leaves_straight_on_at_a_joint_does_not_lead_the_loop_inwards() -> None:
    # It sets out along the side below it, so only its bend tells which way is outside.
    inside = Cubic(SQUARE[1], Point(300, 40), Point(260, 100), SQUARE[3])
    (outline,) = join([Shape(9, Chain((inside,))), *_sides()])
    assert 9 not in {o.shape for o in outline.origins}
    assert outline.ring.area() == pytest.approx(60000.0)


def test_two_separate_outlines_come_in_the_order_of_their_first_lines() -> None:
    far = [
        Shape(10 + s.key, s.geometry.mapped(Affine.move(500, 0)))
        for s in _sides()
        if isinstance(s.geometry, Chain)
    ]
    found = join([far[0], *_sides(), *far[1:]])
    assert [o.origins[0].shape >= 10 for o in found] == [True, False]


def _put_back(outline: Outline, shapes: Sequence[Shape]) -> float:
    """The largest distance between a segment, put back as it was drawn, and the drawn one."""
    drawn = {s.key: s.geometry for s in shapes}
    worst = 0.0
    for segment, origin in zip(outline.ring, outline.origins, strict=True):
        chain = drawn[origin.shape]
        assert isinstance(chain, Chain)
        was, now = chain.segments[origin.segment], segment
        if origin.reversed:
            now = segment.reversed()
        worst = max(worst, was.start.distance(now.start), was.end.distance(now.end))
    return worst


@settings(max_examples=40, deadline=None)
@given(
    flips=st.lists(st.booleans(), min_size=12, max_size=12),
    order=st.permutations(range(12)),
    pull=st.lists(
        st.tuples(st.floats(-0.03, 0.03), st.floats(-0.03, 0.03)), min_size=12, max_size=12
    ),
    pieces=st.booleans(),
)
def test_every_segment_goes_back_to_where_it_was_drawn(
    flips: list[bool], order: list[int], pull: list[tuple[float, float]], pieces: bool
) -> None:
    chains = _edges()
    if pieces:
        chains = [Chain((s,)) for e in trousers().edges for s in e.chain]
    shapes = []
    for k, chain in enumerate(chains):
        moved = chain.mapped(Affine.move(*pull[k]))
        shapes.append(Shape(k, moved.reversed() if flips[k] else moved))
    shuffled = [shapes[k] for k in order if k < len(shapes)]
    (outline,) = join(shuffled)
    assert {o.shape for o in outline.origins} == set(range(len(chains)))
    assert len(set(outline.origins)) == sum(len(c) for c in chains)
    off = _put_back(outline, shapes)
    assert off <= JOIN, f"wanted each segment as drawn, got {off} mm off (+-{JOIN})"


def test_a_loose_line_shorter_than_the_gap_is_no_joint_of_its_own() -> None:
    stub = Shape(9, Chain((Line(SQUARE[1], Point(300.04, 0.03)),)))
    (outline,) = join([stub, *_sides()])
    assert len(outline.ring) == 4


def test_a_fold_line_drawn_on_its_edge_does_not_undo_the_outline() -> None:
    again = _shape(9, Point(0.02, 199.97), Point(0.01, 0.03))
    (outline,) = join([*_sides(), again])
    assert {o.shape for o in outline.origins} == {0, 1, 2, 3}


def test_two_different_ways_between_the_same_corners_are_both_kept() -> None:
    bow = Cubic(SQUARE[3], Point(-30, 150), Point(-30, 50), SQUARE[0])
    (outline,) = join([*_sides(), Shape(9, Chain((bow,)))])
    assert {o.shape for o in outline.origins} == {0, 1, 2, 9}
