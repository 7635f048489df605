"""The empty window: one sentence, a place to drop a file, and patterns to try."""

# ruff: noqa: N802
# Qt calls what is overridden here by its own names.

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QIcon, QPixmap, QShowEvent
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

    def __init__(self, paths: Sequence[Path], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("ground")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidgetResizable(True)
        self.setMinimumHeight(LEAST)
        whole = QWidget()
        whole.setObjectName("ground")
        self._paths = list(paths)
        self.samples: list[QToolButton] = []
        self._drawn: list[QPixmap] = []
        self._other_work: Callable[[], bool] | None = None
        column = QVBoxLayout(whole)
        column.setAlignment(Qt.AlignmentFlag.AlignCenter)
        column.setSpacing(20)
        sentence = QLabel("Open a pattern, then say how much longer or shorter.")
        sentence.setObjectName("welcome")
        sentence.setAlignment(Qt.AlignmentFlag.AlignCenter)
        column.addWidget(sentence)
        column.addWidget(self._drop_place(), alignment=Qt.AlignmentFlag.AlignCenter)
        if paths:
            hint = QLabel("Or try one of these:")
            hint.setObjectName("quiet")
            hint.setAlignment(Qt.AlignmentFlag.AlignCenter)
            column.addWidget(hint)
            column.addLayout(self._samples(paths))
        self.setWidget(whole)

    def _drop_place(self) -> QFrame:
        place = QFrame()
        place.setObjectName("drop")
        place.setFixedSize(544, 148)
        inside = QVBoxLayout(place)
        inside.setAlignment(Qt.AlignmentFlag.AlignCenter)
        words = QLabel("Drop SVG or DXF files here, one or several")
        words.setObjectName("quiet")
        self.open = QPushButton("Open …")
        self.open.setAccessibleName("Open a pattern")
        self.open.clicked.connect(self.wanted)
        inside.addWidget(words)
        inside.addWidget(self.open, alignment=Qt.AlignmentFlag.AlignCenter)
        return place

    def _samples(self, paths: Sequence[Path]) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setAlignment(Qt.AlignmentFlag.AlignCenter)
        row.setSpacing(16)
        self.samples = [_sample_button(path) for path in paths]
        for button, path in zip(self.samples, paths, strict=True):
            button.clicked.connect(lambda _=False, p=path: self.chosen.emit(p))
            row.addWidget(button)
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
    blank.fill(Qt.GlobalColor.transparent)
    button.setIcon(QIcon(blank))
    button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextUnderIcon)
    return button
