"""One outline taken apart, its seams carried on or cut back, its hem run redrawn."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from core.alter.carry import Course, Reach, WidthOutOfReachError, carried
from core.alter.frame import Frame
from core.alter.model import HemWay, TooFarError, TurnUp
from core.alter.redraw import Redrawn, redraw
from core.alter.refit import Ends, HemDart
from core.alter.ruled import drawn_as, ruled
from core.alter.run_ends import run_ends
from core.alter.seam import (
    SeamEnd,
    cut_back_by_drop,
    cut_back_by_length,
    drop_available,
    fit_lines,
    length_available,
)
from core.alter.seat import seated
from core.alter.square import squared
from core.alter.strand import Strand, Thread, backwards, close, open_at_tapers
from core.alter.trim import slid_ends, trimmed
from core.curve import Place, Point, Ring, Vector
from core.errors import AlterationError
from core.kept import kept
from core.measure import in_cm
from core.piece.model import HemRun, Outline, Piece, Taper

# Cosine of the steepest angle to the grain at which a seam can still be carried on.
LEAST_SLOPE = 0.2


@dataclass(frozen=True)
class Plan:
    """How one ring of a piece is to be changed; both seams in the order of its hem run."""

    reaches: tuple[Reach, Reach]
    courses: tuple[Course, Course] = (Course(), Course())
    darts: tuple[HemDart, ...] = ()
    hem: HemWay = HemWay.REFIT
    turn_up: TurnUp = TurnUp.AS_DRAWN


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
    keeps_apexes: bool = False


@dataclass(frozen=True)
class _Opened:
    """An outline taken apart, before anything is changed. Both seams run down to the hem.

    The last one climbs in the outline: ``climbing`` has its threads as they run there, by the
    identity of those that run down.
    """

    upper: Strand
    run: Strand
    top: Strand
    seams: tuple[Strand, Strand]
    drops: tuple[float, float]
    lengths: tuple[float, float]
    ends: Ends
    climbing: Mapping[int, Thread]
    flat: bool

    def up(self, seam: Strand) -> Strand:
        """The last seam as it runs in the outline; what stays of it is the very same."""
        return tuple(
            self.climbing.get(id(t)) or t.carrying(t.segment.reversed()) for t in reversed(seam)
        )


# A drag opens the same few outlines anew in every frame.
@kept(most=128)
def _opened(outline: Outline, hem: HemRun, down: Vector) -> _Opened:
    frame = Frame(down)
    upper, run = open_at_tapers(outline, hem)
    climbing, descending = fit_lines(upper, frame)
    top = upper[climbing : len(upper) - descending]
    seams = a, b = upper[len(upper) - descending :], backwards(upper[:climbing])
    drops = drop_available(a, frame), drop_available(b, frame)
    lengths = length_available(a), length_available(b)
    climbed = {id(t): was for t, was in zip(b, reversed(upper[:climbing]), strict=True)}
    ends = _ends(outline.ring, hem)
    flat = _flat(frame, seams, hem)
    return _Opened(upper, run, top, seams, drops, lengths, ends, climbed, flat)


def redo(outline: Outline, hem: HemRun, plan: Plan, *, name: str, frame: Frame) -> Redone:
    """The outline with its seams reaching as planned and its hem run redrawn between them.

    `name` is for the sentence of AlterationError: a seam too flat, a hem that is none.
    TooFarError for a seam too short, or no width left for the hem.
    """
    opened = _opened(outline, hem, frame.down)
    upper, run, strands = opened.upper, opened.run, opened.seams
    if opened.flat:
        raise AlterationError(
            f"{name}: a seam next to the hem does not run down to it along the grain."
            " Check the grain line, the taper points and which edge is the hem."
        )
    _refuse_short(opened, plan.reaches)
    try:
        seams = (
            _reached(strands[0], frame, hem.first, plan.reaches[0], plan.courses[0]),
            _reached(strands[1], frame, hem.last, plan.reaches[1], plan.courses[1]),
        )
    except WidthOutOfReachError:
        raise AlterationError(
            f"{name}: the hem cannot get that width over so short a length, for its seams would run"
            " across. Make it longer, or ask for a width nearer to the present one."
        ) from None
    old = opened.ends
    redrawn, seams = _hem_drawn(run, old, seams, plan, name=name, frame=frame)
    redrawn = seated(redrawn, plan.darts)
    first, last = seams
    new = Ends(first.end, last.end, first.down, last.down)
    closed = close((*opened.up(last.strand), *opened.top, *first.strand), redrawn.run)
    new_hem = _moved_hem(closed.ring, hem, new)
    keeps = any(d.keeps_apex for d in plan.darts)
    return Redone(closed, new_hem, old, new, seams, upper, run, redrawn, keeps)


def _hem_drawn(
    run: Strand,
    old: Ends,
    seams: tuple[SeamEnd, SeamEnd],
    plan: Plan,
    *,
    name: str,
    frame: Frame,
) -> tuple[Redrawn, tuple[SeamEnd, SeamEnd]]:
    """The hem run in the way asked for, and the seams, which trimming may end elsewhere."""
    first, last = seams
    new = Ends(first.end, last.end, first.down, last.down)
    if plan.hem is HemWay.TRIM:
        plain = ruled(run)
        shapes = run_ends(frame, plain, old)
        slid = slid_ends(frame, shapes, old, new)
        moved = redraw(frame, plain, old, slid, darts=plan.darts, name=name)
        cut = trimmed(frame, moved.run, seams, old=old, shapes=shapes, name=name)
        joints = {old: cut.moves.get(new, new) for old, new in moved.joints.items()}
        return replace(moved, run=drawn_as(cut.run, run), joints=joints), cut.seams
    moved = redraw(frame, run, old, new, darts=plan.darts, name=name)
    if plan.hem is HemWay.SQUARE:
        return replace(moved, run=squared(frame, moved.run, new)), seams
    return moved, seams


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
        at = s.start
        # In so many words, for it is asked of a whole outline in each frame of a drag.
        if at.x == p.x and at.y == p.y:
            return Place(k, 0.0)
    return ring.nearest(p).place


def _reached(seam: Strand, frame: Frame, taper: Taper, reach: Reach, course: Course) -> SeamEnd:
    if reach.mm >= 0.0:
        return carried(seam, taper.down, frame, reach, course)
    if reach.along_seam:
        return cut_back_by_length(seam, -reach.mm)
    return cut_back_by_drop(seam, frame, -reach.mm)


def _flat(frame: Frame, seams: tuple[Strand, Strand], hem: HemRun) -> bool:
    """Does one of them not run down to the hem along the grain, or is there none?"""
    for seam, taper in zip(seams, (hem.first, hem.last), strict=True):
        ways = [taper.down, *(t.segment.tangent(1.0) for t in seam[-1:])]
        if not seam or any(way.dot(frame.down) < LEAST_SLOPE for way in ways):
            return True
    return False


def _refuse_short(opened: _Opened, reaches: tuple[Reach, Reach]) -> None:
    for drop, length, reach in zip(opened.drops, opened.lengths, reaches, strict=True):
        if -reach.mm >= (length if reach.along_seam else drop):
            limit = min(opened.drops)
            raise TooFarError(f"the seam above the hem is only {in_cm(limit)} long along the grain")


def redo_cutting_line(piece: Piece, frame: Frame, done: Redone, plan: Plan) -> Redone | None:
    """The cutting line around the redone stitching line; None for a piece without one.

    Its seams go down by the very same drops, so that the allowance stays as it was.
    """
    if piece.stitching is None or piece.cutting_hem is None:
        return None
    drops = (
        Reach(frame.height(done.new.first) - frame.height(done.old.first)),
        Reach(frame.height(done.new.last) - frame.height(done.old.last)),
    )
    outer = replace(plan, reaches=drops)
    # The two rings may be drawn opposite ways round; then first and last change places.
    if (piece.ring.signed_area() > 0.0) != (piece.outline.ring.signed_area() > 0.0):
        outer = replace(
            outer,
            reaches=(drops[1], drops[0]),
            courses=(plan.courses[1], plan.courses[0]),
            darts=tuple(replace(d, mouth=(d.mouth[1], d.mouth[0])) for d in reversed(plan.darts)),
        )
    return redo(piece.outline, piece.cutting_hem, outer, name=piece.name, frame=frame)
