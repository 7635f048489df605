"""What holds of hems drawn over closed darts: laws 1 and 2, where they are closed only once."""

from __future__ import annotations

import math

from hypothesis import assume, given
from hypothesis import strategies as st

from core.alter.model import Change, DartCaps, HemDarts
from core.curve import Chain
from core.piece.model import Piece, Role
from tests.laws.compare import assert_same_shape, close, run
from tests.laws.generate import STRAIGHT_ENDS, Drawn, drawn, longer
from tests.laws.shaped import amounts, made

CURVES = drawn(digitised=False).filter(lambda case: case.sketch.hem_darts > 0)
THERE_AND_BACK = drawn(digitised=False, styles=STRAIGHT_ENDS).filter(
    lambda case: case.sketch.hem_darts > 0
)
FLAT = drawn(digitised=False, curved_hem=False, rounded=False).filter(
    lambda case: case.sketch.hem_darts > 0
)


def closed(by: float) -> Change:
    return Change(by, dart_caps=DartCaps.CLOSED)


@given(CURVES, longer, longer)
def test_drawn_over_closed_darts_at_the_end(case: Drawn, a: float, b: float) -> None:
    """Law 1: longer by a as drawn, then by b over closed darts = by a + b over closed darts."""
    twice = made(made(case.piece, Change(a)), closed(b))
    once = made(case.piece, closed(a + b))
    assert_same_shape(twice.ring, once.ring, "closed at the end")


@given(CURVES, longer, longer)
def test_drawn_over_closed_darts_at_first(case: Drawn, a: float, b: float) -> None:
    """Law 1 for what is drawn over closed darts already and goes on as drawn."""
    piece = made(case.piece, closed(a))
    twice = made(made(piece, Change(a)), Change(b))
    assert_same_shape(twice.ring, made(piece, Change(a + b)).ring, "closed at first")


@given(THERE_AND_BACK, longer, longer)
def test_there_and_back_of_a_hem_over_closed_darts(case: Drawn, a: float, by: float) -> None:
    """Law 2, as drawn."""
    piece = made(case.piece, closed(a))
    back = made(made(piece, Change(by)), Change(-by))
    assert_same_shape(back.ring, piece.ring, "lengthened and shortened")


@given(FLAT, longer)
def test_a_flat_hem_over_closed_darts_keeps_near_its_line(case: Drawn, by: float) -> None:
    """It waves off the straight line by at most 4/27 of its longest stretch times the sine of half
    the angle of its widest dart, for each end of a stretch; and legs, intakes and seam ends stay.

    Source: closed form. A curve whose handle, a third of its length, is turned leaves its course
    by 4/27 of the length times the sine of the turn.
    """
    # A stretch that was drawn in parts is bent as the one line it is.
    assume(case.sketch.hem_parts == 1)
    plain, done = made(case.piece, Change(by)), made(case.piece, closed(by))
    assert _darts(done) == _darts(plain)
    angle = max(_angle(d) for d in _legs(plain))
    longest = max(s.length() for s in run(plain))
    limit = 2 * 4 / 27 * longest * math.sin(angle / 2) + 1e-6
    flat = Chain(run(plain))
    for s in run(done):
        for k in range(9):
            off = flat.nearest(s.at(k / 8)).distance
            assert off <= limit, f"wanted within {limit} mm of the flat hem, got {off}"


def _darts(piece: Piece) -> list[tuple[object, ...]]:
    return [(d.mouth, d.apex) for d in piece.darts]


def _legs(piece: Piece) -> list[tuple[float, float, float]]:
    return [(*d.legs, d.intake) for d in piece.darts if d.on is Role.HEM]


def _angle(dart: tuple[float, float, float]) -> float:
    return 2.0 * math.asin(dart[2] / 2.0 / max(dart[:2]))


@given(CURVES, amounts(-60.0, 120.0), st.sampled_from(tuple(HemDarts)))
def test_closed_hem_darts_keep_legs_and_intakes(case: Drawn, by: float, way: HemDarts) -> None:
    """Law 7."""
    done = made(case.piece, Change(by, dart_caps=DartCaps.CLOSED, hem_darts=way))
    for old, new in zip(_legs(case.piece), _legs(done), strict=True):
        close(new[2], old[2], 1e-9, "intake")
        if abs(old[0] - old[1]) <= 1e-9:
            close(new[0] - new[1], 0.0, 1e-9, "difference of the legs")
