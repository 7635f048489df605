"""The hem slid along unchanged, and cut off where it sticks out past the carried seams.

Straight down the grain. A rounded corner or a vent is a shape of its own, which stays whole:

- where one end of the run has one, the whole run slides along that seam;
- where both have, each goes along the straight hem next to it until it is on its own seam, and
  only that hem becomes shorter or longer;
- a vent next to a curved hem goes down with its seam, and the hem ends at the vent's edge;
- a rounding that bends on into a curved hem has no place where it could be parted from it. Where
  it sticks out past the seam, it is cut there. Where it falls short, nothing of it leads to the
  seam, and it is refused.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import dropwhile

from core.alter.bend import leading_line
from core.alter.frame import Frame
from core.alter.model import TooFarError
from core.alter.refit import LEAST_WIDTH, Ends
from core.alter.run_ends import END_SHARE, Leaving, RunEnd
from core.alter.seam import (
    SAME_DIRECTION,
    SLIVER,
    SeamEnd,
    carry_on,
    cut_back_by_length,
    length_available,
)
from core.alter.strand import Strand, backwards, chain_of
from core.curve import Affine, Line, Place, Point, Vector
from core.curve.ends import with_ends
from core.errors import AlterationError
from core.piece.direction import end_direction

# A rounded run slid along its own seam lies on it up to the scatter of digitising (mm).
NEARLY_ON_SEAM = 0.5
# What is left of a step where the hem is cut, up to this length (mm), is that step's end.
STUB = 1e-5
# A hem meets a seam at no smaller angle than this (its sine), nor is it cut by a flatter seam.
LEAST_ANGLE = 0.2
# Rounds in which the slid hem and a bent seam find where they meet.
ROUNDS = 12
# A seam that leans further from the grain than this (its cosine) is not one to trim along.
LEAST_SLOPE = 0.5


def slid_ends(frame: Frame, shapes: tuple[RunEnd, RunEnd], old: Ends, new: Ends) -> Ends:
    """Where the ends of the run lie once it has been slid down unchanged.

    Where both are shaped, their corners are brought to the seams later, by `trimmed`.
    """
    first, last = (s.is_shaped for s in shapes)
    aside = 0.0
    if first and not last:
        aside = frame.width(new.first) - frame.width(old.first)
    elif last and not first:
        aside = frame.width(new.last) - frame.width(old.last)

    def slid(before: Point, after: Point) -> Point:
        drop = frame.height(after) - frame.height(before)
        return before.moved(frame.down, drop).moved(frame.across, aside)

    # Where the seam takes another direction, what flowed out of it turns with it.
    return Ends(
        slid(old.first, new.first),
        slid(old.last, new.last),
        new.first_down if first and not last else old.first_down,
        new.last_down if last and not first else old.last_down,
    )


@dataclass(frozen=True)
class Trimmed:
    """The run ended on both seams, the seams ended where it meets them, and where the joints
    of a rounding or vent went that was moved onto its seam."""

    run: Strand
    seams: tuple[SeamEnd, SeamEnd]
    moves: Mapping[Point, Point]


def trimmed(
    frame: Frame,
    run: Strand,
    seams: tuple[SeamEnd, SeamEnd],
    *,
    old: Ends,
    shapes: tuple[RunEnd, RunEnd],
    name: str,
) -> Trimmed:
    """The slid run of the piece `name` ended on both seams, which it left at its `old` ends.

    Where the run falls short of a seam (a flared piece), it is carried straight on to it.
    AlterationError when it cannot be, TooFarError when the corners leave no hem between them.
    """
    if any(seam.down.dot(frame.down) < LEAST_SLOPE for seam in seams):
        raise AlterationError(
            f"{name}: the seams would run so far across that they cut the slid hem lengthwise."
            " Ask for a width nearer to the present one, or refit the hem."
        )
    both = shapes[0].is_shaped and shapes[1].is_shaped
    starts = [
        _Start(frame, seam, down, shape, both, name)
        for seam, down, shape in zip(seams, (old.first_down, old.last_down), shapes, strict=True)
    ]
    try:
        one, first = starts[0].ended(run)
        other, last = starts[1].ended(backwards(one))
    except _ApartError as how:
        raise AlterationError(f"{name}: the slid hem {how}. Refit the hem instead.") from None
    heads = ((run, one, shapes[0].count), (backwards(run), other, shapes[1].count))
    moves = {
        was.segment.end: now.segment.end
        for before, after, count in heads
        for was, now in zip(before[:count] if both else (), after, strict=False)
    }
    return Trimmed(backwards(other), (first, last), moves)


class _ApartError(Exception):
    """The slid hem and the carried seam do not come together; the text says how."""


@dataclass(frozen=True)
class _Start:
    """The seam at the start of a run, the direction `down` in which it once led into it, and how
    the run leaves it; `both` when it leaves the other seam in a shape too."""

    frame: Frame
    seam: SeamEnd
    down: Vector
    shape: RunEnd
    both: bool
    name: str

    def ended(self, run: Strand) -> tuple[Strand, SeamEnd]:
        """The run made to start on the seam."""
        shape, seam = self.shape, self.seam
        if not self.both:
            near = NEARLY_ON_SEAM if shape.is_shaped else SLIVER
            return _cut_or_carried(run, seam, within=near)
        if shape.beside_straight:
            return self._with_corner(run)
        if shape.leaving is Leaving.VENT:
            return self._with_vent(run)
        if _sticks_out(run, seam) < -SLIVER:
            raise AlterationError(
                f"{self.name}: the slid hem bends out of its seams all along and is narrower than"
                " the piece there, so no part of it leads to the carried seams. Refit the hem"
                " instead."
            )
        return _cut_or_carried(run, seam, within=SLIVER)

    def _with_vent(self, run: Strand) -> tuple[Strand, SeamEnd]:
        """The vent moved onto its seam, the hem ended on the vent's edge."""
        count, seam = self.shape.count, self.seam
        vent = _mapped(run[:count], _move(seam.end - run[0].segment.start))
        edge = vent[-1].segment
        at_vent = SeamEnd(vent, edge.end, edge.tangent(1.0), 0.0)
        hem, ended = _cut_or_carried(run[count:], at_vent, within=SLIVER)
        if edge.length() + ended.added_mm < LEAST_WIDTH:
            raise AlterationError(
                f"{self.name}: the slid hem would meet the vent above its edge. Refit the hem"
                " instead."
            )
        return _from_end((*ended.strand, *hem), seam)

    def _with_corner(self, run: Strand) -> tuple[Strand, SeamEnd]:
        """The rounding or vent moved onto its seam along the straight hem next to it.

        That hem becomes shorter or longer by as much.
        """
        count, seam = self.shape.count, self.seam
        line, splits = leading_line([t.segment for t in run[count:]])
        assert line is not None
        way = line.tangent(0.0)
        leaning = _mapped(run[:count], self._leaning(way, line.start))
        start, ended = leaning[0].segment.start, seam
        for _ in range(ROUNDS):
            seam, across = ended, ended.down.cross(way)
            _refuse_along(across)
            shift = seam.down.cross(seam.end - start) / across
            if shift > line.length() - LEAST_WIDTH:
                raise TooFarError("its rounded corners or vents would leave no hem between them")
            ended = _ended(seam, start + way * shift)
            # Along a bend the seam does not end on its own line of before: from there once more.
            if ended.end.distance(start + way * shift) <= SLIVER:
                break
        moved = _mapped(leaning, _move(ended.end - start))
        corner, parts = moved[-1].segment.end, run[count : count + len(splits) + 1]
        left = tuple(dropwhile(lambda t: (t.segment.end - corner).dot(way) <= SLIVER, parts))
        hem = (left[0].carrying(Line(corner, left[0].segment.end)), *left[1:])
        return _from_end((*moved, *hem, *run[count + len(parts) :]), ended)

    def _leaning(self, way: Vector, foot: Point) -> Affine:
        """The map that leans a rounding over to its seam's new direction.

        The hem's `way` and `foot`, the end of the rounding, stay, and so do heights, so that it
        flows out of the seam and into the hem as before. A vent stays upright.
        """
        if self.shape.leaving is Leaving.VENT:
            return Affine()
        was, now = self.down, self.seam.down
        now = now * (was.dot(self.frame.down) / now.dot(self.frame.down))
        before = Affine(way.x, way.y, was.x, was.y)
        after = Affine(way.x, way.y, now.x, now.y)
        turn = after @ before.inverse()
        return _move(foot - turn.point(foot)) @ turn


