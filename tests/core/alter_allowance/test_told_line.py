"""A piece with a cutting line only is changed as if the line its allowances tell were drawn."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, event, given
from hypothesis import strategies as st

from core.alter.allowance.told import with_told_line
from core.alter.lengthen import lengthen
from core.alter.model import Altered, Change, HemWay, TurnUp
from core.alter.simple import is_simple
from core.curve import Place, Point, Ring
from core.errors import AlterationError
from core.piece.corners import corners as find_corners
from core.piece.direction import end_direction
from core.piece.model import HemRun, Piece, Role
from tests.core.alter_level.panels import polygon
from tests.laws.compare import close
from tests.laws.generate import Drawn, changes, drawn
from tests.laws.sketch import Garment, SeamPlan, SeamStyle, Sketch
from tests.published.test_turn_ups import SEAM, edge_width, looks, rings

# The panel 22 above, 18 below, 60 high (cm), reached from one that is 6 cm shorter or 3 cm longer.
REACHED = [(540.0, 60.0), (630.0, -30.0)]
# A place of the hem as near to its end as its allowance, and so much (mm) more, may have the line
# beside the seam nearer to it.
NEXT_TO_CORNER = 10.0
# What lies within 0.02 mm of where it should is left as it is, on the one line or the other.
NEAR = 0.03


def cut_only(high: float, *, mirrored: bool) -> Piece:
    """The panel drawn by its cutting line alone."""
    _, cut = rings(220.0, 220.0 - 40.0 * high / 600.0, high, 30.0, mirrored=mirrored)
    corners = [s.start for s in cut]
    if not mirrored:
        return polygon(corners, (Role.HEM, Role.INSEAM, Role.WAIST, Role.SIDE))
    right_fold, right, left, left_fold, *top = corners
    roles = (Role.HEM, Role.INSEAM, Role.INSEAM, Role.WAIST, Role.SIDE, Role.SIDE)
    drawn_so = polygon([right, left, left_fold, *top, right_fold], roles)
    hem, low, up, waist, down, last = drawn_so.edges
    whole = (hem, replace(low, end=up.end), waist, replace(down, end=last.end))
    return replace(drawn_so, edges=whole)


def told(by: float, **ways: object) -> Change:
    return replace(Change(by, allowance_mm=SEAM, hem_allowance_mm=30.0), **ways)  # type: ignore[arg-type]


def change(altered: Altered) -> float:
    return edge_width(altered.piece, SEAM, 20.0 / 600.0)


@pytest.mark.parametrize(("high", "by"), REACHED)
def test_a_mirrored_turn_up_stays_mirrored_for_the_new_taper(high: float, by: float) -> None:
    altered = lengthen(cut_only(high, mirrored=True), told(by))
    close(altered.figures.hem_width_after_mm, 180.0, 1e-3, "the fold")
    close(change(altered), 182.0, 1e-3, "the mirrored edge")
    assert altered.piece.stitching is None


@pytest.mark.parametrize(("high", "by"), REACHED)
def test_a_carried_on_turn_up_is_kept_and_told_with_both_widths(high: float, by: float) -> None:
    altered = lengthen(cut_only(high, mirrored=False), told(by))
    close(change(altered), 178.0, 1e-3, "the carried-on edge")
    (sentence,) = looks(altered)
    assert "17.80 cm" in sentence
    assert "18.20 cm" in sentence


@pytest.mark.parametrize("mirrored", [True, False])
@pytest.mark.parametrize(("high", "by"), REACHED)
def test_a_turn_up_is_redrawn_mirrored_when_asked(high: float, by: float, mirrored: bool) -> None:
    altered = lengthen(cut_only(high, mirrored=mirrored), told(by, turn_up=TurnUp.MIRROR))
    close(change(altered), 182.0, 1e-3, "the mirrored edge")


def test_untouched_segments_and_where_they_were_drawn_stay_bit_for_bit() -> None:
    piece = cut_only(540.0, mirrored=False)
    altered = lengthen(piece, told(60.0)).piece
    kept = {(s.start, s.end) for s in piece.outline.ring} & {
        (s.start, s.end) for s in altered.outline.ring
    }
    assert len(kept) >= 1, "wanted the waist as it was"
    assert {o.shape for o in altered.outline.origins} == {o.shape for o in piece.outline.origins}
    assert [e.role for e in altered.edges] == [e.role for e in piece.edges]
    assert altered.hem is not None
    for edge, role in zip(
        altered.edges, (Role.HEM, Role.INSEAM, Role.WAIST, Role.SIDE), strict=True
    ):
        assert edge.role is role
        assert altered.edge_length(edge) > 0.0


def test_nothing_told_changes_nothing_of_what_is_done() -> None:
    piece = cut_only(540.0, mirrored=False)
    assert with_told_line(piece, Change(60.0)) is None


stitched = st.one_of(
    drawn(rounded=False, darts=False, stitched=True), drawn(rounded=False, stitched=True)
)


@given(stitched, changes, st.sampled_from([HemWay.REFIT, HemWay.TRIM]))
def test_the_line_told_does_as_the_line_drawn(case: Drawn, by: float, hem: HemWay) -> None:
    """The same cutting line comes out as around a stitching line that is really there.

    Not where the hem is bowed, or squared: what is redrawn of it goes by the parts that it was
    drawn in, and those of the two lines are others (seen: 0.3 mm on a bowed hem).
    """
    both = _as_found(case.piece)
    sketch = case.sketch
    assume(both.stitching is not None and not any(d.on is Role.HEM for d in both.darts))
    assume(sketch.hem_angles is None)
    bare = _by_cutting_line(both)
    assume(bare is not None)
    assert bare is not None
    said = Change(by, hem=hem, allowance_mm=sketch.allowance, hem_allowance_mm=sketch.hem_allowance)
    made = with_told_line(bare, said)
    if made is None:
        event("no line made")
        return
    try:
        one = lengthen(both, Change(by, hem=hem)).piece.outline.ring
        other = lengthen(bare, said).piece.outline.ring
    except AlterationError:
        event("refused")
        return
    event("compared")
    assert is_simple(other)
    off = _apart(one, other)
    assert off <= NEAR, f"wanted the cutting lines within {NEAR} mm, got {off}"


@pytest.mark.parametrize("hem_allowance", [15.0, 27.0, 40.0])
@pytest.mark.parametrize("bend", [0.053, 0.097, -0.06])
@pytest.mark.parametrize("hem", [HemWay.REFIT, HemWay.TRIM])
def test_a_digitised_step_drawn_through_is_seen_where_the_line_is_parted_too(
    hem: HemWay, bend: float, hem_allowance: float
) -> None:
    """Regression: the made line parts it straight across from the hem's end, so it was no longer
    known as the last step drawn through, and its corner was kept aside (0.07 to 0.18 mm)."""
    plans = SeamPlan(0.0), SeamPlan(0.043, SeamStyle.CURVED, bend)
    made = Sketch(
        Garment.SKIRT, 427.0, 308.0, *plans, step=20.0, allowance=6.0, hem_allowance=hem_allowance
    )
    both = _as_found(made.piece())
    bare = _by_cutting_line(both)
    assert bare is not None
    said = Change(50.0, hem=hem, allowance_mm=6.0, hem_allowance_mm=hem_allowance)
    one = lengthen(both, Change(50.0, hem=hem)).piece.outline.ring
    other = lengthen(bare, said).piece.outline.ring
    close(_apart(one, other), 0.0, NEAR, "how far the cutting lines lie apart")


@given(stitched, changes, st.sampled_from([HemWay.REFIT, HemWay.TRIM]))
def test_the_hem_is_cut_as_far_outside_as_told(case: Drawn, by: float, hem: HemWay) -> None:
    """Everywhere along a bowed hem too, but for its corners."""
    bare, sketch = _by_cutting_line(case.piece), case.sketch
    assume(bare is not None and not any(d.on is Role.HEM for d in case.piece.darts))
    assert bare is not None
    said = Change(by, hem=hem, allowance_mm=sketch.allowance, hem_allowance_mm=sketch.hem_allowance)
    made = with_told_line(bare, said)
    if made is None:
        event("no line made")
        return
    try:
        sewn = lengthen(made, Change(by, hem=hem)).piece
        cut = lengthen(bare, said).piece
    except AlterationError:
        event("refused")
        return
    event("measured")
    assert sewn.hem is not None
    run = sewn.ring.run(sewn.hem.first.place, sewn.hem.last.place)
    length = run.length()
    for share in (0.2, 0.35, 0.5, 0.65, 0.8):
        if length * min(share, 1.0 - share) < sketch.hem_allowance + NEXT_TO_CORNER:
            continue
        p = run.at(run.at_length(length * share))
        off = cut.outline.ring.nearest(p).distance
        close(off, sketch.hem_allowance, 0.05, f"the hem allowance at {share}")


def _as_found(both: Piece) -> Piece:
    """The piece with its seams going where their own points say: the told line knows no more."""
    hem = both.hem
    assert hem is not None
    seams = both.ring.run(hem.last.place, hem.first.place)
    down, up = end_direction(list(seams)), end_direction(list(seams.reversed()))
    return replace(both, hem=HemRun(replace(hem.first, down=down), replace(hem.last, down=up)))


def _by_cutting_line(both: Piece) -> Piece | None:
    """The piece without its stitching line; its edges end at the corners of its cutting line."""
    ring, hem = both.outline.ring, both.cutting_hem
    if hem is None or both.hem is None:
        return None
    if (both.ring.signed_area() > 0.0) != (ring.signed_area() > 0.0):
        return None
    ends = {both.hem.first.place: hem.first.place, both.hem.last.place: hem.last.place}
    corners = find_corners(ring)

    def corner(place: Place) -> Place:
        if place in ends:
            return ends[place]
        p = both.ring.at(place)
        return Place(min(corners, key=lambda k: ring.segments[k].start.distance(p)), 0.0)

    edges = tuple(replace(e, start=corner(e.start), end=corner(e.end)) for e in both.edges)
    if any(e.start == e.end for e in edges):
        return None
    return replace(both, stitching=None, cutting_hem=None, hem=hem, edges=edges, darts=(), marks=())


def _apart(one: Ring, other: Ring) -> float:
    flat = one.flattened(tolerance=1e-3)
    there = max(other.nearest(Point(float(x), float(y))).distance for x, y in flat)
    flat = other.flattened(tolerance=1e-3)
    return max(there, *(one.nearest(Point(float(x), float(y))).distance for x, y in flat))
