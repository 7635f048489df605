"""Lengths as people write them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import MeasureError
from core.measure import (
    Length,
    Sentence,
    Unit,
    differences,
    in_cm,
    in_inches,
    parse_length,
    unit_size,
)

# W3C CSS Values and Units 3, absolute lengths: exact.
INCH = 25.4


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("60mm", 60.0),
        ("6 cm", 60.0),
        ("6,5cm", 65.0),
        ("-3cm", -30.0),
        ("− 3 cm", -30.0),
        ("+.5in", INCH / 2),
        ("2.5in", 2.5 * INCH),
        ("2 1/2 in", 2.5 * INCH),
        ("2-1/2in", 2.5 * INCH),
        ('2½"', 2.5 * INCH),
        ("½ in", INCH / 2),
        ("0", 0.0),
        ("72pt", INCH),
        ("96px", INCH),
    ],
)
def test_what_people_write(text: str, mm: float) -> None:
    assert parse_length(text) == pytest.approx(mm, abs=1e-12)


def test_eleven_sixteenths_is_not_one_and_a_sixteenth() -> None:
    assert parse_length("11/16 in") == pytest.approx(11 / 16 * INCH, abs=1e-12)


@given(st.integers(0, 99), st.integers(1, 99), st.integers(1, 99))
def test_every_fraction_is_its_own_value(whole: int, top: int, bottom: int) -> None:
    wanted = float(whole + Fraction(top, bottom)) * INCH
    text = f"{whole} {top}/{bottom} in" if whole else f"{top}/{bottom} in"
    assert parse_length(text) == pytest.approx(wanted, abs=1e-9)


@given(st.integers(-1600, 1600))
def test_inches_shown_can_be_typed_back(sixteenths: int) -> None:
    mm = sixteenths * INCH / 16
    assert parse_length(in_inches(mm)) == pytest.approx(mm, abs=1e-9)


@given(st.integers(-5000, 5000))
def test_centimetres_shown_can_be_typed_back(tenths: int) -> None:
    assert parse_length(in_cm(tenths / 1.0)) == pytest.approx(tenths, abs=1e-9)


@pytest.mark.parametrize(
    "text", ["", "12", "cm", "1/0 in", "1e3cm", "3 cm 2", "nan cm", "5 cubits", "2 000 m", "1//2in"]
)
def test_what_cannot_be_read_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(MeasureError, match=r"for example|Use one of|divides|longer"):
        parse_length(text)


def test_units_are_exact() -> None:
    assert unit_size("IN") == INCH
    assert unit_size("px") == INCH / 96
    assert unit_size("q") == 0.25


def test_sentences_are_alike_whose_lengths_differ_by_less_than_anybody_sees() -> None:
    """Halfway between two figures one would be told as 6.3 cm and the other as 6.4 cm."""

    def slide(mm: float, way: str = "down") -> Sentence:
        return Sentence("{what} by {mm}.", what=Sentence("Slide it {way}", way=way), mm=Length(mm))

    assert slide(63.499).like(slide(63.501), within=0.1)
    assert not slide(63.4).like(slide(63.6), within=0.1)
    assert not slide(63.5).like(slide(63.5, "up"), within=0.1)
    assert not slide(63.5).like("Slide it.", within=0.1)


@pytest.mark.parametrize(
    ("mm", "cm", "inch"),
    [(0.4, "0.4 mm", "0.4 mm"), (2.5, "2.5 mm", "0.10 in"), (69.85, "7.0 cm", "2 3/4 in")],
)
def test_a_difference_that_turned_out_large_is_told_as_any_length(
    mm: float, cm: str, inch: str
) -> None:
    """69.9 mm stood beside 51.1 cm."""
    (found,) = differences(-mm)
    assert (found.told_in(Unit.CM), found.told_in(Unit.INCH)) == (cm, inch)


@pytest.mark.parametrize(
    ("both", "told"),
    [
        ((25.4, 24.9), ("25.4 mm", "24.9 mm")),
        ((25.4, 14.0), ("2.5 cm", "1.4 cm")),
        ((4.0, 14.0), ("4.0 mm", "14.0 mm")),
        ((-31.0, 69.9), ("3.1 cm", "7.0 cm")),
    ],
)
def test_differences_of_one_sentence_are_told_in_one_unit(
    both: tuple[float, float], told: tuple[str, str]
) -> None:
    """They differ by 2.5 cm, it said, and before the change they differed by 24.9 mm."""
    assert tuple(d.told_in(Unit.CM) for d in differences(*both)) == told
