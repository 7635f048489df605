"""How the seams go on and how the hem is drawn, as choices under the amount."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtWidgets import QWidget

from app.window.page_parts import MoreButton, label, page_grid
from app.window.rare_ways import MoreWays
from app.window.segments import LengthEdit, Segments
from app.window.session import Session
from app.window.ways import (
    SHORTER,
    WHY,
    Seams,
    whole_hem,
    with_seams,
)
from core.alter.model import HemWay

WIDTH_TIP = "Straight from seam end to seam end, darts closed."


class WaysBox(QWidget):
    """Follows the document; hidden while the change is made at a level."""

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(parent)
        self._session = session
        self.seams = Segments(Seams, self._go_on, name="Seams go on", why=WHY)
        self.hem = Segments(HemWay, self._draw_hem, name="Hem", why=WHY)
        self.width_label = label("Hem width")
        self.hem_width = LengthEdit(session, name="Finished hem width")
        self.hem_width.taken.connect(self._ask_width)
        self.more = MoreButton()
        self.rare = MoreWays(session)
        self.more.toggled.connect(self.rare.setVisible)
        self.rare.hide()
        grid = page_grid(self)
        grid.addWidget(label("Seams go on"), 0, 0)
        grid.addWidget(self.seams, 0, 1, 1, 2)
        grid.addWidget(self.width_label, 1, 0)
        grid.addWidget(self.hem_width, 1, 1, 1, 2)
        grid.addWidget(label("Hem"), 2, 0)
        grid.addWidget(self.hem, 2, 1)
        grid.addWidget(self.more, 2, 2)
        grid.addWidget(self.rare, 3, 0, 1, 3)
        session.state_told.connect(self._show)
        session.attempted.connect(self._show)
        self._show()

    def _show(self) -> None:
        state = self._session.state
        self.setVisible(state.level is None)
        change, shorter = state.change, state.by_mm < 0.0
        to_width = change.to_width_mm is not None
        self.seams.show_one(Seams.of(change))
        self.seams.allow(not shorter, SHORTER)
        self.hem.show_one(change.hem)
        for part in (self.width_label, self.hem_width):
            part.setVisible(to_width)
        self.hem_width.setEnabled(not shorter)
        self.hem_width.show_mm(change.to_width_mm)
        if to_width:
            names = " and ".join(p.name for p in whole_hem(state))
            tip = f"Of {names} together. {WIDTH_TIP}" if " and " in names else WIDTH_TIP
            self.hem_width.setToolTip(SHORTER if shorter else tip)

    def _go_on(self, way: Seams) -> None:
        self._session.commit_preview()
        self._session.set_change(with_seams(self._session.settled, way))
        if way is Seams.WIDTH:
            self.hem_width.setFocus()
            self.hem_width.selectAll()

    def _draw_hem(self, way: HemWay) -> None:
        self._session.set_change(replace(self._session.state.change, hem=way))

    def _ask_width(self, mm: float) -> None:
        if mm <= 0.0:
            self._session.refuse("A hem has some width. Type how wide it is to be when finished.")
            return
        self._session.set_change(replace(self._session.state.change, to_width_mm=mm))
