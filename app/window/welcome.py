"""The empty window: one sentence, a place to drop a file, and patterns to try."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QSize, QTimer, Signal
from PySide6.QtGui import QColor, QIcon, QPixmap, QShowEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

# Values of the properties focusPolicy, alignment and toolButtonStyle: NoFocus, AlignCenter and
# ToolButtonTextUnderIcon. By name they would cost a third of the time until the window is painted:
# all other names of Qt's namespace are made with the first that is used.
NO_FOCUS, CENTRED, TEXT_BELOW = 0, 0x84, 3

PICTURE = QSize(168, 128)
# The least height, in pixels.
LEAST = 200
# A picture waits so long (ms) for other work before it looks again.
WAIT_MS = 200


def samples() -> list[Path]:
    """Three of the sample patterns, where they are installed."""
    folder = Path(__file__).resolve().parents[2] / "sample_pieces"
    return sorted(folder.glob("*.svg"))[:3]


class Welcome(QScrollArea):
    """``chosen`` is emitted with the path of a sample, ``wanted`` when a file is to be sought.
    It is rolled where the window is lower than it.
    """

    chosen = Signal(Path)
    wanted = Signal()

    def __init__(self, paths: Sequence[Path], parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("ground")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setProperty("focusPolicy", NO_FOCUS)
        self.setWidgetResizable(True)
        self.setMinimumHeight(LEAST)
        whole = QWidget()
        whole.setObjectName("ground")
        self._paths = list(paths)
        self.samples: list[QToolButton] = []
        self._drawn: list[QPixmap] = []
        self._other_work: Callable[[], bool] | None = None
        column = QVBoxLayout(whole)
        column.setSpacing(20)
        column.addStretch(1)
        sentence = QLabel("Open a pattern, then say how much longer or shorter.")
        sentence.setObjectName("welcome")
        sentence.setProperty("alignment", CENTRED)
        column.addWidget(sentence)
        column.addLayout(_in_the_middle(self._drop_place()))
        if paths:
            hint = QLabel("Or try one of these:")
            hint.setObjectName("quiet")
            hint.setProperty("alignment", CENTRED)
            column.addWidget(hint)
            column.addLayout(self._samples(paths))
        column.addStretch(1)
        self.setWidget(whole)

    def _drop_place(self) -> QFrame:
        place = QFrame()
        place.setObjectName("drop")
        place.setFixedSize(544, 148)
        inside = QVBoxLayout(place)
        words = QLabel("Drop SVG or DXF files here, one or several")
        words.setObjectName("quiet")
        words.setProperty("alignment", CENTRED)
        self.open = QPushButton("Open …")
        self.open.setAccessibleName("Open a pattern")
        self.open.clicked.connect(self.wanted)
        inside.addStretch(1)
        inside.addWidget(words)
        inside.addLayout(_in_the_middle(self.open))
        inside.addStretch(1)
        return place

    def _samples(self, paths: Sequence[Path]) -> QHBoxLayout:
        self.samples = [_sample_button(path) for path in paths]
        for button, path in zip(self.samples, paths, strict=True):
            button.clicked.connect(lambda _=False, p=path: self.chosen.emit(p))
        row = _in_the_middle(*self.samples)
        row.setSpacing(16)
        return row

    def draw_pictures(self, other_work: Callable[[], bool]) -> None:
        """One after the other, and none while there is `other_work`: the readers take a moment."""
        self._other_work = other_work
        self._draw_soon(0)

    def _draw_soon(self, ms: int) -> None:
        QTimer.singleShot(ms, self, self._draw_next)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._other_work is not None:
            self._draw_soon(0)

    def _draw_next(self) -> None:
        from app.window.table.small_picture import small_picture

        if not self.isVisible() or len(self._drawn) == len(self._paths):
            return
        if self._other_work is not None and self._other_work():
            self._draw_soon(WAIT_MS)
        else:
            k = len(self._drawn)
            self._drawn.append(small_picture(self._paths[k], PICTURE, 2.0))
            self.samples[k].setIcon(QIcon(self._drawn[k]))
            self._draw_soon(0)


def _sample_button(path: Path) -> QToolButton:
    name = path.stem.replace("_", " ").capitalize()
    button = QToolButton()
    button.setObjectName("sample")
    button.setText(name)
    button.setAccessibleName(f"Open the sample {name}")
    button.setIconSize(PICTURE)
    blank = QPixmap(PICTURE)
    blank.fill(QColor(0, 0, 0, 0))
    button.setIcon(QIcon(blank))
    button.setProperty("toolButtonStyle", TEXT_BELOW)
    return button


def _in_the_middle(*widgets: QWidget) -> QHBoxLayout:
    row = QHBoxLayout()
    row.addStretch(1)
    for widget in widgets:
        row.addWidget(widget)
    row.addStretch(1)
    return row
