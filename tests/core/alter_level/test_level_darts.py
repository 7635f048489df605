"""Darts and the line: carried across, moved, left, or refused."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from core.alter.level.model import Truing
from core.curve import Line, Point
from core.errors import AlterationError
from core.piece.model import Kind, Mark
from tests.core.alter_level.panels import line, near, put_in, with_waist_dart

LEGS_EQUAL = 0.01


@pytest.mark.parametrize("true", list(Truing))
@pytest.mark.parametrize("amount", [10.0, 45.0, -20.0])
@pytest.mark.parametrize("slant", [0.0, 0.05, -0.12])
def test_a_dart_that_crosses_is_carried_across(slant: float, amount: float, true: Truing) -> None:
    """Intake stays, the apex goes down by L, aside by L tan(slant), the legs stay equal."""
    piece = with_waist_dart(slant)
    (old,) = piece.darts
    got = put_in(piece, 60.0, amount, true).piece
    (new,) = got.darts
    assert new.mouth == old.mouth, "the mouth stays, bit for bit"
    near(new.apex.y - old.apex.y, amount, "drop of the apex")
    near(abs(new.apex.x - old.apex.x), abs(amount * slant), "apex aside")
    near(new.legs[0], new.legs[1], "legs", LEGS_EQUAL)
    assert new.mouth_places is not None
    for place, p in zip(new.mouth_places, new.mouth, strict=True):
        assert got.ring.at(place) == p
    first = new.mouth_places[0].index
    assert got.ring.segments[first] == Line(new.mouth[0], new.apex), "one straight leg"
    assert got.ring.segments[first + 1] == Line(new.apex, new.mouth[1]), "the other leg"


def test_legs_on_a_straight_waist_grow_as_the_right_triangle_says() -> None:
    got = put_in(with_waist_dart(0.0, depth=110.0, half=12.0), 60.0, 40.0).piece
    for leg in got.darts[0].legs:
        near(leg, math.hypot(150.0, 12.0), "leg")


def test_unequal_legs_stay_as_they_are_drawn() -> None:
    """A dart that was not even is not evened: its apex goes plainly down."""
    piece = with_waist_dart(0.0)
    segments = list(piece.ring.segments)
    apex = segments[4].start + (segments[0].end - segments[0].start) * 0.02
    segments[3], segments[4] = Line(segments[3].start, apex), Line(apex, segments[4].end)
    ring = type(piece.ring)(tuple(segments))
    dart = replace(piece.darts[0], apex=apex)
    piece = replace(piece, outline=replace(piece.outline, ring=ring), darts=(dart,))
    got = put_in(piece, 60.0, 30.0).piece.darts[0]
    near(got.apex.x, apex.x, "apex aside")
    near(got.apex.y, apex.y + 30.0, "apex down")


def test_a_dart_above_stays_and_a_dart_below_moves() -> None:
    piece = with_waist_dart(0.0)
    assert put_in(piece, 200.0, 40.0).piece.darts[0].apex == piece.darts[0].apex
    assert put_in(piece, 200.0, 40.0).piece.darts[0].legs == piece.darts[0].legs


def test_a_line_through_the_mouth_is_refused() -> None:
    piece = with_waist_dart(0.2)
    mouth = piece.darts[0].mouth
    at = (mouth[0].y + mouth[1].y) / 2
    with pytest.raises(AlterationError, match=r"mouth of the dart in the waist"):
        put_in(piece, at, 30.0)


def test_an_apex_that_would_be_folded_away_is_refused_with_the_largest_amount() -> None:
    """The line lies 60 down, the apex 110: less than 50 can go."""
    piece = with_waist_dart(0.0)
    with pytest.raises(AlterationError, match=r"dart in the waist would be folded away") as told:
        put_in(piece, 60.0, -50.0)
    assert told.value.limit_mm is not None
    near(told.value.limit_mm, 49.9, "limit")
    assert "4.99 cm" in str(told.value)
    got = put_in(piece, 60.0, -told.value.limit_mm).piece
    near(got.darts[0].apex.y, 110.0 - 49.9, "apex")


def test_the_hole_near_the_apex_goes_with_it() -> None:
    piece = with_waist_dart(0.1)
    apex = piece.darts[0].apex
    hole = Mark(Kind.DRILL, 9, apex + (piece.darts[0].mouth[0] - apex) * 0.1)
    got = put_in(replace(piece, marks=(hole,)), 60.0, 40.0).piece
    (moved,) = got.marks
    assert isinstance(moved.geometry, Point)
    assert isinstance(hole.geometry, Point)
    step = moved.geometry - hole.geometry
    near((step - (got.darts[0].apex - apex)).norm, 0.0, "step of the hole")


@pytest.mark.parametrize("in_one", [True, False])
def test_a_dart_drawn_with_lines_is_redrawn_straight(in_one: bool) -> None:
    """Lines inside a plain edge, as one shape or as two."""
    notch = with_waist_dart(0.08)
    (dart,) = notch.darts
    a, b = dart.mouth
    segments = list(notch.ring.segments)
    ring = type(notch.ring)((*segments[:2], Line(segments[2].start, segments[5].end), segments[6]))
    plain = replace(
        notch,
        outline=replace(notch.outline, ring=ring, origins=notch.outline.origins[:4]),
        edges=tuple(
            replace(e, start=replace(e.start, index=k), end=replace(e.end, index=(k + 1) % 4))
            for k, e in enumerate(notch.edges)
        ),
    )
    marks = (
        (line(Kind.DART, 5, a, dart.apex, b),)
        if in_one
        else (line(Kind.DART, 5, a, dart.apex), line(Kind.DART, 6, dart.apex, b))
    )
    drawn = replace(dart, mouth_places=None, shapes=tuple(m.shape for m in marks))
    got = put_in(replace(plain, darts=(drawn,), marks=marks), 60.0, 40.0).piece
    (new,) = got.darts
    assert new.mouth == dart.mouth
    near(new.legs[0], new.legs[1], "legs", LEGS_EQUAL)
    legs = [s for m in got.marks if not isinstance(m.geometry, Point) for s in m.geometry]
    assert legs == [Line(a, new.apex), Line(new.apex, b)]
