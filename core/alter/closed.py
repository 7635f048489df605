"""A run of hem parted at its darts: each shut in thought, the hem trued over it, its cap cut."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from core.alter.bend import starting_along
from core.alter.strand import Strand, backwards, chain_of
from core.curve import Affine, Chain, Line, Place, Point, Segment, Vector
from core.curve.ends import with_ends
from core.measure import Length, Sentence
from core.piece.model import Dart

# A closed hem that bends by less than this (radians) runs on already.
RUNS_ON = 1e-7
# A closed hem that bends by more than this (radians) has a corner there on purpose.
CORNER = math.radians(60.0)
# A hem that was drawn away from the mouth by more than this (mm) is not pulled back to it.
FAR_OFF = 6.0
# Legs that differ by more than this (mm) leave a step in the hem, whatever is drawn over it.
STEP = 0.5
# The hem goes across the mouth of a dart, and not up along its legs, when no point of it comes
# nearer to the apex than this share of the dart's depth.
ACROSS = 0.5
# A place this near (mm) to a joint is the joint.
AT_JOINT = 1e-6


@dataclass(frozen=True)
class Cap:
    """One cap: from one end of the mouth over its point to the other, and how far (mm) the
    point lies beyond the mouth, along the fold line of the dart."""

    line: Chain
    beyond_mm: float


@dataclass(frozen=True)
class Mouth:
    """A dart on the run: the two ends of its mouth in run order, its apex, the run between.

    `trouble` says why nothing is drawn over it; empty when it can be.
    """

    ends: tuple[Point, Point]
    apex: Point
    run: Strand
    trouble: str = ""

    @property
    def is_cut(self) -> bool:
        """Does the hem go up along the legs?"""
        depth = self.apex.distance(self.ends[0].towards(self.ends[1], 0.5))
        return chain_of(self.run).nearest(self.apex).distance < ACROSS * depth

    @property
    def opening(self) -> float:
        """The angle from the first leg to the second."""
        return (self.ends[0] - self.apex).angle_to(self.ends[1] - self.apex)

    @property
    def axis(self) -> Vector:
        """Unit direction of the fold line, from the apex to the mouth."""
        return (self.ends[0] - self.apex).unit().turned(self.opening / 2)

    def shut(self, way: Vector) -> Vector:
        """A direction beside the second leg as it lies when the dart is shut onto the first."""
        return way.turned(-self.opening)


@dataclass(frozen=True)
class Row:
    """The run in turns: stretch, mouth, stretch, ... , stretch."""

    stretches: tuple[Strand, ...]
    mouths: tuple[Mouth, ...]


def parted(run: Strand, darts: Sequence[tuple[Dart, bool]]) -> Row:
    """The run parted at the mouths of the darts that lie on it."""
    whole = chain_of(run)
    found = [(_on_run(whole, dart, fixed=fixed), dart) for dart, fixed in darts]
    placed = [(ends, dart) for ends, dart in found if ends is not None]
    placed.sort(key=lambda one: whole.nearest(one[0][0]).place)
    stretches: list[Strand] = []
    mouths: list[Mouth] = []
    rest = run
    for ends, dart in placed:
        parts = _parted_twice(rest, ends)
        if parts is None:
            continue
        before, between, rest = parts
        stretches.append(before)
        mouths.append(Mouth(ends, dart.apex, between, _trouble(ends, dart.apex)))
    return Row((*stretches, rest), tuple(mouths))


def _on_run(whole: Chain, dart: Dart, *, fixed: bool) -> tuple[Point, Point] | None:
    """The ends of the dart's mouth on this line, in its order.

    The drawn ones when they are `fixed`, else those on the legs made longer or shorter,
    equally far from the apex. None when they are not there.
    """
    if max(whole.nearest(p).distance for p in dart.mouth) > FAR_OFF and fixed:
        return None
    if fixed:
        a, b = dart.mouth
    else:
        met = [_along_leg(whole, dart.apex, p) for p in dart.mouth]
        if met[0] is None or met[1] is None:
            return None
        reach = (met[0] + met[1]) / 2
        a, b = (dart.apex.moved((p - dart.apex).unit(), reach) for p in dart.mouth)
    return (a, b) if whole.nearest(a).place <= whole.nearest(b).place else (b, a)


def _along_leg(whole: Chain, apex: Point, foot: Point) -> float | None:
    """How far from the apex the leg, carried on, meets the line; the place next to its foot."""
    way = (foot - apex).unit()
    reaches = [way.dot(whole.at(place) - apex) for place in whole.meets(apex, way)]
    length = foot.distance(apex)
    return min((r for r in reaches if r > 0.0), key=lambda r: abs(r - length), default=None)


def _parted_twice(run: Strand, ends: tuple[Point, Point]) -> tuple[Strand, Strand, Strand] | None:
    """Before the mouth, the mouth, after it; None when nothing is left of one of them."""
    if not run:
        return None
    before, rest = _parted(run, ends[0])
    between, after = _parted(rest, ends[1]) if rest else ((), ())
    return (before, between, after) if before and between and after else None


def _parted(run: Strand, p: Point) -> tuple[Strand, Strand]:
    """The run before and after the place nearest to p, both of which end exactly on p."""
    found = chain_of(run).nearest(p)
    k, t = found.place.index, found.place.t
    segment = run[k].segment
    if found.point.distance(segment.start) <= AT_JOINT:
        before, after = run[:k], run[k:]
    elif found.point.distance(segment.end) <= AT_JOINT:
        before, after = run[: k + 1], run[k + 1 :]
    else:
        left, right = segment.split(t)
        before = (*run[:k], run[k].carrying(left))
        after = (run[k].carrying(right), *run[k + 1 :])
    return _ended(before, p), backwards(_ended(backwards(after), p))


def _ended(run: Strand, p: Point) -> Strand:
    """The run with its last point exactly on p."""
    if not run:
        return run
    last = run[-1].segment
    return (*run[:-1], run[-1].carrying(with_ends(last, last.start, p)))


def _trouble(ends: tuple[Point, Point], apex: Point) -> str:
    off = abs(ends[0].distance(apex) - ends[1].distance(apex))
    if off > STEP:
        return Sentence("its legs differ by {off}. Make them equal", off=Length(off, little=True))
    return ""


def trued(row: Row) -> Row:
    """The row with the stretches turned so that the hem runs on over each closed mouth."""
    stretches, mouths = list(row.stretches), []
    for k, mouth in enumerate(row.mouths):
        before, after = stretches[k], stretches[k + 1]
        arrives = before[-1].segment.tangent(1.0)
        leaves = mouth.shut(after[0].segment.tangent(0.0))
        bend = arrives.angle_to(leaves)
        corner = "the hem beside it has a corner there" if abs(bend) > CORNER else ""
        mouths.append(replace(mouth, trouble=mouth.trouble or corner))
        if mouths[-1].trouble or abs(bend) <= RUNS_ON:
            continue
        common = arrives.turned(bend / 2)
        stretches[k] = backwards(starting_along(backwards(before), -common))
        stretches[k + 1] = starting_along(after, common.turned(mouth.opening))
    return Row(tuple(stretches), tuple(mouths))


def cap_of(mouth: Mouth, before: Strand, after: Strand, towards: Point) -> Cap | None:
    """The cap of a mouth between two stretches; None for one that gets none."""
    if mouth.trouble or mouth.is_cut:
        return None
    near_first = before[0].segment.start.distance(towards) <= after[-1].segment.end.distance(
        towards
    )
    beside = (backwards(before), after) if near_first else (after, backwards(before))
    halves = [half for s in beside if (half := _half(mouth, chain_of(s))) is not None]
    half = halves[0] if halves else _straight_half(mouth, beside[0][0].segment)
    other = half.mapped(_over(mouth.apex, mouth.axis))
    from_first = half.start.distance(mouth.ends[0]) <= half.start.distance(mouth.ends[1])
    one, two = (half, other) if from_first else (other, half)
    line = _pinned((*one, *two.reversed()), len(one), mouth.ends)
    depth = mouth.axis.dot(mouth.ends[0].towards(mouth.ends[1], 0.5) - mouth.apex)
    return Cap(line, mouth.axis.dot(half.end - mouth.apex) - depth)


def _half(mouth: Mouth, beside: Chain) -> Chain | None:
    """The cap from the mouth's end at which `beside` starts to its point on the fold line.

    The layer of cloth lies, folded back along the leg, on the hem `beside` the mouth and is
    cut along it; None when that hem ends before the fold.
    """
    leg = beside.start - mouth.apex
    folded = beside.mapped(_over(mouth.apex, leg.unit()))
    met = [p for p in folded.meets(mouth.apex, mouth.axis) if _ahead(mouth, folded.at(p))]
    start = next((p for p in met if folded.length_to(p) > AT_JOINT), None)
    return folded.part(Place(0, 0.0), start) if start is not None else None


def _ahead(mouth: Mouth, p: Point) -> bool:
    return mouth.axis.dot(p - mouth.apex) > 0.0


def _straight_half(mouth: Mouth, beside: Segment) -> Chain:
    """The half cap along the straight line on which the hem beside the mouth begins."""
    leg = beside.start - mouth.apex
    way = _over(mouth.apex, leg.unit()).vector(beside.tangent(0.0))
    reach = (mouth.apex - beside.start).cross(mouth.axis) / way.cross(mouth.axis)
    return Chain((Line(beside.start, beside.start.moved(way, reach)),))


def _over(origin: Point, way: Vector) -> Affine:
    """The mirror whose line goes through `origin` along the unit vector `way`."""
    c, s = way.x * way.x - way.y * way.y, 2.0 * way.x * way.y
    mirror = Affine(c, s, s, -c)
    step = origin - mirror.point(origin)
    return Affine(c, s, s, -c, step.x, step.y)


def _pinned(segments: Sequence[Segment], half: int, ends: tuple[Point, Point]) -> Chain:
    """The segments with shared joints: ends exactly on the mouth, one point between halves."""
    joints = [ends[0], *(s.end for s in segments[:-1]), ends[1]]
    return Chain(
        tuple(with_ends(s, *pair) for s, pair in zip(segments, pairwise(joints), strict=True))
    )
