"""The cutting line beside one seam: what of it stays, and what is carried on beside the seam."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise

from core.alter.allowance.across import NoMatchError, across
from core.alter.allowance.base import Base, Spot, outwards
from core.alter.allowance.cut_off import mitre
from core.alter.allowance.fit import Beside, cubics_beside
from core.alter.allowance.hidden import hidden_corner, laid_on, to_corner
from core.alter.allowance.joints import Meeting
from core.alter.allowance.views import SeamView
from core.alter.strand import Strand, Thread, chain_of
from core.curve import Chain, Line, Place, Point, Segment, Vector
from core.piece.cutting import WIDEST_ALLOWANCE
from core.piece.direction import DIGITISED_STEP

# A ruled line of the cutting line is made longer as it is when that keeps the allowance
# within this (mm).
KEEPS = 0.004
# From this change of the allowance (mm each mm) on it was meant so and goes on changing;
# the rounding of a file to 0.01 mm gives less on lines of LONG mm.
MEANT = 0.003
LONG = 20.0
# An allowance that goes on changing never leaves these shares of what it was.
LEAST_SHARE, MOST_SHARE = 0.5, 2.0
# Directions that differ by less than this (radians) are one.
SAME_WAY = 1e-6
# What lies this near (mm) to the line beside the longer seam is left as it is.
FITS = 0.01
# A joint this near (mm) to the hem's line, at which the cutting line turns by more than this
# (radians), is where the side of a turn-up begins.
ON_FOLD, LEAST_FOLD = 0.5, 0.003
# Sine of the least angle at which a hem that folds meets its seam.
PLAIN = 0.5
# The chords of a curve that goes on from a digitised line leave it by this much (mm).
CHOP = 0.01


@dataclass(frozen=True)
class SideDone:
    """The cutting line beside one seam, running down.

    `kept` is the old line, bit for bit but for the length of its last line; `carried` goes
    on from it to straight across from the new taper point, or, when `whole_corner`, is left
    to the hem's first line because the old one already reaches down to its corner.
    `across` is the old place beside the old taper point; `old` and `new` are the allowances
    there; `slope` is by how much the allowance goes on changing (mm each mm down).
    `folded` is set when the line turns there on the fold of a turn-up: then "across" is along
    the fold, not square to the seam. `hem` is where the hem's line begins beyond a corner that
    was cut: None where it begins at the end of this one. `past` is by how much the old corner lay
    further outside than `old` for no other reason than that the line is digitised.
    """

    kept: Strand
    carried: Strand
    across: Place
    old: float
    new: float
    whole_corner: bool = False
    slope: float = 0.0
    folded: bool = False
    hem: Point | None = None
    past: float = 0.0

    @property
    def end(self) -> Point:
        return (self.carried or self.kept)[-1].segment.end


def beside_seam(cut: Strand, seam: SeamView, sign: float, *, fold: bool = False) -> SideDone:
    """The cutting line `cut` runs down beside the seam; NoMatchError when it does not.

    `fold` asks for a turn-up's fold at a plain corner, whether or not one is drawn.
    """
    chain = chain_of(cut)
    old = Meeting(seam.old_end, seam.old_down, seam.old_hem, sign)
    plain = abs(seam.old_down.cross(seam.old_hem)) > PLAIN and old.turn > 0.0
    folded = plain and (fold or _turns_on_fold(chain, seam, sign))
    normal = -seam.old_hem if folded else outwards(seam.old_down, sign)
    place = across(chain, seam.old_end, normal)
    hidden = None if folded else hidden_corner(chain, old, place)
    new = Meeting(seam.new_end, seam.new_down, seam.new_hem, sign)
    if hidden is None:
        side = _beside(cut, seam, sign, place, folded=folded)
        found = None if folded else mitre(chain, old, new, side.new)
        if found is None:
            return replace(side, past=0.0 if folded else _past_step(chain, place, seam, sign))
        kept = to_corner((*side.kept, *side.carried), new, found.distances)
        return replace(side, kept=kept, carried=(), whole_corner=False, hem=found.hem)
    line = laid_on(cut, old, hidden)
    side = _beside(line, seam, sign, Place(len(line) - 1, 1.0), folded=False)
    kept = to_corner((*side.kept, *side.carried), new, hidden.distances)
    return replace(side, kept=kept, carried=(), across=hidden.place)


def _beside(cut: Strand, seam: SeamView, sign: float, place: Place, *, folded: bool) -> SideDone:
    """The same, where `place` lies straight across from the old taper point."""
    chain = chain_of(cut)
    old = _outside(chain.at(place), seam.old_end, seam.old_down, sign)
    if seam.shortened:
        normal = -seam.new_hem if folded else outwards(seam.new_down, sign)
        up = across(chain, seam.new_end, normal)
        if up > place:
            raise NoMatchError("does not run up beside the seam")
        new = _outside(chain.at(up), seam.new_end, seam.new_down, sign)
        kept = _until(cut, up)
        slope = _slope(kept, seam, sign)
        return SideDone(kept, (), place, old, new, slope=slope, folded=folded)
    if seam.added is None:
        return SideDone(_until(cut, place), (), place, old, old, folded=folded)
    return replace(_Carrying(cut, chain, seam, sign, place, old, folded).done(), folded=folded)


def _turns_on_fold(cut: Chain, seam: SeamView, sign: float) -> bool:
    """Has the cutting line a joint on the hem's line, at which the side of a turn-up begins?"""
    beside, below = outwards(seam.old_down, sign), outwards(seam.old_hem, sign)
    for a, b in pairwise(cut.segments):
        off = b.start - seam.old_end
        on_fold = abs(off.dot(below)) <= ON_FOLD and 0.0 < off.dot(beside) <= WIDEST_ALLOWANCE
        if on_fold and abs(a.tangent(1.0).angle_to(b.tangent(0.0))) > LEAST_FOLD:
            return True
    return False


