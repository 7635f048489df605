"""Saving an SVG as DXF: the window asks how curves are drawn, once, and keeps to it."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialogButtonBox, QLabel, QLineEdit, QPushButton, QRadioButton
from pytestqt.qtbot import QtBot

from app.window.curves_question import Curves, CurvesQuestion
from app.window.main import MainWindow
from core.files import read
from tests.app.hands import Answers, type_length

CTRL = Qt.KeyboardModifier.ControlModifier
BODICE = Path(__file__).parents[2] / "sample_pieces" / "picking_bodice.svg"
SPLINE = b"\n  0\nSPLINE\n"


@pytest.mark.parametrize("within", [None, 0.1])
def test_it_asks_once_and_saves_so_each_time(
    window: MainWindow, answers: Answers, tmp_path: Path, within: float | None
) -> None:
    window.opening.open([BODICE])
    type_length(window, "2 cm")
    answers.save_file, answers.curves = tmp_path / "longer.dxf", Curves(within)
    for _ in range(2):
        QTest.keyClick(window, Qt.Key.Key_S, CTRL)
        assert (SPLINE in answers.save_file.read_bytes()) is (within is None)
    assert answers.asked == ["save", "curves"]
    assert len(read(answers.save_file).pieces) == 2


def test_going_back_from_the_question_saves_nothing(
    window: MainWindow, answers: Answers, tmp_path: Path
) -> None:
    window.opening.open([BODICE])
    type_length(window, "2 cm")
    answers.save_file, answers.curves = tmp_path / "longer.dxf", None
    assert not window.saving.save()
    assert not answers.save_file.exists()
    assert window.session.changed


def test_an_svg_is_not_asked_about(window: MainWindow, answers: Answers, tmp_path: Path) -> None:
    window.opening.open([BODICE])
    type_length(window, "2 cm")
    answers.save_file = tmp_path / "longer.svg"
    assert window.saving.save()
    assert answers.asked == ["save"]


@pytest.fixture
def question(qtbot: QtBot) -> CurvesQuestion:
    dialog = CurvesQuestion(Path("longer.dxf"))
    qtbot.addWidget(dialog)
    dialog.show()
    return dialog


def save(dialog: CurvesQuestion) -> None:
    box = dialog.findChild(QDialogButtonBox)
    assert box is not None
    button = box.button(QDialogButtonBox.StandardButton.Save)
    assert isinstance(button, QPushButton)
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def test_enter_keeps_the_curves(question: CurvesQuestion) -> None:
    save(question)
    assert question.result() == 1
    assert question.answer == Curves(None)


def test_typing_a_length_chooses_straight_lines(question: CurvesQuestion) -> None:
    field = question.findChild(QLineEdit)
    assert field is not None
    assert field.accessibleName()
    field.selectAll()
    QTest.keyClicks(field, "0.05 mm")
    assert [b.isChecked() for b in question.findChildren(QRadioButton)] == [False, True]
    save(question)
    assert question.answer == Curves(pytest.approx(0.05))


@pytest.mark.parametrize("typed", ["0 mm", "-1 mm", "5 cm", "near", ""])
def test_a_length_that_makes_no_pattern_is_told_and_the_question_stays(
    question: CurvesQuestion, typed: str
) -> None:
    field = question.findChild(QLineEdit)
    assert field is not None
    field.setText(typed)
    question.findChildren(QRadioButton)[1].setChecked(True)
    save(question)
    assert question.isVisible()
    told = [w.text() for w in question.findChildren(QLabel) if w.isVisible()]
    assert any("tolerance" in t or "cannot be read" in t or "Write" in t for t in told), told
