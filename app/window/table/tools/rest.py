"""The tool that the table has in hand, if any, and the keys that move its place."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent

from app.window.document import PieceId
from app.window.session import Session
from app.window.table.sights import Sight
from app.window.table.tools.measuring import Measuring
from app.window.table.tools.spots import (
    Spot,
    Stop,
    Want,
    leapt,
    shifted,
    snapped,
    stops_of,
    walked,
)
from app.window.table.tools.tool import Tool
from app.window.table.view import View
from core.curve import Vector

Key = Qt.Key
SIDES = {Key.Key_Right: 1.0, Key.Key_Left: -1.0}
WAYS = {
    Key.Key_Right: Vector(1.0, 0.0), Key.Key_Left: Vector(-1.0, 0.0),
    Key.Key_Down: Vector(0.0, 1.0), Key.Key_Up: Vector(0.0, -1.0),
}  # fmt: skip
TURNS = {Key.Key_PageDown: 1, Key.Key_PageUp: -1}


class ToolRest(QObject):
    """``changed`` is emitted when another tool is in hand, or its tool has come a step on."""

    changed = Signal()

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.tool: Tool | None = None
        self.sights: Sequence[Sight] = ()

    def pick_up(self, tool: Tool) -> None:
        """Puts that tool in hand; readings go over from one way of measuring to another."""
        self._session.commit_preview()
        if isinstance(tool, Measuring) and isinstance(self.tool, Measuring):
            tool.readings = self.tool.readings
        tool.follow(self.sights)
        self.tool = tool
        self.changed.emit()

    def put_away(self) -> None:
        if self.tool is not None:
            self.tool = None
            self.changed.emit()

    def end_correcting(self) -> None:
        """Puts a tool away that corrects: its place is one stage of the work."""
        if self.tool is not None and self.tool.on_original:
            self.put_away()

    def follow(self, sights: Sequence[Sight]) -> None:
        self.sights = sights
        if self.tool is not None:
            self.tool.follow(sights)
            self.changed.emit()

    def aim(self, view: View, x: float, y: float) -> str:
        """The pointer is there; what it would take hold of, in words."""
        tool = self.tool
        if tool is None:
            return ""
        chosen = self._session.selected
        which = chosen.piece if chosen else None
        spot = snapped(self.sights, view, x, y, tool.wants, own=tool.own, chosen=which)
        tool.aim(spot)
        return self._words(tool, spot)

    def _words(self, tool: Tool, spot: Spot | None) -> str:
        told = [] if spot is None else [self._called(spot)]
        if isinstance(tool, Measuring):
            told.append(tool.hint(self.sights))
        return ", ".join(t for t in told if t)

    def _called(self, spot: Spot) -> str:
        sight = next((s for s in self.sights if s.which == spot.which), None)
        if sight is None:
            return "" if spot.stop is Stop.FREE else spot.stop.value
        if spot.stop in (Stop.ALONG, Stop.MIDDLE):
            role = sight.now.edges[spot.key].role.value
            return f"{sight.name}: {'middle of' if spot.marked else 'on'} the {role}"
        return f"{sight.name}: {spot.stop.value}"

    def take(self) -> None:
        """A click, or Enter."""
        if self.tool is None:
            return
        self.tool.take(self.sights)
        if self.tool.over:
            self.tool = None
        self.changed.emit()

    def key(self, event: QKeyEvent) -> bool:
        """Was it a key for the tool in hand?"""
        tool, key = self.tool, Key(event.key())
        if tool is None:
            return False
        if key in (Key.Key_Return, Key.Key_Enter):
            self.take()
        elif key == Key.Key_Escape:
            self.put_away()
        elif key == Key.Key_Backspace:
            tool.back()
            self.changed.emit()
        elif key in TURNS:
            self._turn(tool, TURNS[key])
        elif key in WAYS:
            self._move(tool, key, leap=bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier))
        else:
            return False
        return True

    def _move(self, tool: Tool, key: Key, *, leap: bool) -> None:
        shown = self._session.shown
        step = shown.leap_mm if leap else shown.fine_mm
        spot = tool.cursor or self._first(tool)
        sight = next((s for s in self.sights if spot and s.which == spot.which), None)
        if spot is None:
            return
        if tool.cursor is None:
            tool.aim(spot)
        elif sight is None or (tool.wants is Want.ANYWHERE and spot.stop is Stop.FREE):
            tool.nudge(shifted(spot, WAYS[key] * step))
        elif key in SIDES:
            tool.nudge(walked(spot, sight, SIDES[key] * step))
        else:
            tool.nudge(leapt(spot, sight, onward=key == Key.Key_Down))
        self.changed.emit()

    def _turn(self, tool: Tool, step: int) -> None:
        """To the next piece, at its first marked place."""
        ids = [s.which for s in self.sights if not s.led and tool.own in (None, s.which)]
        if not ids:
            return
        now = tool.cursor.which if tool.cursor else None
        at = (ids.index(now) + step) % len(ids) if now in ids else 0
        tool.aim(self._start(ids[at]))
        self.changed.emit()

    def _first(self, tool: Tool) -> Spot | None:
        """Where the keys begin: on the piece that matters, at its first marked place."""
        chosen = self._session.selected
        wanted = tool.own or (chosen.piece if chosen else None)
        if wanted is None and self.sights:
            wanted = self.sights[0].which
        return None if wanted is None else self._start(wanted)

    def _start(self, which: PieceId) -> Spot | None:
        sight = next((s for s in self.sights if s.which == which), None)
        return next(iter(stops_of(sight)), None) if sight else None
