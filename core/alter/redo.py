"""One outline taken apart, its seams carried on or cut back, its hem run redrawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from core.alter.frame import Frame
from core.alter.model import TooFarError
from core.alter.redraw import Redrawn, redraw
from core.alter.refit import Ends, Mouth
from core.alter.seam import (
    SeamEnd,
    carry_on,
    cut_back_by_drop,
    cut_back_by_length,
    drop_available,
    fit_lines,
    length_available,
)
from core.alter.strand import Strand, backwards, close, open_at_tapers
from core.curve import Place, Point, Ring
from core.errors import AlterationError
from core.measure import in_cm
from core.piece.model import HemRun, Outline, Piece, Taper

# Cosine of the steepest angle to the grain at which a seam can still be carried on.
LEAST_SLOPE = 0.2


@dataclass(frozen=True, slots=True)
class Reach:
    """How far one seam's end goes: mm down the grain, or mm along the seam itself."""

    mm: float
    along_seam: bool = False


@dataclass(frozen=True)
class Redone:
    """An outline after the change, with all that its alteration can tell."""

    outline: Outline
    hem: HemRun
    old: Ends
    new: Ends
    seams: tuple[SeamEnd, SeamEnd]
    old_upper: Strand
    old_run: Strand
    redrawn: Redrawn


def redo(
    outline: Outline,
    hem: HemRun,
    *,
    name: str,
    frame: Frame,
    reaches: tuple[Reach, Reach],
    mouths: Sequence[Mouth],
) -> Redone:
    """The outline with its seams reaching as asked and its hem run redrawn between them.

    `name` is for the sentence of AlterationError: a seam too flat, a hem that is none.
    TooFarError for a seam too short, or no width left for the hem.
    """
    upper, run = open_at_tapers(outline, hem)
    climbing, descending = fit_lines(upper, frame)
    top = upper[climbing : len(upper) - descending]
    seams = (upper[len(upper) - descending :], backwards(upper[:climbing]))
    _refuse_unfit(name, frame, seams, reaches)
    first = _reached(seams[0], frame, hem.first, reaches[0])
    last = _reached(seams[1], frame, hem.last, reaches[1])
    old = _ends(outline.ring, hem)
    new = Ends(first.end, last.end, first.down, last.down)
    redrawn = redraw(frame, run, old, new, darts=mouths, name=name)
    closed = close((*backwards(last.strand), *top, *first.strand), redrawn.run)
    new_hem = _moved_hem(closed.ring, hem, new)
    return Redone(closed, new_hem, old, new, (first, last), upper, run, redrawn)


def _ends(ring: Ring, hem: HemRun) -> Ends:
    first, last = ring.at(hem.first.place), ring.at(hem.last.place)
    return Ends(first, last, hem.first.down, hem.last.down)


def _moved_hem(ring: Ring, hem: HemRun, new: Ends) -> HemRun:
    return HemRun(
        replace(hem.first, place=joint_at(ring, new.first), down=new.first_down),
        replace(hem.last, place=joint_at(ring, new.last), down=new.last_down),
    )


def joint_at(ring: Ring, p: Point) -> Place:
    """The place of a point that is exactly the start of a segment; else the nearest place."""
    for k, s in enumerate(ring.segments):
        if s.start == p:
            return Place(k, 0.0)
    return ring.nearest(p).place


def _reached(seam: Strand, frame: Frame, taper: Taper, reach: Reach) -> SeamEnd:
    if reach.mm >= 0.0:
        slope = 1.0 if reach.along_seam else taper.down.dot(frame.down)
        return carry_on(seam, taper.down, reach.mm / slope)
    if reach.along_seam:
        return cut_back_by_length(seam, -reach.mm)
    return cut_back_by_drop(seam, frame, -reach.mm)


def _refuse_unfit(
    name: str, frame: Frame, seams: tuple[Strand, Strand], reaches: tuple[Reach, Reach]
) -> None:
    for seam, reach in zip(seams, reaches, strict=True):
        if not seam or seam[-1].segment.tangent(1.0).dot(frame.down) < LEAST_SLOPE:
            raise AlterationError(
                f"{name}: a seam next to the hem does not run down to it along the grain."
                " Check the grain line, the taper points and which edge is the hem."
            )
        room = length_available(seam) if reach.along_seam else drop_available(seam, frame)
        if -reach.mm >= room:
            limit = min(drop_available(s, frame) for s in seams)
            raise TooFarError(f"the seam above the hem is only {in_cm(limit)} long along the grain")


def redo_cutting_line(
    piece: Piece, frame: Frame, done: Redone, mouths: Sequence[Mouth]
) -> Redone | None:
    """The cutting line around the redone stitching line; None for a piece without one.

    Its seams go down by the very same drops, so that the allowance stays as it was.
    """
    if piece.stitching is None or piece.cutting_hem is None:
        return None
    drops = (
        Reach(frame.height(done.new.first) - frame.height(done.old.first)),
        Reach(frame.height(done.new.last) - frame.height(done.old.last)),
    )
    return redo(
        piece.outline,
        piece.cutting_hem,
        name=piece.name,
        frame=frame,
        reaches=drops,
        mouths=mouths,
    )
