"""Unsaved work is kept, offered after a crash, and brought back as it was."""

from __future__ import annotations

import json
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.window.ask import Leave
from app.window.document import AtLevel, EdgeId
from app.window.in_sizes import with_role
from app.window.main import MainWindow
from app.window.recovery.copies import BYTES_ENDING
from app.window.recovery.folder import usual_folder
from core.piece.model import Role
from core.piece.said import called
from tests.app.hands import Answers, click, type_length
from tests.app.legs import MM, leg_svg
from tests.app.lost_work import left_by_a_crash, opened, work_on, works
from tests.app.recovering import print_of_state

# From a change to its copy on disk, on a machine that has other things to do (ms).
BY_THEN = 5000


def test_a_change_is_soon_on_disk_and_nothing_lies_beside_the_pattern(
    keeping: Callable[[], MainWindow], qtbot: QtBot, front: Path, kept_in: Path
) -> None:
    window = keeping()
    window.opening.open([front])
    assert window.session.changed is False
    qtbot.wait(400)
    assert works(kept_in) == [], "wanted nothing kept while there is nothing to save"
    type_length(window, "6 cm")
    qtbot.waitUntil(lambda: len(works(kept_in)) == 1, timeout=BY_THEN)
    values = json.loads(works(kept_in)[0].read_text())
    assert values["change"]["by_mm"] == 60.0
    assert "outline" not in json.dumps(values), "wanted nothing kept that can be worked out"
    there = {p.name for p in front.parent.iterdir()} - {kept_in.name, "settings.ini"}
    assert there == {front.name}


def test_a_later_change_takes_the_place_of_the_one_before(
    keeping: Callable[[], MainWindow], qtbot: QtBot, front: Path, kept_in: Path
) -> None:
    window = keeping()
    window.opening.open([front])
    for length in ("6 cm", "7 cm"):
        type_length(window, length)
        assert window.keeper is not None
        window.keeper.keep()
    (work,) = works(kept_in)
    assert json.loads(work.read_text())["change"]["by_mm"] == 70.0
    assert len(list(work.parent.glob(f"*{BYTES_ENDING}"))) == 1, "wanted the bytes kept once"


@pytest.mark.parametrize("by", ["saving", "undoing", "clearing"])
def test_saving_undoing_or_clearing_takes_the_copy_away(
    keeping: Callable[[], MainWindow],
    answers: Answers,
    front: Path,
    kept_in: Path,
    by: str,
) -> None:
    window = keeping()
    work_on(window, front)
    assert len(works(kept_in)) == 1
    answers.save_file = front.with_name("longer.svg")
    ways = {
        "saving": window.saving.save,
        "undoing": window.session.stack.undo,
        "clearing": window.clear,
    }
    ways[by]()
    assert list(kept_in.iterdir()) == []


def test_closing_takes_the_copy_away_and_nothing_is_offered_then(
    keeping: Callable[[], MainWindow], front: Path, kept_in: Path
) -> None:
    window = keeping()
    work_on(window, front)
    assert len(works(kept_in)) == 1
    assert window.close()
    assert list(kept_in.iterdir()) == []
    assert not keeping().offer.bar.isVisible()


def test_the_copy_of_a_living_window_is_not_offered(
    keeping: Callable[[], MainWindow], front: Path, kept_in: Path
) -> None:
    first = keeping()
    work_on(first, front)
    second = keeping()
    assert not second.offer.bar.isVisible()
    assert len(works(kept_in)) == 1


def test_what_one_window_offers_no_other_does_until_it_is_closed_unanswered(
    keeping: Callable[[], MainWindow], front: Path, kept_in: Path
) -> None:
    work = left_by_a_crash(kept_in, opened(keeping(), front).by(60.0))
    first, second = keeping(), keeping()
    assert first.offer.bar.isVisible()
    assert not second.offer.bar.isVisible()
    first.close()
    assert work.exists(), "wanted it kept while nobody answered"
    assert keeping().offer.bar.isVisible()


def test_all_that_was_said_comes_back(
    keeping: Callable[[], MainWindow], front: Path, back: Path, kept_in: Path
) -> None:
    window = keeping()
    window.opening.open([front, back])
    one, two = window.session.settled.sheets.pieces
    state = window.session.settled.by(-20.0).at(AtLevel(300.0, blend_mm=50.0))
    state = state.switched(two, on=False).proving(one.sheet).for_each_size(on=True)
    state = with_role(state, (EdgeId(one, 2),), Role.OTHER)
    state = state.with_piece(two, called(state.read_piece(two), "hintere Hälfte"))
    left_by_a_crash(kept_in, state)
    again = keeping()
    sentence = again.offer.bar.words.text()
    assert "front.svg, back.svg, 2.0 cm shorter" in sentence
    click(again.offer.bar.back)
    settled = again.session.settled
    assert print_of_state(settled) == print_of_state(state)
    assert (settled.change, settled.level) == (state.change, state.level)
    assert [p.name for p in settled.sheets.pieces.values()] == ["Front", "hintere Hälfte"]
    assert again.session.changed, "wanted it still to be saved"
    assert not again.offer.bar.isVisible()
    assert len(works(kept_in)) == 1, "wanted it kept again, by the window that has it now"
    again.session.stack.undo()
    assert again.session.settled.nothing
    assert [p.name for p in again.session.settled.sheets.pieces.values()] == ["Front", "Back"]


