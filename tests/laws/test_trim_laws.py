"""The laws of sliding and trimming: with rounded corners of every size, vents and scoops."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.alter.lengthen import lengthen
from core.alter.model import Change, HemWay, SeamWay
from core.alter.simple import is_simple
from core.curve import Chain, Point
from core.errors import AlterationError
from core.piece.model import Piece
from tests.laws.compare import (
    assert_same_shape,
    close,
    ends,
    hem_angles,
    run,
    turns,
    upper,
)
from tests.laws.generate import Drawn, poses
from tests.laws.hem_shapes import HemKind, HemShape
from tests.laws.pose import Pose, mapped, split
from tests.laws.shaped import any_change, made, shaped
from tests.laws.sketch import Garment, SeamPlan, SeamStyle, Sketch

SMOOTH = 1e-6
KINK = math.radians(0.1)
CORNER = math.radians(18.0)
FLOWS = 0.4
STRAIGHT_BESIDE = (HemKind.SCOOP, HemKind.SLIT)
TRIM = any_change(hem=HemWay.TRIM)
# Both ends of the run rounded (15 to 120 mm), or with a vent, or one so and the other so.
BOTH = st.one_of(
    shaped(rounded=1.0, largest_radius=120.0, digitised=False),
    shaped(rounded=0.5, largest_radius=120.0),
).filter(lambda case: _shaped_ends(case) == 2)
ANY = st.one_of(BOTH, shaped(rounded=0.5, largest_radius=120.0))
WHOLE = shaped(rounded=1.0, largest_radius=120.0, digitised=False, kinds=STRAIGHT_BESIDE).filter(
    lambda case: case.sketch.left.radius > 0.0 and case.sketch.right.radius > 0.0
)


def _along_a_line(change: Change) -> Change:
    """The change with seams that are carried on along a line known beforehand."""
    plumb = change.seams is SeamWay.PLUMB
    seams = SeamWay.PLUMB if plumb else SeamWay.STRAIGHT
    return replace(change, seams=seams, to_width_mm=None)


def _ruled(case: Drawn) -> bool:
    return all(p.style is SeamStyle.STRAIGHT for p in (case.sketch.left, case.sketch.right))


def _shaped_ends(case: Drawn) -> int:
    return sum(p.radius > 0.0 or p.vent is not None for p in (case.sketch.left, case.sketch.right))


@given(ANY, TRIM.map(_along_a_line))
def test_a_trimmed_hem_ends_on_the_carried_seams(case: Drawn, change: Change) -> None:
    """On the line of the seam carried on, or on the old seam when shortened, within 1e-6 mm.

    A seam that bends is carried straight on from where it was cut to where the hem meets it.
    """
    piece, after = case.piece, made(case.piece, change)
    assert piece.hem is not None
    plumb = change.seams is SeamWay.PLUMB
    tapers = (piece.hem.first, piece.hem.last)
    for was, now, taper in zip(ends(piece), ends(after), tapers, strict=True):
        way = piece.grain.down if plumb and change.by_mm > 0.0 else taper.down
        off = min(abs(way.cross(now - was)), Chain(upper(piece)).nearest(now).distance)
        limit = 1e-6 if change.by_mm > 0.0 or _ruled(case) else 1.0
        assert off <= limit, f"wanted the hem to end on its seam, got {off} mm off it"


@given(ANY, TRIM)
def test_the_middle_of_a_trimmed_hem_is_the_old_one_slid(case: Drawn, change: Change) -> None:
    """Between its corners every point goes by the amount along the grain, within 4e-6 mm: the
    place at which a curved seam lies that high is found within 1e-6 along it, on both seams.

    A hem that is shaped at one end only goes aside with that seam.
    """
    piece, after = case.piece, made(case.piece, change)
    assume(_shaped_ends(case) != 1)
    old, new = Chain(run(piece)), Chain(run(after))
    first, last = (_corner(plan) for plan in (case.sketch.left, case.sketch.right))
    first, last = (last, first) if _turned_over(case) else (first, last)
    left = old.length() - first - last
    assume(left > 10.0)
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        p = old.at(old.at_length(first + share * left)).moved(piece.grain.down, change.by_mm)
        off = new.nearest(p).distance
        assert off <= 4e-6, f"wanted the hem slid by {change.by_mm}, got {off} mm off"


def _corner(plan: SeamPlan) -> float:
    """How much of the run (mm) its corner takes at most, and what may be cut off beside it."""
    vent = sum(map(abs, plan.vent)) if plan.vent else 0.0
    return max(1.9 * plan.radius, vent) + 60.0


def _turned_over(case: Drawn) -> bool:
    """Is the run listed from its right end?"""
    return case.pose.backwards


@given(shaped(rounded=0.0), TRIM)
def test_trimmed_hems_are_the_old_ones_slid(case: Drawn, change: Change) -> None:
    """Every segment but those at the ends is the old one, moved by one step."""
    assume(case.sketch.left.vent is None or case.sketch.right.vent is None)
    after = made(case.piece, change)
    old, new = run(case.piece), run(after)
    inner = new[1:-1]
    assume(bool(inner))
    lengths = [s.length() for s in old]
    for s in inner:
        best = min(abs(s.length() - w) for w in lengths)
        assert best <= 1e-6, f"a stretch of the slid hem is {best} mm longer or shorter"


@given(WHOLE, TRIM)
def test_corners_beside_a_straight_hem_stay_whole(case: Drawn, change: Change) -> None:
    """As many joints that turn, smooth at both seams; as long as it was where the seam goes on.

    What takes most of the run is no corner of it.
    """
    piece, after = case.piece, made(case.piece, change)
    assume(all(run(piece)[k].length() >= 30.0 for k in (1, -2)))
    longest = max(run(piece)[k].length() for k in (0, -1))
    assume(longest <= 0.6 * Chain(tuple(run(piece))).length())
    found = dict(turns(after.ring))
    for p in ends(after):
        assert abs(found[p]) < KINK, f"wanted a corner that flows from its seam, got {found[p]}"
    allowed = 0 if change.seams is SeamWay.STRAIGHT and change.to_width_mm is None else 2
    was, now = ([abs(a) for _, a in turns(p.ring)] for p in (piece, after))
    # Where a seam that bends was cut, the corner may leave it by less than a kink.
    bent, kinked = sum(a > SMOOTH for a in was), sum(a > KINK for a in now)
    assert kinked <= bent + allowed, f"wanted {bent} joints that turn, got {kinked}"
    if allowed == 0 and change.by_mm > 0.0:
        for k in (0, -1):
            close(run(after)[k].length(), run(piece)[k].length(), 1e-6, "length of the corner")


@given(BOTH, TRIM)
def test_trimming_makes_corners_only_where_it_cuts(case: Drawn, change: Change) -> None:
    piece, after = case.piece, made(case.piece, change)
    cut = {*ends(after), *ends(piece)}
    was = sum(abs(a) > CORNER / 1.5 for _, a in turns(piece.ring))
    inner = [abs(a) for p, a in turns(after.ring) if p not in cut]
    now = sum(a > CORNER for a in inner)
    assert now <= was, f"wanted at most {was} corners beside the cuts, got {now}"


@given(BOTH, TRIM)
def test_trimmed_outlines_stay_simple(case: Drawn, change: Change) -> None:
    """Law 5. A rounding that leans over to a plumb seam may take more than a little length adds."""
    after = made(case.piece, change)
    assert is_simple(after.ring), "the outline crosses itself"
    if change.to_width_mm is None and change.seams is not SeamWay.PLUMB:
        grown = after.ring.area() - case.piece.ring.area()
        assert grown * change.by_mm > 0.0, f"changed by {change.by_mm}, area by {grown} mm2"


@given(BOTH, TRIM, poses)
def test_the_page_does_not_matter_to_trimming(case: Drawn, change: Change, pose: Pose) -> None:
    """Law 3, within 1e-6 mm: as one line, for a stretch of 1e-9 mm may be there or not."""
    before = made(mapped(case.piece, pose.affine), change)
    after = mapped(made(case.piece, change), pose.affine)
    assert_same_shape(before.ring, after.ring, "turned before and after", 1e-6)


@given(BOTH, TRIM)
def test_the_listing_does_not_matter_to_trimming(case: Drawn, change: Change) -> None:
    """Law 3: drawn the other way round or from another joint."""
    plain = Pose(case.pose.angle, case.pose.mirrored, case.pose.step)
    one, other = made(case.posed(plain), change), made(case.piece, change)
    assert_same_shape(other.ring, one.ring, "listed otherwise", 1e-6)


@given(BOTH, TRIM, st.data())
def test_trimming_with_more_points(case: Drawn, change: Change, data: st.DataObject) -> None:
    """Law 9, within 0.01 mm: any segment split anywhere."""
    piece = case.piece
    k = data.draw(st.integers(0, len(piece.ring) - 1))
    finer = made(split(piece, k, data.draw(st.floats(0.05, 0.95))), change)
    assert_same_shape(finer.ring, made(piece, change).ring, "with one more point")


def leg(lean: float, *, radius: float, kind: HemKind = HemKind.SLIT, step: float = 0.0) -> Piece:
    seam = SeamPlan(lean, SeamStyle.STRAIGHT, radius=radius)
    shape = HemShape(kind, at=0.5, wide=10.0, deep=90.0 if kind is HemKind.SLIT else 10.0)
    angles = None if kind is HemKind.SLIT else (0.1, 0.1)
    return Sketch(
        Garment.LEG, 420.0, 420.0, seam, seam, hem_angles=angles, step=step, shape=shape
    ).piece()


@pytest.mark.parametrize("radius", [15.0, 40.0, 120.0])
@pytest.mark.parametrize("lean", [-0.1, 0.1])
@pytest.mark.parametrize("step", [0.0, 6.0])
def test_both_rounded_corners_keep_their_shape(radius: float, lean: float, step: float) -> None:
    """A level hem between two equal seams: 60 mm lower each lies 60 tan(lean) further out."""
    piece = leg(lean, radius=radius, step=step)
    after = lengthen(piece, Change(60.0, hem=HemWay.TRIM)).piece
    count = 1 if step == 0.0 else 4
    for k in range(count):
        was, now = run(piece)[k], run(after)[k]
        aside = was.start.moved(piece.grain.down, 60.0).distance(now.start)
        close(aside, 60.0 * math.tan(abs(lean)), 1e-9, "how far aside the corner went")
        close(now.length(), was.length(), 1e-9, "length of the corner")
    close(hem_angles(after)[0], hem_angles(piece)[0], 1e-9, "how the corner leaves its seam")


def test_a_rounding_into_a_curved_hem_is_cut_where_it_sticks_out() -> None:
    piece = leg(-0.1, radius=40.0, kind=HemKind.WAVES)
    after = lengthen(piece, Change(60.0, hem=HemWay.TRIM)).piece
    seam = piece.hem.first.down if piece.hem else None
    start = ends(after)[0]
    assert seam is not None
    assert abs(seam.cross(start - ends(piece)[0])) <= 1e-9, "the cut is not on the seam"
    slid = Chain(run(piece)).nearest(Point(start.x, start.y - 60.0))
    assert slid.distance <= 1e-6, "the cut is not on the slid hem"


def test_a_rounding_into_a_curved_hem_that_falls_short_is_refused() -> None:
    piece = leg(0.1, radius=40.0, kind=HemKind.WAVES)
    with pytest.raises(AlterationError, match="no part of it leads to the carried seams"):
        lengthen(piece, Change(60.0, hem=HemWay.TRIM))


def test_corners_that_would_use_up_the_hem_are_refused_with_what_works() -> None:
    piece = leg(-0.25, radius=120.0)
    with pytest.raises(AlterationError, match=r"no hem between them\. Lengthen by less than"):
        lengthen(piece, Change(500.0, hem=HemWay.TRIM))