def _outside(p: Point, foot: Point, way: Vector, sign: float) -> float:
    return (p - foot).dot(outwards(way, sign))


def _slope(kept: Strand, seam: SeamView, sign: float) -> float:
    """By how much a ruled line goes on leaving the seam, in mm each mm down; else nothing."""
    line, down = kept[-1].segment, seam.new_down
    way = line.tangent(1.0)
    ruled = isinstance(line, Line) and line.length() >= LONG
    if not ruled or way.dot(down) < 0.5 or _beside_step(way, seam.new_drawn, down):
        return 0.0
    return way.dot(outwards(down, sign)) / way.dot(down)


def _beside_step(way: Vector, drawn: Vector, down: Vector) -> bool:
    """Does a line run beside the step that was `drawn` last of a digitised seam, rather than
    beside the seam?

    Drawn through to the corner, it looks as if its allowance were meant to change.
    """
    off = abs(way.cross(drawn))
    return abs(drawn.cross(down)) > SAME_WAY and off < MEANT and off < abs(way.cross(down))


def _past_step(cut: Chain, place: Place, seam: SeamView, sign: float) -> float:
    """By how much the corner lies further outside because a digitised line's last step is drawn
    through to it, in mm."""
    if seam.added is None and not seam.shortened:
        return 0.0
    line = cut.segments[place.index]
    through = isinstance(line, Line) and place.t < 1.0 and _goes_on(cut, place)
    if not through or not _beside_step(line.tangent(0.0), seam.old_drawn, seam.old_down):
        return 0.0
    return (line.end - cut.at(place)).dot(outwards(seam.old_down, sign))


def _goes_on(cut: Chain, place: Place) -> bool:
    """Does one line run through the place, though it may be parted there?"""
    if place.t > 0.0 or place.index == 0:
        return place.t > 0.0
    before, after = cut.segments[place.index - 1], cut.segments[place.index]
    turn = before.tangent(1.0).angle_to(after.tangent(0.0))
    return isinstance(before, Line) and abs(turn) < SAME_WAY


def _until(cut: Strand, place: Place) -> Strand:
    """The threads before a place; never none."""
    kept = cut[: place.index]
    if place.t > 0.0:
        thread = cut[place.index]
        kept = (*kept, thread.carrying(thread.segment.part(0.0, place.t)))
    if not kept:
        raise NoMatchError("does not run down beside the seam")
    return kept


