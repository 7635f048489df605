"""How the window looks, kept from one time to the next; files opened before; a picture."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QCheckBox, QRadioButton
from pytestqt.qtbot import QtBot

from app.window import theme
from app.window.length_box import UnitSwitch
from app.window.lengths import Shown
from app.window.main import MainWindow
from app.window.way.stage import Stage
from tests.app.hands import Answers, Keys


@pytest.fixture(autouse=True)
def light_again() -> Iterator[None]:
    yield
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    theme.put_on(app)


def test_a_key_puts_the_window_on_a_dark_ground_and_it_stays_so(
    make_window: Callable[[], MainWindow],
) -> None:
    window = make_window()
    window.activateWindow()
    QTest.keyClick(window, Qt.Key.Key_D, Keys.ControlModifier)
    assert theme.look() is theme.DARK
    assert make_window().view_menu.dark.isChecked()
    QTest.keyClick(window, Qt.Key.Key_D, Keys.ControlModifier)
    assert theme.look() is theme.LIGHT


@pytest.mark.parametrize("stage", list(Stage), ids=lambda s: s.value)
def test_centimetres_and_inches_are_switched_at_every_stage_and_kept(
    both: MainWindow, make_window: Callable[[], MainWindow], stage: Stage, qtbot: QtBot
) -> None:
    both.way.go(stage)
    both.activateWindow()
    qtbot.waitUntil(both.isActiveWindow)
    QTest.keyClick(both, Qt.Key.Key_I, Keys.ControlModifier)
    assert both.session.shown is Shown.INCH
    (switch,) = both.page.length.findChildren(UnitSwitch)
    assert switch.buttons[Shown.INCH].isChecked()
    assert make_window().session.shown is Shown.INCH
    both.session.show_in(Shown.CM)
    assert not both.view_menu.inches.isChecked(), "the menu follows the switch of the page"


def test_files_opened_before_are_offered_the_last_one_first(
    make_window: Callable[[], MainWindow], front: Path, tmp_path: Path
) -> None:
    second = tmp_path / "second.svg"
    second.write_bytes(front.read_bytes())
    window = make_window()
    window.opening.open([front, second])
    other = make_window()
    other.recent.list_anew()
    assert [a.text() for a in other.recent.actions()] == ["second.svg", "front.svg"]
    other.recent.actions()[1].trigger()
    assert [s.drawing.path.name for s in other.session.state.sheets.all] == ["front.svg"]
    second.unlink()
    other.recent.list_anew()
    assert [a.text() for a in other.recent.actions()] == ["front.svg"]


def test_without_files_opened_before_the_menu_says_so(window: MainWindow) -> None:
    window.recent.list_anew()
    (action,) = window.recent.actions()
    assert not action.isEnabled()


def test_the_window_comes_back_as_large_as_it_was(make_window: Callable[[], MainWindow]) -> None:
    window = make_window()
    """The screen that is not there is 800 high and narrower than the window."""
    window.resize(1100, 690)
    window.close()
    again = MainWindow(settings=window.settings)
    assert again.height() == 690
    again.deleteLater()


def test_spoiled_settings_are_as_none(make_window: Callable[[], MainWindow]) -> None:
    window = make_window()
    for key in ("look", "shape", "recent"):
        window.settings.setValue(key, 7)
    other = make_window()
    assert theme.look() is theme.LIGHT
    assert other.viewing.recent == []


def luminance(colour: QColor) -> float:
    """Relative luminance of sRGB (W3C WCAG 2.2)."""
    parts = (colour.redF(), colour.greenF(), colour.blueF())
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


@pytest.mark.parametrize("worn", [theme.LIGHT, theme.DARK], ids=["light", "dark"])
@pytest.mark.parametrize("kind", [QCheckBox, QRadioButton])
def test_a_box_to_be_ticked_is_seen_on_either_ground(
    qapp: QApplication, worn: theme.Look, kind: type[QCheckBox] | type[QRadioButton]
) -> None:
    """In the dark the style drew dark boxes. WCAG 2.2, 1.4.11: 3 to 1 for what one works with."""
    theme.put_on(qapp, worn)
    box = kind("")
    box.resize(40, 24)
    grounds = (worn.sheet, worn.ground)
    pictures = []
    for on in (False, True):
        box.setChecked(on)
        pictures.append(box.grab().toImage())
    bare, ticked = pictures
    row = bare.height() // 2
    rim = [luminance(bare.pixelColor(x, row)) for x in range(20)]
    for ground in grounds:
        was = luminance(QColor(ground))
        ratio = max((max(v, was) + 0.05) / (min(v, was) + 0.05) for v in rim)
        assert ratio >= 3.0, f"{kind.__name__}: {ratio:.2f} to 1 on {ground}"
    differ = sum(bare.pixel(x, y) != ticked.pixel(x, y) for x in range(20) for y in range(24))
    assert differ > 30, "a tick is hardly seen"
    box.deleteLater()


@pytest.mark.parametrize("look", ["light", "dark"])
def test_the_tick_is_drawn(qapp: QApplication, look: str) -> None:
    path = Path(theme.__file__).with_name(f"tick_{look}.svg")
    assert not QImage(str(path)).isNull()


def test_a_picture_of_the_table_is_a_page_of_pdf_that_says_it_is_none_to_cut_by(
    both: MainWindow, answers: Answers, tmp_path: Path
) -> None:
    answers.save_file = tmp_path / "table.pdf"
    both.view_menu.actions()[-1].trigger()
    data = answers.save_file.read_bytes()
    assert data.startswith(b"%PDF")
    assert len(re.findall(rb"/Type\s*/Page\b", data)) == 1


def test_a_picture_that_cannot_be_saved_is_told(
    both: MainWindow, answers: Answers, tmp_path: Path
) -> None:
    answers.save_file = tmp_path / "no such folder" / "table.pdf"
    both.view_menu.actions()[-1].trigger()
    assert "could not be saved" in both.messages.all[-1]
