"""The laws of a change at a level, on generated legs, skirts and sleeves in every pose."""

from __future__ import annotations

import math

from hypothesis import assume, given
from hypothesis import strategies as st

from core.alter.frame import Frame
from core.alter.level.climb import lowest_and_highest
from core.alter.level.insert import insert_at
from core.alter.level.model import LevelChange, Truing
from core.alter.model import Altered
from core.alter.simple import is_simple
from core.curve import Affine, Place, Segment
from core.errors import AlterationError
from core.piece.model import Piece, Role
from tests.core.alter_level.where import Where, wheres
from tests.laws.compare import assert_same_points, assert_same_shape, turns
from tests.laws.generate import STRAIGHT_ENDS, Drawn, drawn, poses
from tests.laws.pose import Pose, mapped, split
from tests.laws.sketch import Garment, SeamStyle

# Longer than any seam: from corner to corner.
WHOLE = 2000.0
# A curve laid over a digitised crest may stand above its points by so much (mm).
ROUNDED = 0.05
LEGS_EQUAL, INTAKE = 0.01, 1e-9
SMOOTH_JOINT = 1e-6
CORNER = math.radians(18.0)

WHERES = wheres(least_blend=5.0)
straight_skirts = drawn(
    styles=(SeamStyle.STRAIGHT,),
    garments=(Garment.SKIRT,),
    digitised=False,
    curved_hem=False,
    rounded=False,
)
longer = st.floats(1.0, 150.0)
amounts = st.one_of(longer, st.floats(-60.0, -1.0))


def done(piece: Piece, change: LevelChange) -> Altered:
    """The change; a case in which it is refused is not one for the law."""
    try:
        return insert_at(piece, change)
    except AlterationError:
        assume(False)
        raise


def above_the_hem(piece: Piece, change: LevelChange) -> bool:
    """Does the line lie above both taper points?"""
    assert piece.hem is not None
    frame = Frame(piece.grain.down)
    line = lowest_and_highest(piece.ring, frame)[0] + change.at_mm
    ends = (piece.ring.at(t.place) for t in (piece.hem.first, piece.hem.last))
    return all(frame.height(p) > line for p in ends)


@given(drawn(), WHERES, amounts)
def test_the_piece_is_longer_by_just_so_much(case: Drawn, where: Where, by: float) -> None:
    piece = case.piece
    after = done(piece, where.change(piece, by)).piece
    frame = Frame(piece.grain.down)
    old, new = (lowest_and_highest(p.ring, frame) for p in (piece, after))
    off = max(abs(new[1] - old[1] - by), abs(new[0] - old[0]))
    assert off < ROUNDED, f"wanted {old} longer by {by}, got {new}, tolerance {ROUNDED}"
    assert is_simple(after.ring), "the outline crosses itself"


@given(drawn(garments=(Garment.LEG, Garment.SKIRT), digitised=False), WHERES, longer, longer)
def test_inserting_twice_is_inserting_the_sum(
    case: Drawn, where: Where, a: float, b: float
) -> None:
    """Within 0.01 mm, where the whole seam is trued both times.

    Not on digitised outlines: the direction in which a row of points starts is fitted, and
    after the first change a curve stands in its place.
    """
    where = Where(where.share, where.true, WHOLE)
    change = where.change(case.piece, a)
    # Of a line through the shape of the hem only the rounding is redrawn.
    assume(above_the_hem(case.piece, change))
    longer_piece = done(case.piece, change).piece
    twice = done(longer_piece, LevelChange(change.at_mm, b, where.true, WHOLE)).piece
    once = done(case.piece, where.change(case.piece, a + b)).piece
    assert_same_shape(twice.ring, once.ring, "inserted twice")


@given(straight_skirts, WHERES, longer)
def test_folding_undoes_inserting(case: Drawn, where: Where, by: float) -> None:
    """Within 0.01 mm where the seams are straight."""
    piece = case.piece
    change = where.change(piece, by)
    after = done(piece, change).piece
    back = done(after, LevelChange(change.at_mm, -by, where.true, where.blend_mm)).piece
    assert_same_shape(back.ring, piece.ring, "inserted and folded out")
    for old, new in zip(piece.darts, back.darts, strict=True):
        off = old.apex.distance(new.apex)
        assert off < 1e-6, f"wanted the apex at {old.apex}, got {new.apex}, {off} mm off"


