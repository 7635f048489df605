"""The laws on hems of every shape: waves, scoops, points, slits, steps and vents.

In all three ways of the hem, longer and shorter, with seams carried on in every way.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

from hypothesis import assume, given
from hypothesis import strategies as st

from core.alter.lengthen import lengthen
from core.alter.model import Change, HemWay, SeamWay
from core.alter.simple import is_simple
from core.curve import Line, Point, Segment, Vector
from core.piece.model import Piece
from tests.laws.compare import (
    apart,
    assert_same_points,
    assert_same_shape,
    close,
    ends,
    height,
    hem_angles,
    holds_in_order,
    run,
    turns,
    upper,
)
from tests.laws.generate import STRAIGHT_ENDS, Drawn, changes, longer, poses
from tests.laws.hem_shapes import HemKind
from tests.laws.pose import Pose, mapped, split
from tests.laws.shaped import FLOWING, any_change, made, shaped
from tests.laws.sketch import SeamStyle

# A joint that turns by no more than this (radians) is smooth.
SMOOTH = 1e-6
CORNER = math.radians(18.0)
KINK = math.radians(0.1)
# A seam that leans (by 0.25 radians at most) and is made plumb shows small angles larger: 1/cos^2.
LEANING = 1.07
DRAWN = shaped(digitised=False)
ANY = st.one_of(DRAWN, shaped(digitised=True), shaped(digitised=True, noise=True))
STRAIGHT_ON = st.sampled_from((SeamWay.STRAIGHT, SeamWay.PLUMB))


@given(ANY, longer, longer, STRAIGHT_ON)
def test_shaped_hems_lengthened_twice(case: Drawn, a: float, b: float, seams: SeamWay) -> None:
    """Law 1, within 0.01 mm."""
    twice = made(made(case.piece, Change(a, seams=seams)), Change(b, seams=seams))
    once = made(case.piece, Change(a + b, seams=seams))
    assert_same_shape(twice.ring, once.ring, "lengthened twice")


@given(
    st.one_of(
        shaped(styles=STRAIGHT_ENDS, digitised=False),
        shaped(styles=(SeamStyle.STRAIGHT,), digitised=True),
    ),
    longer,
)
def test_shaped_hems_there_and_back(case: Drawn, by: float) -> None:
    """Law 2, within 0.01 mm."""
    back = made(made(case.piece, Change(by)), Change(-by))
    assert_same_shape(back.ring, case.piece.ring, "lengthened and shortened")


@given(ANY, any_change())
def test_above_shaped_hems_all_stays(case: Drawn, change: Change) -> None:
    """Law 2: the same values in the same order, but for the two last threads."""
    piece, after = case.piece, made(case.piece, change)
    old, new = upper(piece), upper(after)
    if change.hem is HemWay.TRIM:
        # A slid hem may end its seams elsewhere, and so cut into the old ones.
        old, new = _top(old, new)
        assert old == new
        return
    kept, whole = (old[1:-1], new) if change.by_mm > 0.0 else (new[1:-1], old)
    assert holds_in_order(whole, kept), f"wanted {kept} in {whole}"


def _top(
    old: tuple[Segment, ...], new: tuple[Segment, ...]
) -> tuple[tuple[Segment, ...], tuple[Segment, ...]]:
    """The two rows from the first common segment to the last."""
    common = [s for s in new[1:-1] if s in old]
    assume(bool(common))
    rows = []
    for row in (old, new):
        a, b = row.index(common[0]), row.index(common[-1])
        rows.append(row[a : b + 1])
    return rows[0], rows[1]


@given(ANY, any_change(), poses)
def test_the_page_does_not_matter_to_shaped_hems(case: Drawn, change: Change, pose: Pose) -> None:
    """Law 3, within 1e-6 mm."""
    before = made(mapped(case.piece, pose.affine), change)
    after = mapped(made(case.piece, change), pose.affine)
    assert_same_points(before.ring, after.ring, "turned before and after", 1e-6)


@given(ANY, any_change())
def test_the_listing_of_shaped_hems_does_not_matter(case: Drawn, change: Change) -> None:
    """Law 3: drawn the other way round or from another joint."""
    plain = Pose(case.pose.angle, case.pose.mirrored, case.pose.step)
    one, other = made(case.posed(plain), change), made(case.piece, change)
    assert_same_shape(other.ring, one.ring, "listed otherwise", 1e-6)


@given(ANY, st.sampled_from(tuple(HemWay)))
def test_no_change_changes_no_shaped_hem(case: Drawn, hem: HemWay) -> None:
    """Law 4."""
    assert lengthen(case.piece, Change(0.0, hem=hem)).piece is case.piece


@given(ANY, any_change())
def test_shaped_hems_stay_simple(case: Drawn, change: Change) -> None:
    """Law 5. A width asked for may take more from the piece than its length adds.

    So may a rounding that is trimmed whole, and leans over to a plumb seam; and a curved hem that
    keeps its angle to a seam that turns, over the first few mm.
    """
    piece, after = case.piece, made(case.piece, change)
    assert is_simple(after.ring), "the outline crosses itself"
    grown = after.ring.area() - piece.ring.area()
    plumb = change.seams is SeamWay.PLUMB
    leans = plumb and (change.hem is HemWay.TRIM or abs(change.by_mm) < 10.0)
    if change.to_width_mm is None and not leans:
        assert grown * change.by_mm > 0.0, f"changed by {change.by_mm}, area by {grown} mm2"


@given(DRAWN, any_change())
def test_corners_of_shaped_hems_neither_come_nor_go(case: Drawn, change: Change) -> None:
    """Law 8: what was smooth stays so; as many corners as before.

    Widths scale, so a joint that turns by hardly more than the least corner may turn by hardly
    less afterwards: it counts for neither.
    """
    was, now = ([abs(a) for _, a in turns(p.ring)] for p in (case.piece, made(case.piece, change)))
    # A seam that is not carried on straight turns where it is: at its old end, on either side.
    allowed = 0 if _straight(change) else 2
    # A rounding that bends on into a curved hem is cut where it sticks out.
    if change.hem is HemWay.TRIM and _bent(case):
        allowed += 2
    assert _over(now, CORNER / 1.5) >= _over(was, CORNER), "a corner disappeared"
    assert _over(now, CORNER) <= _over(was, CORNER / 1.5) + allowed, "a corner appeared"
    if change.hem is HemWay.REFIT:
        bent, kinked = _over(was, SMOOTH), _over(now, SMOOTH)
        assert kinked <= bent + allowed, f"wanted {bent} joints that turn, got {kinked}"


def _bent(case: Drawn) -> bool:
    shape = case.sketch.shape
    return shape is not None and shape.kind in (HemKind.WAVES, HemKind.ASIDE)


def _over(bends: list[float], least: float) -> int:
    return sum(a > least for a in bends)


def _straight(change: Change) -> bool:
    return change.by_mm < 0.0 or (change.to_width_mm is None and change.seams is not SeamWay.PLUMB)


@given(ANY, any_change(), st.data())
def test_shaped_hems_with_more_points(case: Drawn, change: Change, data: st.DataObject) -> None:
    """Law 9, within 0.01 mm: any segment split anywhere."""
    piece = case.piece
    k = data.draw(st.integers(0, len(piece.ring) - 1))
    finer = made(split(piece, k, data.draw(st.floats(0.05, 0.95))), change)
    assert_same_shape(finer.ring, made(piece, change).ring, "with one more point")


@given(
    shaped(kinds=(HemKind.WAVES, HemKind.ASIDE), digitised=False, vents=False),
    any_change(hem=HemWay.REFIT),
)
def test_a_shaped_hem_keeps_its_angle_to_each_seam(case: Drawn, change: Change) -> None:
    wanted, got = hem_angles(case.piece), hem_angles(made(case.piece, change))
    for w, g in zip(wanted, got, strict=True):
        close(g, w, 1e-9, "angle of the hem to the seam")


@given(
    st.booleans().flatmap(
        lambda noise: shaped(
            kinds=(HemKind.ASIDE,), digitised=True, noise=noise, rounded=0.0, vents=False
        )
    ),
    any_change(hem=HemWay.REFIT),
)
def test_a_digitised_hem_keeps_its_angle_to_each_seam(case: Drawn, change: Change) -> None:
    """Its first and last lines do, as the ends of the curve would that was digitised."""
    wanted, got = hem_angles(case.piece), hem_angles(made(case.piece, change))
    for w, g in zip(wanted, got, strict=True):
        close(g, w, 1e-6, "angle of the hem to the seam")


@given(shaped(digitised=False, vents=False, rounded=0.9, kinds=FLOWING), any_change())
def test_a_rounded_corner_of_a_shaped_hem_flows(case: Drawn, change: Change) -> None:
    """No kink over 0.1 degrees at a taper point where there was none.

    Trimming cuts a rounding that bends on into a curved hem: that kink is the cut.
    """
    piece = case.piece
    assume(change.hem is not HemWay.TRIM or not _bent(case))
    was = sum(abs(dict(turns(piece.ring))[p]) < SMOOTH for p in ends(piece))
    assume(was > 0)
    after = made(piece, change)
    found = dict(turns(after.ring))
    now = sum(abs(found[p]) < KINK for p in ends(after))
    assert now >= was, f"wanted {was} smooth taper points, got {[found[p] for p in ends(after)]}"


@given(shaped(digitised=True, vents=False, kinds=(HemKind.SCOOP, HemKind.WAVES)), any_change())
def test_a_digitised_rounding_leaves_its_seam_as_it_did(case: Drawn, change: Change) -> None:
    """The first step of the rounding leaves the seam by no more than before and 0.1 degrees.

    A seam that turns, to give the hem a width, is left by as much more as it turned: the short
    lines of a rounding do not turn with it.
    """
    assume(change.hem is not HemWay.TRIM)
    piece = case.piece
    old = hem_angles(piece)
    assume(any(abs(a) < 0.4 for a in old))
    after = made(piece, change)
    wider = 1.02 * math.dist(*map(_xy, ends(after))) / math.dist(*map(_xy, ends(piece)))
    tapers = [(p.hem.first, p.hem.last) for p in (piece, after) if p.hem is not None]
    turned = [abs(a.down.angle_to(b.down)) for a, b in zip(*tapers, strict=True)]
    for was, now, turn in zip(old, hem_angles(after), turned, strict=True):
        if abs(was) < 0.4:
            limit = abs(was) * max(1.0, wider) * LEANING + KINK + turn
            assert abs(now) <= limit, f"the rounding left its seam by {was} rad, now by {now}"


@given(shaped(kinds=(HemKind.SCOOP,), digitised=False), any_change())
def test_a_scoop_keeps_its_depth(case: Drawn, change: Change) -> None:
    piece = case.piece
    assert case.sketch.shape is not None
    after = made(piece, change)
    close(_hollow(after), case.sketch.shape.deep, 0.05, "depth of the scoop")


def _xy(p: Point) -> tuple[float, float]:
    return p.x, p.y


def _hollow(piece: Piece) -> float:
    """How far up the grain the curves of a scoop rise above the chord of its corners, in mm."""
    bows = [s for s in run(piece) if not isinstance(s, Line)]
    best = 0.0
    for a, b in pairwise(bows):
        if a.end == b.start:
            chord = b.end - a.start
            flat = [s.at(k / 40) for s in (a, b) for k in range(41)]
            lean = chord.unit().cross(piece.grain.down)
            best = max(best, *(abs(chord.unit().cross(p - a.start) / lean) for p in flat))
    return best


@given(shaped(kinds=(HemKind.SLIT,), vents=False), any_change())
def test_a_slit_keeps_its_width_and_depth(case: Drawn, change: Change) -> None:
    """Point for point: it moves whole, to 1e-6 mm."""
    shape = case.sketch.shape
    assert shape is not None
    old, new = _slit(case.piece, shape.deep), _slit(made(case.piece, change), shape.deep)
    step = new[0] - old[0]
    for p, q in zip(old, new, strict=True):
        off = q.distance(p + step)
        assert off <= 1e-6, f"wanted the slit whole, got {off} mm off"


def _slit(piece: Piece, deep: float) -> tuple[Point, Point, Point, Point]:
    """The foot, both upper corners and the other foot of the slit."""
    joints = [s.start for s in run(piece)]
    down = piece.grain.down
    sides = [
        (p, q)
        for p in joints
        for q in joints
        if abs((p - q).dot(down) - deep) < 1e-3 and abs((p - q).cross(down)) < 1e-3
    ]
    assert len(sides) >= 2, f"wanted two sides {deep} mm deep, got {sides}"
    (a, top_a), (b, top_b) = sides[0], sides[-1]
    return a, top_a, top_b, b


@given(shaped(kinds=(HemKind.POINT, HemKind.SLIT), rounded=0.0, digitised=False), any_change())
def test_a_vent_keeps_its_width_and_depth(case: Drawn, change: Change) -> None:
    """Trimmed between two vents, a curved hem ends on their edges where it meets them."""
    plans = (case.sketch.left, case.sketch.right)
    assume(any(p.vent is not None for p in plans))
    shape, piece = case.sketch.shape, case.piece
    if shape is not None and shape.curved and all(p.vent is not None for p in plans):
        assume(change.hem is not HemWay.TRIM)
    after = made(piece, change)
    for was, now in zip(_vents(piece), _vents(after), strict=True):
        for a, b in zip(was, now, strict=True):
            off = (a - b).norm
            assert off <= 1e-6, f"wanted the vent's side {a}, got {b}"


def _vents(piece: Piece) -> list[tuple[Vector, Vector]]:
    """The step and the side of each vent, from its seam down."""
    segments = run(piece)
    turned = tuple(s.reversed() for s in reversed(segments))
    out = []
    for a, b in (segments[:2], turned[:2]):
        step, side = a.end - a.start, b.end - b.start
        down = piece.grain.down
        level = abs(step.dot(down)) < 1e-6 and step.norm <= 50.0 + 1e-6
        if level and abs(side.cross(down)) < 1e-6:
            out.append((step, side))
    return out


@given(shaped(kinds=(HemKind.POINT,), vents=False, digitised=False), any_change())
def test_a_point_stays_a_point(case: Drawn, change: Change) -> None:
    """The sharpest corner between the ends stays about as sharp as it was."""
    was = _tip(case.piece)
    assume(was > 0.12)
    now = _tip(made(case.piece, change))
    assert now > 0.6 * was, f"the tip turned by {was}, now by {now}"


def _tip(piece: Piece) -> float:
    found = dict(turns(piece.ring))
    inner = [abs(found[s.start]) for s in run(piece)[1:]]
    return max(inner)


SQUARE = any_change(hem=HemWay.SQUARE)


@given(shaped(vents=False), SQUARE)
def test_square_is_square(case: Drawn, change: Change) -> None:
    """Each end meets its seam at a right angle, or flows out of it."""
    # A width asked for over a short way turns the seams far from where they were.
    assume(change.to_width_mm is None)
    after = made(case.piece, change)
    for angle, was in zip(hem_angles(after), hem_angles(case.piece), strict=True):
        if abs(was) > math.radians(45.0):
            close(abs(angle), math.pi / 2, KINK, "angle of the hem to the seam")


@given(shaped(vents=False), SQUARE)
def test_square_keeps_the_character_of_the_hem(case: Drawn, change: Change) -> None:
    """Squared, the hem lies near the refitted one: no bulge."""
    assume(change.to_width_mm is None)
    refit = replace(change, hem=HemWay.REFIT)
    one, other = made(case.piece, change), made(case.piece, refit)
    off = apart(one.ring, other.ring)
    turned = max(abs(abs(a) - math.pi / 2) for a in hem_angles(other))
    # A cubic whose handle, a third of its 100 mm, is turned leaves its course by 4/27 of that.
    limit = 25.0 * turned + 0.5
    assert off <= limit, f"the squared hem lies {off} mm off the refitted one, wanted {limit}"


@given(ANY, changes, st.sampled_from(tuple(HemWay)))
def test_the_ends_of_a_shaped_hem_go_by_the_amount(case: Drawn, by: float, hem: HemWay) -> None:
    after = made(case.piece, Change(by, hem=hem))
    for was, now in zip(ends(case.piece), ends(after), strict=True):
        if hem is not HemWay.TRIM:
            close(height(after, now) - height(after, was), by, 1e-9, "the seam end's way")
