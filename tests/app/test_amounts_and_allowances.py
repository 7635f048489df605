"""An amount for each size, and allowances that are told, in the window."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.window.main import MainWindow
from app.window.outcome import outcome
from app.window.segments import LengthEdit
from app.window.sizes_box import Amounts
from core.alter.model import TurnUp
from tests.app.hands import Answers, drag_hem, type_length
from tests.app.test_turn_up_command import pattern

LEFT = Qt.MouseButton.LeftButton
SAMPLES = Path(__file__).parents[2] / "sample_pieces"
SIZES = ["36", "38", "40", "42", "44"]


@pytest.fixture
def nest(window: MainWindow) -> MainWindow:
    window.opening.open([SAMPLES / "rain_breeches.svg"])
    return window


def type_in(edit: LengthEdit, text: str) -> None:
    edit.setFocus()
    edit.selectAll()
    QTest.keyClicks(edit, text)
    QTest.keyClick(edit, Qt.Key.Key_Return)


def amounts(window: MainWindow) -> dict[str, float]:
    done = outcome(window.session.state).altered.values()
    return {a.piece.size: a.change.by_mm for a in done}


def test_each_size_gets_its_amount_as_one_entry_each(nest: MainWindow) -> None:
    type_length(nest, "5 cm")
    QTest.mouseClick(nest.page.sizes.amounts.buttons[Amounts.EACH], LEFT)
    count = nest.session.stack.count()
    type_in(nest.page.sizes.edits["38"], "5.5 cm")
    type_in(nest.page.sizes.edits["44"], "7 cm")
    assert nest.session.stack.count() == count + 2
    wanted = {"36": 50.0, "38": 55.0, "40": 50.0, "42": 50.0, "44": 70.0}
    assert amounts(nest) == pytest.approx(wanted)
    assert nest.session.stack.undoText() == "Size 44 by 7.0 cm"
    nest.session.stack.undo()
    assert amounts(nest) == pytest.approx({**wanted, "44": 50.0})
    assert nest.page.sizes.edits["44"].text() == "5.0 cm"


def test_drawing_the_hem_moves_all_sizes_alike(nest: MainWindow) -> None:
    QTest.mouseClick(nest.page.sizes.amounts.buttons[Amounts.EACH], LEFT)
    type_in(nest.page.sizes.edits["36"], "1 cm")
    assert amounts(nest)["38"] == 0.0
    name = next(s.before.name for s in nest.table.sights if s.over)
    drag_hem(nest, name, 40.0)
    assert amounts(nest) == pytest.approx(dict.fromkeys(SIZES, 40.0) | {"36": 50.0})


def test_back_to_one_amount_for_all(nest: MainWindow) -> None:
    type_length(nest, "5 cm")
    QTest.mouseClick(nest.page.sizes.amounts.buttons[Amounts.EACH], LEFT)
    type_in(nest.page.sizes.edits["36"], "1 cm")
    QTest.mouseClick(nest.page.sizes.amounts.buttons[Amounts.ONE], LEFT)
    assert set(amounts(nest).values()) == {50.0}
    assert not nest.page.sizes.edits["36"].isVisible()


def test_an_amount_that_a_size_does_not_allow_is_refused(nest: MainWindow) -> None:
    QTest.mouseClick(nest.page.sizes.amounts.buttons[Amounts.EACH], LEFT)
    state = nest.session.settled
    type_in(nest.page.sizes.edits["36"], "-90 cm")
    assert nest.session.settled is state
    assert "Shorten by less" in nest.session.refusal
    assert nest.page.sizes.edits["36"].text() == "0.0 cm"


def test_a_pattern_in_one_size_has_no_use_for_that(both: MainWindow) -> None:
    assert not both.page.sizes.isVisible()


@pytest.fixture
def leg(make_window: Callable[[], MainWindow], tmp_path: Path) -> MainWindow:
    window = make_window()
    window.opening.open([pattern(tmp_path, mirrored=False)])
    window.page.ways.more.setChecked(True)
    return window


def test_told_allowances_tell_lengths_where_it_is_sewn_and_offer_the_turn_up(
    leg: MainWindow, answers: Answers, tmp_path: Path
) -> None:
    rare = leg.page.ways.rare
    assert not rare.turn_up.isVisible()
    type_length(leg, "6 cm")
    type_in(rare.seam, "1 cm")
    type_in(rare.hem, "3 cm")
    (altered,) = outcome(leg.session.settled).altered.values()
    assert altered.figures.hem_width_after_mm == pytest.approx(180.0, abs=1e-3)
    assert leg.session.stack.undoText() == "Hem allowance 3.0 cm"
    QTest.mouseClick(rare.turn_up.buttons[TurnUp.MIRROR], LEFT)
    (altered,) = outcome(leg.session.settled).altered.values()
    ring = altered.piece.outline.ring
    lowest = max(s.start.y for s in ring)
    edge = [s.start.x for s in ring if abs(s.start.y - lowest) < 1e-6]
    # Closed form: 18.2 between the seams, which stand 1 cm (square to a slope of 2 in 60) inside.
    assert max(edge) - min(edge) == pytest.approx(182.0 + 20.0 * (1 + 1 / 900) ** 0.5, abs=1e-3)
    answers.save_file = tmp_path / "longer.svg"
    assert leg.saving.save()


def test_a_negative_allowance_is_refused_in_a_sentence(leg: MainWindow) -> None:
    state = leg.session.settled
    type_length(leg, "6 cm")
    type_in(leg.page.ways.rare.seam, "-1 cm")
    assert "less than nothing" in leg.session.refusal
    assert leg.session.settled.change.allowance_mm is None
    assert state is not None


def test_a_piece_with_both_lines_needs_no_allowances_told(
    make_window: Callable[[], MainWindow],
) -> None:
    window = make_window()
    window.opening.open([SAMPLES / "barrow_trousers.dxf"])
    window.page.ways.more.setChecked(True)
    assert window.page.ways.rare.turn_up.isVisible()
    assert not window.page.ways.rare.seam.isVisible()
