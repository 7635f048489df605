"""Changes at a level that cannot be, refused with the largest amount that works."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NoReturn

from core.alter.frame import Frame
from core.alter.level.climb import lowest_and_highest
from core.alter.level.model import LevelChange
from core.alter.level.stops import rooms
from core.errors import AlterationError
from core.measure import in_cm
from core.piece.model import Piece

# Limits are told in this (mm), rounded down, so that the amount that is named does work.
FINENESS = 0.1
# Halvings in the search for the largest amount at which the outline does not cross itself.
HALVINGS = 16


def refuse_level(piece: Piece, frame: Frame, change: LevelChange) -> None:
    """The line must cross the piece, and a blend is a length."""
    lowest, highest = lowest_and_highest(piece.ring, frame)
    if not 0.0 < change.at_mm < highest - lowest:
        raise AlterationError(
            f"{piece.name}: a line {in_cm(change.at_mm)} below its highest point does not cross"
            f" the piece, which is {in_cm(highest - lowest)} long. Choose a line on it.",
            limit_mm=highest - lowest,
        )
    if change.blend_mm is not None and change.blend_mm < 0.0:
        raise AlterationError(
            f"{piece.name}: a seam cannot be redrawn over less than nothing."
            " Give the length above and below the line as 0 or more."
        )


def refuse_folding_away(piece: Piece, frame: Frame, height: float, by_mm: float) -> None:
    """Corners, darts, taper points and turns of the outline must not be folded away."""
    if by_mm >= 0.0:
        return
    room = next(iter(rooms(piece, frame, height)), None)
    if room is None or -by_mm <= _largest(room.mm):
        return
    lost = f"{piece.name}: {room.what} would be folded away."
    if _largest(room.mm) <= 0.0:
        raise AlterationError(f"{lost} Choose another line.")
    raise AlterationError(
        f"{lost} Fold out {in_cm(_largest(room.mm), decimals=2)} at most, or choose another line.",
        limit_mm=_largest(room.mm),
    )


def _largest(room: float) -> float:
    """The largest amount, in steps of FINENESS, that leaves something of the room."""
    return max(0.0, (math.ceil(room / FINENESS - 1e-6) - 1) * FINENESS)


def refuse_crossing(piece: Piece, by_mm: float, works: Callable[[float], bool]) -> NoReturn:
    """The altered outline must not cross itself; the largest amount is sought by halving."""
    good, bad = 0.0, by_mm
    for _ in range(HALVINGS):
        middle = (good + bad) / 2
        good, bad = (middle, bad) if works(middle) else (good, middle)
    limit = math.floor(abs(good) / FINENESS) * FINENESS
    raise AlterationError(
        f"{piece.name}: changed by this much its outline would cross itself."
        f" Change it by {in_cm(limit, decimals=2)} at most, or choose another line.",
        limit_mm=limit,
    )
