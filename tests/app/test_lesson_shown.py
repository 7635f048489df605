"""What the lesson shows and says: names, colours and captions that are right for every pattern."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.lesson.beside import told_rows
from app.lesson.compare import compared
from app.lesson.opening import lesson_of_state
from app.lesson.script import lines_of
from app.lesson.svg import frame_svg
from app.lesson.window import LessonWindow
from app.window.document import AtLevel
from app.window.main import MainWindow
from core.alter.model import Change, HemDarts, StepKind
from core.measure import Unit
from core.paper.free_place import free_place

SAMPLES = Path(__file__).parents[2] / "sample_pieces"
Key = Qt.Key


@pytest.fixture
def shorts(shorts: MainWindow) -> MainWindow:
    shorts.session.set_by(60.0)
    return shorts


@pytest.fixture
def played(shorts: MainWindow, qtbot: QtBot) -> LessonWindow:
    shorts.lesson.open()
    lesson = shorts.lesson.window
    assert lesson is not None
    qtbot.waitUntil(lesson.isVisible)
    return lesson


def test_a_picture_names_the_pieces_and_draws_each_step_in_its_own_colour(
    shorts: MainWindow,
) -> None:
    """Carried seams are orange and the slid hem is dashed, on the sheet as on the screen."""
    lesson = lesson_of_state(shorts.session.state)
    for kind, look in (
        (StepKind.CARRY_SEAMS, "stroke: #E69F00"),
        (StepKind.BRING_HEM, "stroke-dasharray: 10.5 7"),
        (StepKind.REDRAW_HEM, ""),
    ):
        number = next(k for k, f in enumerate(lesson.frames) if f.kind is kind)
        root = ET.fromstring(frame_svg(lesson, number, ""))
        styles = {e.get("style", "") for e in root.iter() if e.get("class") == "step"}
        assert len(styles) == 1
        assert look in styles.pop()
        assert [e.text for e in root.iter() if e.get("class") == "name"] == ["Front", "Back"]


def test_what_reads_alike_is_told_once_for_both_pieces(window: MainWindow) -> None:
    """Front and back slide by the same 2 1/2 in but for a tenth of a mm."""
    window.opening.open([SAMPLES / "picking_bodice.svg"])
    window.session.set_by(63.5)
    for frame in lesson_of_state(window.session.state).frames:
        assert not frame.caption.startswith("Front:"), frame.caption


def test_darts_of_the_hem_whose_apex_stays_are_not_taught_as_carried_whole(
    window: MainWindow,
) -> None:
    window.opening.open([SAMPLES / "picking_bodice.svg"])
    window.session.set_change(Change(40.0, hem_darts=HemDarts.APEX))
    frames = lesson_of_state(window.session.state).frames
    (told,) = (f.caption for f in frames if f.kind is StepKind.CARRY_DARTS)
    assert told.startswith("Leave the apex"), told


@pytest.mark.parametrize("sample", ["raking_skirt.svg", "picking_bodice.svg"])
def test_no_line_of_a_step_runs_through_the_name_of_a_piece(
    window: MainWindow, sample: str
) -> None:
    window.opening.open([SAMPLES / sample])
    window.session.set_by(50.0)
    window.session.set_level(AtLevel(300.0))
    for laid in lesson_of_state(window.session.state).laid:
        wide, high = 120.0, 40.0
        at = free_place(laid.altered.before.outline.ring, lines_of(laid), wide, high)
        for line in lines_of(laid):
            row = line.flattened(tolerance=0.5)
            steps = np.linspace(row[:-1], row[1:], 50).reshape(-1, 2)
            off = abs(steps - (at.x, at.y)) / (wide / 2, high / 2)
            assert float(off.max(axis=1).min()) > 1.0, "a line runs through the name"


def test_both_ways_say_of_which_piece_and_never_nought_more_cloth(played: LessonWindow) -> None:
    QTest.keyClick(played, Key.Key_C)
    found = played.comparison
    assert told_rows(found, Unit.CM)[0][0] == "Front, along the taper"
    assert told_rows(found, Unit.CM)[2][0] == "One over the other, larger"
    alike = replace(found, area_mm2=-40.0)
    assert told_rows(alike, Unit.INCH)[2][1] == "both take as much cloth"
    whole = compared(found.taper.altered, at_mm=40.0)
    assert told_rows(whole, Unit.CM)[2][0] == "One over the other", "it is as large as the others"


def test_on_a_large_screen_the_dots_and_the_hint_are_larger_too(played: LessonWindow) -> None:
    played.showNormal()
    heights = []
    for size in ((640, 400), (1280, 800), (1920, 1080)):
        played.resize(*size)
        QTest.qWait(1)
        heights.append(played.dots.height())
    assert heights == [18, 24, 32]