def test_a_unit_that_a_person_said_is_not_asked_for_again(
    keeping: Callable[[], MainWindow], no_unit: Path, kept_in: Path
) -> None:
    window = keeping()
    window.opening.open([no_unit], mm_per_unit=2.0)
    left_by_a_crash(kept_in, window.session.settled.by(60.0))
    again = keeping()
    click(again.offer.bar.back)
    (sheet,) = again.session.settled.sheets.all
    assert sheet.drawing.unit.mm_per_unit == 2.0


def test_thrown_away_is_gone_and_the_pattern_stays(
    keeping: Callable[[], MainWindow], front: Path, kept_in: Path
) -> None:
    left_by_a_crash(kept_in, opened(keeping(), front).by(60.0))
    window, was = keeping(), front.read_bytes()
    assert "nothing brings it back" in window.offer.bar.words.text()
    click(window.offer.bar.away)
    assert not window.offer.bar.isVisible()
    assert list(kept_in.iterdir()) == []
    assert front.read_bytes() == was
    assert not keeping().offer.bar.isVisible()


def test_several_are_offered_one_after_the_other(
    keeping: Callable[[], MainWindow], front: Path, back: Path, kept_in: Path
) -> None:
    window = keeping()
    for path, mm in ((front, 60.0), (back, 70.0)):
        left_by_a_crash(kept_in, opened(window, path).by(mm))
        time.sleep(0.02)
        window.clear()
    again = keeping()
    assert "back.svg, 7.0 cm longer" in again.offer.bar.words.text(), "wanted the last one first"
    assert "1 other time" in again.offer.bar.words.text()
    click(again.offer.bar.away)
    assert "front.svg, 6.0 cm longer" in again.offer.bar.words.text()
    click(again.offer.bar.back)
    assert again.session.settled.by_mm == 60.0


def test_a_pattern_changed_on_disk_since_is_brought_back_from_the_kept_bytes(
    keeping: Callable[[], MainWindow], front: Path, kept_in: Path
) -> None:
    was = front.read_bytes()
    state = opened(keeping(), front).by(60.0)
    left_by_a_crash(kept_in, state)
    front.write_text(leg_svg("front", mirrored=True, root=MM))
    window = keeping()
    click(window.offer.bar.back)
    assert "front.svg was changed on disk since" in window.messages.all[-1]
    assert window.session.settled.sheets.all[0].drawing.data == was
    assert print_of_state(window.session.settled) == print_of_state(state)


def test_a_pattern_that_is_gone_is_brought_back_from_the_kept_bytes(
    keeping: Callable[[], MainWindow], front: Path, kept_in: Path
) -> None:
    left_by_a_crash(kept_in, opened(keeping(), front).by(60.0))
    front.unlink()
    window = keeping()
    click(window.offer.bar.back)
    assert "front.svg is no longer where it was" in window.messages.all[-1]
    assert window.session.settled.by_mm == 60.0


def test_work_on_the_table_is_asked_about_before_it_makes_room(
    keeping: Callable[[], MainWindow], answers: Answers, front: Path, back: Path, kept_in: Path
) -> None:
    left_by_a_crash(kept_in, opened(keeping(), front).by(60.0))
    window = keeping()
    window.opening.open([back])
    type_length(window, "3 cm")
    answers.leave = Leave.STAY
    click(window.offer.bar.back)
    assert answers.asked == ["leave"]
    assert window.session.settled.by_mm == 30.0
    assert window.offer.bar.isVisible()
    answers.leave = Leave.DISCARD
    click(window.offer.bar.back)
    assert window.session.settled.by_mm == 60.0


def test_files_of_other_people_in_the_folder_stay(
    keeping: Callable[[], MainWindow], kept_in: Path
) -> None:
    other = kept_in / "holiday" / "picture.png"
    other.parent.mkdir(parents=True)
    other.write_bytes(b"beach")
    (kept_in / "notes.txt").write_text("mine")
    window = keeping()
    assert len(window.messages.all) == 1
    assert other.read_bytes() == b"beach"
    assert (kept_in / "notes.txt").exists()


def test_where_nothing_can_be_kept_it_is_said_once_and_work_goes_on(
    keeping: Callable[[], MainWindow], front: Path, kept_in: Path
) -> None:
    kept_in.write_text("a file where the folder should be")
    window = keeping()
    window.opening.open([front])
    for length in ("6 cm", "7 cm"):
        type_length(window, length)
        assert window.keeper is not None
        window.keeper.keep()
    told = [s for s in window.messages.all if "not being kept" in s]
    assert len(told) == 1, f"wanted it said once, got {window.messages.all}"
    assert window.session.settled.by_mm == 70.0


def test_the_offer_by_the_keys(
    keeping: Callable[[], MainWindow], front: Path, kept_in: Path
) -> None:
    left_by_a_crash(kept_in, opened(keeping(), front).by(60.0))
    window = keeping()
    window.offer.bar.back.setFocus()
    QTest.keyClick(window.offer.bar.back, Qt.Key.Key_Space)
    assert window.session.settled.by_mm == 60.0


def test_the_program_keeps_work_where_the_system_keeps_data(qapp: QApplication) -> None:
    was = qapp.applicationName()
    qapp.setApplicationName("Hemward")
    assert usual_folder().parts[-2:] == ("Hemward", "recovery")
    qapp.setApplicationName(was)
