"""What of a piece can be taken hold of beside its hem: taper points and seam ends.

Knows nothing of Qt.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import Enum
from typing import NamedTuple

from app.window.document import PieceId
from app.window.table.sights import Sight
from app.window.table.view import View
from core.curve import Point

# Pixels within which the pointer takes hold.
HOLD = 9.0


class Part(Enum):
    """What is held."""

    TAPER = "taper point"
    SEAM_END = "seam end"


class Hold(NamedTuple):
    """A part of a piece, at the first or the last end of its hem run, and where it is, in mm."""

    part: Part
    which: PieceId
    last: bool
    at: Point


def holds_of(sights: Iterable[Sight]) -> Iterator[Hold]:
    """All of them, those on top last."""
    for sight in sights:
        if sight.altered is None or sight.level is not None or sight.led:
            continue
        before, now = sight.before, sight.now
        if before.hem is None or now.hem is None:
            continue
        if sight.differs and sight.altered.change.by_mm > 0.0:
            for last, end in ((False, now.hem.first), (True, now.hem.last)):
                at = now.ring.at(end.place) + sight.spot
                yield Hold(Part.SEAM_END, sight.which, last, at)
        for last, taper in ((False, before.hem.first), (True, before.hem.last)):
            yield Hold(Part.TAPER, sight.which, last, before.ring.at(taper.place) + sight.spot)


def hold_at(sights: Iterable[Sight], view: View, x: float, y: float) -> Hold | None:
    """The nearest one within the hold."""
    best, reach = None, HOLD
    for hold in holds_of(sights):
        px, py = view.to_px(hold.at)
        away = ((px - x) ** 2 + (py - y) ** 2) ** 0.5
        if away <= reach:
            best, reach = hold, away
    return best
