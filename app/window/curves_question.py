"""How are curves drawn in a DXF? Asked when a pattern becomes one."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from core.errors import HemwardError
from core.measure import parse_length

USUAL = "0.1 mm"


class Curves(NamedTuple):
    """As curves; or as straight lines that stay within `polylines` mm of them."""

    polylines: float | None = None


class CurvesQuestion(QDialog):
    """Curves stay curves, unless the machine that is to cut knows none."""

    def __init__(self, path: Path, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Hemward")
        self.answer = Curves()
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 20, 24, 16)
        column.setSpacing(12)
        head = QLabel(f"How are curves drawn in {path.name}?")
        head.setObjectName("question")
        self._as_curves = QRadioButton("As the same curves")
        self._as_curves.setChecked(True)
        self._as_curves.setToolTip("Nothing is lost; most programs that draw know such curves.")
        self._trouble = QLabel()
        self._trouble.setWordWrap(True)
        self._trouble.hide()
        buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Save | QDialogButtonBox.StandardButton.Cancel
        )
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        column.addWidget(head)
        column.addWidget(self._as_curves)
        column.addLayout(self._straight())
        column.addWidget(self._trouble)
        column.addWidget(buttons)

    def _straight(self) -> QHBoxLayout:
        self._as_lines = QRadioButton("As straight lines that stay within")
        self._as_lines.setToolTip("For machines that know no curves.")
        self._tolerance = QLineEdit(USUAL)
        self._tolerance.setAccessibleName("How near straight lines stay to the curves")
        self._tolerance.setMaximumWidth(90)
        # Whoever types a length means it.
        self._tolerance.textEdited.connect(lambda: self._as_lines.setChecked(True))
        row = QHBoxLayout()
        for widget in (self._as_lines, self._tolerance, QLabel("of the curves")):
            row.addWidget(widget)
        row.addStretch()
        return row

    def accept(self) -> None:
        """Closes with the answer; stays, and says why, where the length makes no pattern."""
        from core.files.write import check_polylines

        try:
            if self._as_lines.isChecked():
                within = parse_length(self._tolerance.text())
                check_polylines(within)
                self.answer = Curves(within)
        except HemwardError as error:
            self._trouble.setText(str(error))
            self._trouble.show()
            self._tolerance.setFocus()
            return
        super().accept()
