"""Where the change is made: at the hem, or at a level; and what a level asks for."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtWidgets import QWidget

from app.window.document import AtLevel
from app.window.page_parts import MoreButton, label, page_grid
from app.window.segments import LengthEdit, Segments
from app.window.session import Session
from app.window.ways import WHY, Where, first_level
from core.alter.level.model import Truing

LEVEL_TIP = (
    "How far the level lies below the highest point of the front, along the grain. On a piece that"
    " is sewn to it the level meets it in the seam. Its grip on the table can be dragged too."
)
BLEND_TIP = (
    "How far above and below the level the seams are redrawn. Left empty it is as far as is"
    " usual, and never beyond a corner or a dart."
)
NO_PIECE = "There is no piece to change at a level. Tick one that has a hem."


class WhereBox(QWidget):
    """At the hem | at a level."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._last: AtLevel | None = None
        self.where = Segments(Where, self._go, name="Where:", why=WHY)
        grid = page_grid(self)
        grid.addWidget(label("Where"), 0, 0)
        grid.addWidget(self.where, 0, 1)
        session.state_shown.connect(self._show)
        session.sheets_shown.connect(self._forget)
        session.attempted.connect(self._show)
        self._show()

    def _show(self) -> None:
        level = self._session.state.level
        self._last = level or self._last
        self.where.show_one(Where.HEM if level is None else Where.LEVEL)

    def _forget(self) -> None:
        """Other pieces want another level."""
        self._last = None
        self._show()

    def _go(self, where: Where) -> None:
        self._session.commit_preview()
        state = self._session.settled
        if where is Where.LEVEL and not state.altering:
            self._session.refuse(NO_PIECE)
            self._show()
        elif (state.level is None) is (where is Where.LEVEL):
            level = (self._last or first_level(state)) if where is Where.LEVEL else None
            self._session.set_level(level)


class LevelBox(QWidget):
    """The level's distance and the truing; hidden while the change is made at the hem."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.at = LengthEdit(session, name="Level, below the highest point")
        self.at.setToolTip(LEVEL_TIP)
        self.at.taken.connect(self._lay)
        self.true = Segments(
            (Truing.SMOOTH, Truing.STRAIGHT), self._true, name="True the seams", why=WHY
        )
        self.more = MoreButton()
        self.blend_label = label("Over")
        self.blend = LengthEdit(
            session, name="Seams redrawn so far above and below", empty="as far as is usual"
        )
        self.blend.setToolTip(BLEND_TIP)
        self.blend.taken.connect(self._blend)
        self._lay_out()
        session.state_shown.connect(self._show)
        session.attempted.connect(self._show)
        self._show()

    def _lay_out(self) -> None:
        grid = page_grid(self)
        grid.addWidget(label("Level"), 0, 0)
        grid.addWidget(self.at, 0, 1, 1, 2)
        grid.addWidget(label("True seams"), 1, 0)
        grid.addWidget(self.true, 1, 1)
        grid.addWidget(self.more, 1, 2)
        grid.addWidget(self.blend_label, 2, 0)
        grid.addWidget(self.blend, 2, 1, 1, 2)
        for part in (self.blend_label, self.blend):
            self.more.toggled.connect(part.setVisible)
            part.hide()

    def _show(self) -> None:
        level = self._session.state.level
        self.setVisible(level is not None)
        if level is not None:
            self.at.show_mm(level.at_mm)
            self.true.show_one(level.true)
            self.blend.show_mm(level.blend_mm)

    @property
    def _level(self) -> AtLevel:
        level = self._session.state.level
        assert level is not None, "the box is hidden then"
        return level

    def _lay(self, mm: float) -> None:
        if mm <= 0.0:
            self._session.refuse("The level lies below the highest point. Type how far.")
            return
        self._session.set_level(replace(self._level, at_mm=mm))

    def _true(self, way: Truing) -> None:
        self._session.set_level(replace(self._level, true=way))

    def _blend(self, mm: float | None) -> None:
        if mm is not None and mm <= 0.0:
            self._session.refuse("Seams are redrawn over some length. Type how far, or nothing.")
            return
        self._session.set_level(replace(self._level, blend_mm=mm))
