"""The taper point: where, coming up from the hem, the fit line of a seam begins.

With a plain corner it is the corner. Where the hem is rounded into the seam, the outline
is climbed from the hem until its bend has died down to that of the seam: the rounding
belongs to the style line, what lies above it is the fit line.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from core.curve import Line, Place, Ring, Segment, Vector
from core.piece.calm import calm_digitised, calm_drawn
from core.piece.direction import DIGITISED_STEP, end_direction
from core.piece.model import Because, Taper

# A seam may begin this far (radians) from the grain; the hem ends where it is steeper.
SEAM_SLOPE = math.radians(50.0)
TURNED_UP = math.radians(45.0)
SEAM_SLOPE_COS = math.cos(SEAM_SLOPE)
# How far up a rounding is followed, in mm.
FARTHEST = 500.0
SAMPLES = 48


@dataclass(frozen=True)
class Way:
    """One segment on the way up from the hem: its ring number and the t it starts at."""

    segment: Segment
    number: int
    t0: float

    def place(self, t: float) -> Place:
        """The place on the ring of a t on this segment."""
        return Place(self.number, self.t0 + t * (1.0 - self.t0))

    @property
    def digitised(self) -> bool:
        return isinstance(self.segment, Line) and self.segment.length() < DIGITISED_STEP


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
    for k, step in enumerate(way):
        if k > 0 and step.number in corners and _rise(step.segment, 0.0, down) > SEAM_SLOPE_COS:
            return _corner_taper(way[k:], corners)
        t = _turns_up(ring, step, down)
        if t is not None:
            return _rounded_taper(ring, way[k:], t, corners)
    return None


def _forward(ring: Ring, mouths: Mapping[int, int], start: Place) -> Iterator[Way]:
    """The way from `start` once round the ring, stepping over outline darts."""
    size = len(ring)
    if start.t < 1.0:
        yield Way(ring.segments[start.index].part(start.t, 1.0), start.index, start.t)
    k, done = (start.index + 1) % size, 1
    while done < size:
        if k in mouths:
            done, k = done + (mouths[k] - k) % size, mouths[k]
            continue
        yield Way(ring.segments[k], k, 0.0)
        k, done = (k + 1) % size, done + 1


def _rise(segment: Segment, t: float, down: Vector) -> float:
    """Cosine of the angle between the way at t and straight up the grain."""
    return -segment.tangent(t).dot(down)


def _turns_up(ring: Ring, step: Way, down: Vector) -> float | None:
    """The first t from which the way climbs steeply; None while it is still hem."""
    if step.digitised:
        # One step may be noise: the chord over the next stretch decides.
        ahead = ring.length_to(Place(step.number, 0.0)) + 12.0
        chord = ring.at(ring.at_length(ahead % ring.length())) - step.segment.start
        steep = chord.norm > 0.0 and -chord.unit().dot(down) > math.cos(TURNED_UP)
        return 0.0 if steep else None
    limit = math.cos(TURNED_UP)
    for k in range(SAMPLES + 1):
        if _rise(step.segment, k / SAMPLES, down) > limit:
            return k / SAMPLES
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


def _corner_taper(way: Sequence[Way], corners: frozenset[int]) -> Taper:
    seam = _until_corner(way, corners)
    return Taper(seam[0].place(0.0), _down_along(seam), Because(True, "a plain corner of the hem"))


def _down_along(seam: Sequence[Way]) -> Vector:
    """Direction in which the seam, given from its lower end up, runs out downwards."""
    return end_direction([step.segment.reversed() for step in reversed(seam)])


def _rounded_taper(
    ring: Ring, way: Sequence[Way], turned: float, corners: frozenset[int]
) -> Taper | None:
    smooth = _until_corner(way, corners)
    if smooth[0].digitised:
        found = calm_digitised(ring, [step.number for step in smooth])
    else:
        found = calm_drawn([step.segment for step in smooth], turned)
    step = smooth[found.index]
    if found.t >= 1.0 and found.index + 1 < len(smooth):
        step, t = smooth[found.index + 1], 0.0
    else:
        t = found.t
    rest = step.segment.part(t, 1.0) if 0.0 < t < 1.0 else step.segment
    seam = [Way(rest, step.number, 0.0), *smooth[smooth.index(step) + 1 :]]
    return Taper(step.place(t), _down_along(seam), found.because)
