"""The lesson: played by keys, with captions that can be written, and saved as a handout."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QImage
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.__main__ import main
from app.lesson.beside import FIGURE_PX, HEAD_PX, told_rows
from app.lesson.compare import compared
from app.lesson.opening import lesson_of_state
from app.lesson.script import Captions, Lesson
from app.lesson.svg import frame_svg
from app.lesson.window import KEYS, KEYS_BESIDE, LessonWindow, unit_of
from app.window import theme
from app.window.main import MainWindow
from core.alter.level.true_seams import BLEND
from core.alter.model import Change, StepKind
from core.alter.together import alter_together
from core.files import read
from core.measure import Unit
from tests.app.hands import Answers

SAMPLES = Path(__file__).parents[2] / "sample_pieces"
Key = Qt.Key


@pytest.fixture
def shorts(window: MainWindow) -> MainWindow:
    window.opening.open([SAMPLES / "allotment_shorts.svg"])
    window.session.set_by(60.0)
    return window


@pytest.fixture
def played(shorts: MainWindow, qtbot: QtBot) -> LessonWindow:
    """The lesson as F5 opens it."""
    QTest.keyClick(shorts, Key.Key_F5)
    lesson = shorts.lesson.window
    assert lesson is not None, "wanted a lesson after F5"
    qtbot.waitUntil(lesson.isVisible)
    return lesson


def pages(path: Path) -> int:
    """How many pages a PDF says that it has, by its page objects."""
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", path.read_bytes()))


def test_each_key_does_its_one_thing(played: LessonWindow) -> None:
    last = len(played.lesson.frames) - 1
    for key, wanted in (
        (Key.Key_Right, 1),
        (Key.Key_Right, 2),
        (Key.Key_Left, 1),
        (Key.Key_End, last),
        (Key.Key_Right, last),
        (Key.Key_Home, 0),
        (Key.Key_Left, 0),
    ):
        QTest.keyClick(played, key)
        assert played.number == wanted, f"after {key}: wanted step {wanted}, got {played.number}"


def test_each_step_says_and_shows_something_else(played: LessonWindow) -> None:
    seen = []
    for k in range(len(played.lesson.frames)):
        assert played.number == k
        seen.append((played.caption.text(), bytes(played.picture.grab().toImage().constBits())))
        QTest.keyClick(played, Key.Key_Right)
    assert len(dict.fromkeys(words for words, _ in seen)) == len(seen)
    assert len(dict.fromkeys(picture for _, picture in seen)) == len(seen)


def test_it_plays_by_itself_at_any_speed_and_stops_at_the_end(
    played: LessonWindow, qtbot: QtBot
) -> None:
    for _ in range(5):
        QTest.keyClick(played, Key.Key_Plus)
    assert played.speed == 4.0
    QTest.keyClick(played, Key.Key_Space)
    slow = played.timer.interval()
    assert played.playing
    played.timer.setInterval(1)
    qtbot.waitUntil(lambda: not played.playing)
    assert played.number == len(played.lesson.frames) - 1
    QTest.keyClick(played, Key.Key_Minus)
    QTest.keyClick(played, Key.Key_Space)
    assert played.number == 0, "wanted it to begin again after the end"
    assert played.timer.interval() > slow
    QTest.keyClick(played, Key.Key_Space)
    assert not played.playing


def test_esc_leaves(played: LessonWindow, shorts: MainWindow) -> None:
    QTest.keyClick(played, Key.Key_Space)
    QTest.keyClick(played, Key.Key_Escape)
    assert (played.isVisible(), played.playing, shorts.isVisible()) == (False, False, True)


def write_caption(played: LessonWindow, words: str) -> None:
    QTest.keyClick(played, Key.Key_E)
    QTest.keyClicks(played.edit, words)
    QTest.keyClick(played.edit, Key.Key_Return)


def test_a_written_caption_stays_for_the_session_and_goes_into_the_handout(
    played: LessonWindow, shorts: MainWindow, answers: Answers, tmp_path: Path, qtbot: QtBot
) -> None:
    QTest.keyClick(played, Key.Key_Right)
    write_caption(played, "Ruler on the seam & draw")
    assert played.caption.text() == "Ruler on the seam & draw"
    answers.save_handout = tmp_path / "steps"
    QTest.keyClick(played, Key.Key_H)
    root = ET.fromstring((tmp_path / "steps" / "step_2.svg").read_bytes())
    texts = [e.text for e in root.iter("{http://www.w3.org/2000/svg}text")]
    assert "Ruler on the seam & draw" in texts
    QTest.keyClick(played, Key.Key_Escape)
    shorts.activateWindow()
    qtbot.waitUntil(shorts.isActiveWindow)
    QTest.keyClick(shorts, Key.Key_F5)
    again = shorts.lesson.window
    assert again is not None
    assert again is not played
    again.go(1)
    assert again.caption.text() == "Ruler on the seam & draw"


def test_esc_gives_the_writing_up_and_stays_in_the_lesson(played: LessonWindow) -> None:
    was = played.caption.text()
    QTest.keyClick(played, Key.Key_E)
    QTest.keyClicks(played.edit, "half a thought")
    QTest.keyClick(played.edit, Key.Key_Escape)
    assert (played.caption.text(), played.isVisible()) == (was, True)


def test_a_changed_amount_brings_the_step_s_own_sentence_back(shorts: MainWindow) -> None:
    captions, old = Captions(), lesson_of_state(shorts.session.state)
    captions.write(old.frames[1].caption, "6 cm on")
    shorts.session.set_by(50.0)
    new = lesson_of_state(shorts.session.state)
    assert "5.0 cm" in captions.of(new.frames[1], Unit.CM)


def test_without_a_change_there_is_a_sentence_and_no_lesson(
    window: MainWindow,
) -> None:
    window.opening.open([SAMPLES / "allotment_shorts.svg"])
    QTest.keyClick(window, Key.Key_F5)
    assert window.lesson.window is None
    assert "how much longer" in window.messages.all[-1]


def test_both_ways_stand_beside_each_other(played: LessonWindow) -> None:
    QTest.keyClick(played, Key.Key_C)
    assert played.comparing
    found = played.comparison
    assert found.taper.hem_mm < found.level.hem_mm
    assert found.taper.kink == pytest.approx(0.0, abs=math.radians(0.1))
    assert found.level.kink > math.radians(0.5)
    QTest.keyClick(played, Key.Key_C)
    assert not played.comparing


def test_up_and_down_move_the_level_by_a_centimetre(played: LessonWindow) -> None:
    QTest.keyClick(played, Key.Key_C)
    first = played.comparison
    QTest.keyClick(played, Key.Key_Down)
    lower = played.comparison
    assert lower.at_mm % 10.0 == pytest.approx(0.0, abs=1e-9)
    assert 0.0 < lower.at_mm - first.at_mm <= 15.0
    assert lower.taper.hem_mm == first.taper.hem_mm
    QTest.keyClick(played, Key.Key_Up)
    assert played.comparison.at_mm == pytest.approx(lower.at_mm - 10.0, abs=1e-9)
    for _ in range(60):
        QTest.keyClick(played, Key.Key_Up)
    assert played.comparing
    assert "no line" in played.caption.text()
    assert played.comparison.at_mm > 0.0, "the last level that works stays"


def test_page_down_compares_another_piece(played: LessonWindow) -> None:
    QTest.keyClick(played, Key.Key_C)
    for wanted in ("Back", "Front"):
        QTest.keyClick(played, Key.Key_PageDown)
        assert played.comparing
        assert played.comparison.taper.altered.before.name == wanted
    QTest.keyClick(played, Key.Key_Question)
    assert "level higher" in played.caption.text()


def test_the_comparison_has_a_caption_of_its_own(
    played: LessonWindow, answers: Answers, tmp_path: Path
) -> None:
    QTest.keyClick(played, Key.Key_C)
    write_caption(played, "Which of them still hangs straight?")
    assert played.comparing
    assert played.caption.text() == "Which of them still hangs straight?"
    QTest.keyClick(played, Key.Key_Right)
    assert "hangs" not in played.caption.text()
    QTest.keyClick(played, Key.Key_C)
    assert "hangs" in played.caption.text()
    answers.save_handout = tmp_path / "steps"
    QTest.keyClick(played, Key.Key_H)
    assert (tmp_path / "steps" / "both_ways.png").exists()


def test_what_was_saved_is_told_in_the_lesson_which_hides_the_window(
    played: LessonWindow, answers: Answers, tmp_path: Path
) -> None:
    answers.save_handout = tmp_path / "handout.pdf"
    QTest.keyClick(played, Key.Key_H)
    assert "Saved handout.pdf" in played.caption.text()
    answers.save_handout = tmp_path / "no" / "such" / "handout.pdf"
    QTest.keyClick(played, Key.Key_H)
    assert "could not be saved" in played.caption.text()
    QTest.keyClick(played, Key.Key_Right)
    assert played.number == 1


def test_a_long_caption_is_seen_whole_while_it_is_written(played: LessonWindow) -> None:
    words = "Lay the ruler along each seam, lift your eyes, and only then draw the line on. " * 2
    QTest.keyClick(played, Key.Key_E)
    QTest.keyClicks(played.edit, words)
    lines = played.edit.document().size().height()
    room = played.edit.viewport().height() / played.edit.fontMetrics().lineSpacing()
    assert lines >= 2.0
    assert lines <= room + 0.1, f"{lines} lines in room for {room}"
    QTest.keyClick(played.edit, Key.Key_Return)
    assert played.caption.text() == words.strip()


@pytest.mark.parametrize("size", [(640, 360), (640, 400), (960, 540), (1280, 800), (1920, 1080)])
def test_on_every_screen_captions_and_figures_are_seen_whole(
    played: LessonWindow, size: tuple[int, int]
) -> None:
    played.showNormal()
    played.resize(*size)
    QTest.qWait(1)
    assert (played.width(), played.height()) == size
    QTest.keyClick(played, Key.Key_C)
    captions = [played.caption.text()]
    unit_px = unit_of(QRectF(played.picture.rect()))
    for rows in told_rows(played.comparison, Unit.CM):
        for k, row in enumerate(rows):
            font = theme.type_of(round((HEAD_PX if k == 0 else FIGURE_PX) * unit_px), bold=k == 0)
            wide = QFontMetricsF(font).horizontalAdvance(row)
            assert wide < size[0] / 3, f"“{row}” is {wide:.0f} px wide at {size}"
    QTest.keyClick(played, Key.Key_C)
    captions += [f.caption for f in played.lesson.frames] + [KEYS, KEYS_BESIDE]
    for words in captions:
        played.tell(words)
        need, room = played.caption.heightForWidth(played.caption.width()), played.caption.height()
        assert need <= room, f"“{words}” wants {need} px of {room} at {size}"
    assert played.picture.height() > size[1] / 2


def test_the_kink_of_a_straight_seam_is_as_trigonometry_has_it(tmp_path: Path) -> None:
    """Truing from b above to b below a line at which a is put in: the seam goes 2 b tan t
    across over 2 b + a, so it turns by t - atan(2 b tan t / (2 b + a)) at both ends."""
    path = tmp_path / "panel.svg"
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="700mm"'
        ' viewBox="0 0 400 700"><path id="front" d="M50 50H270L250 650H70Z"/>'
        '<path class="grain" d="M160 250V450"/></svg>'
    )
    (altered,) = alter_together(read(path).pieces, Change(50.0))
    found = compared(altered)
    taper = math.atan2(20.0, 600.0)
    wanted = taper - math.atan(2 * BLEND * math.tan(taper) / (2 * BLEND + 50.0))
    assert found.level.kink == pytest.approx(wanted, abs=1e-6)
    assert found.level.hem_mm == pytest.approx(180.0, abs=1e-6)
    assert found.taper.hem_mm == pytest.approx(180.0 - 50.0 / 15.0, abs=1e-6)
    areas = [abs(w.altered.piece.ring.signed_area()) for w in (found.level, found.taper)]
    assert found.area_mm2 == pytest.approx(areas[0] - areas[1], abs=1e-6)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_handout_has_a_page_for_each_step(
    shorts: MainWindow, tmp_path: Path, paper: str, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "handout.pdf"
    file = str(SAMPLES / "allotment_shorts.svg")
    done = main(["lesson", file, "--by", "6cm", "--out", str(out), "--paper", paper])
    assert done == 0, capsys.readouterr().err
    # And one with both ways beside each other.
    wanted = len(lesson_of_state(shorts.session.state).frames) + 1
    assert pages(out) == wanted, f"wanted {wanted} pages, got {pages(out)}"
    box = re.search(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)", out.read_bytes())
    assert box is not None
    sides = {"a4": (842, 595), "letter": (792, 612)}[paper]
    for k in (0, 1):
        got = float(box[k + 1])
        assert abs(got - sides[k]) <= 1.0, f"wanted {sides[k]} pt, got {got}, tolerance 1"


def test_a_practice_sheet_has_the_question_and_then_the_answer(
    played: LessonWindow, answers: Answers, tmp_path: Path
) -> None:
    answers.save_handout = tmp_path / "practice.pdf"
    QTest.keyClick(played, Key.Key_P)
    assert pages(answers.save_handout) == 2
    asked = played.lesson.question(Unit.CM)
    assert "Front and Back are to be 6.0 cm longer" in asked, asked


def test_pictures_hold_each_step_s_geometry_in_mm(shorts: MainWindow) -> None:
    lesson = lesson_of_state(shorts.session.state)
    for number, frame in enumerate(lesson.frames):
        root = ET.fromstring(frame_svg(lesson, number, frame.caption))
        width = float(root.attrib["width"].removesuffix("mm"))
        assert width == pytest.approx(float(root.attrib["viewBox"].split()[2]), abs=1e-9)
        drawn = [e for e in root.iter() if e.get("class") in ("step", "point")]
        wanted = sum(len(s.lines) + len(s.points) for s in frame.steps if s)
        assert len(drawn) == wanted, f"step {number + 1}: wanted {wanted}, got {len(drawn)}"
    assert starts_where_it_should(lesson)


def starts_where_it_should(lesson: Lesson) -> bool:
    """The carried seam of the first piece begins at the very mm of its taper point."""
    number = next(k for k, f in enumerate(lesson.frames) if f.kind is StepKind.CARRY_SEAMS)
    step = lesson.frames[number].steps[0]
    assert step is not None
    root = ET.fromstring(frame_svg(lesson, number, ""))
    first = next(e for e in root.iter() if e.get("class") == "step").attrib["d"]
    x, y = map(float, re.findall(r"[-\d.]+", first)[:2])
    start = step.lines[0].start
    return math.hypot(x - start.x, y - start.y) < 1e-6


def test_a_folder_gets_png_and_svg_of_each_step(tmp_path: Path) -> None:
    out = tmp_path / "steps"
    file = str(SAMPLES / "raking_skirt.svg")
    assert main(["lesson", file, "--by", "5cm", "--at", "9.5cm", "--out", str(out)]) == 0
    pictures = sorted(out.glob("*.png"))
    steps = [p for p in pictures if p.stem.startswith("step")]
    assert len(steps) == len(list(out.glob("*.svg"))) > 3
    assert [p.name for p in pictures if p not in steps] == ["both_ways.png"]
    assert not QImage(str(pictures[0])).isNull()


@pytest.mark.parametrize("out", ["handout.docx", "practice"])
def test_a_name_that_fits_no_kind_is_refused_in_a_sentence(
    tmp_path: Path, out: str, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["lesson", str(SAMPLES / "raking_skirt.svg"), "--by", "5cm"]
    words += ["--out", str(tmp_path / out)] + (["--practice"] if out == "practice" else [])
    assert main(words) == 1
    assert ".pdf" in capsys.readouterr().err
