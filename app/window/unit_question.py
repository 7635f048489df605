"""How long is one unit of this file? Asked when the file does not say."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from PySide6.QtWidgets import (
    QButtonGroup,
    QDialog,
    QDialogButtonBox,
    QGridLayout,
    QLabel,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from app.window import theme
from app.window.lengths import Shown, bare
from core.curve import Box
from core.measure import MM_PER_INCH


class Choice(NamedTuple):
    """A unit that a file may be drawn in."""

    name: str
    mm: float


CHOICES = (
    Choice("millimetres", 1.0),
    Choice("centimetres", 10.0),
    Choice("inches", MM_PER_INCH),
    Choice("pixels, 96 to the inch", MM_PER_INCH / 96),
    Choice("pixels, 90 to the inch", MM_PER_INCH / 90),
    Choice("points, 72 to the inch", MM_PER_INCH / 72),
)
# A pattern of one garment, whole, is about this large (mm): the first choice to offer.
USUAL_MM = 900.0


class UnitQuestion(QDialog):
    """Each unit with the size that the whole drawing would have in it."""

    def __init__(self, path: Path, box: Box, shown: Shown, parent: QWidget | None = None) -> None:
        """`box` is around the drawing with one unit taken for one mm."""
        super().__init__(parent)
        self.setWindowTitle("Hemward")
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 20, 24, 16)
        column.setSpacing(12)
        head = QLabel(f"How long is one unit in {path.name}?")
        head.setObjectName("question")
        why = QLabel("The file does not say. Choose the size that the pattern has on paper.")
        why.setObjectName("quiet")
        self._group = QButtonGroup(self)
        buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Open | QDialogButtonBox.StandardButton.Cancel
        )
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        column.addWidget(head)
        column.addWidget(why)
        column.addLayout(self._choices(box, shown))
        column.addWidget(buttons)

    def _choices(self, box: Box, shown: Shown) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(24)
        likely = min(CHOICES, key=lambda c: _misfit(c.mm * max(box.width, box.height)))
        for row, choice in enumerate(CHOICES):
            size = _size(box, choice.mm, shown)
            button = QRadioButton(choice.name)
            button.setAccessibleName(f"{choice.name}: {size}")
            button.setChecked(choice is likely)
            self._group.addButton(button, row)
            label = QLabel(size)
            label.setFont(theme.type_of(theme.TEXT_PX))
            grid.addWidget(button, row, 0)
            grid.addWidget(label, row, 1)
        self._group.button(CHOICES.index(likely)).setFocus()
        return grid

    @property
    def mm_per_unit(self) -> float:
        """The answer as it stands."""
        return CHOICES[self._group.checkedId()].mm


def _size(box: Box, mm: float, shown: Shown) -> str:
    return f"{bare(box.width * mm, shown)} × {bare(box.height * mm, shown)} {shown.sign}"


def _misfit(size_mm: float) -> float:
    """How many times too large or too small for a pattern."""
    return max(size_mm / USUAL_MM, USUAL_MM / max(size_mm, 1e-9))
