"""What is refused, in a sentence, with the amount that would work."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.alter.lengthen import lengthen
from core.alter.model import Change, HemWay
from core.alter.together import alter_together
from core.errors import AlterationError
from core.piece.mates import Mates
from core.piece.model import Because, Piece, Role
from tests.laws.compare import altered, ends, height, upper
from tests.laws.generate import Drawn, drawn
from tests.laws.sketch import Garment, SeamPlan, Sketch

# Taken off a stated limit, the change must work (or be refused for another stated reason).
JUST_BELOW = 0.999


def refused(piece: Piece, by_mm: float) -> AlterationError:
    """The refusal; the test fails when the change is made."""
    with pytest.raises(AlterationError) as found:
        altered(piece, by_mm)
    sentence = str(found.value)
    assert sentence.startswith(piece.name), f"wanted the piece's name first, got {sentence!r}"
    assert sentence.endswith("."), f"wanted a whole sentence, got {sentence!r}"
    return found.value


def works_just_below(piece: Piece, error: AlterationError) -> None:
    """Follow the limits that the refusals state until the change is made.

    Each refusal for another reason must state a smaller limit, or none at all.
    """
    tried: float | None = error.limit_mm
    assert tried is not None
    for _ in range(4):
        limit = _refused_with(piece, -tried * JUST_BELOW)
        if limit is None:
            return
        assert limit < tried, f"wanted a limit below {tried}, got {limit}"
        tried = limit
    raise AssertionError("no stated limit was one")


def _refused_with(piece: Piece, by_mm: float) -> float | None:
    """The limit that a refusal states; None when the change is made or no amount works."""
    try:
        altered(piece, by_mm)
    except AlterationError as error:
        return error.limit_mm
    return None


@given(drawn(), st.floats(1.0, 3.0))
def test_more_than_the_fit_line_is_refused(case: Drawn, times: float) -> None:
    """The limit is the shorter seam's height, or what a dart leaves."""
    piece = case.piece
    heights = [height(piece, s.start) for s in upper(piece)]
    tall = max(height(piece, t) for t in ends(piece)) - min(heights)
    error = refused(piece, -tall * times)
    assert error.limit_mm is not None, f"wanted a limit, got {error}"
    assert 0.0 <= error.limit_mm <= tall, f"wanted up to {tall}, got {error.limit_mm}"
    works_just_below(piece, error)


@given(drawn(garments=(Garment.SKIRT,)), st.floats(0.0, 1.0))
def test_a_waist_dart_is_never_cut(case: Drawn, share: float) -> None:
    """Every amount is either refused or leaves each waist dart's apex on the piece."""
    piece = case.piece
    try:
        after = altered(piece, -share * case.sketch.height).piece
    except AlterationError as error:
        if error.limit_mm is not None:
            works_just_below(piece, error)
        return
    for dart in after.darts:
        if dart.on is Role.WAIST:
            p = dart.apex
            inside = any(
                height(after, after.ring.at(place)) > height(after, p) + 1e-9
                for place in after.ring.meets(p, after.grain.down)
            )
            assert inside, "the dart reaches out of the hem"


def test_a_waist_dart_below_the_new_hem_is_refused_with_its_limit() -> None:
    """Apex 90 mm below the waist of a straight panel 400 mm high: 310 mm at most."""
    plain = SeamPlan(0.0)
    piece = Sketch(Garment.SKIRT, 400.0, 300.0, plain, plain, waist_darts=1).piece()
    error = refused(piece, -330.0)
    assert error.limit_mm is not None
    assert abs(error.limit_mm - 310.0) < 1e-4, f"wanted 310 mm, got {error.limit_mm}"
    assert "dart" in str(error)
    altered(piece, -310.0 * JUST_BELOW)


@given(st.floats(0.1, 0.2), st.floats(0.1, 0.2), st.floats(1.0, 2.0))
def test_seams_that_meet_are_refused(left: float, right: float, times: float) -> None:
    """Two seams that narrow meet where their lines cross; further down there is no hem."""
    sketch = Sketch(Garment.SLEEVE, 400.0, 240.0, SeamPlan(-left), SeamPlan(-right))
    meet = 240.0 / (math.tan(left) + math.tan(right))
    error = refused(sketch.piece(), meet * times)
    assert error.limit_mm is not None, f"wanted the largest amount, got {error}"
    assert error.limit_mm < meet, f"wanted less than {meet}, got {error.limit_mm}"
    altered(sketch.piece(), error.limit_mm * JUST_BELOW)


def test_a_piece_without_a_hem_is_refused() -> None:
    plain = SeamPlan(0.0)
    piece = replace(Sketch(Garment.SKIRT, 400.0, 300.0, plain, plain).piece(), hem=None)
    assert "hem" in str(refused(piece, 10.0))


@given(drawn(), st.one_of(st.floats(-5000.0, 5000.0), st.sampled_from((1e-9, -1e-9, 1e6, -1e6))))
def test_any_amount_is_made_or_refused_in_a_sentence(case: Drawn, by: float) -> None:
    """No other exception, whatever is asked."""
    piece = case.piece
    try:
        altered(piece, by)
    except AlterationError:
        refused(piece, by)


def test_a_width_out_of_reach_of_a_mated_seam_names_the_piece_and_what_to_do() -> None:
    """It was half a sentence: whose hem, and what to do, was not said."""
    plans = SeamPlan(-0.05), SeamPlan(-0.05)
    pieces = [
        replace(Sketch(Garment.LEG, 500.0, width, *plans).piece(), key=k, name=name)
        for k, (name, width) in enumerate((("front", 300.0), ("back", 700.0)))
    ]
    mates = [
        Mates((0, role), (1, role), Because(True, "drawn so")) for role in (Role.INSEAM, Role.SIDE)
    ]
    with pytest.raises(AlterationError) as told:
        alter_together(pieces, Change(60.0, to_width_mm=2400.0), mates=mates)
    assert str(told.value).startswith("back: the hem cannot get that width")
    assert str(told.value).endswith("ask for a width nearer to the present one.")


def test_a_slid_hem_that_leads_away_from_its_seam_names_the_piece() -> None:
    sketch = Sketch(Garment.LEG, 500.0, 200.0, SeamPlan(-0.05), SeamPlan(-0.05), hem_slope=0.02)
    with pytest.raises(AlterationError) as told:
        lengthen(replace(sketch.piece(), name="front"), Change(4000.0, hem=HemWay.TRIM))
    assert str(told.value).startswith("front: "), told.value
    assert str(told.value).endswith("."), told.value
