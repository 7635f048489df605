"""The amount worked out from the body: wanted length less the length that is there."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from app.window.main import MainWindow
from app.window.work_out import WorkOut, seam_down
from core.piece.model import Role

SAMPLE = Path(__file__).parents[2] / "sample_pieces" / "allotment_shorts.svg"


@pytest.fixture
def shorts(make_window: Callable[[], MainWindow]) -> MainWindow:
    window = make_window()
    window.opening.open([SAMPLE])
    return window


def side_of_front(window: MainWindow) -> float:
    front = next(p for p in window.session.settled.sheets.pieces.values() if p.name == "Front")
    return front.edge_length(front.edge(Role.SIDE))


def test_the_dialog_takes_what_is_wanted_and_makes_the_pattern_so_much_longer(
    shorts: MainWindow,
) -> None:
    length, seen = side_of_front(shorts), []

    def answer() -> None:
        dialog = QApplication.activeModalWidget()
        assert isinstance(dialog, WorkOut)
        QTest.keyClicks(dialog.wanted, f"{(length + 85.0) / 10:.2f} cm")
        QTest.keyClick(dialog.wanted, Qt.Key.Key_Return)
        seen.append(dialog.said.text())
        dialog.accept()

    QTimer.singleShot(50, answer)
    QTest.mouseClick(shorts.page.length.work_out, Qt.MouseButton.LeftButton)
    assert shorts.session.settled.by_mm == pytest.approx(85.0, abs=0.1)
    assert "side seam of Front" in seen[0]


def test_it_measures_against_the_pattern_as_it_was(shorts: MainWindow) -> None:
    shorts.session.set_by(60.0)
    seam = seam_down(shorts.session.settled)
    assert seam is not None
    assert seam[1] == pytest.approx(side_of_front(shorts), abs=1e-6)


def test_nothing_measured_takes_nothing(shorts: MainWindow) -> None:
    dialog = WorkOut(shorts.session, shorts)
    assert dialog.amount_mm is None
    dialog._take(-5.0)
    assert dialog.amount_mm is None
    dialog.deleteLater()


def test_what_cannot_be_read_is_told_in_the_dialog_itself(shorts: MainWindow) -> None:
    dialog = WorkOut(shorts.session, shorts)
    dialog.wanted.setText("nonsense")
    QTest.keyClick(dialog.wanted, Qt.Key.Key_Return)
    assert dialog.said.text().startswith("! The length")
    QTest.keyClick(dialog.wanted, Qt.Key.Key_Escape)
    assert "side seam of Front" in dialog.said.text()
