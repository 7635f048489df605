"""What a test square that is off costs."""

from __future__ import annotations

import pytest

from core.alter.model import Severity
from core.check.scale import mistaken, proved
from core.errors import MeasureError
from core.measure import Unit, told_in


def test_a_square_of_an_inch_that_reads_15_16_costs_2_1_2_in_over_40_in() -> None:
    """Closed form: 40 in x 1/16."""
    found = proved(25.4, 25.4 * 15 / 16)
    assert found.severity is Severity.STOP
    assert "over 40 in that is 2 1/2 in too short" in told_in(found.sentence, Unit.INCH)


def test_who_reads_centimetres_is_told_what_it_costs_over_a_metre() -> None:
    """Closed form: 100 cm x 1/20."""
    assert "over 100 cm that is 5.0 cm too short" in proved(100.0, 95.0).sentence


def test_half_a_millimetre_of_reading_is_2_percent_of_an_inch_and_half_of_one_of_100_mm() -> None:
    """Closed form: 0.5 / 25.4 = 1.97 %, 0.5 / 100 = 0.5 %; over 1 m that is 20 mm and 5 mm."""
    assert "2.0 cm over" in proved(25.4, 25.4).sentence
    assert "0.5 cm over" in proved(100.0, 100.4).sentence
    assert proved(100.0, 100.4).severity is Severity.WELL
    assert proved(100.0, 100.6).severity is Severity.STOP


@pytest.mark.parametrize(
    ("drawn", "measured", "word"),
    [
        # W3C CSS Values 3: 96 px to the inch; editors that counted 72 or 90 were common.
        (225.0, 300.0, "72"),
        (225.0, 240.0, "90"),
        (10.0, 100.0, "centimetres were read"),
        (10.0, 254.0, "inches were read"),
    ],
)
def test_a_mistaken_unit_is_told_by_its_ratio(drawn: float, measured: float, word: str) -> None:
    assert word in mistaken(drawn, measured)
    assert word in proved(drawn, measured).sentence


def test_a_printer_that_fits_to_the_page_is_no_mistaken_unit() -> None:
    assert mistaken(100.0, 94.0) == ""
    assert "Print again at 100 %" in proved(100.0, 94.0).sentence


@pytest.mark.parametrize(("drawn", "measured"), [(0.0, 10.0), (10.0, 0.0), (10.0, -1.0)])
def test_nothing_measures_nothing(drawn: float, measured: float) -> None:
    with pytest.raises(MeasureError, match="greater than nothing"):
        proved(drawn, measured)
