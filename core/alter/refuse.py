"""Changes that a careful maker does not make, refused with what would work."""

from __future__ import annotations

from core.alter.frame import Frame
from core.alter.redo import Redone
from core.alter.simple import is_simple
from core.alter.strand import chain_of
from core.curve import Point
from core.errors import AlterationError
from core.measure import in_cm
from core.piece.model import Piece, Role


def refuse_no_hem(piece: Piece) -> None:
    """A piece without a hem cannot be made longer or shorter."""
    if piece.hem is None:
        raise AlterationError(
            f"{piece.name}: no hem was found, so it cannot be made longer or shorter."
            " Say which edge is the hem."
        )


def refuse_crossing(piece: Piece, done: Redone) -> None:
    """The altered outline must not cross itself where the old one did not."""
    if not is_simple(done.outline.ring) and is_simple(piece.ring):
        raise AlterationError(
            f"{piece.name}: changed by this much its outline would cross itself."
            " Change it by less, or check the taper points."
        )


def refuse_lost_darts(piece: Piece, frame: Frame, done: Redone) -> None:
    """A dart that comes from above and would reach below the new hem is not cut in silence."""
    rise = max(
        frame.height(done.old.first) - frame.height(done.new.first),
        frame.height(done.old.last) - frame.height(done.new.last),
    )
    for dart in piece.darts:
        if rise <= 0.0 or dart.on is Role.HEM:
            continue
        room = _room_below(frame, done, dart.apex)
        if rise >= room:
            raise AlterationError(
                f"{piece.name}: the dart from the {dart.on.value} would reach below the new hem."
                f" Shorten by less than {in_cm(room)}.",
                limit_mm=room,
            )


def _room_below(frame: Frame, done: Redone, p: Point) -> float:
    """How far below p, along the grain, the old hem run lies, in mm."""
    run = chain_of(done.old_run)
    below = [
        frame.height(run.at(place)) - frame.height(p) for place in run.meets(p, frame.down)
    ]
    return min((h for h in below if h > 0.0), default=0.0)
