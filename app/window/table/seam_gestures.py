"""Drags of a taper point along its seam, and of a seam's end across."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QPointF

from app.window.in_sizes import in_how_many, with_taper
from app.window.lengths import to_step
from app.window.outcome import outcome
from app.window.session import Session
from app.window.table.gestures import Keys, step_of
from app.window.table.holds import Hold
from app.window.table.view import View
from app.window.ways import width_now
from core.curve import Point
from core.errors import HemwardError


class TaperDrag:
    """Slides a taper point on its seam; from where it is let go the seam is carried on."""

    def __init__(self, session: Session, hold: Hold, start: Point) -> None:
        self.hold = hold
        self._session, self._off = session, hold.at - start
        self._spot = session.settled.sheets.spots[hold.which]
        self._count = 1

    def move(self, at: QPointF, view: View, keys: Keys) -> View:
        state = self._session.settled
        here = view.to_mm(at.x(), at.y()) + self._off
        try:
            moved, self._count = with_taper(
                state,
                self.hold.which,
                here.moved(self._spot, -1.0),
                last=self.hold.last,
                every=self._session.every_size,
            )
        except HemwardError as error:
            self._session.refuse(str(error))
            return view
        self._session.preview(replace(moved, draft=True))
        return view

    def finish(self) -> None:
        state, which = self._session.settled, self.hold.which
        sizes = in_how_many(state, which, self._count)
        self._session.commit_shown(f"{state.piece(which).name}: taper point slid{sizes}")

    def cancel(self) -> None:
        self._session.cancel()
        self._session.refuse("")


class SeamEndDrag:
    """Draws the end of a carried seam across: the hem gets another width."""

    def __init__(self, session: Session, hold: Hold, start: Point) -> None:
        self.hold = hold
        self._session, self._start = session, start
        state = session.settled
        self._width = state.change.to_width_mm or width_now(state)
        self._outwards = self._out(hold)

    def _out(self, hold: Hold) -> Point | None:
        """The other end of the hem, in its place."""
        state = self._session.settled
        altered = outcome(state).altered[hold.which].piece
        if altered.hem is None:
            return None
        other = altered.hem.first if hold.last else altered.hem.last
        return altered.ring.at(other.place) + state.sheets.spots[hold.which]

    def move(self, at: QPointF, view: View, keys: Keys) -> View:
        if self._outwards is None:
            return view
        here = view.to_mm(at.x(), at.y())
        out = (self.hold.at - self._outwards).unit()
        wider = (here - self._start).dot(out)
        step = step_of(keys, self._session.shown)
        # Both ends move alike, so that the piece keeps its balance.
        width = max(to_step(self._width + 2.0 * wider, step), step)
        state = self._session.settled
        wished = replace(state.changing(replace(state.change, to_width_mm=width)), draft=True)
        self._session.preview(wished)
        return view

    def finish(self) -> None:
        self._session.commit_preview()

    def cancel(self) -> None:
        self._session.cancel()
        self._session.refuse("")
