"""Is the scale right? A line of known length, measured on the printed sheet, tells."""

from __future__ import annotations

from core.alter.model import Finding, Severity
from core.errors import MeasureError
from core.measure import MM_PER_INCH, ByUnit, Length, Sentence

# Nobody reads a ruler nearer than this (mm).
READING = 0.5
# By so much (share) a reading may be off and still mean what it is known to mean.
ALIKE = 0.012
# Lines to tell by, for who reads cm or inches: a mistake shows best over the length of a leg.
METRE, FORTY_INCHES = 1000.0, 40.0 * MM_PER_INCH
TELLING = ByUnit(Length(METRE, decimals=0), Length(FORTY_INCHES))
# What one unit may have been taken for instead, and how many times too large it then came out.
_MISTAKEN = (
    (96.0 / 72.0, "the file counts 72 units to the inch and was read as 96"),
    (96.0 / 90.0, "the file counts 90 units to the inch and was read as 96"),
    (10.0, "centimetres were read as millimetres"),
    (0.1, "millimetres were read as centimetres"),
    (MM_PER_INCH, "inches were read as millimetres"),
    (1.0 / MM_PER_INCH, "millimetres were read as inches"),
)


def proved(drawn_mm: float, measured_mm: float) -> Finding:
    """What a line that is `drawn_mm` long and measures `measured_mm` on paper says.

    WELL within half a millimetre of reading; else STOP, with what it costs over a metre, or over
    40 in (a 1 in square that reads 15/16 in costs 2 1/2 in) and, where the ratio says so, how the
    file was mistaken. MeasureError for lengths that are not greater than nothing.
    """
    if drawn_mm <= 0.0 or measured_mm <= 0.0:
        raise MeasureError("A measured length is greater than nothing. Measure it again.")
    if abs(measured_mm - drawn_mm) <= READING:
        return Finding(Severity.WELL, _well(drawn_mm, measured_mm))
    return Finding(Severity.STOP, _wrong(drawn_mm, measured_mm))


def _well(drawn: float, measured: float) -> Sentence:
    spread = _over_the_line(READING / drawn)
    told = "It measures {measured}, as it should."
    if spread.cm.mm > 2.0:
        told += (
            " On so short a line {reading} of reading is {spread} over {line}: measure a longer one"
            " too."
        )
    return Sentence(
        told,
        measured=Length(measured, decimals=2),
        reading=Length(READING, little=True),
        spread=spread,
        line=TELLING,
    )


def _wrong(drawn: float, measured: float) -> Sentence:
    way = "short" if measured < drawn else "long"
    why = mistaken(drawn, measured)
    advice = (
        f"It looks as if {why}: take the measured length as the true one."
        if why
        else "Print again at 100 %, with no fitting to the page, and measure again."
    )
    return Sentence(
        "It measures {measured} and should be {drawn}: over {line} that is {off} too {way}."
        " {advice}",
        measured=Length(measured, decimals=2),
        drawn=Length(drawn, decimals=2),
        line=TELLING,
        off=_over_the_line(abs(1.0 - measured / drawn)),
        way=way,
        advice=advice,
    )


def _over_the_line(share: float) -> ByUnit:
    """What that share of a length is over the line to tell by."""
    return ByUnit(Length(share * METRE), Length(share * FORTY_INCHES))


def mistaken(drawn_mm: float, measured_mm: float) -> str:
    """How the file's unit was mistaken, where the ratio tells; else nothing."""
    ratio = measured_mm / drawn_mm
    return next((why for times, why in _MISTAKEN if abs(ratio / times - 1.0) <= ALIKE), "")
