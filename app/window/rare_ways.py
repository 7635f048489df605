"""The ways that are rarely asked for, under More; those that a piece has no use for are hidden."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import NamedTuple

from PySide6.QtWidgets import QWidget

from app.window.page_parts import label, page_grid
from app.window.segments import LengthEdit, One, Segments
from app.window.session import Session
from app.window.ways import (
    LONGER,
    SHORTER,
    WHY,
    Notch,
    has_cutting_only,
    has_hem_darts,
    has_turn_up,
    with_notch,
)
from core.alter.model import Change, DartCaps, HemDarts, Measure, TurnUp

DARTS_WORDS = {HemDarts.WHOLE: "go down whole", HemDarts.APEX: "keep their apex"}
TURN_UP_WORDS = {TurnUp.AS_DRAWN: "as drawn", TurnUp.MIRROR: "mirrored"}
CAPS_WORDS = {DartCaps.AS_DRAWN: "as drawn", DartCaps.CLOSED: "over closed darts"}
PLUMB_TIP = (
    "The seams taper down to a level, for example that of the knee, and fall straight from"
    " there: so far below the highest point of the piece. Left empty they taper to the hem."
)

ALLOWANCE_TIP = (
    "For a pattern that is drawn by its cutting line only: how far inside it the piece is sewn."
    " Lengths are then told, and seams matched, where it is sewn."
)


class _Row(NamedTuple):
    """One line of the box: its words and its control."""

    words: QWidget
    part: QWidget

    def show_when(self, wanted: bool) -> None:
        for one in self:
            one.setVisible(wanted)


class MoreWays(QWidget):
    """Follows the document."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.plumb = LengthEdit(session, name="Taper until, then plumb", empty="to the hem")
        self.plumb.taken.connect(self._fall_plumb)
        self.measure = self._choice(
            Measure, lambda change, way: replace(change, measure=way), "Amount along the"
        )
        self.notch = self._choice(Notch, with_notch, "Balance notch")
        self.turn_up = self._choice(
            TurnUp, lambda change, way: replace(change, turn_up=way), "Turn-up", TURN_UP_WORDS
        )
        self.darts = self._choice(
            HemDarts, lambda change, way: replace(change, hem_darts=way), "Hem darts", DARTS_WORDS
        )
        self.caps = self._choice(
            DartCaps, lambda change, way: replace(change, dart_caps=way), "Hem drawn", CAPS_WORDS
        )
        self.seam = self._length("Seam allowance in the pattern", "none", "allowance_mm")
        self.hem = self._length("Hem allowance in the pattern", "as the seams", "hem_allowance_mm")
        grid = page_grid(self)
        grid.setContentsMargins(0, 0, 0, 0)
        self._rows: dict[QWidget, _Row] = {}
        for number, (words, part) in enumerate(self._parts()):
            row = self._rows[part] = _Row(label(words), part)
            grid.addWidget(row.words, number, 0)
            grid.addWidget(row.part, number, 1)
        session.state_told.connect(self._show)
        session.attempted.connect(self._show)
        self._show()

    def _choice(
        self,
        members: type[One],
        taking: Callable[[Change, One], Change],
        name: str,
        words: Mapping[One, str] | None = None,
    ) -> Segments[One]:
        """A choice of the members, each of which makes another change of the one that holds."""
        session = self._session

        def chosen(way: One) -> None:
            session.set_change(taking(session.state.change, way))

        return Segments(members, chosen, name=name, why=WHY, words=words)

    def _length(self, name: str, empty: str, field: str) -> LengthEdit:
        """A length of the change, which may be left out."""
        session = self._session
        edit = LengthEdit(session, name=name, empty=empty)
        edit.setToolTip(ALLOWANCE_TIP)
        edit.taken.connect(
            lambda mm: session.set_change(replace(session.state.change, **{field: mm}))
        )
        return edit

    def _parts(self) -> Iterator[tuple[str, QWidget]]:
        yield "Amount along", self.measure
        yield "Taper until", self.plumb
        yield "Balance notch", self.notch
        yield "Seam allow.", self.seam
        yield "Hem allow.", self.hem
        yield "Turn-up", self.turn_up
        yield "Hem darts", self.darts
        yield "Hem drawn", self.caps

    def _show(self) -> None:
        state = self._session.state
        change, shorter = state.change, state.by_mm < 0.0
        self.measure.show_one(change.measure)
        self.notch.show_one(Notch.OLD_HEM if change.balance_notch else Notch.NONE)
        self.notch.allow(not shorter, LONGER)
        self.turn_up.show_one(change.turn_up)
        self._rows[self.turn_up].show_when(has_turn_up(state))
        self.seam.show_mm(change.allowance_mm)
        self.hem.show_mm(change.hem_allowance_mm)
        for box in (self.seam, self.hem):
            self._rows[box].show_when(has_cutting_only(state))
        self.darts.show_one(change.hem_darts)
        self.caps.show_one(change.dart_caps)
        for part in (self.darts, self.caps):
            self._rows[part].show_when(has_hem_darts(state))
        self.plumb.show_mm(change.plumb_below_mm)
        self.plumb.setEnabled(not shorter)
        self.plumb.setToolTip(SHORTER if shorter else PLUMB_TIP)

    def _fall_plumb(self, mm: float | None) -> None:
        if mm is not None and mm <= 0.0:
            self._session.refuse(
                "The level lies below the highest point of the piece. Type how far, or nothing."
            )
            return
        change = self._session.state.change
        self._session.set_change(replace(change, plumb_below_mm=mm))
