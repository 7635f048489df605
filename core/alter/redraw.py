"""The hem run redrawn between the new taper points, keeping its angle to each seam."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from core.alter.bowed import bowed
from core.alter.flows import Following, Leaving, flowing
from core.alter.frame import Frame
from core.alter.refit import Ends, HemDart, RunMap, run_map
from core.alter.strand import Strand, Thread, backwards
from core.alter.vents import side_vent, slits
from core.curve import Affine, Cubic, Line, Point, Segment, Vector
from core.curve.ends import with_ends
from core.curve.merge import joined_at, leading_whole, split_at
from core.errors import AlterationError
from core.kept import kept

# Rounds in which the width that goes by the hem is found.
ROUNDS = 8


@dataclass(frozen=True)
class Redrawn:
    """The new run, the map by which everything near it moved, and where its joints went.

    `whole` are the darts and slits that moved whole, in run order: the map has a piece for each.
    """

    run: Strand
    where: RunMap
    joints: Mapping[Point, Point]
    whole: tuple[HemDart, ...] = ()


def redraw(
    frame: Frame, run: Strand, old: Ends, new: Ends, *, darts: Sequence[HemDart], name: str
) -> Redrawn:
    """The run of the piece `name` brought from the old ends to the new.

    `darts` are those in the run, in run order; if drawn in the outline, their legs go
    along. AlterationError when there is no hem to redraw, TooFarError when there is no
    width for it.
    """
    whole = _whole(frame.down, run, old, tuple(darts))
    first, last = _leads(frame, run, old, new, whole)
    middle = _middle(frame.down, run, len(first.moved), len(run) - len(last.moved))
    if middle is None:
        raise AlterationError(
            f"{name}: the hem runs straight on from its seams, so its taper points are not"
            " right. Drag them to where the seams end."
        )
    inner_old = _between(old, middle.segments[0].start, middle.segments[-1].end)
    # What of the leads goes by the hem is a part of it, as wide as that: so both are one map.
    hems = _hems(first, last, old, new)
    hem = run_map(frame, *hems, whole)
    first, last = first.beside(hem.pieces[0]), last.beside(hem.pieces[-1])
    inner_new = _between(new, first.end or new.first, last.end or new.last)
    same = inner_old is hems[0] and inner_new is hems[1]
    where = hem if same else run_map(frame, inner_old, inner_new, whole)
    head, tail = first.moved, backwards(last.moved)
    segments = _mapped(middle.segments, where, inner_new, whole)
    turns = None if head else first.turn, None if tail else last.turn
    feet = {p for d in whole for p in d.mouth}
    segments = bowed(where.to_run, middle.segments, segments, turns=turns, feet=feet)
    segments = _angle_kept(middle.start, segments, first.turn, where)
    segments = _backwards(_angle_kept(middle.end, _backwards(segments), last.turn, where))
    body = tuple(t.carrying(s) for t, s in zip(middle.strand, segments, strict=True))
    new_run = (*head, *body, *tail)
    joints = {a.segment.start: b.segment.start for a, b in zip(run, new_run, strict=True)}
    return Redrawn(new_run, where, joints, whole)


def _leads(
    frame: Frame, run: Strand, old: Ends, new: Ends, whole: tuple[HemDart, ...]
) -> tuple[_Lead, _Lead]:
    """The starts of the run from either end.

    How far a step goes by the seam is asked of the width that goes by the hem, and that of all
    the steps: so they are found in rounds, in each of which they change by about an eighth
    of what they did before.
    """
    hem = old
    ways = _ways(frame.down, run, old, whole)
    for _ in range(ROUNDS):
        first, last = _Lead.of(ways[0], new), _Lead.of(ways[1], new.flipped)
        known, hem = hem, _hems(first, last, old, new)[0]
        if hem == known:
            break
        ways = tuple(way.beside(frame, hem) for way in ways)
    return first, last


def _hems(first: _Lead, last: _Lead, old: Ends, new: Ends) -> tuple[Ends, Ends]:
    """The ends, old and new, of the hem with all of the leads that goes by it."""
    (was, now), (was_last, now_last) = first.hem_end, last.hem_end
    return _between(old, was, was_last), _between(new, now, now_last)


def _between(ends: Ends, first: Point, last: Point) -> Ends:
    """Of a hem that lies between other points; its seams point as before."""
    if first == ends.first and last == ends.last:
        return ends
    return replace(ends, first=first, last=last)


def _in_order(frame: Frame, ends: Ends, whole: Sequence[HemDart]) -> tuple[HemDart, ...]:
    towards = 1.0 if frame.width(ends.last) >= frame.width(ends.first) else -1.0
    return tuple(sorted(whole, key=lambda d: frame.width(d.mouth[0]) * towards))


def _flipped(darts: Sequence[HemDart]) -> tuple[HemDart, ...]:
    """The darts of the run that is run backwards."""
    return tuple(replace(d, mouth=(d.mouth[1], d.mouth[0])) for d in reversed(darts))


@dataclass(frozen=True)
class _Way:
    """How a run leaves its seam, before anything is changed: with `count` segments that go with
    the seam, whole where it is a vent, which is not ``leaving``. ``back``: run backwards.
    """

    run: Strand
    old: Ends
    whole: tuple[HemDart, ...]
    count: int
    leaving: Leaving | None
    back: bool = False

    @classmethod
    def of(
        cls, frame: Frame, run: Strand, old: Ends, whole: tuple[HemDart, ...], *, back: bool = False
    ) -> _Way:
        """At the first end, beside a hem that goes from end to end."""
        count = side_vent(frame, [t.segment for t in run])
        if 0 < count < len(run):
            return cls(run, old, whole, count, None, back)
        leaving = Leaving.of(frame, old, old.last - old.first, whole)
        return cls(run, old, whole, _count(leaving, run, old), leaving, back)

    def beside(self, frame: Frame, hem: Ends) -> _Way:
        """The same where what goes by the hem has those ends, in the order of the whole run."""
        if self.leaving is None:
            return self
        across = hem.first - hem.last if self.back else hem.last - hem.first
        leaving = Leaving.of(frame, self.old, across, self.whole)
        return replace(self, leaving=leaving, count=_count(leaving, self.run, self.old))


def _count(leaving: Leaving, run: Strand, old: Ends) -> int:
    return flowing(leaving, [t.segment for t in run], old)


@kept(most=256)
def _ways(down: Vector, run: Strand, old: Ends, whole: tuple[HemDart, ...]) -> tuple[_Way, ...]:
    """From the first end and from the last; a drag asks for the same in each of its frames."""
    frame, flipped = Frame(down), _flipped(whole)
    last = _Way.of(frame, backwards(run), old.flipped, flipped, back=True)
    return _Way.of(frame, run, old, whole), last


@kept(most=256)
def _whole(down: Vector, run: Strand, old: Ends, darts: tuple[HemDart, ...]) -> tuple[HemDart, ...]:
    """The darts and slits of the run, in its order."""
    frame = Frame(down)
    return _in_order(frame, old, (*darts, *slits(frame, [t.segment for t in run], darts)))


@dataclass(frozen=True)
class _Turning:
    """The curve with which a run starts, taken as one where it is drawn in parts: its handle,
    how much of that lies across, and a place on it.
    """

    splits: tuple[float, ...]
    handle: Vector
    across: float
    place: Point

    @classmethod
    def of(cls, frame: Frame, run: Sequence[Segment]) -> _Turning | None:
        """None where it starts with no curve, or with one that has no handle there."""
        count = next((k for k, s in enumerate(run) if not isinstance(s, Cubic)), len(run))
        if count == 0:
            return None
        whole, splits = leading_whole([s for s in run[:count] if isinstance(s, Cubic)])
        handle = whole.c1 - whole.start
        if handle.norm == 0.0:
            return None
        return cls(splits, handle, handle.unit().dot(frame.across), run[0].at(0.5))


@dataclass(frozen=True)
class _Middle:
    """The hem itself, between what goes with the seams, and the curves at its ends."""

    strand: Strand
    segments: tuple[Segment, ...]
    start: _Turning | None
    end: _Turning | None


@kept(most=256)
def _middle(down: Vector, run: Strand, first: int, stop: int) -> _Middle | None:
    """The threads from `first` to `stop`, without that; None where there are none."""
    strand = run[first:stop]
    if not strand:
        return None
    frame, segments = Frame(down), tuple(t.segment for t in strand)
    ends = _Turning.of(frame, segments), _Turning.of(frame, _backwards(segments))
    return _Middle(strand, segments, *ends)


@dataclass(frozen=True)
class _Lead:
    """The start of the run, moved with its seam, and by what the hem after it turns (radians).

    `hem_end` is where the hem begins, as it was and now, with all of the lead that goes by it.
    """

    moved: Strand
    turn: float
    hem_end: tuple[Point, Point]
    following: Following | None = None

    @classmethod
    def of(cls, way: _Way, new: Ends) -> _Lead:
        """At the first end of a run that leaves its seam that way."""
        run, old, count = way.run, way.old, way.count
        if way.leaving is None:
            step = new.first - old.first
            moved = _moved(run[:count], Affine.move(step.x, step.y), old, new)
            return cls(moved, 0.0, (run[count].segment.start, moved[-1].segment.end))
        turn = old.first_down.angle_to(new.first_down)
        if count in (0, len(run)):
            return cls(run[:count], turn, (old.first, new.first))
        following = Following.of(way.leaving, [t.segment for t in run], count, old, new)
        was, now = following.along
        return cls(run[:count], turn, (old.first + was, new.first + now), following)

    @property
    def end(self) -> Point | None:
        """Where the hem after it begins now; None where there is no lead."""
        return self.moved[-1].segment.end if self.moved else None

    def beside(self, by_hem: Affine) -> _Lead:
        """The lead beside a hem that goes by that map."""
        if self.following is None:
            return self
        lines = self.following.lines(by_hem)
        moved = tuple(t.carrying(s) for t, s in zip(self.moved, lines, strict=True))
        return replace(self, moved=moved)


def _moved(strand: Strand, by: Affine, old: Ends, new: Ends) -> Strand:
    return tuple(_pinned(t, t.segment.mapped(by), old.first, new.first) for t in strand)


def _pinned(thread: Thread, segment: Segment, old: Point, new: Point) -> Thread:
    """The moved thread with the end that lay on `old` exactly on `new`."""
    if thread.segment.start == old:
        segment = with_ends(segment, new, segment.end)
    if thread.segment.end == old:
        segment = with_ends(segment, segment.start, new)
    return thread.carrying(segment)


def _mapped(
    segments: Sequence[Segment], where: RunMap, new: Ends, darts: Sequence[HemDart]
) -> tuple[Segment, ...]:
    """Each segment by the one map that holds for it; joints shared exactly."""
    feet = {d.mouth[0]: d for d in darts}
    moved: list[Segment] = []
    inside: HemDart | None = None
    for s in segments:
        inside = feet.get(s.start, inside) if feet else None
        # A dart's legs may lean out beyond its mouth, so they go by the mouth's own piece.
        piece = where.piece_at(s.at(0.5) if inside is None else inside.middle)
        moved.append(_leg(s, piece, inside) if inside is not None else s.mapped(piece))
        if inside is not None and s.end == inside.mouth[1]:
            inside = None
    joints = [new.first, *(s.end for s in moved[:-1]), new.last]
    return tuple(with_ends(s, *ends) for s, ends in zip(moved, pairwise(joints), strict=True))


def _leg(segment: Segment, piece: Affine, dart: HemDart) -> Segment:
    """A leg of an outline dart: moved with its dart, or stretched from an apex that stays."""
    if not dart.keeps_apex:
        return segment.mapped(piece)
    step = piece.point(dart.middle) - dart.middle
    mouth = dart.mouth[1] - dart.mouth[0]
    depth = (dart.middle - dart.apex).cross(mouth)

    def share(p: Point) -> float:
        """By how far it lies down from the apex: a leg drawn in parts stays one straight line."""
        return 1.0 if p in dart.mouth or not depth else (p - dart.apex).cross(mouth) / depth

    return Line(*(p.moved(step, share(p)) for p in (segment.start, segment.end)))


def _backwards(segments: Sequence[Segment]) -> tuple[Segment, ...]:
    return tuple(s.reversed() for s in reversed(segments))


def _angle_kept(
    old: _Turning | None, new: Sequence[Segment], turn: float, where: RunMap
) -> tuple[Segment, ...]:
    """The run with the handle at its start turned back to the angle it had to the seam.

    A curve that was drawn in parts is taken as the one curve it is. The handle's length
    changes by scale^sin^2 of its angle to the grain: by the whole scale when it lies
    across, not at all along the grain; and two changes multiply to the one by their sum.
    """
    if old is None:
        return tuple(new)
    covered = len(old.splits) + 1
    moved = joined_at([s for s in new[:covered] if isinstance(s, Cubic)], old.splits)
    wanted = old.handle.turned(turn) * where.scale_at(old.place) ** (old.across * old.across)
    # The far handle stays as it is in `new`: it may have been turned already, from its end.
    turned = Cubic(moved.start, moved.start + wanted, moved.c2, moved.end)
    return (*split_at(turned, old.splits), *new[covered:])
