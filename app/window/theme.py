"""The drawn look of the window: colours, type, spacing. One place for all of it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtGui import QColor, QFont, QPalette
from PySide6.QtWidgets import QApplication


@dataclass(frozen=True)
class Look:
    """Grounds and inks. The hues are of the published Okabe-Ito set, each for one meaning:
    blue after, orange carried on, green taper points, vermilion what wants looking at, purple
    what is measured or marked."""

    dark: bool
    ground: str
    sheet: str
    rail: str
    line: str
    grid: str
    ink: str
    quiet: str
    faint: str
    ghost: str
    blue: str
    orange: str
    green: str
    purple: str
    vermilion: str
    # The same hue, to be read in small writing.
    vermilion_text: str
    # On blue and green.
    on_hue: str
    pale_blue: str
    tape: str
    told: str
    wash: QColor
    band: QColor


LIGHT = Look(
    dark=False,
    ground="#FBFAF7",
    sheet="#FFFFFF",
    rail="#F3F1EB",
    line="#D8D4CB",
    grid="#EEEBE3",
    ink="#2B2A27",
    quiet="#6B675E",
    faint="#A29E94",
    ghost="#8A867C",
    blue="#0072B2",
    orange="#E69F00",
    green="#009E73",
    purple="#CC79A7",
    vermilion="#D55E00",
    vermilion_text="#A84900",
    on_hue="#FFFFFF",
    pale_blue="#E5EFF5",
    tape="#FFF7DC",
    told="#FFF6E0",
    wash=QColor(0, 114, 178, 20),
    band=QColor(230, 159, 0, 46),
)
DARK = Look(
    dark=True,
    ground="#1E2124",
    sheet="#26292D",
    rail="#191B1E",
    line="#3C4147",
    grid="#282C30",
    ink="#E8E6E1",
    quiet="#A9A69E",
    faint="#6E7278",
    ghost="#8D8F93",
    blue="#56B4E9",
    orange="#F0B53C",
    green="#3CC9A0",
    purple="#E6A3CB",
    vermilion="#FF8A3D",
    vermilion_text="#FFA163",
    on_hue="#14171A",
    pale_blue="#25394A",
    tape="#3A3523",
    told="#3B3320",
    wash=QColor(86, 180, 233, 34),
    band=QColor(240, 181, 60, 56),
)

SPACE = 4
CORNER = 6
# The least height of a line of writing in a box, in pixels: below it letters lose their feet.
LINE_PX = 17
QUESTION_PX, TEXT_PX, SMALL_PX = 16, 13, 12
PAGE_WIDTH = 352
WORDS_WIDTH = 84
BAR_HEIGHT = 44


def look() -> Look:
    """What the window wears now."""
    return _worn[-1]


_worn = [LIGHT]


def _ticks(look: Look) -> str:
    """Boxes to be ticked and rings to be chosen from: the style's own cannot be seen in the dark.
    Half of a box is filled where only some of what is under it is ticked."""
    tick = Path(__file__).with_name(f"tick_{'dark' if look.dark else 'light'}.svg").as_posix()
    half = f"stop: 0.5 {look.blue}, stop: 0.51 {look.sheet}"
    boxes = ("QCheckBox::indicator", "QTreeView::indicator", "QListView::indicator")
    return (
        "\n".join(
            f"""
{box} {{ width: 13px; height: 13px; border: 1px solid {look.ghost}; border-radius: 3px;
    background: {look.sheet}; }}
{box}:checked {{ background: {look.blue}; border-color: {look.blue}; image: url("{tick}"); }}
{box}:indeterminate {{ border-color: {look.blue};
    background: qlineargradient(x1: 0, y1: 1, x2: 1, y2: 0, {half}); }}
{box}:focus {{ border-color: {look.ink}; }}
"""
            for box in boxes
        )
        + f"""
QCheckBox:focus {{ text-decoration: underline; }}
QRadioButton::indicator {{ width: 13px; height: 13px; border: 1px solid {look.ghost};
    border-radius: 7px; background: {look.sheet}; }}
QRadioButton::indicator:checked {{ width: 7px; height: 7px; border: 4px solid {look.blue};
    background: {look.on_hue}; }}
QRadioButton:focus {{ text-decoration: underline; }}
"""
    )


def _sheet_of_style(look: Look) -> str:
    return f"""
