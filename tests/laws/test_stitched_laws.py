"""Pieces with a stitching line and a cutting line: the allowance goes along."""

from __future__ import annotations

from hypothesis import given

from core.alter.simple import is_simple
from core.curve import Chain
from core.piece.model import Piece
from tests.laws.compare import (
    assert_same_points,
    assert_same_shape,
    close,
    holds_in_order,
    result,
    strands,
)
from tests.laws.generate import Drawn, changes, drawn, longer, poses
from tests.laws.pose import Pose, mapped

STITCHED = drawn(stitched=True, darts=False)
# The allowance that is measured again after a change keeps within this (mm).
KEEPS = 0.01
# Lengthened twice, the cutting line is the same within this (mm); round the coarse steps of a
# digitised rounding, whose joints are mitred each time anew, 0.029 was seen.
TWICE, TWICE_IN_STEPS = 0.01, 0.05


def cut_upper(piece: Piece) -> Chain:
    return Chain(tuple(t.segment for t in strands(piece.outline, piece.cutting_hem)[0]))


@given(STITCHED, changes)
def test_both_lines_stay_simple_and_apart(case: Drawn, by: float) -> None:
    after = result(case.piece, by)
    assert is_simple(after.outline.ring)
    assert is_simple(after.ring)
    assert after.outline.ring.area() > after.ring.area()


@given(STITCHED, changes)
def test_the_cutting_line_outside_the_hem_stays_bit_for_bit(case: Drawn, by: float) -> None:
    piece, after = case.piece, result(case.piece, by)
    old, new = cut_upper(piece).segments, cut_upper(after).segments
    # A step of a digitised line that is cut through may be followed by a line to the corner.
    ends = 2 if case.sketch.step else 1
    kept, whole = (old[1:-1], new) if by > 0.0 else (new[ends:-ends], old)
    assert holds_in_order(whole, kept), f"wanted {kept} in {whole}"


@given(STITCHED, longer)
def test_the_seam_allowance_stays_beside_the_new_seam(case: Drawn, by: float) -> None:
    """Measured in the middle of the added part of each seam, square to it."""
    piece, after = case.piece, result(case.piece, by)
    line = cut_upper(after)
    assert piece.hem is not None
    assert after.hem is not None
    for old, new in ((piece.hem.first, after.hem.first), (piece.hem.last, after.hem.last)):
        middle = piece.ring.at(old.place).towards(after.ring.at(new.place), 0.5)
        close(line.nearest(middle).distance, case.sketch.allowance, KEEPS, "seam allowance")


@given(STITCHED, longer, longer)
def test_lengthening_the_cutting_line_twice(case: Drawn, a: float, b: float) -> None:
    """Law 1 for the outer line."""
    twice, once = result(result(case.piece, a), b), result(case.piece, a + b)
    within = TWICE_IN_STEPS if case.sketch.step else TWICE
    assert_same_shape(twice.outline.ring, once.outline.ring, "lengthened twice", within)


@given(STITCHED, changes, poses)
def test_the_page_does_not_matter_to_the_cutting_line(case: Drawn, by: float, pose: Pose) -> None:
    """Law 3 for the outer line."""
    before = result(mapped(case.piece, pose.affine), by)
    after = mapped(result(case.piece, by), pose.affine)
    assert_same_points(before.outline.ring, after.outline.ring, "turned", 1e-6)