@given(straight_skirts, WHERES, amounts)
def test_the_area_grows_with_the_length(case: Drawn, where: Where, by: float) -> None:
    piece = case.piece
    grown = done(piece, where.change(piece, by)).piece.ring.area() - piece.ring.area()
    assert grown * by > 0.0, f"changed by {by} mm, the area grew by {grown} mm2"


@given(drawn(), WHERES, amounts, poses)
def test_the_page_does_not_matter(case: Drawn, where: Where, by: float, pose: Pose) -> None:
    """Within 1e-6 mm: turned, mirrored, moved before or after."""
    piece = case.piece
    change = where.change(piece, by)
    after = mapped(done(piece, change).piece, pose.affine)
    before = done(mapped(piece, pose.affine), change).piece
    assert_same_points(before.ring, after.ring, "turned before and after", 1e-6)


@given(drawn(), WHERES, amounts)
def test_the_listing_of_the_outline_does_not_matter(case: Drawn, where: Where, by: float) -> None:
    plain = Pose(case.pose.angle, case.pose.mirrored, case.pose.step)
    one = plain.of(case.sketch.piece())
    change = where.change(one, by)
    wanted, got = done(one, change).piece, done(case.piece, change).piece
    assert_same_shape(got.ring, wanted.ring, "listed otherwise", 1e-6)


@given(drawn(), WHERES, amounts)
def test_units_do_not_matter(case: Drawn, where: Where, by: float) -> None:
    piece = case.piece
    change = where.change(piece, by)
    wanted = done(piece, change).piece
    through = mapped(mapped(piece, Affine.scale(1 / 25.4)), Affine.scale(25.4))
    assert_same_points(done(through, change).piece.ring, wanted.ring, "through inches", 1e-6)


@given(drawn(digitised=False), WHERES, amounts, st.integers(0, 60), st.floats(0.1, 0.9))
def test_more_points_make_no_difference(
    case: Drawn, where: Where, by: float, index: int, t: float
) -> None:
    """Within 0.01 mm: the same shape drawn with one more point."""
    piece = case.piece
    change = where.change(piece, by)
    wanted = done(piece, change).piece
    finer = done(split(piece, index % len(piece.ring), t), change).piece
    assert_same_shape(finer.ring, wanted.ring, "split")


@given(drawn(), WHERES, amounts)
def test_above_stays_and_below_moves(case: Drawn, where: Where, by: float) -> None:
    """Whole segments: each is there as it was, or moved by exactly the step, or redrawn."""
    piece = case.piece
    change = where.change(piece, by)
    altered = done(piece, change).piece
    frame = Frame(piece.grain.down)
    level = lowest_and_highest(piece.ring, frame)[0] + change.at_mm
    blend = 260.0 if where.blend_mm is None else where.blend_mm + 1e-6
    after = set(altered.ring.segments)
    step = frame.down * by
    moves = Affine.move(step.x, step.y)
    legs = {s for d in piece.darts for s in _legs(piece, d.mouth_places)}
    for s in piece.ring:
        heights = [frame.height(p) for p in s.controls]
        if s in legs:
            continue
        if max(heights) < level - blend:
            assert s in after, f"{s} is not there bit for bit"
        if min(heights) > level + max(0.0, -by) + blend:
            assert s.mapped(moves) in after, f"{s} did not move exactly"


def _legs(piece: Piece, places: tuple[Place, Place] | None) -> tuple[Segment, ...]:
    assert places is not None
    return piece.ring.run(*places).segments


