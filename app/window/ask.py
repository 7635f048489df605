"""Questions to the person at the table. One object, so that a test can answer in their place."""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QFileDialog,
    QMessageBox,
    QPushButton,
    QWidget,
)

if TYPE_CHECKING:
    # It reads lengths, which brings numbers along that the first painted window does not need.
    from PySide6.QtPrintSupport import QPrinter

    from app.window.curves_question import Curves

KINDS = "Patterns (*.svg *.dxf)"


class Leave(Enum):
    """What to do with work that was not saved."""

    SAVE = "save"
    DISCARD = "discard"
    STAY = "stay"


class Ask:
    """Asks with dialogs over `parent`. Every question can be left unanswered."""

    def __init__(self, parent: QWidget) -> None:
        self._parent = parent

    def files_to_open(self) -> list[Path]:
        names, _ = QFileDialog.getOpenFileNames(self._parent, "Open a pattern", "", KINDS)
        return [Path(name) for name in names]

    def file_to_save(self, suggested: Path) -> Path | None:
        """A name to save under; the dialog itself asks before a file is overwritten."""
        name, _ = QFileDialog.getSaveFileName(
            self._parent, "Save the altered pattern", str(suggested), KINDS
        )
        return Path(name) if name else None

    def curves_in(self, path: Path) -> Curves | None:
        """How a pattern that becomes a DXF draws its curves; None to leave it."""
        from app.window.curves_question import CurvesQuestion

        question = CurvesQuestion(path, self._parent)
        return question.answer if question.exec() else None

    def picture_to_save(self) -> Path | None:
        name, _ = QFileDialog.getSaveFileName(
            self._parent, "Save a picture of the table", "table.pdf", "PDF (*.pdf)"
        )
        return Path(name) if name else None

    def sheets_to_save(self, suggested: Path) -> Path | None:
        name, _ = QFileDialog.getSaveFileName(
            self._parent, "Save the true-scale sheets", str(suggested), "PDF (*.pdf)"
        )
        return Path(name) if name else None

    def printer(self, printer: QPrinter, what: str, *, pages: int = 1) -> bool:
        """Lets a person choose the printer, its paper, and of several pages some; yes to print."""
        from PySide6.QtPrintSupport import QAbstractPrintDialog, QPrintDialog

        dialog = QPrintDialog(printer, self._parent)
        dialog.setWindowTitle(what)
        if pages > 1:
            dialog.setOption(QAbstractPrintDialog.PrintDialogOption.PrintPageRange)
            dialog.setMinMax(1, pages)
        answer = bool(dialog.exec())
        dialog.deleteLater()
        return answer

    def handout_to_save(self, *, practice: bool) -> Path | None:
        """A PDF; or, for the steps of a lesson, a name without ending: a folder of pictures."""
        kinds = "PDF (*.pdf)" if practice else "PDF (*.pdf);;Folder of PNG and SVG (*)"
        what, name = ("practice sheet", "practice.pdf") if practice else ("handout", "handout.pdf")
        # Over the lesson, which may fill the screen.
        over = QApplication.activeWindow() or self._parent
        chosen, _ = QFileDialog.getSaveFileName(over, f"Save the {what}", name, kinds)
        return Path(chosen) if chosen else None

    def folder_to_save(self, beside: Path) -> Path | None:
        name = QFileDialog.getExistingDirectory(
            self._parent, "Save the altered patterns into a folder", str(beside)
        )
        return Path(name) if name else None

    def may_overwrite(self, paths: Sequence[Path], *, original: bool) -> bool:
        """Before anything is overwritten: no is what Enter and Esc give."""
        names = ", ".join(p.name for p in paths)
        them = "them" if len(paths) > 1 else "it"
        sentence = (
            f"{names}: this is what you opened. Overwriting {them} leaves only the altered pattern."
            if original
            else f"{names}: there already. Overwrite {them}?"
        )
        box = self._box(sentence)
        yes = box.addButton("Overwrite", QMessageBox.ButtonRole.DestructiveRole)
        no = box.addButton("Keep", QMessageBox.ButtonRole.RejectRole)
        return self._answer(box, no) is yes

    def leave_unsaved(self) -> Leave:
        box = self._box("The change is not saved. Save it first?")
        save = box.addButton("Save", QMessageBox.ButtonRole.AcceptRole)
        discard = box.addButton("Do not save", QMessageBox.ButtonRole.DestructiveRole)
        stay = box.addButton("Go back", QMessageBox.ButtonRole.RejectRole)
        answer = self._answer(box, stay, first=save)
        if answer is save:
            return Leave.SAVE
        return Leave.DISCARD if answer is discard else Leave.STAY

    def _box(self, sentence: str) -> QMessageBox:
        box = QMessageBox(self._parent)
        box.setWindowTitle("Hemward")
        box.setText(sentence)
        return box

    def _answer(
        self, box: QMessageBox, away: QPushButton, *, first: QPushButton | None = None
    ) -> QAbstractButton | None:
        """The button that was pressed; `away` is Esc, `first` is Enter."""
        box.setEscapeButton(away)
        box.setDefaultButton(first or away)
        box.exec()
        return box.clickedButton()
