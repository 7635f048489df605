"""The sides of a turn-up: the mirror image of the leg above the fold, or carried straight on.

A turn-up folds up on the hem line. Its sides lie flat on the leg only when they are the
mirror image of the seams above the fold: on a leg that narrows, its edge is wider than the
fold. Over an inset i on a height H, a turn-up of depth d is w + 2 d i / H wide at its edge
when mirrored, and w - 2 d i / H when the seams are just carried on (closed form; sewing
columns, 2012 and later, tell the same of a worked case: 9 5/8 in needed, 9 3/8 in given).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from core.alter.allowance.joints import SMOOTH, Joint, Meeting
from core.alter.allowance.measured import WIDE, CornerDrawn
from core.alter.allowance.run import RunDone
from core.alter.allowance.seams import SideDone
from core.alter.allowance.views import Views
from core.alter.model import Finding, Severity, TurnUp
from core.alter.strand import Strand, backwards, chain_of
from core.curve import Chain, Line, Place, Point
from core.curve.ends import with_ends
from core.measure import in_cm

# A point this near (mm) to the fold lies on it.
ON_FOLD = 0.5
# A drawn side this near (mm) to the mirrored seam is mirrored, to the carried-on one is that.
DRAWN_SO = 0.3
# Widths that differ by less than this (mm) are told apart by nobody.
TOLD = 0.5
# A hem that leaves its chord by more than this (mm) cannot be folded up along itself.
STRAIGHT = 0.5


@dataclass(frozen=True)
class _Side:
    """One side of the turn-up, seen down its seam: old and new corner of the stitching line,
    the corner drawn there, and the new cutting line down to beside the taper point."""

    old: Meeting
    new: Meeting
    corner: tuple[Point, ...]
    depth: float
    done: SideDone

    def drawn(self, cut: Chain) -> CornerDrawn:
        """How the side was drawn; `cut` is the old cutting line."""
        if self.depth <= WIDE or not self.corner or abs(self.old.turn) < SMOOTH:
            return CornerDrawn.PLAIN
        edge = self.corner[-1]
        mirrored = self.old.mirrored().point(edge)
        if self.done.folded and cut.nearest(mirrored).distance <= DRAWN_SO:
            return CornerDrawn.MIRRORED
        first, _ = self.old.distances(edge)
        carried_on = len(self.corner) == 1 and abs(first - self.done.old) <= self._slack()
        return CornerDrawn.CARRIED_ON if carried_on else CornerDrawn.PLAIN

    def _slack(self) -> float:
        return DRAWN_SO + abs(self.done.slope) * 2.0 * self.depth

    @property
    def lean(self) -> float:
        """By how much the seam runs in towards the other, in mm each mm beyond the fold."""
        _, outside = self.new.normals
        return self.new.coming.dot(self.new.leaving) / self.new.coming.dot(outside)

    def side(self) -> Chain | None:
        """From the fold to the turn-up's edge along the mirrored seam; None if too short."""
        seam = chain_of((*self.done.kept, *self.done.carried))
        mirrored = seam.reversed().mapped(self.new.mirrored())
        fixed = with_ends(mirrored.segments[0], seam.end, mirrored.segments[0].end)
        mirrored = Chain((fixed, *mirrored.segments[1:]))
        _, outside = self.new.normals
        edge = self.new.at.moved(outside, self.depth)
        met = mirrored.meets(edge, self.new.leaving)
        return _ruled(mirrored.part(Place(0, 0.0), met[0])) if met else None


def _ruled(chain: Chain) -> Chain:
    """Lines that go straight on made one."""
    out = [chain.segments[0]]
    for s in chain.segments[1:]:
        whole = Line(out[-1].start, s.end)
        lines = isinstance(out[-1], Line) and isinstance(s, Line)
        if lines and whole.nearest(s.start).distance < 1e-6:
            out[-1] = whole
        else:
            out.append(s)
    return Chain(tuple(out))


