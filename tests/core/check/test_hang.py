"""The hem of a circle skirt does not come along by the same everywhere: that is told."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change, Finding, HemDarts, HemWay, Measure, SeamWay, Severity
from core.check.careful import check_all
from core.files.read import read_bytes
from tests.laws.sketch import Garment, SeamPlan, Sketch


def found(degrees: float, change: Change) -> list[Finding]:
    """What is told of a sector between radii of 110 and 700 mm, so far to either side."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    a, b, d, e = 110.0 * s, 110.0 * c, 700.0 * s, 700.0 * c
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="1400mm" height="900mm"'
        ' viewBox="-700 0 1400 900"><g id="skirt front">'
        f'<path d="M{-a} {b}A110 110 0 0 0 {a} {b}L{d} {e}A700 700 0 0 1 {-d} {e}Z"/>'
        '<path class="grain" d="M0 200v400"/></g></svg>'
    )
    (piece,) = read_bytes(Path("skirt.svg"), text.encode()).pieces
    told = check_all([lengthen(piece, change)])
    return [f for f in told if "hang level" in f.sentence]


@pytest.mark.parametrize(
    ("measure", "seam", "middle"),
    # Of seams at 45 degrees: 50 mm down the grain are 50 sqrt 2 along them, or the other way.
    [(Measure.GRAIN, "7.1 cm", "5.0 cm"), (Measure.SEAM, "5.0 cm", "3.5 cm")],
)
@pytest.mark.parametrize("by", [50.0, -50.0])
def test_a_quarter_circle_will_not_hang_level(
    measure: Measure, seam: str, middle: str, by: float
) -> None:
    (told,) = found(45.0, Change(by, measure=measure))
    assert told.severity is Severity.LOOK
    assert f"{seam} {'longer' if by > 0.0 else 'shorter'}" in told.sentence
    assert f"{'down' if by > 0.0 else 'up'} by {middle}" in told.sentence
    assert ("Measure it along the seams" in told.sentence) == (measure is Measure.GRAIN)
    assert told.place is not None
    assert abs(told.place.x - 700.0) < 0.1, "wanted the middle of the hem"


# 15 degrees: 50 mm are 51.8 along the seams, 150 mm are 155.3.
@pytest.mark.parametrize(("degrees", "by", "count"), [(15.0, 50.0, 0), (15.0, 150.0, 1)])
def test_a_gore_is_told_of_once_it_matters(degrees: float, by: float, count: int) -> None:
    assert len(found(degrees, Change(by))) == count


def told(sketch: Sketch, change: Change) -> list[Finding]:
    found = check_all([lengthen(sketch.piece(), change)])
    return [f for f in found if f.severity in (Severity.STOP, Severity.LOOK)]


@pytest.mark.parametrize("by", [60.0, -40.0])
def test_a_dart_that_keeps_its_apex_in_the_middle_of_a_hem_does_not_make_it_hang(by: float) -> None:
    """Half way along the hem lay the apex, which stays: of a sleeve the hem was told to come down
    by 0.1 cm, and not to hang level."""
    sleeve = Sketch(Garment.SLEEVE, 500.0, 220.0, SeamPlan(-0.1), SeamPlan(-0.1), hem_darts=1)
    found = told(sleeve, Change(by, hem_darts=HemDarts.APEX))
    assert [f for f in found if "hang level" in f.sentence] == []


def test_a_hem_that_is_hollowed_to_be_square_hangs_level_for_that() -> None:
    leg = Sketch(Garment.LEG, 500.0, 260.0, SeamPlan(-0.11), SeamPlan(-0.11))
    altered = lengthen(leg.piece(), Change(60.0, hem=HemWay.SQUARE))
    assert [f for f in check_all([altered]) if "hang level" in f.sentence] == []


FLARED = Sketch(
    Garment.LEG,
    500.0,
    400.0,
    SeamPlan(0.15),
    SeamPlan(0.15),
    hem_angles=(0.1, 0.1),
    with_marks=False,
)


@pytest.mark.parametrize(
    "change",
    [Change(7.0, seams=SeamWay.PLUMB), Change(7.0, plumb_below_mm=300.0)],
)
def test_a_curved_hem_between_seams_that_turn_is_told_for_what_it_is(change: Change) -> None:
    """It swings up between them, and more than a small change adds: that stopped the maker, who
    was sent to the taper points; or the seams were said to slant too far."""
    area, turned = told(FLARED, change)
    assert "keeps its angle to seams that turn" in turned.sentence, turned.sentence
    assert "Slide and trim" in turned.sentence
    assert area.severity is Severity.LOOK
    assert "longer but not larger" in area.sentence
    assert "Slide and trim" in area.sentence


def test_a_hem_that_is_slid_between_seams_that_turn_comes_down_evenly() -> None:
    assert told(FLARED, Change(7.0, seams=SeamWay.PLUMB, hem=HemWay.TRIM)) == []