@given(drawn(), WHERES, amounts)
def test_darts_keep_intake_and_equal_legs(case: Drawn, where: Where, by: float) -> None:
    piece = case.piece
    after = done(piece, where.change(piece, by)).piece
    for old, new in zip(piece.darts, after.darts, strict=True):
        assert abs(new.intake - old.intake) <= INTAKE, f"intake {old.intake}, got {new.intake}"
        assert abs(new.legs[0] - new.legs[1]) <= LEGS_EQUAL, f"legs {new.legs}"
        assert new.mouth_places is not None
        for place, p in zip(new.mouth_places, new.mouth, strict=True):
            assert after.ring.at(place) == p, "the mouth is not where its place says"
        drop = (new.apex - old.apex).dot(piece.grain.down)
        assert min(abs(drop), abs(drop - by)) < 1e-6, f"the apex went down by {drop} of {by}"


@given(drawn(digitised=False, styles=STRAIGHT_ENDS), WHERES, amounts)
def test_smooth_truing_makes_no_kink(case: Drawn, where: Where, by: float) -> None:
    """No corner comes or goes, no smooth joint turns by more than 1e-6 radians."""
    piece = case.piece
    where = Where(where.share, Truing.SMOOTH, where.blend_mm)
    after = done(piece, where.change(piece, by)).piece
    corners = [sum(abs(a) > CORNER for _, a in turns(r)) for r in (piece.ring, after.ring)]
    assert corners[0] == corners[1], f"wanted {corners[0]} corners, got {corners[1]}"
    faint = [
        sum(SMOOTH_JOINT < abs(a) <= CORNER for _, a in turns(r)) for r in (piece.ring, after.ring)
    ]
    assert faint[1] <= faint[0], f"{faint[1]} faint kinks where there were {faint[0]}"


@given(drawn(), WHERES, amounts)
def test_edges_and_tapers_are_found_again(case: Drawn, where: Where, by: float) -> None:
    piece = case.piece
    altered = done(piece, where.change(piece, by))
    after, step = altered.piece, piece.grain.down * by
    for old, new in zip(piece.edges, after.edges, strict=True):
        assert old.role is new.role
        for was, now in ((old.start, new.start), (old.end, new.end)):
            p, q = piece.ring.at(was), after.ring.at(now)
            assert q in (p, p + step), f"the edge's end {p} is now at {q}"
    assert piece.hem is not None
    assert after.hem is not None
    # Of a line through the shape of the hem itself, what lies above it stays.
    level = where.change(piece, by)
    frame = Frame(piece.grain.down)
    line = lowest_and_highest(piece.ring, frame)[0] + level.at_mm
    through = False
    for a, b in ((piece.hem.first, after.hem.first), (piece.hem.last, after.hem.last)):
        stays = frame.height(piece.ring.at(a.place)) < line
        through = through or stays
        wanted = piece.ring.at(a.place) + (step * 0.0 if stays else step)
        assert after.ring.at(b.place) == wanted
    gains = [e.after_mm - e.before_mm for e in altered.figures.edges if e.role is Role.HEM]
    assert through or abs(gains[0]) < 1e-6, f"the hem changed by {gains[0]}"


@given(drawn(), WHERES, amounts)
def test_origins_go_in_drawn_order(case: Drawn, where: Where, by: float) -> None:
    """What stands in the place of each drawn segment is in one piece and in its order."""
    piece = case.piece
    after = done(piece, where.change(piece, by)).piece.outline
    numbers = [o.segment for o in after.origins]
    drops = sum(a > b for a, b in zip(numbers, numbers[1:] + numbers[:1], strict=True))
    assert drops == 1, f"the numbers go round more than once: {numbers}"
    assert numbers[0] == min(numbers), "the ring starts elsewhere"


@given(drawn(stitched=True, digitised=False, darts=False), WHERES, amounts)
def test_the_cutting_line_goes_with_the_sewing_line(case: Drawn, where: Where, by: float) -> None:
    """What moved and what stayed of the cutting line did so exactly; it does not cross."""
    piece = case.piece
    after = done(piece, where.change(piece, by)).piece
    assert after.stitching is not None
    frame = Frame(piece.grain.down)
    old, new = (lowest_and_highest(p.outline.ring, frame) for p in (piece, after))
    off = max(abs(new[1] - old[1] - by), abs(new[0] - old[0]))
    assert off < ROUNDED, f"wanted {old} longer by {by}, got {new}, tolerance {ROUNDED}"
    assert is_simple(after.outline.ring)
