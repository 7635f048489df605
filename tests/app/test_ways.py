"""Every way of the craft from the window: how seams go on, the hem, the rare ones, the level."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from app.window.checks import checked
from app.window.document import State
from app.window.findings import Sign
from app.window.lengths import Shown
from app.window.main import MainWindow
from app.window.outcome import outcome
from app.window.ways import Notch, Seams, Where
from core.alter.model import DartCaps, HemDarts, HemWay, Measure, SeamWay, TurnUp
from core.piece.model import Kind
from tests.app.hands import (
    click,
    drag_hem,
    fill,
    grip_of,
    hem_widths,
    move,
    press,
    release,
    type_length,
)

SAMPLES = Path(__file__).parents[2] / "sample_pieces"
LEFT = Qt.MouseButton.LeftButton

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize(
    ("way", "wanted", "called"),
    [
        (Seams.PLUMB, SeamWay.PLUMB, "Seams plumb"),
        (Seams.CURVED, SeamWay.CURVED, "Seams curved"),
    ],
)
def test_a_way_of_the_seams_is_one_entry_with_a_name(
    both: MainWindow, way: Seams, wanted: SeamWay, called: str
) -> None:
    type_length(both, "8 cm")
    before, count = both.session.settled, both.session.stack.count()
    click(both.page.ways.seams.buttons[way])
    assert both.session.settled.change.seams is wanted
    assert both.session.stack.count() == count + 1
    assert both.session.stack.undoText() == called
    assert all(a.change.seams is wanted for a in outcome(both.session.settled).altered.values())
    both.session.stack.undo()
    assert both.session.settled is before
    assert both.page.ways.seams.buttons[Seams.STRAIGHT].isChecked()


def test_plumb_keeps_the_width_of_the_hem(both: MainWindow) -> None:
    was = hem_widths(both)
    type_length(both, "8 cm")
    click(both.page.ways.seams.buttons[Seams.PLUMB])
    assert hem_widths(both) == pytest.approx(was, abs=0.05)


def test_the_same_way_once_more_is_no_entry(both: MainWindow) -> None:
    count = both.session.stack.count()
    click(both.page.ways.seams.buttons[Seams.STRAIGHT])
    click(both.page.ways.hem.buttons[HemWay.REFIT])
    assert both.session.stack.count() == count


def test_a_width_is_asked_for_in_its_box_and_is_that_of_the_whole_leg(both: MainWindow) -> None:
    type_length(both, "8 cm")
    assert not both.page.ways.hem_width.isVisible()
    click(both.page.ways.seams.buttons[Seams.WIDTH])
    asked = both.session.settled.change.to_width_mm
    assert asked == pytest.approx(sum(hem_widths(both)), abs=0.5), "wanted it to begin as it is"
    fill(both.page.ways.hem_width, "40 cm")
    assert sum(hem_widths(both)) == pytest.approx(400.0, abs=0.1)
    assert both.session.stack.undoText() == "Hem 40.0 cm wide"
    click(both.page.ways.seams.buttons[Seams.STRAIGHT])
    assert both.session.settled.change.to_width_mm is None
    assert not both.page.ways.hem_width.isVisible()


def test_a_width_that_cannot_be_is_refused_and_nothing_is_lost(both: MainWindow) -> None:
    type_length(both, "8 cm")
    click(both.page.ways.seams.buttons[Seams.WIDTH])
    state, box = both.session.settled, both.page.ways.hem_width
    for text, said in (("0", "some width"), ("-3 cm", "some width"), ("wide", "cannot be read")):
        fill(box, text)
        assert both.session.settled is state
        assert said in both.page.length.said.text()
    QTest.keyClick(box, Qt.Key.Key_Escape)
    holds = state.change.to_width_mm
    assert holds is not None
    assert box.text() == f"{holds / 10:.1f} cm"


@pytest.mark.parametrize(
    ("way", "called"), [(HemWay.TRIM, "Hem trimmed"), (HemWay.SQUARE, "Hem square")]
)
def test_a_way_of_the_hem_is_one_entry_with_a_name(
    both: MainWindow, way: HemWay, called: str
) -> None:
    type_length(both, "8 cm")
    click(both.page.ways.hem.buttons[way])
    assert both.session.settled.change.hem is way
    assert both.session.stack.undoText() == called


def test_what_is_rare_is_put_away_until_asked_for(both: MainWindow) -> None:
    ways = both.page.ways
    assert not ways.rare.isVisible()
    click(ways.more)
    assert ways.rare.isVisible()
    click(ways.more)
    assert not ways.rare.isVisible()


def test_the_amount_can_be_measured_along_the_seams(both: MainWindow) -> None:
    type_length(both, "8 cm")
    click(both.page.ways.more)
    click(both.page.ways.rare.measure.buttons[Measure.SEAM])
    (front, _) = outcome(both.session.settled).altered.values()
    added = (front.figures.added_first_mm, front.figures.added_last_mm)
    assert added == pytest.approx((80.0, 80.0), abs=0.01)
    assert both.session.stack.undoText() == "Measured along the seam"


def test_seams_taper_to_a_level_and_fall_plumb_from_there(both: MainWindow) -> None:
    type_length(both, "20 cm")
    click(both.page.ways.more)
    tapered = hem_widths(both)
    fill(both.page.ways.rare.plumb, "70 cm")
    assert both.session.settled.change.plumb_below_mm == 700.0
    assert both.session.stack.undoText() == "Plumb below 70.0 cm"
    assert all(b > a for a, b in zip(tapered, hem_widths(both), strict=True)), "wanted it wider"
    fill(both.page.ways.rare.plumb, "")
    assert both.session.settled.change.plumb_below_mm is None
    assert hem_widths(both) == pytest.approx(tapered, abs=1e-9)


def test_what_concerns_hem_darts_is_hidden_where_there_is_none(both: MainWindow) -> None:
    click(both.page.ways.more)
    rare = both.page.ways.rare
    assert rare.notch.isVisible()
    assert not rare.darts.isVisible()
    assert not rare.caps.isVisible()


def test_hem_darts_and_the_hem_over_them(window: MainWindow, tmp_path: Path) -> None:
    path = tmp_path / "sleeve.svg"
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="500mm"'
        ' viewBox="0 0 400 500"><g id="sleeve"><path d="M 60,10 L 340,10 L 320,460 L 80,460 Z"/>'
        '<path class="grain" d="M 120,100 L 120,300"/>'
        '<path class="dart" d="M 190,460 L 200,360 L 210,460"/></g></svg>'
    )
    window.opening.open([path])
    click(window.page.ways.more)
    rare = window.page.ways.rare
    type_length(window, "4 cm")
    click(rare.darts.buttons[HemDarts.APEX])
    assert window.session.settled.change.hem_darts is HemDarts.APEX
    click(rare.caps.buttons[DartCaps.CLOSED])
    assert window.session.settled.change.dart_caps is DartCaps.CLOSED
    assert window.session.stack.undoText() == "Hem over closed darts"
    (altered,) = outcome(window.session.settled).altered.values()
    (dart,) = altered.piece.darts
    assert dart.intake == pytest.approx(20.0, abs=1e-9)
    assert any("cap" in f.sentence for f in altered.findings)


def test_a_turn_up_is_mirrored_where_a_piece_has_both_lines(
    both: MainWindow, make_window: Callable[[], MainWindow]
) -> None:
    click(both.page.ways.more)
    assert not both.page.ways.rare.turn_up.isVisible()
    window = make_window()
    window.opening.open([SAMPLES / "barrow_trousers.dxf"])
    click(window.page.ways.more)
    type_length(window, "5 cm")
    click(window.page.ways.rare.turn_up.buttons[TurnUp.MIRROR])
    assert window.session.settled.change.turn_up is TurnUp.MIRROR
    assert window.session.stack.undoText() == "Turn-up mirrored"


def test_a_balance_notch_is_put_on_both_mates(both: MainWindow) -> None:
    type_length(both, "8 cm")
    click(both.page.ways.more)
    click(both.page.ways.rare.notch.buttons[Notch.OLD_HEM])
    assert both.session.stack.undoText() == "Balance notches"
    for altered in outcome(both.session.settled).altered.values():
        new = [m for m in altered.piece.marks if m.kind is Kind.NOTCH]
        assert len(new) == 2, f"wanted one on each seam, got {len(new)}"
    type_length(both, "-3 cm")
    assert not both.page.ways.rare.notch.buttons[Notch.OLD_HEM].isEnabled()


def test_making_shorter_greys_out_what_does_not_matter_and_says_why(both: MainWindow) -> None:
    plumb = both.page.ways.seams.buttons[Seams.PLUMB]
    reason = plumb.toolTip()
    assert plumb.isEnabled()
    assert "grain" in reason
    type_length(both, "-5 cm")
    assert not plumb.isEnabled()
    assert "making shorter" in plumb.toolTip()
    assert both.page.ways.hem.buttons[HemWay.SQUARE].isEnabled()
    type_length(both, "5 cm")
    assert plumb.isEnabled()
    assert plumb.toolTip() == reason


def test_a_width_asked_for_does_not_stand_in_the_way_of_making_shorter(both: MainWindow) -> None:
    type_length(both, "8 cm")
    click(both.page.ways.seams.buttons[Seams.WIDTH])
    type_length(both, "-5 cm")
    assert both.session.settled.by_mm == -50.0
    assert both.page.length.said.text().startswith("Drag")
    type_length(both, "8 cm")
    assert both.session.settled.change.to_width_mm is not None, "wanted it kept for the way back"


def what_it_holds(state: State) -> tuple[object, ...]:
    return state.change, state.level, state.off, state.sheets, state.draft


def test_undo_to_the_start_and_redo_to_the_end_give_equal_documents(both: MainWindow) -> None:
    stack = both.session.stack
    start, seen = stack.index(), [what_it_holds(both.session.settled)]
    steps = [
        lambda: type_length(both, "8 cm"),
        lambda: click(both.page.ways.seams.buttons[Seams.PLUMB]),
        lambda: click(both.page.ways.hem.buttons[HemWay.SQUARE]),
        lambda: click(both.page.ways.seams.buttons[Seams.WIDTH]),
        lambda: fill(both.page.ways.hem_width, "42 cm"),
        lambda: click(both.page.where.where.buttons[Where.LEVEL]),
        lambda: fill(both.page.level.at, "31 cm"),
        lambda: drag_hem(both, "Front", -30.0),
        lambda: click(both.page.where.where.buttons[Where.HEM]),
    ]
    for step in steps:
        step()
        seen.append(what_it_holds(both.session.settled))
    assert stack.index() == start + len(steps), "wanted one entry for each step"
    for want in reversed(seen[:-1]):
        stack.undo()
        assert what_it_holds(both.session.settled) == want
    for want in seen[1:]:
        stack.redo()
        assert what_it_holds(both.session.settled) == want


def test_a_drag_shows_what_will_be_settled(both: MainWindow) -> None:
    start = grip_of(both, "Front")
    end = start + QPointF(0.0, 60.0 * both.table.view.scale)
    press(both.table, start)
    move(both.table, end)
    shown = [a.piece.ring for a in outcome(both.session.state).altered.values()]
    release(both.table, end)
    assert not both.session.settled.draft
    assert [a.piece.ring for a in outcome(both.session.settled).altered.values()] == shown


def test_what_takes_long_is_checked_when_the_hands_are_still(
    both: MainWindow, qtbot: object
) -> None:
    type_length(both, "8 cm")
    findings = both.page.findings
    assert not [t for t in findings.told if "around for each leg" in t.sentence]
    qtbot.waitUntil(  # type: ignore[attr-defined]
        lambda: any("around for each leg" in t.sentence for t in findings.told), timeout=2000
    )
    well = [t for t in findings.told if "inseam" in t.sentence and t.sign is Sign.WELL]
    assert len([t for t in well if "they match" in t.sentence]) == 1, "wanted it said once"
    assert checked(both.session.settled) is checked(both.session.settled)


def test_nothing_is_called_well_before_it_was_looked_at(
    window: MainWindow, tmp_path: Path, qtbot: object
) -> None:
    """Regression: a tick and “Nothing here wants looking at” until the seams had been walked."""
    path = tmp_path / "sleeve.svg"
    path.write_bytes((ROOT / "sample_pieces" / "pruning_sleeve.svg").read_bytes())
    window.opening.open([path])
    type_length(window, "2 cm")
    for findings in (window.page.findings, window.pages.check.findings):
        assert findings.checks is None
        assert Sign.WELL not in {t.sign for t in findings.told}
    findings = window.page.findings
    qtbot.waitUntil(  # type: ignore[attr-defined]
        lambda: Sign.WELL in {t.sign for t in findings.told}, timeout=5000
    )


def test_a_piece_left_as_it_is_stops_the_maker_and_shows_where(both: MainWindow) -> None:
    type_length(both, "8 cm")
    back = next(k for k, p in both.session.state.sheets.pieces.items() if p.name == "Back")
    both.session.commit("", both.session.settled.switched(back, on=False))
    findings = both.page.findings
    findings.check()
    stop = next(t for t in findings.told if t.sign is Sign.STOP)
    assert stop.piece is not None
    assert stop.place is not None
    item = findings.item(findings.told.index(stop))
    before = QImage(both.table.grab().toImage())
    QTest.mouseClick(findings.viewport(), LEFT, pos=findings.visualItemRect(item).center())
    assert both.table.grab().toImage() != before, "wanted the place ringed"


def test_the_page_fits_and_nothing_is_cut_off(both: MainWindow) -> None:
    """At 1280 x 800, with all that can be opened."""
    type_length(both, "8 cm")
    click(both.page.ways.seams.buttons[Seams.WIDTH])
    click(both.page.ways.more)
    both.page.findings.check()
    both.session.show_in(Shown.INCH)
    assert both.height() == 800
    page = both.page
    for part in page.findChildren(QPushButton):
        if part.isVisible():
            wide = part.fontMetrics().horizontalAdvance(part.text())
            assert wide <= part.width(), f"wanted {part.text()} to fit"
    assert page.findings.geometry().bottom() <= page.height()
    assert page.findings.height() >= 100


def test_every_new_control_has_a_name_and_a_reason(both: MainWindow) -> None:
    page = both.page
    choices = [page.where.where, page.ways.seams, page.ways.hem, page.ways.rare.measure,
               page.ways.rare.notch, page.ways.rare.darts, page.ways.rare.caps,
               page.ways.rare.turn_up,
               page.level.true]  # fmt: skip
    for choice in choices:
        for button in choice.buttons.values():
            assert button.accessibleName()
            assert button.toolTip()
    for edit in (page.ways.hem_width, page.ways.rare.plumb, page.level.at, page.level.blend):
        assert edit.accessibleName()
