"""One gesture, one object, at most one entry in the undo list."""

from __future__ import annotations

from dataclasses import replace
from typing import Protocol

from PySide6.QtCore import QPointF, Qt

from app.window.document import PieceId
from app.window.lengths import FREE_MM, Shown, to_step
from app.window.session import Session
from app.window.table.view import View
from app.window.ways import level_within
from core.curve import Point, Vector

Keys = Qt.KeyboardModifier


class Gesture(Protocol):
    """From the press of a button to its release; ``cancel`` gives everything back."""

    def move(self, at: QPointF, view: View, keys: Keys) -> View: ...

    def finish(self) -> None: ...

    def cancel(self) -> None: ...


class PanDrag:
    """Moves the view with the pointer. Nothing of the document changes."""

    def __init__(self, at: QPointF) -> None:
        self._at = at

    def move(self, at: QPointF, view: View, keys: Keys) -> View:
        step = at - self._at
        self._at = at
        return view.panned(step.x(), step.y())

    def finish(self) -> None:
        """The view stays where it is."""

    def cancel(self) -> None:
        """As above: a view is not work that could be lost."""


class HemDrag:
    """Draws a hem along the grain; all pieces that take part follow."""

    def __init__(self, session: Session, which: PieceId, start: Point, down: Vector) -> None:
        self.which = which
        self._session, self._start, self._down = session, start, down
        self._from = session.settled.by_mm

    def move(self, at: QPointF, view: View, keys: Keys) -> View:
        here = view.to_mm(at.x(), at.y())
        wished = self._from + (here - self._start).dot(self._down)
        self._session.preview_by(to_step(wished, step_of(keys, self._session.shown)))
        return view

    def finish(self) -> None:
        self._session.commit_preview()

    def cancel(self) -> None:
        self._session.cancel()


class LevelDrag:
    """Lays the level elsewhere along the grain; those of the other pieces follow."""

    def __init__(self, session: Session, which: PieceId, start: Point, down: Vector) -> None:
        self.which = which
        self._session, self._start, self._down = session, start, down
        self._from = session.settled.level

    def move(self, at: QPointF, view: View, keys: Keys) -> View:
        if self._from is not None:
            here = view.to_mm(at.x(), at.y())
            wished = self._from.at_mm + (here - self._start).dot(self._down)
            stepped = to_step(wished, step_of(keys, self._session.shown))
            on_all = level_within(self._session.settled, stepped)
            self._session.preview_at(replace(self._from, at_mm=on_all))
        return view

    def finish(self) -> None:
        self._session.commit_preview()

    def cancel(self) -> None:
        self._session.cancel()
        self._session.refuse("")


def step_of(keys: Keys, shown: Shown) -> float:
    """The step of a drag in mm: 5 mm or 1/8 in; with Shift finer; with Alt none to speak of."""
    if keys & Keys.AltModifier:
        return FREE_MM
    return shown.fine_mm if keys & Keys.ShiftModifier else shown.step_mm
