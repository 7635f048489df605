"""The laws for the ways and the garments that the other files leave out.

Ways: until a level and plumb from there, and measured along the seam. Garments: beside drawn
legs, skirts and sleeves the ones with cut darts at waist, elbow, bust and hem, bodices too.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import pytest
from hypothesis import assume, event, given, reject
from hypothesis import strategies as st

from core.alter.frame import Frame
from core.alter.lengthen import lengthen
from core.alter.level.climb import lowest_and_highest
from core.alter.model import Change, HemDarts, HemWay, Measure, SeamWay
from core.alter.simple import is_simple
from core.curve import Affine, Ring
from core.errors import AlterationError
from core.piece.model import Piece
from tests.core.alter_darts.garments import GARMENTS
from tests.laws.compare import (
    assert_same_points,
    assert_same_shape,
    holds_in_order,
    turns,
    upper,
)
from tests.laws.generate import STRAIGHT_ENDS, changes, drawn, longer, poses
from tests.laws.pose import Pose, mapped, split

CORNER = 0.35
SEAM_WAYS = (SeamWay.STRAIGHT, SeamWay.PLUMB)


@cache
def cut_out(name: str) -> Piece:
    return GARMENTS[name](cut=True)


# In poses whose outline runs as it was read: their darts are found by it.
GARMENT = st.builds(
    lambda name, pose: mapped(cut_out(name), pose.affine), st.sampled_from(tuple(GARMENTS)), poses
)
PIECES = st.one_of(GARMENT, drawn().map(lambda case: case.piece))
STRAIGHT = st.one_of(
    GARMENT, drawn(styles=STRAIGHT_ENDS, digitised=False).map(lambda case: case.piece)
)


@dataclass(frozen=True)
class Way:
    """A change of a piece; `share` is how high on it, of its height, its seams turn plumb."""

    change: Change
    share: float | None

    def of(self, piece: Piece) -> Change:
        if self.share is None or self.change.by_mm < 0.0:
            return self.change
        top, bottom = lowest_and_highest(piece.ring, Frame(piece.grain.down))
        level = self.share * (bottom - top) + self.change.by_mm * self.share
        return Change(
            self.change.by_mm,
            hem=self.change.hem,
            hem_darts=self.change.hem_darts,
            plumb_below_mm=level,
        )


def _ways(share: st.SearchStrategy[float | None]) -> st.SearchStrategy[Way]:
    change = st.builds(
        Change,
        changes,
        seams=st.sampled_from(tuple(SeamWay)),
        measure=st.sampled_from(tuple(Measure)),
        hem=st.sampled_from(tuple(HemWay)),
        hem_darts=st.sampled_from(tuple(HemDarts)),
    )
    return st.builds(Way, change, share)


ways = _ways(st.one_of(st.none(), st.floats(0.9, 1.1)))


def made(piece: Piece, change: Change) -> Piece:
    """The altered piece; the example is left aside where the change is refused."""
    try:
        return lengthen(piece, change).piece
    except AlterationError:
        event("refused")
        reject()


@given(STRAIGHT, longer, longer, st.sampled_from(SEAM_WAYS), st.sampled_from(tuple(Measure)))
def test_twice_is_the_sum_along_grain_and_seam(
    piece: Piece, a: float, b: float, seams: SeamWay, measure: Measure
) -> None:
    """Law 1, within 0.01 mm."""
    first, second, whole = (Change(by, seams=seams, measure=measure) for by in (a, b, a + b))
    twice = made(made(piece, first), second)
    assert_same_shape(twice.ring, made(piece, whole).ring, "lengthened twice")


@given(STRAIGHT, longer, st.sampled_from(tuple(Measure)))
def test_there_and_back_along_grain_and_seam(piece: Piece, by: float, measure: Measure) -> None:
    """Law 2, within 0.01 mm."""
    back = made(made(piece, Change(by, measure=measure)), Change(-by, measure=measure))
    assert_same_shape(back.ring, piece.ring, "there and back")


@given(PIECES, ways)
def test_above_the_taper_points_all_stays_in_every_way(piece: Piece, way: Way) -> None:
    """Law 2: the same values in the same order, but for the two last threads."""
    change = way.of(piece)
    assume(change.hem is not HemWay.TRIM)
    old, new = upper(piece), upper(made(piece, change))
    kept, whole = (old[1:-1], new) if change.by_mm > 0.0 else (new[1:-1], old)
    assert holds_in_order(whole, kept), f"wanted {kept} in a row, got {whole}"


@given(PIECES, ways, poses)
def test_the_page_does_not_matter_in_any_way(piece: Piece, way: Way, pose: Pose) -> None:
    """Law 3, within 1e-6 mm."""
    change = way.of(piece)
    before = made(mapped(piece, pose.affine), change)
    after = mapped(made(piece, change), pose.affine)
    assert_same_points(before.ring, after.ring, "turned before and after", 1e-6)


@given(PIECES, ways)
def test_units_do_not_matter_in_any_way(piece: Piece, way: Way) -> None:
    """Law 3: a piece that came through inches, within 1e-6 mm."""
    change = way.of(piece)
    inches = mapped(piece, Affine.scale(1 / 25.4))
    through = made(mapped(inches, Affine.scale(25.4)), change)
    assert_same_points(through.ring, made(piece, change).ring, "through inches", 1e-6)


@given(PIECES, ways)
def test_no_change_in_any_way_is_none(piece: Piece, way: Way) -> None:
    """Law 4: the very same value."""
    change = Change(0.0, seams=way.change.seams, measure=way.change.measure, hem=way.change.hem)
    assert lengthen(piece, change).piece is piece, "a change of nothing made another piece"


def shaped_anew(change: Change) -> float:
    """The change (mm) up to which the hem's new shape may count for more than its new place.

    Drawn square it is hollowed; a rounding turns with its seam, by up to a fifth of its radius
    at a flared seam that goes on plumb.
    """
    if change.hem is HemWay.SQUARE:
        return 30.0
    turned = change.seams is SeamWay.PLUMB or change.to_width_mm or change.plumb_below_mm
    return 10.0 if turned else 0.0


@given(PIECES, ways)
def test_the_outline_stays_simple_in_every_way(piece: Piece, way: Way) -> None:
    """Law 5, for the area from some mm on where the hem changes its shape in any case."""
    change = way.of(piece)
    after = made(piece, change)
    assert is_simple(after.ring), "the outline crosses itself"
    if abs(change.by_mm) > shaped_anew(change):
        grown = after.ring.area() - piece.ring.area()
        assert grown * change.by_mm > 0.0, f"changed by {change.by_mm} mm, area by {grown} mm2"


@given(PIECES, ways)
def test_darts_keep_intake_and_legs_in_every_way(piece: Piece, way: Way) -> None:
    """Law 7: the intake exactly (1e-9 mm), legs that were equal stay so."""
    after = made(piece, way.of(piece))
    assert len(after.darts) == len(piece.darts)
    for old, new in zip(piece.darts, after.darts, strict=True):
        off = abs(new.intake - old.intake)
        assert off <= 1e-9, f"wanted intake {old.intake}, got {new.intake}, tolerance 1e-9"
        was, now = (abs(d.legs[0] - d.legs[1]) for d in (old, new))
        assert now <= was + 1e-6, f"wanted legs equal within {was}, got {now}, tolerance 1e-6"


@given(STRAIGHT, changes, st.sampled_from(tuple(Measure)), st.sampled_from(tuple(HemDarts)))
def test_corners_of_garments_neither_come_nor_go(
    piece: Piece, by: float, measure: Measure, darts: HemDarts
) -> None:
    """Law 8."""
    after = made(piece, Change(by, measure=measure, hem_darts=darts))
    was, now = _corners(piece.ring), _corners(after.ring)
    assert was == now, f"wanted {was} corners, got {now}"


def _corners(ring: Ring) -> int:
    return sum(abs(a) > CORNER for _, a in turns(ring))


@given(PIECES, ways, st.data())
def test_more_points_give_the_same_in_every_way(
    piece: Piece, way: Way, data: st.DataObject
) -> None:
    """Law 9, within 0.01 mm: any segment split anywhere."""
    change = way.of(piece)
    k = data.draw(st.integers(0, len(piece.ring) - 1))
    finer = made(split(piece, k, data.draw(st.floats(0.05, 0.95))), change)
    assert_same_shape(finer.ring, made(piece, change).ring, "with one more point")


@pytest.mark.parametrize("name", GARMENTS)
def test_the_garments_are_what_the_laws_say_of_them(name: str) -> None:
    """So that no law holds for want of darts or of a hem."""
    piece = cut_out(name)
    assert piece.hem is not None
    assert piece.darts
    assert all(d.mouth_places is not None for d in piece.darts), "the darts are cut out"