def _sticks_out(run: Strand, seam: SeamEnd) -> float:
    """How far (mm) the run's start lies past the seam's line; negative where it falls short."""
    chain = chain_of(run)
    off = seam.down.cross(chain.start - seam.end)
    inside = seam.down.cross(chain.at(chain.at_length(chain.length() / 2)) - seam.end)
    return abs(off) if off * inside < 0.0 else -abs(off)


def _mapped(strand: Strand, by: Affine) -> Strand:
    return tuple(t.carrying(t.segment.mapped(by)) for t in strand)


def _move(step: Vector) -> Affine:
    return Affine.move(step.x, step.y)


def _cut_or_carried(run: Strand, seam: SeamEnd, *, within: float) -> tuple[Strand, SeamEnd]:
    """The run cut off at the seam or carried on to it; left where it is `within` mm of it."""
    ended = seam
    for _ in range(ROUNDS):
        seam, off = ended, _sticks_out(run, ended)
        cut = run
        if abs(off) > within:
            cut = _cut_off(run, seam) if off > 0.0 else _carried_on(run, seam)
        ended = _ended(seam, cut[0].segment.start)
        # Along a bend the seam does not end on its own line of before: from there once more.
        if ended.end.distance(cut[0].segment.start) <= SLIVER:
            break
    return _from_end(cut, ended)


