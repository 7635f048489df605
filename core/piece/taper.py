"""The taper point: where, coming up from the hem, the fit line of a seam begins.

With a plain corner it is the corner. Where the hem is rounded into the seam, the outline
is climbed from the hem until its bend has died down to that of the seam: the rounding
belongs to the style line, what lies above it is the fit line.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from core.curve import Line, Place, Ring, Segment, Vector
from core.piece.calm import calm_digitised, calm_drawn
from core.piece.direction import STRETCHES, digitised, end_fit
from core.piece.hem_cuts import HemCuts
from core.piece.model import Because, Taper

# A seam may begin this far (radians) from the grain; the hem ends where it is steeper.
SEAM_SLOPE = math.radians(50.0)
TURNED_UP = math.radians(45.0)
SEAM_SLOPE_COS = math.cos(SEAM_SLOPE)
# A line that slants by more may be the side of a pointed hem.
SLANTED_COS = math.cos(math.radians(30.0))
# A digitised line is looked at over this much (mm) at a time.
LOOK_AHEAD = 12.0
# How far up a rounding is followed, in mm.
FARTHEST = 500.0
SAMPLES = 48
# A vent is at most this wide and high (mm), common practice; its upper edge runs across.
WIDEST_VENT, LONGEST_VENT = 80.0, 300.0
WIDEST_VENT_SLOPE = math.sin(math.radians(40.0))
# The top of a pleat slants by up to this (sine): it may be the end of the seam, and may be none.
WIDEST_PLEAT_SLOPE = math.sin(math.radians(70.0))
# A vent is clearly one where it is at least this wide (mm: a turn-up is stepped by a seam allowance
# only), drawn with a ruler (sine of what its lines turn), along the grain and square to it (sine
# of what they are off), and the seam above it is longer than it by this factor.
CLEAR_WIDTH = 18.0
RULED = 1e-3
CLEAR_SLOPE = math.sin(math.radians(15.0))
CLEAR_UPRIGHT = math.cos(math.radians(15.0))
CLEAR_LENGTH = 1.25
# A seam is far longer than the end of a hem below it by this factor.
FAR_LONGER = 4.0
# A seam does not turn by so much (radians) above its end.
BROKEN = math.radians(20.0)
# A digitised seam whose direction has a larger standard error (radians) is to be looked at. A
# straight one has a twentieth of a degree; what has more bends, and may bend more at its end.
MOST_SPREAD = math.radians(0.11)
# A seam may be mirrored at the fold of a turn-up, which is so deep (mm): below, it leans (radians)
# as far to the other side, within that share.
SHALLOWEST, DEEPEST = 10.0, 120.0
LEAST_LEAN = math.radians(0.4)
MIRRORED, ASKEW = 0.2, math.radians(0.15)


class Way(NamedTuple):
    """One segment on the way up from the hem: its ring number and the t it starts at."""

    segment: Segment
    number: int
    t0: float
    digitised: bool

    def place(self, t: float) -> Place:
        """The place on the ring of a t on this segment."""
        return Place(self.number, self.t0 + t * (1.0 - self.t0))


def find_taper(
    ring: Ring,
    down: Vector,
    corners: frozenset[int],
    mouths: Mapping[int, int],
    middle: Place,
) -> Taper | None:
    """The taper point that is met going forward round the ring from `middle` of the hem.

    `corners` are joints, `mouths` map the first joint of an outline dart to its last.
    None when the outline is run all round without a seam.
    """
    way = tuple(_forward(ring, mouths, middle))
    shape = HemCuts.of(ring, down)
    k = 0
    while k < len(way):
        corner = k > 0 and way[k].number in corners
        corner = corner and _rise(way, k, 0.0, down, corners) > SEAM_SLOPE_COS
        t = None if corner else _turns_up(way, k, down, corners)
        if not corner and t is None:
            k += 1
            continue
        if corner and (top := _pointed_to(way, k, down, corners)) is not None:
            return _steep_hem_taper(way[top - 1].segment, _until_corner(way[top:], corners))
        vent = _vent(way, k, down, corners) if corner else None
        over = None if vent else shape.over([w.segment for w in way[k:]], t or 0.0)
        if over is not None:
            k += over
        elif t is not None:
            return _rounded_taper(ring, way[k:], t, corners, down)
        else:
            return _corner_taper(way[vent.stop if vent else k :], corners, vent, down)
    return None


def _forward(ring: Ring, mouths: Mapping[int, int], start: Place) -> Iterator[Way]:
    """The way from `start` once round the ring, stepping over outline darts."""
    size, steps = len(ring), digitised(ring.segments)
    if start.t < 1.0:
        first = ring.segments[start.index].part(start.t, 1.0)
        yield Way(first, start.index, start.t, steps[start.index])
    k, done = (start.index + 1) % size, 1
    while done < size:
        if k in mouths:
            done, k = done + (mouths[k] - k) % size, mouths[k]
            continue
        yield Way(ring.segments[k], k, 0.0, steps[k])
        k, done = (k + 1) % size, done + 1


def _rise(way: Sequence[Way], k: int, t: float, down: Vector, corners: frozenset[int]) -> float:
    """Cosine of the angle between the way at t of its step k and straight up the grain."""
    if not way[k].digitised:
        return -way[k].segment.tangent(t).dot(down)
    # One step may be noise, so the chord over the next stretch decides; not past a corner,
    # or the hem would seem to turn up just before it.
    start = end = way[k].segment.start
    for n in range(k, len(way)):
        step = way[n]
        if end != start and (step.number in corners or start.distance(end) >= LOOK_AHEAD):
            break
        end = step.segment.end
    chord = end - start
    return -chord.unit().dot(down) if chord.norm > 0.0 else 0.0


def _turns_up(way: Sequence[Way], k: int, down: Vector, corners: frozenset[int]) -> float | None:
    """The first t from which step k climbs steeply; None while it is still hem."""
    count = 0 if way[k].digitised else SAMPLES
    limit = math.cos(TURNED_UP)
    for n in range(count + 1):
        t = n / SAMPLES
        if _rise(way, k, t, down, corners) > limit:
            return t
    return None


def _until_corner(way: Sequence[Way], corners: frozenset[int]) -> tuple[Way, ...]:
    """The smooth beginning of the way, not longer than is sensible for a rounding."""
    out: list[Way] = []
    gone = 0.0
    for step in way:
        if out and (step.number in corners or gone > FARTHEST):
            break
        out.append(step)
        gone += step.segment.length()
    return tuple(out)


class _Vent(NamedTuple):
    """Where on the way the seam goes on above a vent, and how deep (mm) the vent is; `ruled` when
    it is drawn as one is: wide enough to be no turn-up, its edge along the grain, its step
    square to that, both with a ruler."""

    stop: int
    deep: float
    ruled: bool


def _vent(way: Sequence[Way], k: int, down: Vector, corners: frozenset[int]) -> _Vent | None:
    """The vent whose lower corner is at k: up, a short step across, and the seam goes on up."""
    turns = [j for j in range(k + 1, len(way)) if way[j].number in corners][:2]
    if len(turns) < 2:
        return None
    low, inner, upper = (way[j].segment.start for j in (k, *turns))
    edge, step = inner - low, upper - inner
    across = abs(step.dot(down)) < WIDEST_VENT_SLOPE * step.norm
    fits = step.norm <= WIDEST_VENT and edge.norm <= LONGEST_VENT
    # A scoop in the hem and the hem beside it are no vent: it ends no higher than it began.
    climbs = -edge.dot(down) > SEAM_SLOPE_COS * edge.norm
    if not (
        fits and climbs and across and _rise(way, turns[1], 0.0, down, corners) > SEAM_SLOPE_COS
    ):
        return None
    square = abs(step.dot(down)) < CLEAR_SLOPE * step.norm
    upright = abs(edge.cross(down)) < CLEAR_SLOPE * edge.norm
    drawn = _is_ruled(way[k : turns[0]]) and _is_ruled(way[turns[0] : turns[1]])
    clear = square and upright and drawn and step.norm >= CLEAR_WIDTH
    return _Vent(turns[1], edge.norm, clear)


def _pointed_to(way: Sequence[Way], k: int, down: Vector, corners: frozenset[int]) -> int | None:
    """Where the seam begins when what climbs from the corner at k slants as the hem of a pointed
    piece does, to another corner from which a longer line goes up more steeply."""
    if _rise(way, k, 0.0, down, corners) > SLANTED_COS:
        return None
    hem = _until_corner(way[k:], corners)
    top = k + len(hem)
    seam = _seam_above(way[top:], SLANTED_COS, down, corners)
    return top if seam and _length(seam) >= _length(hem) else None


def _seam_above(
    beyond: Sequence[Way], least: float, down: Vector, corners: frozenset[int]
) -> tuple[Way, ...]:
    """The seam that begins with a corner and climbs more steeply than `least` (the cosine); ()
    when what lies beyond begins otherwise."""
    if not beyond or beyond[0].number not in corners:
        return ()
    climbs = _rise(beyond, 0, 0.0, down, corners) > least
    return _until_corner(beyond, corners) if climbs else ()


def _length(steps: Sequence[Way]) -> float:
    return sum(s.segment.length() for s in steps)


def _is_ruled(steps: Sequence[Way]) -> bool:
    """Are they one straight line, not the steps of a digitised one?"""
    chord = (steps[-1].segment.end - steps[0].segment.start).unit()
    return all(
        isinstance(s.segment, Line)
        and not s.digitised
        and abs(s.segment.tangent(0.0).cross(chord)) < RULED
        for s in steps
    )


def _corner_taper(
    way: Sequence[Way], corners: frozenset[int], vent: _Vent | None, down: Vector
) -> Taper:
    seam = _until_corner(way, corners)
    because = Because(True, "a plain corner of the hem")
    if vent is not None:
        longer = _length(seam) >= CLEAR_LENGTH * vent.deep
        because = Because(vent.ruled and longer, "the seam was taken to end above the vent")
    elif _in_few_lines(seam):
        why = "the seam turns again just above this corner: it may be a rounding in few lines"
        because = Because(False, why)
    elif _below_a_pleat(way, corners, down):
        why = "above this corner the seam steps aside as over a pleat: it may end above that"
        because = Because(False, why)
    elif _mirrored_below(seam, down):
        why = "above this corner the seam turns as at the fold of a turn-up: it may end at the fold"
        because = Because(False, why)
    return _ending(seam, seam[0].place(0.0), because)


def _below_a_pleat(way: Sequence[Way], corners: frozenset[int], down: Vector) -> bool:
    """Does the seam step aside at a slant above its end, and go on up along the grain?"""
    turns = [j for j in range(1, len(way)) if way[j].number in corners][:2]
    if len(turns) < 2:
        return False
    low, inner, upper = (way[j].segment.start for j in (0, *turns))
    edge, step = inner - low, upper - inner
    slants = 0.0 <= -step.dot(down) < WIDEST_PLEAT_SLOPE * step.norm
    fits = step.norm <= WIDEST_VENT and edge.norm <= LONGEST_VENT
    seam = _seam_above(way[turns[1] :], CLEAR_UPRIGHT, down, corners)
    return fits and slants and bool(seam) and _length(seam) >= CLEAR_LENGTH * edge.norm


def _mirrored_below(seam: Sequence[Way], down: Vector) -> bool:
    """Does the ruled end of the seam lean as far to one side as what is above it to the other?"""
    count = next((k for k in range(1, len(seam)) if not _is_ruled(seam[: k + 1])), len(seam))
    if count == len(seam) or not _is_ruled(seam[:count]):
        return False
    if not SHALLOWEST <= _length(seam[:count]) <= DEEPEST:
        return False
    above = end_fit([step.segment.reversed() for step in reversed(seam[count:])]).down
    below = seam[0].segment.tangent(0.0)
    leans = (-down).angle_to(-above), (-down).angle_to(below)
    lean = max(map(abs, leans))
    return lean >= LEAST_LEAN and abs(sum(leans)) <= MIRRORED * lean + ASKEW


def _in_few_lines(seam: Sequence[Way]) -> bool:
    """Is it so short a row of digitised steps from corner to corner that it tells no direction?"""
    return all(step.digitised for step in seam) and _length(seam) < STRETCHES[-1]


def _ending(seam: Sequence[Way], place: Place, because: Because) -> Taper:
    """The taper of a seam, given from its lower end up: how it runs out downwards."""
    fit = end_fit([step.segment.reversed() for step in reversed(seam)])
    if because.sure and fit.spread > MOST_SPREAD:
        why = f"{because.why}, but the seam bends and its points scatter"
        because = Because(False, f"{why}, so its direction is not certain")
    return Taper(place, fit.down, because)


def _rounded_taper(
    ring: Ring, way: Sequence[Way], turned: float, corners: frozenset[int], down: Vector
) -> Taper | None:
    smooth = _until_corner(way, corners)
    if smooth[0].digitised:
        found = calm_digitised(ring, [step.number for step in smooth])
    else:
        found = calm_drawn([step.segment for step in smooth], turned)
    # What turned up may be but the end of a pointed hem, below the corner of a far longer seam.
    above = _seam_above(way[len(smooth) :], SEAM_SLOPE_COS, down, corners)
    climbed = _length(smooth) - smooth[0].segment.length_to(turned)
    if above and _length(above) >= FAR_LONGER * climbed:
        ends, begins = smooth[-1].segment.tangent(1.0), above[0].segment.tangent(0.0)
        if not found.because.sure or abs(ends.angle_to(begins)) > BROKEN:
            return _steep_hem_taper(smooth[-1].segment, above)
    step = smooth[found.index]
    if found.t >= 1.0 and found.index + 1 < len(smooth):
        step, t = smooth[found.index + 1], 0.0
    else:
        t = found.t
    rest = step.segment.part(t, 1.0) if 0.0 < t < 1.0 else step.segment
    seam = [Way(rest, step.number, 0.0, step.digitised), *smooth[smooth.index(step) + 1 :]]
    return _ending(seam, step.place(t), found.because)


def _steep_hem_taper(hem: Segment, seam: Sequence[Way]) -> Taper:
    """Sure where the hem arrives square to the seam, as that of a circle skirt does."""
    square = abs(hem.tangent(1.0).dot(seam[0].segment.tangent(0.0))) < CLEAR_SLOPE
    why = "a plain corner of the hem" if square else "the hem climbs steeply to this corner"
    return _ending(seam, seam[0].place(0.0), Because(square, why))
