"""Contour darts: above they stay, in the hem they go along whole, and none is cut off."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.alter.lengthen import lengthen
from core.alter.level.insert import insert_at
from core.alter.level.model import LevelChange
from core.alter.model import Change, StepKind
from core.curve import Place, Point, Ring, Vector
from core.errors import AlterationError
from core.piece.model import HemRun, Piece
from tests.core.alter_darts.panels import HEM, dart_marks, diamond, panel, points_of

# The limit is sought by halving, to 1e-7 of the amount; the outline is flattened to 0.002 mm.
LIMIT = 0.01
SAME = 1e-9


def _close(got: float, wanted: float, tolerance: float, what: str) -> None:
    assert abs(got - wanted) <= tolerance, f"{what}: wanted {wanted}, got {got} (+-{tolerance})"


@pytest.mark.parametrize("split", [False, True])
@pytest.mark.parametrize("by", [60.0, 200.0, -30.0, -150.0])
def test_a_contour_dart_above_the_hem_stays_bit_for_bit(by: float, split: bool) -> None:
    piece = panel(diamond(120.0), split=split, holes=True)
    done = lengthen(piece, Change(by))
    assert done.piece.contours == piece.contours
    assert dart_marks(done.piece) == dart_marks(piece)
    lost = [f.sentence for f in done.findings if "gone" in f.sentence]
    assert not lost, lost


@pytest.mark.parametrize("split", [False, True])
def test_shortened_into_it_is_refused_with_what_works(split: bool) -> None:
    """Its lower tip at 460, the hem at 600: 140 mm and no more."""
    piece = panel(diamond(220.0), split=split)
    with pytest.raises(AlterationError, match="contour dart") as caught:
        lengthen(piece, Change(-180.0))
    limit = caught.value.limit_mm
    assert limit is not None
    _close(limit, HEM - 460.0, LIMIT, "the largest amount")
    assert lengthen(piece, Change(-(limit - LIMIT))).piece.contours == piece.contours


def test_a_dart_that_would_lie_wholly_below_the_new_hem_is_refused_too() -> None:
    """The new hem, at 200, does not touch it: it lies between 320 and 400."""
    piece = panel(diamond(320.0, long=80.0))
    with pytest.raises(AlterationError, match="contour dart") as caught:
        lengthen(piece, Change(-400.0))
    assert caught.value.limit_mm is not None
    _close(caught.value.limit_mm, 200.0, LIMIT, "the largest amount")


def _with_deep_hem(piece: Piece) -> Piece:
    """The same panel with its taper points brought up to height 300: a deep shaped hem."""
    assert piece.hem is not None
    ring, hem = piece.ring, piece.hem
    right, left = (ring.nearest(Point(x, 300.0)).place for x in (285.0, -5.0))
    first, last = (right, left) if ring.at(hem.first.place).x > 140.0 else (left, right)
    moved = HemRun(replace(hem.first, place=first), replace(hem.last, place=last))
    edges = tuple(
        replace(e, start=_swap(hem, moved, e.start), end=_swap(hem, moved, e.end))
        for e in piece.edges
    )
    return replace(piece, hem=moved, edges=edges)


def _swap(old: HemRun, new: HemRun, place: Place) -> Place:
    if place == old.first.place:
        return new.first.place
    return new.last.place if place == old.last.place else place


@pytest.mark.parametrize("split", [False, True])
@pytest.mark.parametrize("by", [60.0, -40.0])
def test_a_contour_dart_in_the_hem_goes_along_whole(by: float, split: bool) -> None:
    piece = _with_deep_hem(panel(diamond(340.0), split=split, holes=True))
    done = lengthen(piece, Change(by))
    (old,), (new,) = piece.contours, done.piece.contours
    step = new.tips[0] - old.tips[0]
    _close(step.dot(piece.grain.down), by, SAME, "how far it went down")
    for p, q in zip(old.corners, new.corners, strict=True):
        _close(((q - p) - step).norm, 0.0, SAME, "it went whole")
    for was, now in zip(dart_marks(piece), dart_marks(done.piece), strict=True):
        for p, q in zip(points_of(was), points_of(now), strict=True):
            _close(((q - p) - step).norm, 0.0, SAME, "its lines and holes went with it")
    (told,) = (s for s in done.steps if s.kind is StepKind.CARRY_DARTS)
    assert told.lines == (Ring.polygon(new.corners),)


@given(
    upper=st.floats(20.0, 200.0),
    long=st.floats(80.0, 250.0),
    wide=st.floats(8.0, 30.0),
    by=st.floats(-400.0, 300.0).filter(lambda v: abs(v) > 1.0),
)
def test_it_is_kept_whole_or_the_change_is_refused(
    upper: float, long: float, wide: float, by: float
) -> None:
    piece = panel(diamond(upper, long=long, wide=wide))
    room = HEM - (upper + long)
    if -by < room - LIMIT:
        assert lengthen(piece, Change(by)).piece.contours == piece.contours
    elif -by > room + LIMIT:
        with pytest.raises(AlterationError, match="contour dart") as caught:
            lengthen(piece, Change(by))
        assert caught.value.limit_mm is not None
        _close(caught.value.limit_mm, room, LIMIT, "the largest amount")


@pytest.mark.parametrize("split", [False, True])
@pytest.mark.parametrize(
    ("at", "sides", "low"), [(150.0, 40.0, 40.0), (300.0, 0.0, 40.0), (400.0, 0.0, 0.0)]
)
def test_at_a_level_each_point_goes_with_its_part(
    at: float, sides: float, low: float, split: bool
) -> None:
    """Upper tip at 120, sides at 240, lower tip at 360; 40 mm put in."""
    piece = panel(diamond(120.0), split=split, holes=True)
    done = insert_at(piece, LevelChange(at, 40.0)).piece
    (old,), (new,) = piece.contours, done.contours
    drops = (0.0, sides, low, sides)
    for p, q, drop in zip(old.corners, new.corners, drops, strict=True):
        _close(((q - p) - Vector(0.0, drop)).norm, 0.0, SAME, f"{p}")
    _close(new.intake, old.intake, SAME, "intake")
    drawn = {(round(p.x, 6), round(p.y, 6)) for m in dart_marks(done) for p in points_of(m)}
    assert drawn == {(round(p.x, 6), round(p.y, 6)) for p in new.corners}


def test_folding_a_point_of_it_away_is_refused() -> None:
    """From the line at 350 the lower tip lies 10 mm on."""
    with pytest.raises(AlterationError, match="contour dart") as caught:
        insert_at(panel(diamond(120.0)), LevelChange(350.0, -40.0))
    assert caught.value.limit_mm is not None
    _close(caught.value.limit_mm, 9.9, 0.11, "just less than the room there is")
