"""Turned, mirrored, moved, run backwards or in other units: the same answers."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.curve import Affine, Chain, Ring
from core.piece.model import Piece, Shape
from core.piece.recognise import recognise
from tests.core.piece.hands import as_drawn
from tests.core.piece.rows import case
from tests.core.piece.true_pieces import (
    curved_shorts,
    shorts,
    sleeve,
    straight_skirt,
    trousers,
    whole_flared_skirt,
)
from tests.core.piece.truth import with_corners, with_waist_dart

SAME = 1e-6
ROUND = ("arc", 58.0, 0.0)
PIECES = {
    "shorts": (with_corners(shorts(), ROUND), ""),
    "elliptic": (with_corners(shorts(), ("cubic", 90.0, 50.0)), ""),
    "long handles": (with_corners(shorts(), ("long", 60.0, 70.0)), ""),
    "curved seam": (with_corners(curved_shorts(), ("cubic", 58.0, 58.0)), ""),
    "trousers with a dart": (with_waist_dart(trousers(), notched=True), ""),
    "skirt with a drawn dart": (with_waist_dart(straight_skirt(), notched=False), ""),
    "sleeve": (sleeve(), ""),
    "flared skirt": (whole_flared_skirt(), "Skirt front"),
}
PLACINGS = st.builds(
    lambda angle, mirror, dx, dy: (
        Affine.move(dx, dy) @ Affine.turn(angle) @ Affine.scale(-1.0 if mirror else 1.0, 1.0)
    ),
    st.floats(-math.pi, math.pi),
    st.booleans(),
    st.floats(-2000.0, 2000.0),
    st.floats(-2000.0, 2000.0),
)


def _shapes(name: str) -> tuple[Shape, ...]:
    truth, called = PIECES[name]
    return case("", truth, as_drawn, name=called).shapes


def _mapped(shapes: tuple[Shape, ...], by: Affine, *, backwards: bool = False) -> list[Shape]:
    out = []
    for s in shapes:
        geometry = s.geometry
        moved = geometry.mapped(by) if isinstance(geometry, Chain) else by.point(geometry)
        if backwards and isinstance(moved, Ring):
            moved = moved.reversed()
        out.append(Shape(s.key, moved, s.words, kind=s.kind, text=s.text))
    return out


def _only(shapes: tuple[Shape, ...] | list[Shape]) -> Piece:
    (piece,), _ = recognise(shapes)
    assert piece.hem is not None
    return piece


def _answers(piece: Piece) -> set[tuple[object, ...]]:
    """Roles and reasons, whichever edge comes first."""
    return {(e.role, e.because.sure, e.because.why) for e in piece.edges}


def _held(was: Piece, now: Piece, by: Affine) -> None:
    assert _answers(now) == _answers(was)
    down = by.vector(was.grain.down).unit()
    off = abs(down.angle_to(now.grain.down))
    assert off <= 1e-9, f"wanted the grain {down}, got {now.grain.down} (+-1e-9)"
    assert was.hem is not None
    assert now.hem is not None
    ends = [(now.ring.at(t.place), t) for t in (now.hem.first, now.hem.last)]
    for taper in (was.hem.first, was.hem.last):
        wanted = by.point(was.ring.at(taper.place))
        got, found = min(ends, key=lambda end: end[0].distance(wanted))
        assert got.distance(wanted) <= SAME, f"wanted {wanted}, got {got} (+-{SAME} mm)"
        turn = abs(by.vector(taper.down).unit().angle_to(found.down))
        assert turn <= 1e-7, f"the direction turned by {turn} (+-1e-7)"
        assert found.because == taper.because
    assert len(now.darts) == len(was.darts)


@pytest.mark.parametrize("name", PIECES)
@settings(max_examples=15, deadline=None)
@given(by=PLACINGS, backwards=st.booleans())
def test_the_same_answers_however_the_piece_lies(name: str, by: Affine, backwards: bool) -> None:
    shapes = _shapes(name)
    _held(_only(shapes), _only(_mapped(shapes, by, backwards=backwards)), by)


@pytest.mark.parametrize("name", PIECES)
@settings(max_examples=6, deadline=None)
@given(start=st.integers(0, 30))
def test_the_same_answers_wherever_the_ring_starts(name: str, start: int) -> None:
    truth, called = PIECES[name]
    moved = case("", truth, as_drawn, name=called, start=start).shapes
    _held(_only(_shapes(name)), _only(moved), Affine())


@pytest.mark.parametrize("name", PIECES)
def test_the_same_answers_by_way_of_other_units(name: str) -> None:
    shapes = _shapes(name)
    inches = _mapped(shapes, Affine.scale(1.0 / 25.4))
    _held(_only(shapes), _only(_mapped(tuple(inches), Affine.scale(25.4))), Affine())
