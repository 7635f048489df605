"""Putting length in, or folding it out, at a level: from the window."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest

from app.window.findings import Sign
from app.window.main import MainWindow
from app.window.outcome import outcome
from app.window.ways import Where
from core.alter.level.model import Truing
from core.piece.model import Role
from tests.app.hands import click, drag_hem, fill, hem_widths, move, press, release, type_length

SAMPLES = Path(__file__).parents[2] / "sample_pieces"
LEFT = Qt.MouseButton.LeftButton


def level_grip_of(window: MainWindow, name: str) -> QPointF:
    which = next(k for k, p in window.session.state.sheets.pieces.items() if p.name == name)
    rect = window.table.level_grip(which)
    assert rect is not None, f"wanted a grip on the level of {name}"
    return QPointF(*rect.middle)


def test_a_level_is_laid_typed_and_dragged(both: MainWindow) -> None:
    type_length(both, "6 cm")
    widths = [a.figures.hem_width_before_mm for a in outcome(both.session.settled).altered.values()]
    click(both.page.where.where.buttons[Where.LEVEL])
    assert both.session.stack.undoText() == "Change at a level"
    assert not both.page.ways.isVisible()
    assert hem_widths(both) == pytest.approx(widths, abs=1e-6), "wanted the hem as it was"
    fill(both.page.level.at, "30 cm")
    level = both.session.settled.level
    assert level is not None
    assert level.at_mm == 300.0
    assert both.session.stack.undoText() == "Level at 30.0 cm"
    count, start = both.session.stack.count(), level_grip_of(both, "Back")
    end = start + QPointF(0.0, 101.0 * both.table.view.scale)
    press(both.table, start)
    move(both.table, end)
    assert both.page.level.at.text() == "40.0 cm"
    assert both.session.settled.level is level, "wanted nothing settled before the button is up"
    release(both.table, end)
    assert both.session.settled.level is not None
    assert both.session.settled.level.at_mm == 400.0
    assert both.session.stack.count() == count + 1


def test_escape_gives_the_level_back(both: MainWindow) -> None:
    type_length(both, "6 cm")
    click(both.page.where.where.buttons[Where.LEVEL])
    state, start = both.session.settled, level_grip_of(both, "Front")
    press(both.table, start)
    move(both.table, start + QPointF(0.0, -80.0))
    assert both.session.state is not state
    QTest.keyClick(both.table, Qt.Key.Key_Escape)
    release(both.table, start)
    assert both.session.state is state


def test_the_levels_of_front_and_back_meet_in_the_seams(both: MainWindow) -> None:
    click(both.page.where.where.buttons[Where.LEVEL])
    fill(both.page.level.at, "35 cm")
    front, back = both.table.sights
    assert front.level_mm == 350.0
    rests = []
    for sight in (front, back):
        (a, b), *_ = sight.level_lines
        side = sight.before.edge_chain(sight.before.edge(Role.SIDE))
        down = sight.before.grain.down
        top = min(p.x * down.x + p.y * down.y for p in (s.start for s in sight.before.ring))
        for p in (a, b):
            assert p.x * down.x + p.y * down.y - top == pytest.approx(sight.level_mm, abs=2.0)
        ends = [side.length_to(side.nearest(p).place) for p in (a, b)]
        assert sight.before.hem is not None
        hem_end = sight.before.ring.at(sight.before.hem.last.place)
        rests.append(min(ends) if side.start == hem_end else side.length() - max(ends))
    assert rests[0] == pytest.approx(rests[1], abs=3.0), "wanted the same length from the hem"


def test_a_hem_drawn_inserts_and_folds_out_at_the_level(both: MainWindow) -> None:
    click(both.page.where.where.buttons[Where.LEVEL])
    fill(both.page.level.at, "40 cm")
    drag_hem(both, "Front", 50.0)
    assert both.session.stack.undoText() == "Insert 5.0 cm"
    for altered in outcome(both.session.settled).altered.values():
        grown = altered.piece.ring.bounds().y1 - altered.before.ring.bounds().y1
        assert grown == pytest.approx(50.0, abs=1e-6)
    type_length(both, "-3 cm")
    assert both.session.stack.undoText() == "Fold out 3.0 cm"


def test_a_level_off_the_pieces_is_refused_and_the_old_one_stays(both: MainWindow) -> None:
    type_length(both, "6 cm")
    click(both.page.where.where.buttons[Where.LEVEL])
    state = both.session.settled
    fill(both.page.level.at, "3 m")
    assert both.session.settled is state
    assert "!</b>" in both.page.length.said.text()
    assert state.level is not None
    assert both.page.level.at.text() == f"{state.level.at_mm / 10:.1f} cm"


def test_seams_are_trued_straight_and_over_a_length_of_ones_own(both: MainWindow) -> None:
    type_length(both, "6 cm")
    click(both.page.where.where.buttons[Where.LEVEL])
    click(both.page.level.true.buttons[Truing.STRAIGHT])
    assert both.session.stack.undoText() == "Seams trued straight"
    click(both.page.level.more)
    fill(both.page.level.blend, "4 cm")
    assert both.session.stack.undoText() == "Trued 4.0 cm above and below"
    level = both.session.settled.level
    assert level is not None
    assert (level.true, level.blend_mm) == (Truing.STRAIGHT, 40.0)


def test_back_at_the_hem_the_level_is_remembered(both: MainWindow) -> None:
    click(both.page.where.where.buttons[Where.LEVEL])
    fill(both.page.level.at, "33 cm")
    click(both.page.where.where.buttons[Where.HEM])
    assert both.session.settled.level is None
    assert both.page.ways.isVisible()
    click(both.page.where.where.buttons[Where.LEVEL])
    assert both.session.settled.level is not None
    assert both.session.settled.level.at_mm == 330.0


def test_at_a_level_no_promise_of_the_hem_is_held_against_the_change(both: MainWindow) -> None:
    type_length(both, "6 cm")
    click(both.page.where.where.buttons[Where.LEVEL])
    both.page.findings.check()
    told = both.page.findings.told
    assert not [t for t in told if t.sign is Sign.STOP]
    assert any("they match" in t.sentence for t in told)
