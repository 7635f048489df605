"""The scale: how long one unit is, and the test square that proves it."""

from __future__ import annotations

from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from app.window.document import Sheet
from app.window.findings import SIGNS, Told
from app.window.findings_list import FindingRow
from app.window.lengths import Shown, in_unit, with_unit
from app.window.messages import Messages
from app.window.page_parts import label, page_grid
from app.window.segments import LengthEdit
from app.window.session import Session
from app.window.way.page_of import StagePage, headline, words
from app.window.way.stages import unit_words
from core.alter.model import Finding, Severity
from core.check.scale import proved
from core.errors import MeasureError
from core.piece.squares import squares_to_measure

HOW = (
    "Measure a line of the printed pattern: a side of its test square, or a long straight edge,"
    " both ways. A ruler reads to half a millimetre, so the longer the line, the better."
)


MEASURED_TIP = "An error of one in sixteen on a test square is 2 1/2 in on a leg of 40 in."
RIGHT_TIP = "Say so once you have measured: then it is not asked again."
TAKE_TIP = "All pieces are read again at that scale; corrections are made anew."


class ScalePage(StagePage):
    """A box for each file on the table."""

    def __init__(self, session: Session, messages: Messages, parent: QWidget) -> None:
        super().__init__("Is the scale right?", HOW, parent=parent)
        self._session, self._messages = session, messages
        self.boxes: list[ScaleBox] = []
        self._place = QWidget()
        self._below = QVBoxLayout(self._place)
        self._below.setContentsMargins(0, 0, 0, 0)
        self.add(self._place)
        self.end()
        session.sheets_shown.connect(self._list)
        session.state_told.connect(self._show)
        session.unit_shown.connect(self._show)
        self._list()

    def _list(self) -> None:
        for box in self.boxes:
            self._below.removeWidget(box)
            # It goes a turn of the event loop later, and would be seen under the new one till then.
            box.hide()
            box.deleteLater()
        sheets = self._session.state.sheets.all
        self.boxes = [ScaleBox(self._session, self._messages, s.number) for s in sheets]
        for box in self.boxes:
            self._below.addWidget(box)

    def _show(self) -> None:
        for box in self.boxes:
            box.show_sheet()


class ScaleBox(QWidget):
    """One file: its unit, why it is thought so, and what was measured."""

    def __init__(self, session: Session, messages: Messages, number: int) -> None:
        super().__init__()
        self._session, self._messages, self._number = session, messages, number
        self._found: Finding | None = None
        self._is: float | None = None
        self.unit, self.why = headline(""), words()
        self.drawn = LengthEdit(session, name="The line is drawn this long")
        self.drawn.setToolTip("As long as the file says that the line is.")
        self.drawn.taken.connect(self._redraw)
        self.measured = LengthEdit(session, name="It measures on paper", empty="measure it")
        self.measured.setToolTip(MEASURED_TIP)
        self.measured.taken.connect(self._measure)
        self.verdict = FindingRow(Told(SIGNS[Severity.NOTE], ""))
        self.right = QPushButton("The scale is right")
        self.right.setToolTip(RIGHT_TIP)
        self.right.clicked.connect(self._prove)
        self.take = QPushButton("Take the measured length as the true one")
        self.take.setToolTip(TAKE_TIP)
        self.take.clicked.connect(self._rescale)
        self._lay_out()
        self._drawn_mm = self._first_line()
        self.drawn.show_mm(self._drawn_mm)
        self.show_sheet()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 8)
        column.addWidget(self.unit)
        column.addWidget(self.why)
        grid_place = QWidget()
        grid = page_grid(grid_place)
        grid.addWidget(label("Line drawn"), 0, 0)
        grid.addWidget(self.drawn, 0, 1)
        grid.addWidget(label("On paper"), 1, 0)
        grid.addWidget(self.measured, 1, 1)
        column.addWidget(grid_place)
        column.addWidget(self.verdict)
        column.addWidget(self.take)
        column.addWidget(self.right)

    @property
    def _sheet(self) -> Sheet:
        return self._session.state.sheet(self._number)

    def _first_line(self) -> float:
        """The side of the largest test square; the hem's width where there is none."""
        squares = squares_to_measure(self._sheet.drawing.shapes)
        if squares:
            return squares[0].width
        boxes = [p.outline.ring.bounds() for p in self._sheet.drawing.pieces]
        return max((b.height for b in boxes), default=100.0)

    def show_sheet(self) -> None:
        if all(s.number != self._number for s in self._session.state.sheets.all):
            return
        sheet, shown = self._sheet, self._session.shown
        self.unit.setText(f"{sheet.drawing.path.name}: {unit_words(sheet)}")
        why = sheet.drawing.unit.because.why
        squares = squares_to_measure(sheet.drawing.shapes)
        told = (
            f"Its test square is {with_unit(squares[0].width, shown)} wide."
            if squares
            else (
                "There is no test square in it. The line below is the height of the largest piece."
            )
        )
        self.why.setText(f"{why[:1].upper()}{why[1:]}. {told}")
        proved_now = self._number in self._session.state.proved
        self.right.setEnabled(not proved_now)
        self.right.setText("The scale is proved" if proved_now else "The scale is right")
        self._show_verdict(shown)

    def _show_verdict(self, shown: Shown) -> None:
        found = self._found
        self.verdict.setVisible(found is not None)
        wrong = found is not None and found.severity is Severity.STOP
        self.take.setVisible(wrong)
        self.right.setVisible(not wrong)
        if found is not None:
            told = Told(SIGNS[found.severity], in_unit(found.sentence, shown))
            self.verdict.show_told(told)

    def _redraw(self, mm: float) -> None:
        self._drawn_mm = mm
        self._measure(self._is)

    def _measure(self, mm: float | None) -> None:
        self._is = mm
        self._found = None
        if mm is not None:
            try:
                self._found = proved(self._drawn_mm, mm)
            except MeasureError as error:
                self._messages.tell(error)
        self.measured.show_mm(mm)
        self.show_sheet()

    def _prove(self) -> None:
        name = self._sheet.drawing.path.name
        after = self._session.settled.proving(self._number)
        self._session.commit(f"The scale of {name} is right", after)

    def _rescale(self) -> None:
        """Reads the file again with the unit that makes the drawn line as long as measured."""
        from core.files import read_bytes

        sheet, is_mm = self._sheet, self._is
        if is_mm is None:
            return
        with self._messages.guarding():
            drawing = sheet.drawing
            mm = drawing.unit.mm_per_unit * is_mm / self._drawn_mm
            again = self._session.busy.run(
                f"Reading {drawing.path.name} again",
                lambda: read_bytes(drawing.path, drawing.data, mm_per_unit=mm).whole(),
            )
            after = self._session.settled.with_sheet(Sheet(self._number, again))
            name = drawing.path.name
            self._session.commit(f"The scale of {name} as measured", after.proving(self._number))