def _from_end(run: Strand, ended: SeamEnd) -> tuple[Strand, SeamEnd]:
    """The run made to start exactly on the end of the seam."""
    first = run[0].segment
    return (run[0].carrying(with_ends(first, ended.end, first.end)), *run[1:]), ended


def _cut_off(run: Strand, seam: SeamEnd) -> Strand:
    chain = chain_of(run)
    places = chain.meets(seam.end, seam.down)
    near = [p for p in places if chain.length_to(p) <= END_SHARE * chain.length()]
    if not near:
        raise _ApartError("does not meet the carried seam")
    return _from(run, near[0])


def _from(run: Strand, place: Place) -> Strand:
    """The run from a place on, without a sliver of the segment on whose end that nearly lies."""
    thread, beyond = run[place.index], run[place.index + 1 :]
    left = thread.segment.part(place.t, 1.0) if place.t < 1.0 else None
    if left is None or (beyond and left.length() <= STUB):
        return beyond
    return (thread.carrying(left), *beyond)


def _carried_on(run: Strand, seam: SeamEnd) -> Strand:
    start = run[0].segment.start
    end = _crossing(start, -run[0].segment.tangent(0.0), seam)
    return (run[0].carrying(Line(end, start)), *run)


def _crossing(start: Point, way: Vector, seam: SeamEnd) -> Point:
    across = way.cross(seam.down)
    _refuse_along(across)
    reach = (seam.end - start).cross(seam.down) / across
    if reach <= 0.0:
        raise _ApartError("leads away from the seam")
    return start.moved(way, reach)


def _refuse_along(sine: float) -> None:
    if abs(sine) < LEAST_ANGLE:
        raise _ApartError("runs along the seam instead of meeting it")


def _ended(seam: SeamEnd, end: Point) -> SeamEnd:
    """The seam made longer or shorter along its last direction, to end exactly there.

    What was cut off one that was cut back is still its line: it goes along that first.
    """
    more = seam.down.dot(end - seam.end)
    if abs(more) <= SLIVER:
        return seam
    left = -seam.added_mm - more
    if seam.whole and SLIVER < left < length_available(seam.whole):
        return cut_back_by_length(seam.whole, left)
    if seam.whole and left <= SLIVER:
        down = end_direction([t.segment for t in seam.whole])
        return carry_on(seam.whole, down, max(0.0, -left))
    if more > 0.0:
        longer = carry_on(seam.strand, seam.down, more)
    elif -more < length_available(seam.strand):
        longer = cut_back_by_length(seam.strand, -more)
    else:
        raise TooFarError("the slid hem would meet its seam above the seam's beginning")
    return SeamEnd(longer.strand, longer.end, _down_at(seam, longer, more), seam.added_mm + more)


def _down_at(seam: SeamEnd, ended: SeamEnd, more: float) -> Vector:
    """Where the seam points at its new end: elsewhere when it was cut back along a curve.

    Within the line that was carried straight on it still points along that, and is not asked
    anew of the last steps of a digitised seam and a stub of that line.
    """
    last = ended.strand[-1].segment
    on_line = isinstance(last, Line) and (abs(last.tangent(1.0).cross(seam.down)) < SAME_DIRECTION)
    return seam.down if on_line and -more <= seam.added_mm else ended.down