@dataclass(frozen=True)
class _Carrying:
    """A seam that became longer, and the cutting line that is to go on beside it."""

    cut: Strand
    chain: Chain
    seam: SeamView
    sign: float
    place: Place
    old: float
    folded: bool

    def done(self) -> SideDone:
        assert self.seam.added is not None
        start = self.seam.added.tangent(Place(0, 0.0))
        if abs(start.angle_to(self.seam.old_down)) > SAME_WAY:
            return self._round_a_kink(start)
        straight = all(isinstance(s, Line) for s in self.seam.added)
        new = self._ruled_on() if straight and len(self.seam.added) == 1 else None
        fits = straight and len(self.seam.added) == 1 and not self.folded and self._corner_fits()
        if new is None and fits:
            kept = self.cut[: self.place.index + 1]
            return SideDone(kept, (), self.place, self.old, self.old, whole_corner=True)
        kept = _until(self.cut, self.place)
        at = kept[-1].segment.end
        if new is None:
            return SideDone(kept, self._carried(at, self.old), self.place, self.old, self.old)
        slope = (new - self.old) / self.seam.added.length()
        return SideDone(kept, self._carried(at, new), self.place, self.old, new, slope=slope)

    @property
    def _at_place(self) -> Segment:
        return self.chain.segments[self.place.index]

    def _before(self) -> Segment:
        k = self.place.index if self.place.t > 0.0 else self.place.index - 1
        return self.chain.segments[max(0, k)]

    def _ruled_on(self) -> float | None:
        """The allowance at the new end when the cutting line's own last line is made longer;
        None when that does not keep it, and it was not meant to change."""
        line = self._before()
        if not isinstance(line, Line) or line.length() < LONG:
            return None
        down, end = self.seam.new_down, self.seam.new_end
        way, at = line.tangent(0.0), self.chain.at(self.place)
        if way.dot(down) < 0.5 or _beside_step(way, self.seam.old_drawn, self.seam.old_down):
            return None
        # To where it is drawn to: a line that leaves the seam has another allowance on the fold.
        below = outwards(self.seam.new_hem, self.sign) if self.folded else down
        reached = at.moved(way, (end - at).dot(below) / way.dot(below))
        new = _outside(reached, end, down, self.sign)
        meant = abs(way.cross(down)) >= MEANT
        within = LEAST_SHARE * self.old <= new <= MOST_SHARE * self.old
        return new if abs(new - self.old) <= KEEPS or (meant and within) else None

    def _corner_fits(self) -> bool:
        """Does the line that crosses the taper point's level end where it should anyway?"""
        if self.place.t in {0.0, 1.0} or not isinstance(self._at_place, Line):
            return False
        if _beside_step(self._at_place.tangent(0.0), self.seam.old_drawn, self.seam.old_down):
            return False
        corner = self._at_place.end
        off = _outside(corner, self.seam.old_end, self.seam.old_down, self.sign) - self.old
        return abs(off) <= FITS

    def _round_a_kink(self, way: Vector) -> SideDone:
        """The seam turns at its taper point: both lines beside it meet in a mitre."""
        old_end = self.seam.old_end
        a, b = outwards(self.seam.old_down, self.sign), outwards(way, self.sign)
        corner = old_end.moved(a + b, self.old / (1.0 + a.dot(b)))
        if self.seam.old_down.cross(way) * self.sign > 0.0:
            kept = _until(self.cut, self.place)
            mitre = (kept[-1].carrying(Line(kept[-1].segment.end, corner)),)
            return SideDone(
                kept, (*mitre, *self._carried(corner, self.old)), self.place, self.old, self.old
            )
        upper = _until(self.cut, self.place)
        found = chain_of(upper).nearest(corner)
        kept = _until(upper, found.place)
        carried = self._carried(kept[-1].segment.end, self.old)
        return SideDone(kept, carried, self.place, self.old, self.old)

    def _carried(self, start: Point, new: float) -> Strand:
        """From `start` beside the added seam to straight across from its new end."""
        assert self.seam.added is not None
        added = self.seam.added
        end = self._end(new)
        thread = self._thread()
        if all(isinstance(s, Line) for s in added):
            points = (start, *self._mitres(added), end)
            segments: list[Segment] = [Line(p, q) for p, q in pairwise(points)]
        else:
            base = Base(added, self.sign)
            line = Beside(base, Spot(0.0, 0.0, self.old), Spot(added.length(), 0.0, new))
            segments = [*cubics_beside(line, start, end)]
            if self._digitised():
                flat = Chain(tuple(segments)).flattened(tolerance=CHOP)
                points = (start, *(Point(float(x), float(y)) for x, y in flat[1:-1]), end)
                segments = [Line(p, q) for p, q in pairwise(points)]
        return tuple(thread.carrying(s) for s in segments)

    def _end(self, new: float) -> Point:
        """Straight across from the seam's new end; on the fold, if there is one."""
        seam, normal = self.seam, outwards(self.seam.new_down, self.sign)
        if self.folded:
            fold = -seam.new_hem
            return seam.new_end.moved(fold, new / fold.dot(normal))
        return seam.new_end.moved(normal, new)

    def _mitres(self, added: Chain) -> list[Point]:
        out = []
        for s, t in pairwise(added.segments):
            a, b = (outwards(x.tangent(0.0), self.sign) for x in (s, t))
            out.append(s.end.moved(a + b, self.old / (1.0 + a.dot(b))))
        return out

    def _digitised(self) -> bool:
        line = self._before()
        return isinstance(line, Line) and line.length() <= DIGITISED_STEP

    def _thread(self) -> Thread:
        """What is carried on belongs to the line that runs on to the corner, if one does."""
        after = self.cut[self.place.index]
        if isinstance(after.segment, Line) and self._on_to_corner(after.segment):
            return after
        return self.cut[self.place.index if self.place.t > 0.0 else self.place.index - 1]

    def _on_to_corner(self, line: Line) -> bool:
        return abs(line.tangent(0.0).angle_to(self.seam.old_down)) < math.radians(1.0)


def flipped(side: SideDone, count: int) -> SideDone:
    """The same side seen against the direction of a strand of `count` threads: only its
    place; kept and carried still run down."""
    at = side.across
    k, t = count - 1 - at.index, 1.0 - at.t
    return replace(side, across=Place(k + 1, 0.0) if t >= 1.0 else Place(k, t))
