"""True-scale sheets of what is on the table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QPushButton, QWidget

from app.window.ask import Ask
from app.window.busy import StoppedError
from app.window.lengths import Shown
from app.window.messages import Messages
from app.window.naming import suggested
from app.window.outcome import outcome
from app.window.page_parts import Choice, label, page_grid
from app.window.session import Session
from core.paper.formats import Paper

if TYPE_CHECKING:
    from app.paper.pattern import Laid

PAPER_TIP = (
    "Fewer sheets mean fewer joints to tape, each of which can slip; a roll has none across."
)
TIP = (
    "A PDF with the test square and the plan of the sheets first, then the sheets with their"
    " labels. Print at 100 %, with no fitting to the page."
)

PRINT_TIP = (
    "The same sheets straight to a printer, at 100 %: page 1 is the test square, print and measure"
    " that first. Leave off whatever the printer calls fitting or shrinking to the page."
)
GIVEN_UP = (
    "Printing the sheets was given up. Pages that the printer has already may still come out; call"
    " them off there."
)
ASKED = "Print true-scale sheets at 100 %, not fitted to the page"


class SheetsBox(QWidget):
    """Which paper, and buttons that save and print them."""

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
        self.print = QPushButton("Print the sheets …")
        self.print.setToolTip(PRINT_TIP)
        self.print.clicked.connect(lambda _=False: self._print())
        grid = page_grid(self)
        grid.addWidget(label("Paper"), 0, 0)
        grid.addWidget(self.paper, 0, 1)
        grid.addWidget(self.save, 1, 0, 1, 2)
        grid.addWidget(self.print, 2, 0, 1, 2)

    def _laid(self) -> list[Laid]:
        """The pieces as they are after the change."""
        from app.paper.pattern import Laid

        self._session.commit_preview()
        state = self._session.settled
        found = outcome(state)
        if found.refusal is not None:
            raise found.refusal
        spots, altered = state.sheets.spots, found.altered
        return [
            Laid(altered[which].piece if which in altered else piece, spots[which])
            for which, piece in state.sheets.pieces.items()
        ]

    def _save(self) -> None:
        from app.paper.sheets import save_sheets

        with self._messages.guarding():
            laid, state = self._laid(), self._session.settled
            name = suggested(state.sheets.all[0].drawing.path, state.by_mm, self._session.shown)
            path = self._ask.sheets_to_save(name.with_name(f"{name.stem} sheets.pdf"))
            if path is None:
                return
            with self._session.busy.paging("Drawing the sheets") as breathe:
                tiling = save_sheets(laid, path, paper=self.paper.currentData(), breathe=breathe)
            count = len(tiling.sheets)
            self._messages.say(
                f"Saved {path.name}: the test square and {count} sheet{'s' * (count > 1)}. Print"
                " the test square first, and measure it."
            )

    def _print(self) -> None:
        from app.paper.printer import new_printer, pages_on, print_sheets

        with self._messages.guarding():
            laid = self._laid()
            printer = new_printer(self.paper.currentData().size)
            pages = 1 + len(pages_on(printer, laid).sheets)
            if not self._ask.printer(printer, ASKED, pages=pages):
                return
            try:
                with self._session.busy.paging("Printing the sheets") as breathe:
                    sent = print_sheets(laid, printer, breathe=breathe)
            except StoppedError as error:
                raise StoppedError(GIVEN_UP) from error
            side = "10 cm are not 10 cm" if self._session.shown is Shown.CM else "1 in is not 1 in"
            self._messages.say(
                f"{sent} page{'s were' if sent > 1 else ' was'} sent to the printer. Measure the"
                f" test square first: if {side}, the printer fits to the page; turn that off, and"
                " print again."
            )
