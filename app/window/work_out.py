"""How much longer? From where the hem should be on the body, and where the pattern ends."""

from __future__ import annotations

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from app.window.document import State
from app.window.lengths import signed, with_unit
from app.window.outcome import outcome
from app.window.page_parts import label, page_grid
from app.window.segments import LengthEdit
from app.window.session import Session
from app.window.way.page_of import headline, words
from core.piece.model import Role

HOW = (
    "Put the tape where the top edge of the garment will sit, and measure down the outside of the"
    " body to where the finished hem should be."
)
# The seam that runs down the outside of the body, else the one that is there.
ORDER = (Role.SIDE, Role.UNDERARM, Role.CENTRE_FRONT, Role.CENTRE_BACK, Role.FOLD, Role.INSEAM)


class WorkOut(QDialog):
    """Asks for the measured length; ``amount_mm`` is by how much the pattern differs from it."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.setWindowTitle("Hemward")
        self.seam = seam_down(session.settled)
        self._wanted: float | None = None
        self.wanted = LengthEdit(session, name="Measured on the body", empty="measure it")
        self.wanted.taken.connect(self._take)
        self.said = words()
        self.buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
        )
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        place = QWidget()
        grid = page_grid(place)
        grid.addWidget(label("On the body"), 0, 0)
        grid.addWidget(self.wanted, 0, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 20, 24, 16)
        column.setSpacing(10)
        for part in (headline("Where should the hem be?", "question"), words(HOW), place,
                     self.said, self.buttons):  # fmt: skip
            column.addWidget(part)
        self.setMinimumWidth(420)
        session.refused.connect(self._say)
        self._show()

    @property
    def amount_mm(self) -> float | None:
        """By how much longer (shorter when negative); None before anything was measured."""
        if self._wanted is None or self.seam is None:
            return None
        return self._wanted - self.seam[1]

    def _take(self, mm: float | None) -> None:
        self._wanted = None if mm is None or mm <= 0.0 else mm
        self.wanted.show_mm(self._wanted)
        self._show()

    def _say(self, refusal: str) -> None:
        """What could not be read: the window, where it is told too, lies behind."""
        if refusal:
            self.said.setText(f"! {refusal}")
        else:
            self._show()

    def _show(self) -> None:
        shown, amount = self._session.shown, self.amount_mm
        ok = self.buttons.button(QDialogButtonBox.StandardButton.Ok)
        ok.setEnabled(amount is not None)
        if self.seam is None:
            self.said.setText("No seam was found that runs from the top edge to the hem.")
            return
        name, length = self.seam
        told = f"In the pattern the {name} is {with_unit(length, shown)} long as it is sewn."
        if amount is not None:
            told += f" So it wants {signed(amount, shown)}."
        ok.setText("Take it" if amount is None else f"Take {signed(amount, shown)}")
        self.said.setText(told)


def seam_down(state: State) -> tuple[str, float] | None:
    """The seam that is measured against, with its piece, and how long it was before the change;
    None where no chosen piece has one. The front goes before the back."""
    altered = outcome(state).altered
    for role in ORDER:
        for which in state.altering:
            piece = state.piece(which)
            found = [k for k, e in enumerate(piece.edges) if e.role is role]
            if len(found) == 1 or (found and role is Role.UNDERARM):
                figures = altered[which].figures.edges if which in altered else ()
                length = piece.edge_lengths[found[0]]
                before = figures[found[0]].before_mm if figures else length
                return f"{role.value} of {piece.name}", before
    return None
