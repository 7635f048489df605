"""The drawn look of the window: colours, type, spacing. One place for all of it."""

from __future__ import annotations

from PySide6.QtGui import QColor, QFont, QPalette
from PySide6.QtWidgets import QApplication

# The light ground and its inks.
GROUND = "#FBFAF7"
SHEET = "#FFFFFF"
RAIL = "#F3F1EB"
LINE = "#D8D4CB"
GRID = "#EEEBE3"
INK = "#2B2A27"
QUIET = "#6B675E"
GHOST = "#8A867C"
# Okabe-Ito, each for one meaning: after, carried on, taper point, wants looking at.
BLUE = "#0072B2"
ORANGE = "#E69F00"
GREEN = "#009E73"
VERMILION = "#D55E00"
# The same hue, dark enough for small writing.
VERMILION_TEXT = "#A84900"
PALE_BLUE = "#E5EFF5"
WASH = QColor(0, 114, 178, 20)
BAND = QColor(230, 159, 0, 46)

SPACE = 4
CORNER = 6
QUESTION_PX, TEXT_PX, SMALL_PX = 16, 13, 12
PAGE_WIDTH = 352
WORDS_WIDTH = 84
BAR_HEIGHT = 44

SHEET_OF_STYLE = f"""
QWidget {{ color: {INK}; font-size: {TEXT_PX}px; }}
QMainWindow, #ground {{ background: {GROUND}; }}
#bar {{ background: {SHEET}; border-bottom: 1px solid {LINE}; }}
#foot {{ background: {RAIL}; border-top: 1px solid {LINE}; }}
#page {{ background: {SHEET}; border-left: 1px solid {LINE}; }}
#message {{ background: #FFF6E0; border-top: 1px solid {LINE}; }}
#name {{ font-weight: 600; }}
QLineEdit:disabled {{ color: #A29E94; }}
#quiet {{ color: {QUIET}; font-size: {SMALL_PX}px; }}
#question {{ font-size: {QUESTION_PX}px; font-weight: 600; }}
#head {{ font-weight: 600; }}
QPushButton, QToolButton {{
    background: {GROUND}; border: 1px solid {LINE}; border-radius: {CORNER}px;
    padding: 5px 12px; font-size: {SMALL_PX}px;
}}
QPushButton:hover, QToolButton:hover {{ background: {RAIL}; }}
QPushButton:focus, QToolButton:focus {{ border-color: {BLUE}; }}
QPushButton:disabled, QToolButton:disabled {{ color: #A29E94; }}
QPushButton:checked {{ background: {BLUE}; color: white; border-color: {BLUE}; }}
QPushButton:default {{ background: {BLUE}; color: white; border-color: {BLUE}; }}
QPushButton[segment] {{ padding: 4px 2px; border-radius: 0; border-right: none; }}
QPushButton[segment="first"] {{
    border-top-left-radius: {CORNER}px; border-bottom-left-radius: {CORNER}px;
}}
QPushButton[segment="last"] {{
    border-top-right-radius: {CORNER}px; border-bottom-right-radius: {CORNER}px;
    border-right: 1px solid {LINE};
}}
QPushButton[segment]:checked:disabled {{
    background: {LINE}; color: {QUIET}; border-color: {LINE};
}}
QPushButton[segment]:focus {{ border: 1px solid {INK}; }}
#more, #more:checked {{
    padding: 4px 8px; border: none; background: transparent; color: {BLUE};
}}
#more:focus {{ border: 1px solid {BLUE}; }}
#left {{ border-top-right-radius: 0; border-bottom-right-radius: 0; }}
#right {{ border-top-left-radius: 0; border-bottom-left-radius: 0; border-left: none; }}
QLineEdit, QComboBox {{
    background: {GROUND}; border: 1px solid {LINE}; border-radius: {CORNER}px; padding: 5px 8px;
    selection-background-color: {BLUE};
}}
QComboBox::drop-down {{ border: none; width: 22px; }}
QLineEdit:focus, QComboBox:focus {{ border-color: {BLUE}; }}
#length {{ font-size: {QUESTION_PX}px; font-weight: 600; padding: 6px 10px; }}
QTreeWidget, QListWidget {{ background: {SHEET}; border: none; outline: none; }}
QTreeWidget::item {{ height: 19px; border-bottom: 1px solid {RAIL}; }}
QTreeWidget::item:selected, QListWidget::item:selected {{ background: {PALE_BLUE}; color: {INK}; }}
QHeaderView::section {{
    background: {SHEET}; border: none; border-bottom: 1px solid {LINE};
    color: {QUIET}; font-size: {SMALL_PX}px; padding: 2px 4px;
}}
QScrollBar:vertical {{ background: transparent; width: 8px; }}
QScrollBar::handle:vertical {{ background: {LINE}; border-radius: 4px; min-height: 24px; }}
QScrollBar::add-line, QScrollBar::sub-line {{ height: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: none; }}
#welcome {{ font-size: {QUESTION_PX}px; font-weight: 600; }}
#drop {{ border: 1px dashed {GHOST}; border-radius: {CORNER}px; background: {SHEET}; }}
#sample {{ background: {SHEET}; border: 1px solid {LINE}; padding: 8px; }}
"""


def put_on(app: QApplication) -> None:
    """Gives the application its look. The system's own font stays."""
    app.setStyle("Fusion")
    palette = QPalette()
    palette.setColor(QPalette.ColorRole.Window, QColor(GROUND))
    palette.setColor(QPalette.ColorRole.WindowText, QColor(INK))
    palette.setColor(QPalette.ColorRole.Base, QColor(SHEET))
    palette.setColor(QPalette.ColorRole.Text, QColor(INK))
    palette.setColor(QPalette.ColorRole.Button, QColor(GROUND))
    palette.setColor(QPalette.ColorRole.ButtonText, QColor(INK))
    palette.setColor(QPalette.ColorRole.Highlight, QColor(BLUE))
    palette.setColor(QPalette.ColorRole.HighlightedText, QColor(SHEET))
    palette.setColor(QPalette.ColorRole.PlaceholderText, QColor(QUIET))
    app.setPalette(palette)
    app.setStyleSheet(SHEET_OF_STYLE)


def type_of(px: int, *, bold: bool = False) -> QFont:
    """The system's font at that many pixels, with figures of one width."""
    font = QFont(QApplication.font())
    font.setPixelSize(px)
    font.setWeight(QFont.Weight.DemiBold if bold else QFont.Weight.Normal)
    font.setFeature(QFont.Tag("tnum"), 1)
    return font
