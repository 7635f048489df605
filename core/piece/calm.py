"""Going up a rounded hem corner: where the bend has died down and the seam begins."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

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

    The bend is the exact curvature, counted positive in the sense of the rounding.
    """
    samples = _samples(segments, start)
    k = _first_calm(samples)
    if k is None:
        lowest = min(samples, key=lambda s: s.bend)
        return _place(lowest, Because(False, "the hem is rounded all the way up the seam"))
    if k == 0:
        return _place(samples[0], Because(False, "the hem runs into the seam without a corner"))
    if samples[k].bend <= STEP * samples[k - 1].bend or samples[k].bend <= STRAIGHT:
        return _place(samples[k], _rounded(samples[k - 1]))
    return _faded(segments, samples, k)


def _rounded(sample: _Sample) -> Because:
    radius = 1.0 / sample.bend if sample.bend > 0.0 else 0.0
    return Because(True, f"the rounded corner (radius about {radius:.0f} mm) ends here")


def _place(sample: _Sample, because: Because) -> CalmPlace:
    return CalmPlace(sample.index, sample.t, because)


def _samples(segments: Sequence[Segment], start: float) -> list[_Sample]:
    ts = np.linspace(0.0, 1.0, SAMPLES + 1)
    out: list[_Sample] = []
    gone, sense = 0.0, 0.0
    for k, s in enumerate(segments):
        here = [t for t in ts if k > 0 or t >= start]
        length = s.length()
        for t in here:
            curvature = s.curvature(float(t))
            sense = sense or (1.0 if curvature >= 0.0 else -1.0) if curvature else sense
            out.append(_Sample(k, float(t), gone + length * float(t), curvature * (sense or 1.0)))
        gone += length
    return out


def _first_calm(samples: Sequence[_Sample]) -> int | None:
    """The first sample from which the bend stays below a rounding's for CALM_LENGTH."""
    calm_from: int | None = None
    for k, s in enumerate(samples):
        if s.bend >= ROUNDED:
            calm_from = None
        elif calm_from is None:
            calm_from = k
        if calm_from is not None and s.gone - samples[calm_from].gone >= CALM_LENGTH:
            return calm_from
    return calm_from


def _faded(segments: Sequence[Segment], samples: Sequence[_Sample], k: int) -> CalmPlace:
    """The bend dies down smoothly: followed up to where it is least, or as good as none."""
    reach = samples[k].gone + FADE
    best = k
    for j in range(k + 1, len(samples)):
        if samples[j].gone > reach or samples[j].bend > 1.02 * samples[best].bend:
            break
        best = j
        if samples[j].bend <= STRAIGHT:
            break
    found = samples[best]
    because = Because(True, "the rounded corner has died down into the seam here")
    if found.t in (0.0, 1.0):
        return _place(found, because)
    curve = segments[found.index]
    sense = 1.0 if found.bend * curve.curvature(found.t) >= 0.0 else -1.0
    t = _refined(lambda t: abs(sense * curve.curvature(t)), found.t)
    return CalmPlace(found.index, t, because)


def _refined(bend: Callable[[float], float], near: float) -> float:
    """The t of least bend within a sample of `near`, by golden section."""
    low, high = max(0.0, near - 1.0 / SAMPLES), min(1.0, near + 1.0 / SAMPLES)
    golden = (5**0.5 - 1) / 2
    while high - low > 1e-9:
        a, b = high - golden * (high - low), low + golden * (high - low)
        low, high = (low, b) if bend(a) < bend(b) else (a, high)
    return (low + high) / 2


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
        return CalmPlace(ruled, 0.0, Because(True, "the rounded corner ends at a ruled seam here"))
    calm = _stays_calm(bends, lengths, found)
    begun = _set_on([ring.segments[k].start for k in joints], lengths, found) if calm else found
    return CalmPlace(begun, 0.0, Because(calm, "the digitised corner has died down here"))


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