def turned_up(
    seen: Views, sides: tuple[SideDone, SideDone], run: RunDone, wanted: TurnUp, name: str
) -> tuple[RunDone, tuple[Finding, ...]]:
    """The run with the turn-up's sides mirrored where they were drawn so, or are asked for;
    and what is to be told of the turn-up of the piece `name`."""
    pair = _sides(seen, sides, run)
    cut = chain_of(seen.cut)
    drawn = [s.drawn(cut) for s in pair]
    folds = _bow(seen.new_run) <= STRAIGHT
    asked = wanted is TurnUp.MIRROR
    if asked and (not folds or CornerDrawn.PLAIN in drawn):
        return run, (_refused(name, folds, pair),)
    for k in (0, 1):
        carried_on = drawn[k] is CornerDrawn.CARRIED_ON
        if folds and (drawn[k] is CornerDrawn.MIRRORED or (asked and carried_on)):
            run = _redrawn(run, pair[k], k)
    if drawn == [CornerDrawn.CARRIED_ON] * 2:
        return run, tuple(_widths(name, seen, pair, asked))
    return run, ()


def _sides(seen: Views, sides: tuple[SideDone, SideDone], run: RunDone) -> tuple[_Side, _Side]:
    cut = chain_of(seen.cut)
    first, last = run.joints[0], run.joints[-1]
    back = Joint(last.old.turned_round(), last.new.turned_round(), last.after, last.before)
    found = []
    for joint, corner, done in zip((first, back), run.corners, sides, strict=True):
        depth = joint.old.distances(cut.at(joint.after))[1]
        found.append(_Side(joint.old, joint.new, corner, depth, done))
    return found[0], found[1]


def _bow(run: Chain) -> float:
    """How far the hem leaves its chord, in mm."""
    chord = Line(run.start, run.end)
    flat = run.flattened(tolerance=0.1)
    return max(chord.nearest(Point(float(x), float(y))).distance for x, y in flat)


def _redrawn(run: RunDone, side: _Side, k: int) -> RunDone:
    """The run with that side of the turn-up mirrored."""
    path, edge = side.side(), side.corner[-1]
    if path is None:
        return run
    strand = run.strand if k == 0 else backwards(run.strand)
    ends = [n for n, t in enumerate(strand) if t.segment.end == run.went[edge]]
    if not ends:
        return run
    old, rest = strand[: ends[0] + 1], strand[ends[0] + 1 :]
    drawn: Strand = tuple(old[-1].carrying(s) for s in path.segments)
    if rest:
        on = rest[0].segment
        rest = (rest[0].carrying(with_ends(on, path.end, on.end)), *rest[1:])
    went = {**run.went, **_corner_went(side, path)}
    strand = (*drawn, *rest)
    return replace(run, strand=strand if k == 0 else backwards(strand), went=went)


def _corner_went(side: _Side, path: Chain) -> dict[Point, Point]:
    """Where the drawn corner's points went: to the fold, along the side, to the edge."""
    went = {
        p: path.nearest(side.new.at_distances(*side.old.distances(p))).point for p in side.corner
    }
    for p in side.corner:
        if abs(side.old.distances(p)[1]) <= ON_FOLD:
            went[p] = path.start
    went[side.corner[-1]] = path.end
    return went


def _refused(name: str, folds: bool, pair: Sequence[_Side]) -> Finding:
    if max(s.depth for s in pair) <= WIDE:
        why = f"the hem allowance is no wider than {in_cm(WIDE)}, so it is no turn-up"
    elif not folds:
        why = "the hem is curved, and a turn-up folds on a straight line only"
    else:
        why = "its sides do not run from two plain corners of the hem"
    return Finding(Severity.LOOK, f"{name}: the turn-up was left as it is drawn: {why}.")


def _widths(name: str, seen: Views, pair: tuple[_Side, _Side], asked: bool) -> list[Finding]:
    """Both widths of the turn-up's edge, seam to seam, where they can be told apart."""
    fold = seen.new_run.start.distance(seen.new_run.end)
    more = sum(s.lean * s.depth for s in pair)
    if abs(2.0 * more) <= TOLD:
        return []
    straight, mirrored = (in_cm(w, decimals=2) for w in (fold - more, fold + more))
    place = seen.new_run.at(Place(0, 0.0))
    if asked:
        sentence = (
            f"{name}: the turn-up was redrawn as the mirror image of the leg: its edge is"
            f" {mirrored} wide between the seams; carried straight on it would be {straight}."
        )
        return [Finding(Severity.NOTE, sentence, place)]
    sentence = (
        f"{name}: the sides of the turn-up carry the seams straight on, so its edge is {straight}"
        f" wide between the seams; folded up it lies on cloth that is {mirrored} wide there, and"
        " will pucker. Have the turn-up mirrored."
    )
    return [Finding(Severity.LOOK, sentence, place)]
