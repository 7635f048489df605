"""Hem widths, girths against a wearer, and what a change costs."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.alter.model import Severity
from core.check.binding import bias_length, bias_square, cost, cost_finding, tape_length
from core.check.counted import counted, cut_number
from core.check.girth import (
    Around,
    HemGirth,
    Wearer,
    girth_findings,
    hem_girths,
    hem_measure,
)
from core.check.seams import joined, mates_of
from core.curve import Point, Vector
from core.errors import MeasureError
from core.measure import Unit, told_in
from core.piece.mates import Mates
from core.piece.model import Dart, Kind, Mark, Piece, Role
from tests.core.check.panels import SURE, Panel, changed, mates
from tests.laws.hem_shapes import HemKind, HemShape
from tests.laws.sketch import Garment, SeamPlan, Sketch

RIGHT = Vector(900.0, 0.0)
INCH = 25.4


def close(got: float, wanted: float, tolerance: float = 1e-9) -> None:
    assert abs(got - wanted) <= tolerance, f"wanted {wanted}, got {got}, tolerance {tolerance}"


def girths(*panels: Panel, by: float, joined_at: tuple[Mates, ...] | None) -> tuple[HemGirth, ...]:
    altered = changed(*panels, by=by, joined=joined_at or ())
    pairs, _ = joined(altered, mates_of(altered) if joined_at is None else joined_at)
    return hem_girths(altered, pairs)


FRONT = Panel("Front", 0, 340.0, 200.0, 240.0)
BACK = Panel("Back", 1, 440.0, 300.0, 240.0, at=RIGHT)
LEG = mates(Role.INSEAM, Role.SIDE)


def test_a_leg_is_front_and_back_together() -> None:
    """The 7-24-25 panels: +120 takes 70 off each hem, twice 35."""
    (leg,) = girths(FRONT, BACK, by=120.0, joined_at=LEG)
    close(leg.before.width_mm, 500.0)
    close(leg.after.width_mm, 360.0)
    assert (leg.around, leg.times, leg.whole, leg.copies()) == (Around.LEG, 2, True, {0: 2, 1: 2})
    (note,) = girth_findings(leg)
    assert note.sentence.startswith(
        "Front and Back: the hem is 36.0 cm around for each leg (50.0 cm before). Counted: Front"
        " once (taken so for each of the two; no number is on it), Back once"
    )


def test_pieces_that_are_not_joined_all_round_are_no_whole_hem() -> None:
    for some in ((), mates(Role.INSEAM)):
        for found in girths(FRONT, BACK, by=120.0, joined_at=some):
            assert not found.whole
            told = girth_findings(found, Wearer(leg_mm=900.0, heel_mm=900.0))
            assert [f.severity for f in told] == [Severity.NOTE], "held against the wearer"
            assert "as far as the pieces go" in told[0].sentence


def test_a_skirt_on_the_fold_is_twice_its_panels() -> None:
    front = replace(FRONT, left=Role.FOLD)
    back = replace(BACK, left=Role.CENTRE_BACK)
    (skirt,) = girths(front, back, by=0.0, joined_at=mates(Role.SIDE))
    close(skirt.after.width_mm, 1000.0)
    assert (skirt.around, skirt.times, skirt.whole) == (Around.BODY, 1, True)
    assert skirt.copies() == {0: 2, 1: 2}


def test_a_sleeve_closes_on_itself() -> None:
    sleeve = replace(FRONT, name="Sleeve", left=Role.UNDERARM, right=Role.UNDERARM)
    (arm,) = girths(sleeve, by=0.0, joined_at=None)
    close(arm.after.width_mm, 200.0)
    assert (arm.around, arm.times, arm.whole) == (Around.ARM, 2, True)


def test_a_dart_in_the_hem_is_closed_however_it_is_drawn() -> None:
    notched = replace(FRONT, dart=20.0).piece()
    plain = FRONT.piece()
    (dart,) = notched.darts
    lined = replace(plain, darts=(Dart(dart.mouth, dart.apex, SURE, Role.HEM, shapes=(7,)),))
    for piece in (notched, lined):
        found = hem_measure(piece)
        assert found is not None
        close(found.width_mm, 180.0)
        close(found.edge_mm, 180.0)


def test_a_square_hem_measures_along_its_arc() -> None:
    """The arc square to both seams of the 7-24-25 panel at 20: 20.2710078005948."""
    found = hem_measure(replace(FRONT, square=True).piece())
    assert found is not None
    # The arc is drawn as one cubic, which is not quite round.
    close(found.width_mm, 202.710078005948, 1e-3)


@pytest.mark.parametrize("vent", [(25.0, 80.0), (-25.0, 80.0), (40.0, 200.0)])
def test_a_vent_at_the_side_is_no_part_of_the_girth(vent: tuple[float, float]) -> None:
    """The step and the edge of the vent were counted: 25.4 cm were told of a hem of 16 cm."""
    plans = SeamPlan(-0.03), SeamPlan(0.05, vent=vent)
    piece = Sketch(Garment.SKIRT, 500.0, 240.0, *plans).piece()
    found = hem_measure(piece)
    assert found is not None
    assert piece.hem is not None
    ends = [piece.ring.at(t.place) for t in (piece.hem.first, piece.hem.last)]
    close(found.width_mm, abs(ends[0].x - ends[1].x), 1e-6)
    assert found.edge_mm >= found.width_mm + vent[1] - 1e-6


@pytest.mark.parametrize(("at", "wide"), [(0.5, 12.0), (0.3, 4.0)])
def test_the_sides_of_a_slit_are_no_part_of_the_girth(at: float, wide: float) -> None:
    """They were counted: a slit 15 cm deep made a hem of 31 cm one of 60 cm."""
    plans, slit = (SeamPlan(-0.05), SeamPlan(0.05)), HemShape(HemKind.SLIT, at, wide, 150.0)
    piece = Sketch(Garment.SKIRT, 500.0, 340.0, *plans, shape=slit).piece()
    found = hem_measure(piece)
    assert found is not None
    close(found.width_mm, 340.0, 1e-6)
    assert found.edge_mm >= 340.0 + 2.0 * 150.0 - 2.0 * wide


def test_a_piece_without_a_hem_has_no_measure() -> None:
    assert hem_measure(replace(FRONT.piece(), hem=None)) is None


@pytest.mark.parametrize(
    ("wearer", "words"),
    [
        (Wearer(leg_mm=360.0), ()),
        (Wearer(leg_mm=340.0, ease_mm=20.0), ()),
        (Wearer(leg_mm=340.0, ease_mm=21.0), ("with ease 36.1 cm: 0.1 cm are missing",)),
        (Wearer(leg_mm=373.0), ("there 37.3 cm: 1.3 cm are missing",)),
        (Wearer(heel_mm=360.0), ()),
        (Wearer(heel_mm=361.0), ("the foot (36.1 cm around) does not pass",)),
        (Wearer(leg_mm=373.0, heel_mm=420.0), ("are missing", "does not pass")),
        (Wearer(arm_mm=900.0, body_mm=900.0, hand_mm=900.0), ()),
    ],
)
def test_the_hem_is_held_against_the_wearer(wearer: Wearer, words: tuple[str, ...]) -> None:
    (leg,) = girths(FRONT, BACK, by=120.0, joined_at=LEG)
    told = [f for f in girth_findings(leg, wearer) if f.severity is Severity.LOOK]
    assert len(told) == len(words), f"wanted {words}, got {told}"
    for finding, said in zip(told, words, strict=True):
        assert said in finding.sentence, finding.sentence
        assert finding.place == leg.place


def test_a_calf_larger_than_the_knee_is_taken_as_it_is() -> None:
    """Heinz et al. 2003: the calf is larger in 38.5 % of the women, smaller in the others.

    The hem that goes over one and not over the other is told by the wearer's own girth alone.
    """
    (leg,) = girths(FRONT, BACK, by=120.0, joined_at=LEG)
    knee, calf = Wearer(leg_mm=353.0), Wearer(leg_mm=366.0)
    assert girth_findings(leg, knee)[1].severity is Severity.WELL
    assert "an ease of 0.7 cm" in girth_findings(leg, knee)[1].sentence
    assert girth_findings(leg, calf)[1].severity is Severity.LOOK


@pytest.mark.parametrize("wrong", [0.0, -1.0, float("nan"), float("inf")])
def test_a_wearer_without_a_sound_girth_is_refused(wrong: float) -> None:
    with pytest.raises(MeasureError, match="above nothing"):
        Wearer(leg_mm=wrong)


@pytest.mark.parametrize("wrong", [float("nan"), float("inf")])
def test_an_ease_that_is_no_length_is_refused(wrong: float) -> None:
    with pytest.raises(MeasureError, match="ease"):
        Wearer(ease_mm=wrong)


def test_a_twenty_inch_square_gives_two_hundred_inches_of_bias() -> None:
    """Sewing columns: bias length = area / cut width; 20 in square at 2 in gives 200 in."""
    close(bias_length((20 * INCH) ** 2, 2 * INCH) / INCH, 200.0)
    close(bias_square(200 * INCH, 2 * INCH) / INCH, 20.0)


@given(st.floats(0.0, 1e4), st.floats(1.0, 200.0))
def test_the_square_gives_the_length_it_was_made_for(length: float, width: float) -> None:
    close(bias_length(bias_square(length, width) ** 2, width), length, 1e-8)


@pytest.mark.parametrize("width", [0.0, -1.0, float("nan")])
def test_a_strip_without_width_is_refused(width: float) -> None:
    for ask in (bias_length, bias_square):
        with pytest.raises(MeasureError, match="bias strip"):
            ask(100.0, width)


def test_tape_goes_round_each_hem_and_through_each_join() -> None:
    close(tape_length(360.0, 2, joins_mm=15.0), 750.0)


def test_the_cost_of_longer_legs() -> None:
    """Trapezoids: front (34 + 20) / 2 x 24 cm; +12 cm adds (20 + 13) / 2 x 12, the back
    (30 + 23) / 2 x 12; all twice."""
    altered = changed(FRONT, BACK, by=120.0, joined=LEG)
    pairs, _ = joined(altered, LEG)
    found = cost(altered, hem_girths(altered, pairs), joins_mm=10.0)
    close(found.tape_before_mm, 2 * (500.0 + 10.0))
    close(found.tape_after_mm, 2 * (360.0 + 10.0))
    close(found.cloth_before_mm2, 2 * (270.0 + 370.0) * 240.0, 1e-6)
    close(found.cloth_after_mm2 - found.cloth_before_mm2, 2 * (165.0 + 265.0) * 120.0, 1e-6)
    close(found.longer_mm, 120.0)
    told = cost_finding(found).sentence
    assert "74.0 cm long (102.0 cm before)" in told, told
    assert "0.103 m² more cloth, and each row of them 12.0 cm more" in told, told
    assert "28.0 cm less binding or tape" in told, told
    without = cost_finding(replace(found, cloth_after_mm2=found.cloth_before_mm2)).sentence
    assert without.endswith("not counting joins."), without


def test_where_lengths_are_in_inches_the_cloth_is_in_square_inches() -> None:
    altered = changed(FRONT, BACK, by=120.0, joined=LEG)
    pairs, _ = joined(altered, LEG)
    told = told_in(cost_finding(cost(altered, hem_girths(altered, pairs))).sentence, Unit.INCH)
    # 2 (165 + 265) 120 mm² = 103,200 mm², and 645.16 mm² to the square inch.
    assert "take 160 sq in more cloth" in told, told
    assert "m²" not in told, told


def written(piece: Piece, text: str) -> Piece:
    return replace(piece, marks=(*piece.marks, Mark(Kind.TEXT, 99, Point(0.0, 0.0), text)))


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("cut 2", 2),
        ("Cut: 4", 4),
        ("CUT 1 PAIR", 2),
        ("cut a pair", 2),
        ("Quantity: 2", 2),
        ("cut two", 2),
        ("cut 1 on the fold", 1),
        ("cutting line", None),
        ("cut 0", None),
        ("Front", None),
    ],
)
def test_how_many_are_cut_is_read(text: str, number: int | None) -> None:
    found = cut_number(written(FRONT.piece(), text))
    assert (found and found[0]) == number, f"wanted {number}, got {found}"


@pytest.mark.parametrize(
    ("text", "left", "times"),
    [
        ("cut 2", Role.SIDE, 2),
        ("cut 6", Role.SIDE, 6),
        ("cut 1 on the fold", Role.FOLD, 2),
        ("", Role.FOLD, 2),
        ("", Role.CENTRE_FRONT, 2),
        ("", Role.SIDE, 1),
    ],
)
def test_a_panel_around_the_body_counts_as_often_as_it_is_cut(
    text: str, left: Role, times: int
) -> None:
    panel = replace(FRONT, left=left).piece()
    found = counted(written(panel, text) if text else panel, around_body=True)
    assert (found.in_hem, found.hems) == (times, 1), found
    assert (text in found.why) if text else found.why


def test_a_full_front_and_two_half_backs_make_the_hem() -> None:
    """200 + 2 x 300; both side seams of the front are sewn to the one of the back, cut twice."""
    front = replace(FRONT, left=Role.SIDE)
    back = replace(BACK, left=Role.CENTRE_BACK)
    (skirt,) = girths(front, back, by=0.0, joined_at=None)
    close(skirt.after.width_mm, 800.0)
    assert (skirt.around, skirt.whole, skirt.copies()) == (Around.BODY, True, {0: 1, 1: 2})
    assert "Counted: Front once" in girth_findings(skirt)[0].sentence
    assert "Back twice (it is half of the garment" in girth_findings(skirt)[0].sentence


def test_a_leg_that_is_cut_once_is_no_pair() -> None:
    found = counted(written(FRONT.piece(), "cut 1"), around_body=False)
    assert (found.in_hem, found.hems) == (1, 1)
    found = counted(written(FRONT.piece(), "cut 4"), around_body=False)
    assert (found.in_hem, found.hems) == (2, 2)
