"""Pieces of every kind, drawn by every hand: an answer may be wrong, but then it is not sure.

Swept so, shorts with a straight rise stood on their head surely (two hints were enough), and so did
sleeves with a hollow hem, narrow skirts (a skirt was said to widen), and skirts with a deep hem (it
was taken for a cap). Where a shoulder was wider than the piece below the arm, the armhole told.
"""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from core.curve import Line
from tests.core.piece.hands import as_cubics, as_drawn, dense, digitised
from tests.core.piece.hem_rows import ASIDE, shaped_hem
from tests.core.piece.rows import MIRRORED, UPSIDE_DOWN, Case, case, turned
from tests.core.piece.score import answers
from tests.core.piece.true_pieces import (
    bodice,
    fitted_skirt,
    flared_skirt,
    shorts,
    sleeve,
    straight_skirt,
    trousers,
    whole_flared_skirt,
)
from tests.core.piece.truth import Truth, curved_hem, with_corners

HANDS = [
    (as_drawn, True),
    (as_cubics, True),
    (dense(0.01), True),
    (digitised(4.0, 0.1, 1), False),
    (digitised(8.0, 0.0, 2), False),
]
WAYS = [None, MIRRORED, UPSIDE_DOWN, turned(90.0), turned(33.0)]


SKIRTS = [straight_skirt(), flared_skirt(), whole_flared_skirt()]


@st.composite
def fitted(draw: st.DrawFn) -> Truth:
    """A skirt that widens below the hip, falls straight or narrows; with a deep hem, maybe."""
    waist = float(draw(st.integers(150, 220)))
    hip = waist + float(draw(st.integers(0, 60)))
    true = fitted_skirt(
        waist=waist,
        hip=hip,
        hem=hip + float(draw(st.integers(-50, 150))),
        length=draw(st.sampled_from([350.0, 500.0, 650.0, 900.0])),
        half=draw(st.booleans()),
    )
    return shaped_hem(true, ASIDE) if draw(st.booleans()) else true


@st.composite
def pieces(draw: st.DrawFn) -> tuple[Truth, str]:
    """A piece with a hem that may be curved, and what it is called."""
    degrees = st.integers(-6, 13)
    kind = draw(st.sampled_from(["Shorts front", "Trousers back", "Sleeve", "Front", "Skirt"]))
    if kind == "Shorts front":
        true = shorts(
            side=float(draw(degrees)),
            inseam=float(draw(degrees)),
            length=draw(st.sampled_from([60.0, 110.0, 190.0, 300.0])),
            straight_rise=draw(st.booleans()),
        )
    elif kind == "Trousers back":
        true = trousers(flare=draw(st.sampled_from([-20.0, 0.0, 20.0, 45.0, 90.0])))
    elif kind == "Sleeve":
        true = sleeve(
            cap=float(draw(st.integers(30, 180))),
            taper=float(draw(st.integers(-12, 10))),
            length=draw(st.sampled_from([60.0, 110.0, 250.0, 420.0, 560.0])),
        )
    elif kind == "Front":
        chest = float(draw(st.integers(210, 280)))
        true = bodice(
            chest=chest,
            waist=chest + draw(st.sampled_from([-60.0, -30.0, 0.0, 40.0, 90.0])),
            neck=(float(draw(st.integers(60, 90))), draw(st.sampled_from([20.0, 70.0, 140.0]))),
            shoulder=float(draw(st.integers(90, 140))),
            length=draw(st.sampled_from([400.0, 450.0, 620.0, 1000.0])),
        )
    else:
        true = draw(st.one_of(st.sampled_from(SKIRTS), fitted()))
    sag = float(draw(st.sampled_from([-25, -12, -5, 0, 5, 12, 25])))
    one = len(true.edges[0].chain) == 1
    return (curved_hem(true, sag) if sag and one else true), kind


@st.composite
def rows(draw: st.DrawFn) -> Case:
    true, name = draw(pieces())
    # Above a rounded corner a few centimetres of straight seam have to be left.
    if true.edges[-1].chain.segments[-1].length() >= 150.0 and draw(st.booleans()):
        across = float(draw(st.integers(20, 90)))
        # An arc lies between two straight lines.
        straight = isinstance(true.edges[0].chain.segments[0], Line)
        style = draw(st.sampled_from(["cubic", "arc"])) if straight else "cubic"
        true = with_corners(true, (style, across, across))
    hand, exact = draw(st.sampled_from(HANDS))
    return case(
        "swept",
        true,
        hand,
        name=draw(st.sampled_from([name, ""])),
        by=draw(st.sampled_from(WAYS)),
        grain=draw(st.booleans()),
        backwards=draw(st.booleans()),
        exact=exact,
    )


@given(rows())
def test_what_is_wrong_is_not_sure(row: Case) -> None:
    wrong = [f"{a.asked}: {a.said}" for a in answers(row) if a.sure and not a.right]
    assert not wrong, wrong
