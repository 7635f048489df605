"""Files onto the table."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from app.window.ahead import work_out
from app.window.document import Sheet
from app.window.messages import Messages
from app.window.session import Session
from app.window.unit_question import UnitQuestion
from core.curve import Box, Chain
from core.errors import UnitUnknownError

if TYPE_CHECKING:
    from core.files.drawing import Drawing


class Opening:
    """Reads files and puts them beside what lies on the table already."""

    def __init__(self, session: Session, messages: Messages, window: QWidget) -> None:
        self._session, self._messages, self._window = session, messages, window
        self._numbers = itertools.count(1)
        # Told of each file that was opened.
        self.opened: Callable[[Path], object] = lambda path: None

    def open(self, paths: Iterable[Path], *, mm_per_unit: float | None = None) -> None:
        """Each of the files; one that cannot be read is told of, and the others still open."""
        self._session.commit_preview()
        for path in paths:
            with self._messages.guarding():
                drawing = self._read(path, mm_per_unit)
                if drawing is not None:
                    self._put_down(drawing)
                    self.opened(path)
                    if not drawing.pieces:
                        # An empty table says nothing, and the findings do so in small print.
                        self._messages.say(drawing.noted[-1])

    def _read(self, path: Path, mm_per_unit: float | None) -> Drawing | None:
        try:
            return self._read_aside(path, mm_per_unit)
        except UnitUnknownError:
            answer = self._ask_unit(path)
            return None if answer is None else self._read_aside(path, answer)

    def _read_aside(self, path: Path, mm_per_unit: float | None) -> Drawing:
        busy = self._session.busy
        return busy.run(f"Opening {path.name}", lambda: _read(path, mm_per_unit))

    def _ask_unit(self, path: Path) -> float | None:
        box = _extent(self._read_aside(path, 1.0))
        question = UnitQuestion(path, box, self._session.shown, self._window)
        return question.mm_per_unit if question.exec() else None

    def next_number(self) -> int:
        """A number that no sheet has had."""
        return next(self._numbers)

    def _put_down(self, drawing: Drawing) -> None:
        session, sheet = self._session, Sheet(self.next_number(), drawing)
        was_clean = session.stack.isClean()
        after = session.settled.with_sheet(sheet)
        session.busy.run(f"Opening {drawing.path.name}", lambda: work_out(after))
        if session.settled.empty:
            session.begin(after)
            return
        session.commit(f"Open {drawing.path.name}", after)
        if was_clean:
            # To open a file is nothing that would have to be saved.
            session.stack.setClean()


def _read(path: Path, mm_per_unit: float | None) -> Drawing:
    from core.files.beside import read_as_said

    return read_as_said(path, mm_per_unit=mm_per_unit)


def _extent(drawing: Drawing) -> Box:
    """Around the pieces; around all lines when no piece was found."""
    boxes = [p.outline.ring.bounds() for p in drawing.pieces]
    boxes = boxes or [s.geometry.bounds() for s in drawing.shapes if isinstance(s.geometry, Chain)]
    whole = boxes[0] if boxes else Box(0.0, 0.0, 0.0, 0.0)
    for box in boxes[1:]:
        whole = whole | box
    return whole
