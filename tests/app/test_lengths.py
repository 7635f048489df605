"""Lengths as shown and typed, and names for what is saved."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtWidgets import QLabel

from app.window.findings_list import FindingRow
from app.window.lengths import Shown, bare, in_unit, signed, to_step, typed, with_unit
from app.window.main import MainWindow
from app.window.naming import suggested
from core.errors import MeasureError
from core.measure import unbroken


@pytest.mark.parametrize(
    ("text", "shown", "mm"),
    [
        ("6", Shown.CM, 60.0),
        ("+6.0 cm", Shown.CM, 60.0),
        ("-3cm", Shown.INCH, -30.0),
        ("−2,5", Shown.CM, -25.0),
        ("2 1/2 in", Shown.CM, 63.5),
        ("2 1/2", Shown.INCH, 63.5),
        ("1½", Shown.INCH, 38.1),
        ("25mm", Shown.INCH, 25.0),
    ],
)
def test_a_bare_number_is_in_the_unit_shown(text: str, shown: Shown, mm: float) -> None:
    assert typed(text, shown) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize("text", ["", "six", "cm", "1/0", "3 ells"])
def test_what_cannot_be_read_is_said(text: str) -> None:
    with pytest.raises(MeasureError):
        typed(text, Shown.CM)


@given(st.integers(-4000, 4000), st.sampled_from(Shown))
def test_what_is_shown_can_be_typed_back(steps: int, shown: Shown) -> None:
    mm = steps * shown.fine_mm
    got = typed(signed(mm, shown), shown)
    assert got == pytest.approx(mm, abs=1e-6), f"{signed(mm, shown)}: wanted {mm}, got {got}"


@given(st.floats(-900.0, 900.0), st.sampled_from(Shown))
def test_steps_are_whole_and_nearest(mm: float, shown: Shown) -> None:
    got = to_step(mm, shown.step_mm)
    assert abs(got - mm) <= shown.step_mm / 2 + 1e-9
    assert got / shown.step_mm == pytest.approx(round(got / shown.step_mm), abs=1e-9)


def test_signs_and_fractions_as_the_trade_writes_them() -> None:
    assert signed(60.0, Shown.CM) == "+6.0 cm"
    assert signed(-63.5, Shown.INCH) == "−2 1/2 in"
    assert signed(0.0, Shown.CM) == "0.0 cm"
    assert signed(-0.0, Shown.INCH) == "0 in"
    assert with_unit(62.5, Shown.CM) == "6.25 cm"
    assert with_unit(60.0, Shown.INCH) == "2.36 in"
    assert bare(414.0, Shown.CM) == "41.4"
    assert bare(63.5, Shown.INCH) == "2 1/2"


@pytest.mark.parametrize(
    ("sentence", "wanted"),
    [
        ("They match, 25.4 cm and 2.5 cm.", "They match, 10.0\u00a0in and 1.0\u00a0in."),
        ("Off by 1.2 mm, 3.2 mm before.", "Off by 1.2 mm, 0.13\u00a0in before."),
        ("The pieces take 0.050 m² more cloth.", "The pieces take 0.050 m² more cloth."),
        ("leg 12.svg: 0.0 cm", "leg 12.svg: 0.0\u00a0in"),
    ],
)
def test_sentences_tell_lengths_in_the_unit_shown(sentence: str, wanted: str) -> None:
    assert in_unit(sentence, Shown.INCH) == wanted
    assert in_unit(sentence, Shown.CM) == sentence


@pytest.mark.parametrize(
    ("by_mm", "shown", "name"),
    [
        (60.0, Shown.CM, "leg +6.0cm.svg"),
        (-25.0, Shown.CM, "leg -2.5cm.svg"),
        (62.5, Shown.CM, "leg +6.25cm.svg"),
        (63.5, Shown.INCH, "leg +2.5in.svg"),
        (0.0, Shown.CM, "leg copy.svg"),
    ],
)
def test_suggested_names_say_the_change(by_mm: float, shown: Shown, name: str) -> None:
    got = suggested(Path("patterns/leg.svg"), by_mm, shown)
    assert got == Path("patterns") / name


def test_no_line_break_tears_a_length_apart() -> None:
    """10 at the end of a line and 7/16 in at the start of the next are read as two lengths."""
    told = unbroken("They match, 10 7/16 in and 10 7/16 in (8 1/16 in before), 26.6 cm, 124 sq in.")
    parts = told.split(" ")
    wanted = [
        "10\u00a07/16\u00a0in",
        "(8\u00a01/16\u00a0in",
        "26.6\u00a0cm,",
        "124\u00a0sq\u00a0in.",
    ]
    assert [p for p in wanted if p not in parts] == [], parts
    assert unbroken("Back once (cut 2), 3 mm") == "Back once (cut 2), 3\u00a0mm"


def test_findings_are_shown_with_their_lengths_whole(shorts: MainWindow) -> None:
    shorts.session.show_in(Shown.INCH)
    shorts.session.set_by(63.5)
    shorts.page.findings.check()
    rows = shorts.page.findings.findChildren(FindingRow)
    told = [label.text() for row in rows for label in row.findChildren(QLabel)]
    torn = [t for t in told if re.search(r"\d \d+/\d|\d (in|cm|mm)\b", t)]
    assert any("in" in t for t in told)
    assert torn == []
