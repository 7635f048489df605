"""True-scale sheets of what is on the table."""

from __future__ import annotations

from PySide6.QtWidgets import QPushButton, QWidget

from app.window.ask import Ask
from app.window.messages import Messages
from app.window.naming import suggested
from app.window.outcome import outcome
from app.window.page_parts import Choice, label, page_grid
from app.window.session import Session
from core.paper.formats import Paper

PAPER_TIP = (
    "Fewer sheets mean fewer joints to tape, each of which can slip; a roll has none across."
)
TIP = (
    "A PDF with the test square and the plan of the sheets first, then the sheets with their"
    " labels. Print at 100 %, with no fitting to the page."
)


class SheetsBox(QWidget):
    """Which paper, and a button that saves them."""

    def __init__(self, session: Session, messages: Messages, ask: Ask) -> None:
        super().__init__()
        self._session, self._messages, self._ask = session, messages, ask
        self.paper = Choice("Paper to print on", "Papers to choose from")
        self.paper.setToolTip(PAPER_TIP)
        for paper in Paper:
            self.paper.addItem(paper.value, paper)
        self.save = QPushButton("True-scale sheets …")
        self.save.setToolTip(TIP)
        self.save.clicked.connect(lambda _=False: self._save())
        grid = page_grid(self)
        grid.addWidget(label("Paper"), 0, 0)
        grid.addWidget(self.paper, 0, 1)
        grid.addWidget(self.save, 1, 0, 1, 2)

    def _save(self) -> None:
        """Of the pieces as they are after the change."""
        from app.paper.pattern import Laid
        from app.paper.sheets import save_sheets

        with self._messages.guarding():
            self._session.commit_preview()
            state = self._session.settled
            found = outcome(state)
            if found.refusal is not None:
                raise found.refusal
            name = suggested(state.sheets.all[0].drawing.path, state.by_mm, self._session.shown)
            path = self._ask.sheets_to_save(name.with_name(f"{name.stem} sheets.pdf"))
            if path is None:
                return
            spots, altered = state.sheets.spots, found.altered
            laid = [
                Laid(altered[which].piece if which in altered else piece, spots[which])
                for which, piece in state.sheets.pieces.items()
            ]
            with self._session.busy.paging("Drawing the sheets") as breathe:
                tiling = save_sheets(laid, path, paper=self.paper.currentData(), breathe=breathe)
            count = len(tiling.sheets)
            self._messages.say(
                f"Saved {path.name}: the test square and {count} sheet{'s' * (count > 1)}. Print"
                " the test square first, and measure it."
            )
