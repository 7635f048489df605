"""How the seams go on and how the hem is drawn, as choices under the amount."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QWidget

from app.window import theme
from app.window.segments import LengthEdit, Segments
from app.window.session import Session
from app.window.ways import (
    NO_HEM_DARTS,
    SHORTER,
    WHY,
    Seams,
    has_hem_darts,
    whole_hem,
    with_seams,
)
from core.alter.model import HemDarts, HemWay, Measure

DARTS_WORDS = {HemDarts.WHOLE: "go down whole", HemDarts.APEX: "keep their apex"}
WIDTH_TIP = "Straight from seam end to seam end, darts closed."
PLUMB_TIP = (
    "The seams taper down to a level, for example that of the knee, and fall straight from"
    " there: so far below the highest point of the piece. Left empty they taper to the hem."
)


class WaysBox(QWidget):
    """Follows the document; hidden while the change is made at a level."""

    def __init__(self, session: Session) -> None:
        super().__init__()
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
        session.state_shown.connect(self._show)
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


class MoreWays(QWidget):
    """What is rarely asked for."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.measure = Segments(Measure, self._measure, name="Amount along the", why=WHY)
        self.plumb = LengthEdit(session, name="Taper until, then plumb", empty="to the hem")
        self.plumb.taken.connect(self._fall_plumb)
        self.darts = Segments(
            HemDarts, self._carry_darts, name="Hem darts", why=WHY, words=DARTS_WORDS
        )
        grid = page_grid(self)
        grid.setContentsMargins(0, 0, 0, 0)
        for row, (words, part) in enumerate(
            (
                ("Amount along", self.measure),
                ("Taper until", self.plumb),
                ("Hem darts", self.darts),
            )
        ):
            grid.addWidget(label(words), row, 0)
            grid.addWidget(part, row, 1)
        session.state_shown.connect(self._show)
        session.attempted.connect(self._show)
        self._show()

    def _show(self) -> None:
        state = self._session.state
        change, shorter = state.change, state.by_mm < 0.0
        self.measure.show_one(change.measure)
        self.darts.show_one(change.hem_darts)
        self.darts.allow(has_hem_darts(state), NO_HEM_DARTS)
        self.plumb.show_mm(change.plumb_below_mm)
        self.plumb.setEnabled(not shorter)
        self.plumb.setToolTip(SHORTER if shorter else PLUMB_TIP)

    def _measure(self, way: Measure) -> None:
        self._session.set_change(replace(self._session.state.change, measure=way))

    def _carry_darts(self, way: HemDarts) -> None:
        self._session.set_change(replace(self._session.state.change, hem_darts=way))

    def _fall_plumb(self, mm: float | None) -> None:
        if mm is not None and mm <= 0.0:
            self._session.refuse(
                "The level lies below the highest point of the piece. Type how far, or nothing."
            )
            return
        self._session.set_change(replace(self._session.state.change, plumb_below_mm=mm))


class MoreButton(QPushButton):
    """Opens and shuts what is rarely asked for."""

    def __init__(self) -> None:
        super().__init__("More")
        self.setCheckable(True)
        self.setObjectName("more")
        self.setAccessibleName("More: what is rarely asked for")
        self.toggled.connect(lambda on: self.setText("Less" if on else "More"))


def page_grid(parent: QWidget) -> QGridLayout:
    """Words in one column, choices in the next, the same in every box of the page."""
    grid = QGridLayout(parent)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setHorizontalSpacing(theme.SPACE)
    grid.setVerticalSpacing(theme.SPACE + 2)
    grid.setColumnMinimumWidth(0, theme.WORDS_WIDTH)
    grid.setColumnStretch(1, 1)
    return grid


def label(words: str) -> QLabel:
    made = QLabel(words)
    made.setObjectName("quiet")
    return made