QWidget {{ color: {look.ink}; font-size: {TEXT_PX}px; }}
QMainWindow, #ground {{ background: {look.ground}; }}
#bar {{ background: {look.sheet}; border-bottom: 1px solid {look.line}; }}
#foot {{ background: {look.rail}; border-top: 1px solid {look.line}; }}
#strip {{ background: {look.sheet}; border-bottom: 1px solid {look.line}; }}
#rail {{ background: {look.rail}; border-right: 1px solid {look.line}; }}
#onward {{
    background: {look.green}; color: {look.on_hue}; border: none; font-weight: 600;
    padding: 8px 20px; font-size: {TEXT_PX}px;
}}
#onward:focus {{ border: 2px solid {look.ink}; }}
#rolling, #rolling > QWidget {{ background: {look.sheet}; }}
#page {{ background: {look.sheet}; border-left: 1px solid {look.line}; }}
#message {{ background: {look.told}; border-top: 1px solid {look.line}; }}
QToolButton[popupMode="1"] {{ padding-right: 26px; }}
QToolButton::menu-indicator {{ image: none; width: 0; }}
QToolButton::menu-button {{ border-left: 1px solid {look.line}; width: 18px; }}
QMenu {{ background: {look.sheet}; border: 1px solid {look.line}; padding: 4px; }}
QMenu::item {{ padding: 5px 24px 5px 12px; }}
QMenu::item:selected {{ background: {look.pale_blue}; }}
QMenu::item:disabled {{ color: {look.faint}; }}
#name {{ font-weight: 600; }}
#hover {{
    background: {look.sheet}; color: {look.ink}; border: 1px solid {look.line};
    border-radius: 4px; padding: 2px 6px; font-size: {SMALL_PX}px;
}}
QLineEdit:disabled {{ color: {look.faint}; }}
#quiet {{ color: {look.quiet}; font-size: {SMALL_PX}px; }}
#question {{ font-size: {QUESTION_PX}px; font-weight: 600; }}
#head {{ font-weight: 600; }}
QPushButton, QToolButton {{
    background: {look.ground}; border: 1px solid {look.line}; border-radius: {CORNER}px;
    padding: 5px 12px; font-size: {SMALL_PX}px;
}}
QPushButton:hover, QToolButton:hover {{ background: {look.rail}; }}
QPushButton:focus, QToolButton:focus {{ border-color: {look.blue}; }}
QPushButton:disabled, QToolButton:disabled {{ color: {look.faint}; }}
QPushButton:checked {{ background: {look.blue}; color: {look.on_hue}; border-color: {look.blue}; }}
QPushButton:default {{ background: {look.blue}; color: {look.on_hue}; border-color: {look.blue}; }}
QPushButton[segment] {{ padding: 4px 2px; border-radius: 0; border-right: none; }}
QPushButton[segment="first"] {{
    border-top-left-radius: {CORNER}px; border-bottom-left-radius: {CORNER}px;
}}
QPushButton[segment="last"] {{
    border-top-right-radius: {CORNER}px; border-bottom-right-radius: {CORNER}px;
    border-right: 1px solid {look.line};
}}
QPushButton[segment]:checked:disabled {{
    background: {look.line}; color: {look.quiet}; border-color: {look.line};
}}
QPushButton[segment]:focus {{ border: 1px solid {look.ink}; }}
#more, #more:checked {{
    padding: 4px 8px; border: none; background: transparent; color: {look.blue};
}}
#more:focus {{ border: 1px solid {look.blue}; }}
#left {{ border-top-right-radius: 0; border-bottom-right-radius: 0; }}
#right {{ border-top-left-radius: 0; border-bottom-left-radius: 0; border-left: none; }}
QLineEdit, QComboBox {{
    background: {look.ground}; border: 1px solid {look.line};
    border-radius: {CORNER}px; padding: 5px 8px; min-height: {LINE_PX}px;
    selection-background-color: {look.blue};
}}
QComboBox::drop-down {{ border: none; width: 22px; }}
QLineEdit:focus, QComboBox:focus {{ border-color: {look.blue}; }}
#length {{ font-size: {QUESTION_PX}px; font-weight: 600; padding: 6px 10px; }}
QTreeWidget, QListWidget {{ background: {look.sheet}; border: none; outline: none; }}
QListWidget::item {{ padding: 1px 0; }}
QTreeWidget::item {{ height: 19px; border-bottom: 1px solid {look.rail}; }}
QTreeWidget::item:selected, QListWidget::item:selected {{
    background: {look.pale_blue}; color: {look.ink};
}}
QHeaderView::section {{
    background: {look.sheet}; border: none; border-bottom: 1px solid {look.line};
    color: {look.quiet}; font-size: {SMALL_PX}px; padding: 2px 4px;
}}
QScrollBar:vertical {{ background: transparent; width: 8px; }}
QScrollBar::handle:vertical {{ background: {look.line}; border-radius: 4px; min-height: 24px; }}
QScrollBar::add-line, QScrollBar::sub-line {{ height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: none; }}
#welcome {{ font-size: {QUESTION_PX}px; font-weight: 600; }}
#drop {{ border: 1px dashed {look.ghost}; border-radius: {CORNER}px; background: {look.sheet}; }}
#sample {{ background: {look.sheet}; border: 1px solid {look.line}; padding: 8px; }}
{_ticks(look)}"""


def put_on(app: QApplication, worn: Look = LIGHT) -> None:
    """Gives the application its look. The system's own font stays."""
    _worn[-1] = worn
    app.setPalette(_palette(worn))
    app.setStyleSheet(_sheet_of_style(worn))


@contextmanager
def lent(worn: Look) -> Iterator[None]:
    """Lets what is drawn meanwhile wear that look: paper is white whatever the screen is."""
    was, _worn[-1] = _worn[-1], worn
    try:
        yield
    finally:
        _worn[-1] = was


def _palette(worn: Look) -> QPalette:
    palette, role = QPalette(), QPalette.ColorRole
    for which, colour in (
        (role.Window, worn.ground),
        (role.WindowText, worn.ink),
        (role.Base, worn.sheet),
        (role.AlternateBase, worn.rail),
        (role.Text, worn.ink),
        (role.Button, worn.ground),
        (role.ButtonText, worn.ink),
        (role.ToolTipBase, worn.sheet),
        (role.ToolTipText, worn.ink),
        (role.Highlight, worn.blue),
        (role.HighlightedText, worn.on_hue),
        (role.PlaceholderText, worn.quiet),
    ):
        palette.setColor(which, QColor(colour))
    return palette


def type_of(px: int, *, bold: bool = False) -> QFont:
    """The system's font at that many pixels, with figures of one width."""
    font = QFont(QApplication.font())
    font.setPixelSize(px)
    font.setWeight(QFont.Weight.DemiBold if bold else QFont.Weight.Normal)
    font.setFeature(QFont.Tag("tnum"), 1)
    return font
