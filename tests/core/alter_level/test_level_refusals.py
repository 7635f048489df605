"""What is refused, with the largest amount that works."""

from __future__ import annotations

import pytest

from core.curve import Point
from core.errors import AlterationError
from core.piece.model import Piece, Role
from tests.core.alter_level.panels import near, polygon, put_in, tapered


def limit_of(piece: Piece, at: float, by: float, telling: str) -> float:
    """The limit told by the refusal; that amount must work, and a little more must not."""
    with pytest.raises(AlterationError, match=telling) as told:
        put_in(piece, at, by)
    limit = told.value.limit_mm
    assert limit is not None
    sign = 1.0 if by > 0.0 else -1.0
    put_in(piece, at, sign * limit)
    with pytest.raises(AlterationError):
        put_in(piece, at, sign * (limit + 0.2))
    return limit


@pytest.mark.parametrize("at", [-10.0, 0.0, 600.0, 700.0])
def test_a_line_beside_the_piece(at: float) -> None:
    with pytest.raises(AlterationError, match="does not cross the piece") as told:
        put_in(tapered(220.0, 180.0, 600.0), at, 40.0)
    assert told.value.limit_mm is not None
    near(told.value.limit_mm, 600.0, "limit")


def test_folding_out_more_than_lies_below() -> None:
    """The hem's corners are the lower end: 150 below the line."""
    limit = limit_of(tapered(220.0, 180.0, 600.0), 450.0, -200.0, "would be folded away")
    near(limit, 149.9, "limit")


def leg() -> Piece:
    """A leg whose crotch point sticks out 180 below the waist."""
    corners = [
        Point(-80.0, 600.0), Point(80.0, 600.0), Point(110.0, 0.0), Point(-60.0, 5.0),
        Point(-150.0, 180.0),
    ]  # fmt: skip
    roles = (Role.HEM, Role.SIDE, Role.WAIST, Role.RISE, Role.INSEAM)
    return polygon(corners, roles)


def test_a_corner_is_not_folded_away() -> None:
    near(limit_of(leg(), 100.0, -120.0, "a corner of the outline"), 79.9, "limit")


def test_a_line_on_a_corner_moves_the_corner_with_what_lies_below() -> None:
    piece = leg()
    got = put_in(piece, 180.0, 40.0, blend=60.0).piece
    inseam = got.edge_chain(got.edge(Role.INSEAM))
    assert inseam.start == Point(-150.0, 220.0)
    assert len(inseam) == 1, "the inseam moves whole"
    assert got.edge_chain(got.edge(Role.RISE)).end == Point(-150.0, 220.0)
    with pytest.raises(AlterationError, match="Choose another line") as told:
        put_in(piece, 180.0, -40.0)
    assert told.value.limit_mm is None, "no amount works there"


def test_an_outline_that_would_cross_itself() -> None:
    """A strip that leans by half a right angle: one side is trued short, the other long."""
    corners = [
        Point(500.0, 600.0), Point(520.0, 600.0), Point(-80.0, 0.0), Point(-100.0, 0.0),
        Point(95.0, 195.0), Point(165.0, 265.0),
    ]  # fmt: skip
    roles = (Role.HEM, Role.SIDE, Role.WAIST, Role.OTHER, Role.OTHER, Role.INSEAM)
    limit = limit_of(polygon(corners, roles), 200.0, -60.0, "would cross itself")
    assert 0.0 < limit < 60.0


def test_a_blend_of_less_than_nothing() -> None:
    with pytest.raises(AlterationError, match="0 or more"):
        put_in(tapered(220.0, 180.0, 600.0), 250.0, 40.0, blend=-1.0)


def test_no_blend_leaves_the_jog_as_cut() -> None:
    got = put_in(tapered(220.0, 180.0, 600.0), 300.0, 40.0, blend=0.0).piece
    side = got.edge_chain(got.edge(Role.SIDE))
    near(side.segments[1].length(), 40.0, "jog")
    near(abs(side.segments[1].tangent(0.0).y), 1.0, "along the grain")
