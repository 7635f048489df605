"""Going up a rounded hem corner: where the bend has died down and the seam begins."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from core.curve import Point, Ring, Segment
from core.piece.corners import window_turn
from core.piece.direction import FIT_STRETCH
from core.piece.model import Because

# A rounded corner bends more than this (1/mm): its radius is below 200 mm.
ROUNDED = 1.0 / 200.0
# A bend below this (1/mm) is as good as straight: over 60 mm a tangent stays within 0.5 mm.
STRAIGHT = 1.0 / 4000.0
# The seam stays calm at least over this length (mm) ...
CALM_LENGTH = 8.0
# ... and a smooth dying down of the bend is followed this much further (mm).
FADE = 80.0
# A step of the bend by this factor, at a joint, ends the rounding right there.
STEP = 0.4
SAMPLES = 64
# Digitised lines: window (mm) for the bend, and the bend (1/mm) that scatter may pretend.
WINDOW = 20.0
CALM_DIGITISED = 1.0 / 320.0
CALM_STRETCH = 25.0
# The set-on bend is looked at until it has turned this far (radians) from the seam.
SET_ON_TURN = 0.45
# A ruled line that begins within this (mm) of the place found is where the seam begins.
SNAP = 20.0
RULED = 25.0
# Between a rounding and a ruled seam may stand the stub of a seam that was made longer plumb, or
# along another taper. Its turns are asked against those of so much (mm) of rounding below it; half
# of a degree, and so many times what these scatter, is no sign of it.
ROUNDING = 15.0
LEAST_OFF = math.radians(0.5)
SCATTERS = 3.0
# It turns from the rounding below it by less than this share of what a step of a rounding would.
LITTLE = 0.55


FADED = Because(True, "the rounded corner has died down into the seam here")


@dataclass(frozen=True)
class CalmPlace:
    """Segment `index` of the way and its t, where the fit line begins."""

    index: int
    t: float
    because: Because


@dataclass(frozen=True)
class _Sample:
    index: int
    t: float
    gone: float
    bend: float


def calm_drawn(segments: Sequence[Segment], start: float) -> CalmPlace:
    """On lines and curves: climbed from t = `start` of the first segment.

    The bend is the exact curvature, counted positive in the sense of the rounding. Samples only
    bracket the places; they are then solved for, so that no split of a curve moves them.
    """
    samples = _samples(segments, start)
    k = _first_calm(samples)
    flat = k
    while k is not None and (again := _bends_again(samples, k)) is not None:
        k = _first_calm(samples, again)
    if k is None:
        lowest = min(samples, key=lambda s: s.bend)
        why = Because(False, "the hem is rounded all the way up the seam")
        return CalmPlace(lowest.index, lowest.t, why)
    if k == 0:
        why = Because(False, "the hem runs into the seam without a corner")
        return CalmPlace(samples[0].index, samples[0].t, why)
    if samples[k].index != samples[k - 1].index and samples[k].bend <= STEP * samples[k - 1].bend:
        radius = 1.0 / samples[k - 1].bend
        why = Because(k == flat, f"the rounded corner (radius about {radius:.0f} mm) ends here")
        return CalmPlace(samples[k].index, samples[k].t, why)
    because = FADED if k == flat else replace(FADED, sure=False)
    return CalmPlace(*_faded(segments, samples, k), because)


def _samples(segments: Sequence[Segment], start: float) -> list[_Sample]:
    ts = np.linspace(0.0, 1.0, SAMPLES + 1)
    out: list[_Sample] = []
    gone, sense = 0.0, 0.0
    for k, s in enumerate(segments):
        steps = np.hypot(*np.diff(s.points(ts), axis=0).T)
        lengths = gone + np.concatenate(([0.0], np.cumsum(steps)))
        for t, length in zip(ts, lengths, strict=True):
            if k == 0 and t < start:
                continue
            curvature = s.curvature(float(t))
            sense = sense or (math.copysign(1.0, curvature) if curvature else 0.0)
            out.append(_Sample(k, float(t), float(length), curvature * (sense or 1.0)))
        gone = float(lengths[-1])
    return out


def _bends_again(samples: Sequence[_Sample], k: int) -> int | None:
    """The first sample above a calm one at which the bend is a rounding's once more: the rounding
    is flat in its middle."""
    end = samples[k].gone + FADE
    above = range(k, len(samples))
    return next((j for j in above if samples[j].gone <= end and samples[j].bend >= ROUNDED), None)


def _first_calm(samples: Sequence[_Sample], begin: int = 0) -> int | None:
    """The first sample, from that one on, from which the bend stays below a rounding's for
    CALM_LENGTH."""
    calm_from: int | None = None
    for k in range(begin, len(samples)):
        s = samples[k]
        if s.bend >= ROUNDED:
            calm_from = None
        elif calm_from is None:
            calm_from = k
        if calm_from is not None and s.gone - samples[calm_from].gone >= CALM_LENGTH:
            return calm_from
    return calm_from


def _faded(segments: Sequence[Segment], samples: Sequence[_Sample], k: int) -> tuple[int, float]:
    """The bend dies down smoothly: followed up to where it is least, or as good as none."""
    begin = _crossing(segments, samples[k - 1], samples[k], ROUNDED)
    best = k
    for j in range(k, len(samples)):
        if samples[j].bend <= STRAIGHT:
            return _crossing(segments, samples[j - 1], samples[j], STRAIGHT)
        if samples[j].gone > samples[k].gone + FADE:
            return _further(segments, begin, FADE)
        if samples[j].bend > 1.02 * samples[best].bend:
            break
        best = j if samples[j].bend < samples[best].bend else best
    return _least(segments, samples, best)


def _crossing(
    segments: Sequence[Segment], above: _Sample, below: _Sample, level: float
) -> tuple[int, float]:
    """Where the bend falls through `level` between two samples; their joint if it jumps there."""
    if above.index != below.index:
        return below.index, below.t
    curve, low, high = segments[below.index], above.t, below.t
    while high - low > 1e-12:
        middle = (low + high) / 2
        over = abs(curve.curvature(middle)) > level
        low, high = (middle, high) if over else (low, middle)
    return below.index, high


def _further(
    segments: Sequence[Segment], place: tuple[int, float], way: float
) -> tuple[int, float]:
    """The place `way` mm further on, at most the end."""
    index, t = place
    left = way + segments[index].length_to(t)
    while index + 1 < len(segments) and left > segments[index].length():
        left, index = left - segments[index].length(), index + 1
    return index, segments[index].at_length(left)


def _least(segments: Sequence[Segment], samples: Sequence[_Sample], best: int) -> tuple[int, float]:
    """Where the bend is least, near the sample `best` or beyond a joint beside it."""
    found: list[tuple[float, int, float]] = []
    for s in samples[max(0, best - 1) : best + 2]:
        curve = segments[s.index]
        t = _refined(curve, s.t)
        found.append((abs(curve.curvature(t)), s.index, t))
    return min(found)[1:]


def _refined(curve: Segment, near: float) -> float:
    """The t of least bend within a sample of `near`, by golden section; a joint as it is."""
    low, high = max(0.0, near - 1.0 / SAMPLES), min(1.0, near + 1.0 / SAMPLES)
    golden = (5**0.5 - 1) / 2
    while high - low > 1e-9:
        a, b = high - golden * (high - low), low + golden * (high - low)
        low, high = (low, b) if abs(curve.curvature(a)) < abs(curve.curvature(b)) else (a, high)
    return float(round(low)) if min(low, 1.0 - high) < 1e-8 else (low + high) / 2


def calm_digitised(ring: Ring, joints: Sequence[int]) -> CalmPlace:
    """On a row of short lines: the joint at which the rounding leaves the fit line.

    The bend is that of chords over WINDOW, so that scatter does not count; the joint where it
    has died down is then moved to where a bend set on the fit line fits best. A ruled line
    that begins nearby is taken as the beginning of the seam.
    """
    lengths = [ring.segments[k].length() for k in joints]
    bends = [abs(window_turn(ring, k, WINDOW)) / WINDOW for k in joints]
    found = next(
        (i for i in range(1, len(joints)) if _stays_calm(bends, lengths, i)), len(joints) - 1
    )
    ruled = _ruled_nearby(lengths, found)
    if ruled is not None:
        why = "the rounded corner ends at a ruled seam here"
        stub = _stub_below(ring, joints[: ruled + 1])
        if stub:
            why += ", or at the short line below it, which is no part of the rounding"
        return CalmPlace(ruled, 0.0, Because(not stub, why))
    calm = _stays_calm(bends, lengths, found)
    begun = _set_on([ring.segments[k].start for k in joints], lengths, found) if calm else found
    return CalmPlace(begun, 0.0, Because(calm, "the digitised corner has died down here"))


def _stub_below(ring: Ring, joints: Sequence[int]) -> bool:
    """Does the step below the last joint, where a ruled seam begins, not belong to the rounding?

    The last step of a rounding turns from the seam by about half of what the rounding turns over
    that length, never against it; and from the step below it by half of what both turn.
    """
    steps = [ring.segments[k] for k in joints]
    lengths = [s.length() for s in steps]
    turns = [0.0, *(a.tangent(0.5).angle_to(b.tangent(0.5)) for a, b in pairwise(steps))]
    shares = [0.0, *((a + b) / 2 for a, b in pairwise(lengths))]
    last = len(steps) - 1
    first = last - 1
    while first > 1 and sum(shares[first : last - 1]) < ROUNDING:
        first -= 1
    below = range(first, last - 1)
    if len(below) < 2:
        return False
    bend = sum(turns[k] for k in below) / sum(shares[k] for k in below)
    scatter = math.sqrt(sum((turns[k] - bend * shares[k]) ** 2 for k in below) / len(below))
    off = LEAST_OFF + SCATTERS * scatter
    sense = math.copysign(1.0, bend)
    above, below_it = turns[last] * sense, turns[last - 1] * sense
    if not -off <= above <= abs(bend) * lengths[last - 1] + off:
        return True
    return below_it < LITTLE * abs(bend) * shares[last - 1] - off


def _set_on(points: Sequence[Point], lengths: Sequence[float], found: int) -> int:
    """The joint from which, downwards, a bend set on the fit line fits the points best.

    Least squares for a parabola along the seam, above `found`, plus a second one that begins at
    the joint that is tried.
    """
    last, gone = found, 0.0
    while last + 1 < len(points) and gone < FIT_STRETCH:
        last, gone = last + 1, gone + lengths[last]
    seam = (points[found] - points[last]).unit()
    first = found
    while first > 0 and abs(seam.angle_to(points[first - 1] - points[first])) < SET_ON_TURN:
        first -= 1
    ways = [points[k] - points[found] for k in range(first, last + 1)]
    along = np.array([seam.dot(w) for w in ways])
    across = np.array([seam.cross(w) for w in ways])
    smooth = np.vander(along / FIT_STRETCH, 3)

    def rest(k: int) -> float:
        bend = np.maximum(0.0, along - along[k - first]) ** 2
        basis = np.column_stack((smooth, bend))
        fit = np.linalg.lstsq(basis, across, rcond=None)[0]
        return float(np.sum((across - basis @ fit) ** 2))

    return min(range(first + 1, found + 1), key=rest, default=found)


def _stays_calm(bends: Sequence[float], lengths: Sequence[float], i: int) -> bool:
    # A ruled line is calm by itself; the window at its lower end still sees the rounding.
    if lengths[i] >= RULED:
        return True
    gone = 0.0
    for bend, length in zip(bends[i:], lengths[i:], strict=True):
        if bend > CALM_DIGITISED:
            return False
        gone += length
        if gone >= CALM_STRETCH:
            return True
    return False


def _ruled_nearby(lengths: Sequence[float], found: int) -> int | None:
    for way in (-1, 1):
        i, gone = found, 0.0
        while 0 <= i < len(lengths) and gone <= SNAP:
            if lengths[i] >= RULED:
                return i
            gone, i = gone + lengths[i], i + way
    return None
