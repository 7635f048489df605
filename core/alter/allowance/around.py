"""The cutting line around an altered stitching line: its new part is built from it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from core.alter.allowance.across import NoMatchError
from core.alter.allowance.run import RunBuilder, RunDone
from core.alter.allowance.seams import SideDone, beside_seam, flipped
from core.alter.allowance.turn_up import turned_up
from core.alter.allowance.views import Views, views
from core.alter.frame import Frame
from core.alter.model import Finding, Severity, TurnUp
from core.alter.redo import Plan, Redone, joint_at, redo_cutting_line
from core.alter.redraw import Redrawn
from core.alter.refit import Ends
from core.alter.strand import Strand, backwards, chain_of, close, open_at_tapers
from core.curve import Line, Point
from core.piece.model import HemRun, Kind, Piece

# A line drawn in two parts is one again when its middle joint is off by no more (mm).
ONE_LINE = 1e-7
# Two lines that turn back within this (radians) lie on each other; so do those that turn back
# within LEAST_TURN (radians) when one of them is no longer than SPUR (mm).
BACK_AND_FORTH = 1e-6
SPUR, LEAST_TURN = 3.0, 0.02


@dataclass(frozen=True)
class Around:
    """The cutting line after the change, None where there is none; and what is to be told."""

    redone: Redone | None
    findings: tuple[Finding, ...] = ()


def cutting_line_around(piece: Piece, frame: Frame, done: Redone, plan: Plan) -> Around:
    """The cutting line with the same allowances around the redone stitching line.

    Where the two lines do not correspond it is altered by itself, by the same drops, and a
    finding says so. AlterationError or TooFarError when that is refused.
    """
    if piece.stitching is None or piece.cutting_hem is None:
        return Around(None, tuple(_without_a_line(piece, plan)))
    try:
        return _Builder(piece, done, plan.turn_up).around()
    except NoMatchError as reason:
        told = Finding(
            Severity.LOOK,
            f"{piece.name}: the cutting line {reason} (the stitching line), so it was"
            " changed by itself. Measure the seam allowance.",
        )
        return Around(redo_cutting_line(piece, frame, done, plan), (told,))


def _without_a_line(piece: Piece, plan: Plan) -> Iterator[Finding]:
    """What is to be told of a piece that has no closed stitching line."""
    if any(m.kind is Kind.STITCHING for m in piece.marks):
        yield Finding(
            Severity.LOOK,
            f"{piece.name}: the stitching line is not closed round the piece, so it was carried"
            " as an inner line and the outline was altered by itself. Measure the seam allowance.",
        )
    if plan.turn_up is TurnUp.MIRROR:
        yield Finding(
            Severity.LOOK,
            f"{piece.name}: the turn-up was left as it is drawn: without a stitching line it is"
            " not known where it folds.",
        )


@dataclass(frozen=True)
class _Builder:
    piece: Piece
    done: Redone
    turn_up: TurnUp

    def around(self) -> Around:
        seen = views(self.piece, self.done)
        back = backwards(seen.cut)
        fold = self.turn_up is TurnUp.MIRROR
        first = beside_seam(seen.cut, seen.seams[0], seen.sign, fold=fold)
        last = beside_seam(back, seen.seams[1], -seen.sign, fold=fold)
        places = first.across, flipped(last, len(back)).across
        run = RunBuilder(seen, (first, last), places, self._mouths(seen)).done()
        run, findings = turned_up(seen, (first, last), run, self.turn_up, self.piece.name)
        return Around(self._closed(seen, (first, last), run), findings)

    def _mouths(self, seen: Views) -> tuple[Mapping[Point, Point], Mapping[Point, Point]]:
        """First to second point of each notch of the hem, along the cutting line."""
        starts = {s.start: k for k, s in enumerate(seen.old_run)}
        pairs = [d.mouth for d in self.piece.darts if d.mouth_places]
        inside = [m for m in pairs if m[0] in starts and m[1] in starts]
        old = dict((a, b) if starts[a] < starts[b] else (b, a) for a, b in inside)
        new = {seen.joints.get(a, a): seen.joints.get(b, b) for a, b in old.items()}
        return old, new

    def _closed(self, seen: Views, sides: tuple[SideDone, SideDone], run: RunDone) -> Redone:
        down, up = ((*s.kept, *s.carried) for s in sides)
        strand = _without_spurs(_joined_lines((*down, *run.strand, *backwards(up))))
        hem = self.piece.cutting_hem
        assert hem is not None
        ends = [self._end(seen, sides[k], run, strand, k) for k in (0, 1)]
        (old_first, first), (old_last, last) = ends
        one, other = seen.seams
        old = Ends(old_first, old_last, one.old_down, other.old_down)
        new = Ends(first, last, one.new_down, other.new_down)
        outline = close(strand, ())
        upper, old_run = open_at_tapers(self.piece.outline, hem)
        moved = HemRun(
            replace(hem.first, place=joint_at(outline.ring, first), down=one.new_down),
            replace(hem.last, place=joint_at(outline.ring, last), down=other.new_down),
        )
        redrawn = Redrawn(run.strand, self.done.redrawn.where, run.went)
        return Redone(outline, moved, old, new, self.done.seams, upper, old_run, redrawn)

    def _end(
        self, seen: Views, side: SideDone, run: RunDone, strand: Strand, k: int
    ) -> tuple[Point, Point]:
        """Where the seam's cutting line ended and ends: in the corner that it runs straight
        into, else beside the taper point."""
        places = run.joints[0].before, run.joints[-1].after
        beside = chain_of(seen.cut).at(places[k])
        stands = any(t.segment.start == side.end for t in strand)
        if stands and not side.whole_corner:
            return beside, side.end
        corner = next(iter(run.corners[k]), None)
        return (beside, side.end) if corner is None else (corner, run.went[corner])


def _without_spurs(strand: Strand) -> Strand:
    """Lines that run out and straight back made the one line between their other ends.

    So it comes at a blunt corner below a very short stretch of seam: the line beside the seam
    reaches past that of the hem, which takes it back. And where a seam that turns inwards is
    carried on by less than its mitre takes.
    """
    out = list(strand[:1])
    for thread in strand[1:]:
        a, b = out[-1].segment, thread.segment
        if isinstance(a, Line) and isinstance(b, Line) and _turns_back(a, b):
            out[-1] = thread.carrying(Line(a.start, b.end))
        else:
            out.append(thread)
    return tuple(out)


def _turns_back(a: Line, b: Line) -> bool:
    coming, leaving = a.tangent(1.0), b.tangent(0.0)
    least = LEAST_TURN if min(a.length(), b.length()) <= SPUR else BACK_AND_FORTH
    return coming.dot(leaving) < 0.0 and abs(coming.cross(leaving)) < least


def _joined_lines(strand: Strand) -> Strand:
    """Lines that were parts of one old line, and still are one, in one again."""
    out = list(strand[:1])
    for thread in strand[1:]:
        last = out[-1]
        a, b = last.segment, thread.segment
        if last.number == thread.number and isinstance(a, Line) and isinstance(b, Line):
            whole = Line(a.start, b.end)
            onward = a.tangent(1.0).dot(b.tangent(0.0)) > 0.0
            if onward and whole.nearest(a.end).distance <= ONE_LINE:
                out[-1] = last.carrying(whole)
                continue
        out.append(thread)
    return tuple(out)
