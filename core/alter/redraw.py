"""The hem run redrawn between the new taper points, keeping its angle to each seam."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from core.alter.flows import Following, Leaving, flowing
from core.alter.frame import Frame
from core.alter.refit import Ends, HemDart, RunMap, run_map
from core.alter.strand import Strand, Thread, backwards
from core.alter.vents import side_vent, slits
from core.curve import Affine, Cubic, Line, Point, Segment, Vector
from core.curve.ends import with_ends
from core.curve.merge import joined_at, leading_whole, split_at
from core.errors import AlterationError

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
    bare = [t.segment for t in run]
    whole = _in_order(frame, old, (*darts, *slits(frame, bare, darts)))
    first, last = _leads(frame, run, old, new, whole)
    middle = run[len(first.moved) : len(run) - len(last.moved)]
    if not middle:
        raise AlterationError(
            f"{name}: the hem runs straight on from its seams, so its taper points are not"
            " right. Drag them to where the seams end."
        )
    inner_old = _between(old, middle[0].segment.start, middle[-1].segment.end)
    # What of the leads goes by the hem is a part of it, as wide as that: so both are one map.
    hem = run_map(frame, *_hems(first, last, old, new), whole)
    first, last = first.beside(hem.pieces[0]), last.beside(hem.pieces[-1])
    inner_new = _between(new, first.end or new.first, last.end or new.last)
    where = run_map(frame, inner_old, inner_new, whole)
    head, tail = first.moved, backwards(last.moved)
    segments = _mapped(tuple(t.segment for t in middle), where, inner_new, whole)
    originals = [t.segment for t in middle]
    segments = _angle_kept(originals, segments, first.turn, where, frame)
    segments = _backwards(
        _angle_kept(_backwards(originals), _backwards(segments), last.turn, where, frame)
    )
    body = tuple(t.carrying(s) for t, s in zip(middle, segments, strict=True))
    new_run = (*head, *body, *tail)
    joints = {a.segment.start: b.segment.start for a, b in zip(run, new_run, strict=True)}
    return Redrawn(new_run, where, joints, whole)


def _leads(
    frame: Frame, run: Strand, old: Ends, new: Ends, whole: Sequence[HemDart]
) -> tuple[_Lead, _Lead]:
    """The starts of the run from either end.

    How far a step goes by the seam is asked of the width that goes by the hem, and that of all
    the steps: so they are found in rounds, in each of which they change by about an eighth
    of what they did before.
    """
    hem, back = old, backwards(run)
    for _ in range(ROUNDS):
        way = hem.last - hem.first
        first = _Lead.of(frame, run, old, new, whole=whole, hem=way)
        last = _Lead.of(frame, back, old.flipped, new.flipped, whole=_flipped(whole), hem=-way)
        known, hem = hem, _hems(first, last, old, new)[0]
        if hem == known:
            break
    return first, last


def _hems(first: _Lead, last: _Lead, old: Ends, new: Ends) -> tuple[Ends, Ends]:
    """The ends, old and new, of the hem with all of the leads that goes by it."""
    (was, now), (was_last, now_last) = first.hem_end, last.hem_end
    return _between(old, was, was_last), _between(new, now, now_last)


def _between(ends: Ends, first: Point, last: Point) -> Ends:
    """Of a hem that lies between other points; its seams point as before."""
    return replace(ends, first=first, last=last)


def _in_order(frame: Frame, ends: Ends, whole: Sequence[HemDart]) -> tuple[HemDart, ...]:
    towards = 1.0 if frame.width(ends.last) >= frame.width(ends.first) else -1.0
    return tuple(sorted(whole, key=lambda d: frame.width(d.mouth[0]) * towards))


def _flipped(darts: Sequence[HemDart]) -> tuple[HemDart, ...]:
    """The darts of the run that is run backwards."""
    return tuple(replace(d, mouth=(d.mouth[1], d.mouth[0])) for d in reversed(darts))


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
    def of(
        cls,
        frame: Frame,
        run: Strand,
        old: Ends,
        new: Ends,
        *,
        whole: Sequence[HemDart],
        hem: Vector,
    ) -> _Lead:
        """At the first end; `hem` is the way across all that goes by the hem."""
        bare = [t.segment for t in run]
        count = side_vent(frame, bare)
        if 0 < count < len(run):
            step = new.first - old.first
            moved = _moved(run[:count], Affine.move(step.x, step.y), old, new)
            return cls(moved, 0.0, (bare[count].start, moved[-1].segment.end))
        leaving = Leaving.of(frame, old, hem, whole)
        count = flowing(leaving, bare, old)
        turn = old.first_down.angle_to(new.first_down)
        if count in (0, len(run)):
            return cls(run[:count], turn, (old.first, new.first))
        following = Following.of(leaving, bare[:count], new)
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
        inside = feet.get(s.start, inside)
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
    old: Sequence[Segment], new: Sequence[Segment], turn: float, where: RunMap, frame: Frame
) -> tuple[Segment, ...]:
    """The run with the handle at its start turned back to the angle it had to the seam.

    A curve that was drawn in parts is taken as the one curve it is. The handle's length
    changes by scale^sin^2 of its angle to the grain: by the whole scale when it lies
    across, not at all along the grain; and two changes multiply to the one by their sum.
    """
    count = next((k for k, s in enumerate(old) if not isinstance(s, Cubic)), len(old))
    if count == 0:
        return tuple(new)
    whole, splits = leading_whole([s for s in old[:count] if isinstance(s, Cubic)])
    handle = whole.c1 - whole.start
    if handle.norm == 0.0:
        return tuple(new)
    covered = len(splits) + 1
    moved = joined_at([s for s in new[:covered] if isinstance(s, Cubic)], splits)
    across = handle.unit().dot(frame.across)
    wanted = handle.turned(turn) * where.scale_at(old[0].at(0.5)) ** (across * across)
    # The far handle stays as it is in `new`: it may have been turned already, from its end.
    turned = replace(moved, c1=moved.start + wanted)
    return (*split_at(turned, splits), *new[covered:])
