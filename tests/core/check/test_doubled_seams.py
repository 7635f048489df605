"""Pieces with two seams of one kind: paired by side and by length, and walked."""

from __future__ import annotations

from dataclasses import replace

import pytest

from core.alter.level.model import LevelChange
from core.alter.level.together import insert_together
from core.alter.model import Altered, Change, Severity
from core.alter.together import alter_together
from core.check import check_all
from core.check.seams import joined, mates_of
from core.curve import Point, Ring, Vector
from core.piece.mates import find_mates
from core.piece.model import Piece, Role
from tests.core.alter_level.panels import polygon

ROLES = (Role.HEM, Role.SIDE, Role.WAIST, Role.SIDE)


def skirt(name: str, key: int, left: float, right: float, at: float = 0.0) -> Piece:
    """A full skirt piece, right side up; its seams start that high above the hem (mm) at the
    left and at the right as it lies, and are plumb."""
    corners = [
        Point(at - 150.0, 0.0),
        Point(at + 150.0, 0.0),
        Point(at + 150.0, -right),
        Point(at - 150.0, -left),
    ]
    return replace(polygon(corners, ROLES), key=key, name=name)


def lengths(altered: tuple[Altered, ...]) -> list[tuple[float, float]]:
    pairs, unclear = joined(altered, mates_of(altered))
    assert not unclear
    return [(round(p.first.after.length, 6), round(p.second.after.length, 6)) for p in pairs]


# The left side as worn lies on the right of the front and on the left of the back.
FRONT = skirt("Skirt front", 0, 600.0, 620.0)
BACK = skirt("Skirt back", 1, 620.0, 600.0, at=500.0)


def test_two_side_seams_are_walked_left_to_left_as_worn() -> None:
    altered = alter_together((FRONT, BACK), Change(50.0))
    assert lengths(altered) == [(650.0, 650.0), (670.0, 670.0)]
    found = check_all(altered)
    assert sum("they match" in f.sentence for f in found) == 2
    assert not [f for f in found if f.severity is Severity.STOP]


def test_lengths_that_say_clearly_otherwise_are_believed_and_unsure() -> None:
    turned = skirt("Skirt back", 1, 600.0, 620.0, at=500.0)
    pairs = find_mates((FRONT, turned))
    assert len(pairs) == 2
    assert [p.because.sure for p in pairs] == [False, False]
    assert "by side they would not agree" in pairs[0].because.why
    assert lengths(alter_together((FRONT, turned), Change(0.0))) == [(600.0, 600.0), (620.0, 620.0)]


def test_by_side_where_the_lengths_do_not_tell() -> None:
    even = skirt("Skirt front", 0, 610.0, 610.0), skirt("Skirt back", 1, 610.0, 612.0, at=500.0)
    pairs = find_mates(even)
    assert [p.because.sure for p in pairs] == [True, True]
    edges = [p.edges({q.key: q for q in even}) for p in pairs]
    for pair in edges:
        assert pair is not None
        xs = [q.ring.at(q.edges[k.number].start).x for q, k in zip(even, pair, strict=True)]
        assert (xs[0] < 0.0) is (xs[1] > 500.0), f"wanted opposite sides of the table, got {xs}"


def test_a_half_back_is_sewn_to_both_sides_of_a_full_front() -> None:
    half = polygon(
        [Point(500.0, 0.0), Point(650.0, 0.0), Point(650.0, -610.0), Point(500.0, -610.0)],
        (Role.HEM, Role.CENTRE_BACK, Role.WAIST, Role.SIDE),
    )
    pieces = skirt("Skirt front", 0, 610.0, 610.0), replace(half, key=1, name="Skirt back")
    assert lengths(alter_together(pieces, Change(40.0))) == [(650.0, 650.0), (650.0, 650.0)]


def test_a_line_across_both_is_laid_at_the_same_place() -> None:
    """The front is 620 high: 200 below its highest point is 420 above the hem, on both."""
    longer = skirt("Skirt back", 1, 660.0, 640.0, at=500.0)
    front, back = insert_together((FRONT, longer), LevelChange(200.0, 30.0))
    assert back.level is not None
    assert back.level.at_mm == pytest.approx(240.0, abs=1e-9)
    assert {led.leader.name for led in back.led} == {"Skirt front"}
    assert not front.led
    told = [f.sentence for f in check_all((front, back))]
    assert sum(s.startswith("Skirt front leads") for s in told) == 1


def test_a_leg_in_one_piece_is_sewn_to_itself() -> None:
    roles = (Role.HEM, Role.INSEAM, Role.RISE, Role.WAIST, Role.RISE, Role.INSEAM)
    corners = [
        Point(-200.0, 0.0), Point(200.0, 0.0), Point(300.0, -500.0), Point(240.0, -800.0),
        Point(-240.0, -800.0), Point(-260.0, -500.0),
    ]  # fmt: skip
    leg = replace(polygon(corners, roles), name="Leg")
    assert leg.ring == Ring.polygon(corners)
    assert leg.grain.down == Vector(0.0, 1.0)
    (altered,) = alter_together((leg,), Change(60.0))
    gains = [e.after_mm - e.before_mm for e in altered.figures.edges if e.role is Role.INSEAM]
    assert gains[0] == pytest.approx(gains[1], abs=1e-6), "wanted both inseams to gain alike"
    walked = [f for f in check_all((altered,)) if "seam to seam (inseam)" in f.sentence]
    assert walked, "wanted the inseams walked"
    assert not [f for f in walked if f.severity is Severity.STOP]


def test_two_sleeves_are_each_sewn_to_themselves() -> None:
    roles = (Role.HEM, Role.UNDERARM, Role.CAP, Role.UNDERARM)
    shape = [Point(-100.0, 0.0), Point(100.0, 0.0), Point(150.0, -400.0), Point(-150.0, -400.0)]
    sleeves = [
        replace(polygon(shape, roles), key=k, name=name)
        for k, name in enumerate(("Left sleeve", "Right sleeve"))
    ]
    altered = alter_together(sleeves, Change(30.0))
    pairs, unclear = joined(altered, mates_of(altered))
    assert not unclear
    assert [p.first.after.piece.key for p in pairs] == [p.second.after.piece.key for p in pairs]
    assert len(pairs) == 2
