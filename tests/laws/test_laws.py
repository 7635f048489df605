"""The nine laws of a length alteration, on pieces with their true taper points."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from core.alter.simple import is_simple
from core.curve import Affine, Chain, Cubic, Line, Point, Vector
from tests.laws.compare import (
    altered,
    apart,
    assert_same_points,
    assert_same_shape,
    ends,
    holds_in_order,
    result,
    run,
    turns,
    upper,
)
from tests.laws.generate import STRAIGHT_ENDS, Drawn, changes, drawn, longer, poses
from tests.laws.pose import Pose, mapped, split
from tests.laws.sketch import SeamStyle

# A joint that turns by no more than this (radians) is smooth.
SMOOTH = 1e-6
CORNER = math.radians(18.0)
# On rows of short lines a joint may turn by so much more or less than it did.
BENDS = math.radians(2.0)


@given(st.one_of(drawn(digitised=True), drawn(digitised=False, may_drag=True)), longer, longer)
def test_lengthening_twice_is_lengthening_by_the_sum(case: Drawn, a: float, b: float) -> None:
    """Law 1, within 0.01 mm."""
    twice = result(result(case.piece, a), b)
    assert_same_shape(twice.ring, result(case.piece, a + b).ring, "lengthened twice")


@given(drawn(digitised=True, may_drag=True), longer, longer)
def test_lengthening_twice_from_within_a_digitised_bend(case: Drawn, a: float, b: float) -> None:
    """Law 1 also where a taper point was dragged into a bent row of short lines: all of them
    keep to the seam, not only those that go straight on from it. Within 0.01 mm."""
    twice = result(result(case.piece, a), b)
    assert_same_shape(twice.ring, result(case.piece, a + b).ring, "lengthened twice")


@given(
    st.one_of(
        drawn(styles=STRAIGHT_ENDS, digitised=False, may_drag=True),
        # The direction of a digitised seam is fitted over a stretch: all of it is straight.
        drawn(styles=(SeamStyle.STRAIGHT,), digitised=True, may_drag=True),
    ),
    longer,
)
def test_shortening_undoes_lengthening(case: Drawn, by: float) -> None:
    """Law 2, within 0.01 mm, where the fit line is straight at the taper point."""
    piece = case.piece
    back = result(result(piece, by), -by)
    assert_same_shape(back.ring, piece.ring, "lengthened and shortened")


@given(drawn(may_drag=True), changes)
def test_everything_above_the_taper_points_stays_bit_for_bit(case: Drawn, by: float) -> None:
    """Law 2 and section 2.5: the same values in the same order, but for the two last threads."""
    piece = case.piece
    after = result(piece, by)
    old, new = upper(piece), upper(after)
    if by > 0.0:
        kept = old[1:-1]
        assert holds_in_order(new, kept), f"wanted {kept} in a row, got {new}"
    else:
        kept = new[1:-1]
        assert holds_in_order(old, kept), f"wanted {kept} from the old outline {old}"


@given(drawn(may_drag=True), changes, poses)
def test_the_page_does_not_matter(case: Drawn, by: float, pose: Pose) -> None:
    """Law 3, within 1e-6 mm: turned, mirrored, moved before or after."""
    piece = case.piece
    before = result(mapped(piece, pose.affine), by)
    after = mapped(result(piece, by), pose.affine)
    assert_same_points(before.ring, after.ring, "turned before and after", 1e-6)


@given(drawn(may_drag=True), changes)
def test_the_listing_of_the_outline_does_not_matter(case: Drawn, by: float) -> None:
    """Law 3: drawn the other way round or from another joint, the same result."""
    plain = Pose(case.pose.angle, case.pose.mirrored, case.pose.step)
    one, other = result(case.posed(plain), by), result(case.piece, by)
    assert_same_shape(other.ring, one.ring, "listed otherwise", 1e-6)


@given(drawn(may_drag=True), changes)
def test_units_do_not_matter(case: Drawn, by: float) -> None:
    """Law 3: a piece that came through inches, within 1e-6 mm."""
    inches = mapped(case.piece, Affine.scale(1 / 25.4))
    through = result(mapped(inches, Affine.scale(25.4)), by)
    assert_same_points(through.ring, result(case.piece, by).ring, "through inches", 1e-6)


@given(drawn(may_drag=True))
def test_no_change_changes_nothing(case: Drawn) -> None:
    """Law 4: the very same value."""
    piece = case.piece
    got = altered(piece, 0.0)
    assert got.piece is piece, "a change of nothing made another piece"
    assert not got.findings, f"wanted no findings, got {got.findings}"


@given(drawn(may_drag=True), changes)
def test_the_outline_stays_one_simple_ring(case: Drawn, by: float) -> None:
    """Law 5."""
    piece = case.piece
    after = result(piece, by)
    assert is_simple(after.ring), "the outline crosses itself"
    grown = after.ring.area() - piece.ring.area()
    assert grown * by > 0.0, f"changed by {by} mm, the area grew by {grown} mm2"
    same_way = after.ring.signed_area() * piece.ring.signed_area() > 0.0
    assert same_way, "the outline runs the other way round"


@given(drawn(may_drag=True), changes)
def test_darts_keep_intake_and_legs(case: Drawn, by: float) -> None:
    """Law 7: intake exactly (1e-9 mm), legs equal; those above the hem are the same values."""
    piece = case.piece
    after = result(piece, by)
    assert len(after.darts) == len(piece.darts)
    for old, new in zip(piece.darts, after.darts, strict=True):
        off = abs(new.intake - old.intake)
        assert off <= 1e-9, f"wanted intake {old.intake}, got {new.intake}, off {off}"
        for was, got in zip(old.legs, new.legs, strict=True):
            assert abs(was - got) <= 1e-9, f"wanted leg {was}, got {got}"
        assert new.mouth_places is not None
        for place, p in zip(new.mouth_places, new.mouth, strict=True):
            assert after.ring.at(place) == p, "the mouth is not where its place says"
        assert any(s.start == new.apex for s in after.ring), "the apex is off the outline"


@given(drawn(digitised=False, may_drag=True), changes)
def test_corners_neither_come_nor_go(case: Drawn, by: float) -> None:
    """Law 8: on drawn curves. Joints that were smooth turn by less than 1e-6 radians."""
    piece = case.piece
    after = result(piece, by)
    old = [a for _, a in turns(piece.ring) if abs(a) > CORNER]
    new = [a for _, a in turns(after.ring) if abs(a) > CORNER]
    assert len(old) == len(new), f"wanted {len(old)} corners, got {len(new)}"
    faint = [a for _, a in turns(after.ring) if SMOOTH < abs(a) <= CORNER]
    was_faint = [a for _, a in turns(piece.ring) if SMOOTH < abs(a) <= CORNER]
    assert len(faint) <= len(was_faint), f"kinks of {faint} rad, before {was_faint}"


@given(drawn(digitised=True), changes)
def test_digitised_corners_neither_come_nor_go(case: Drawn, by: float) -> None:
    """Law 8: on rows of short lines every joint of the hem run turns about as it did."""
    piece = case.piece
    after = result(piece, by)
    was, now = dict(turns(piece.ring)), dict(turns(after.ring))
    old, new = run(piece)[1:], run(after)[1:]
    for s, t in zip(old, new, strict=True):
        before, got = abs(was[s.start]), abs(now[t.start])
        allowed = BENDS + before / 10
        assert abs(got - before) <= allowed, f"a joint turned by {before} rad, now by {got}"
    for before_p, after_p in zip(ends(piece), ends(after), strict=True):
        before, got = abs(was[before_p]), abs(now[after_p])
        if before <= CORNER:
            # A taper point on a rounding in long steps is a joint of it like the others.
            allowed = BENDS + before / 10
            assert got - before <= allowed, f"a taper point turned by {before} rad, now by {got}"


@given(drawn(may_drag=True), changes, st.data())
def test_more_points_give_the_same_shape(case: Drawn, by: float, data: st.DataObject) -> None:
    """Law 9, within 0.01 mm: any segment split anywhere."""
    piece = case.piece
    k = data.draw(st.integers(0, len(piece.ring) - 1))
    t = data.draw(st.floats(0.01, 0.99))
    finer = result(split(piece, k, t), by)
    assert_same_shape(finer.ring, result(piece, by).ring, "with one more point")


def test_comparing_shapes_can_fail() -> None:
    """The helper that law 9 rests on tells a bulge of 0.02 mm from a straight line."""
    a, b = Point(0.0, 0.0), Point(100.0, 0.0)
    line = Line(a, b)
    bulge = Vector(0.0, 0.02 * 4 / 3)
    curve = Cubic(a, Point(100 / 3, 0.0) + bulge, Point(200 / 3, 0.0) + bulge, b)
    off = apart(Chain((line,)), Chain((curve,)))
    assert abs(off - 0.02) < 1e-3, f"wanted 0.02 mm, got {off}"
    halves = Chain(line.split(0.3))
    assert apart(halves, Chain((line,))) <= 1e-12
