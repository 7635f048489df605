"""Curves as circular arcs: what a polyline with bulges can hold.

A curve that is an arc already comes back as that one arc. Any other is followed by pairs
of arcs with its own direction at both ends (biarcs with equal tangent lengths: K. M.
Bolton, "Biarc curves", Computer-Aided Design 7, 1975), halved until they keep the
tolerance, so that no corner appears where there was none.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.curve import Cubic, Line, Point, Segment, Vector

# What is promised for a curve written as arcs, in mm.
TOLERANCE = 0.02
# The distance is measured at a few places only; this share of the tolerance is used up.
USED = 0.7
# A run of cubics this near to one circle, as a share of the tolerance, is that circle.
SAME_CIRCLE = 0.01
# Directions that differ less than this, in radians, run smooth.
SMOOTH = 1e-3
MAX_HALVINGS = 14
MAX_MERGED = 64
# A bulge this flat leaves a chord of a metre by less than 1e-6 mm.
FLAT = 2e-9
_SAMPLES = np.linspace(0.0, 1.0, 14)[1:-1]


@dataclass(frozen=True, slots=True)
class Step:
    """One polyline step: straight for bulge 0, else an arc with tan(angle / 4) = bulge."""

    start: Point
    end: Point
    bulge: float


def as_steps(segments: Sequence[Segment], *, tolerance: float = TOLERANCE) -> list[Step]:
    """Steps that follow joined segments within `tolerance`; lines and ends stay exact.

    `tolerance` and the segments have the same unit.
    """
    out: list[Step] = []
    k = 0
    while k < len(segments):
        s = segments[k]
        if isinstance(s, Line):
            out.append(Step(s.start, s.end, 0.0))
            k += 1
            continue
        merged, step = _longest_arc(segments, k, tolerance)
        out.extend([step] if step is not None else _fitted(s, tolerance, 0))
        k += max(merged, 1)
    return [s for s in out if s.start != s.end]


def _longest_arc(segments: Sequence[Segment], k: int, tolerance: float) -> tuple[int, Step | None]:
    """How many cubics from k on lie on one arc, and that arc; 0 and None when not even one."""
    run: list[Cubic] = []
    best: Step | None = None
    for s in segments[k : k + MAX_MERGED]:
        if isinstance(s, Line) or (run and _turn(run[-1], s) > SMOOTH):
            break
        step = one_arc([*run, s], tolerance=tolerance * SAME_CIRCLE)
        if step is None:
            break
        run.append(s)
        best = step
    return len(run), best


def _turn(before: Cubic, after: Cubic) -> float:
    return abs(before.tangent(1.0).angle_to(after.tangent(0.0)))


def one_arc(cubics: Sequence[Cubic], *, tolerance: float) -> Step | None:
    """The single arc (or straight line) along joined cubics, if there is one that near."""
    start, end = cubics[0].start, cubics[-1].end
    if start == end:
        return None
    angle = _half_angle(cubics)
    if abs(angle) >= math.pi * 0.97:
        return None
    step = Step(start, end, _bulge(angle))
    if max(_distance(c, (step,)) for c in cubics) > tolerance:
        return None
    # An arc that only passes near by would put a corner at the ends.
    first = _departure(step).angle_to(cubics[0].tangent(0.0))
    last = _arrival(step).angle_to(cubics[-1].tangent(1.0))
    return step if max(abs(first), abs(last)) <= SMOOTH else None


def _half_angle(cubics: Sequence[Cubic]) -> float:
    """Half the arc's angle: the turn at any place of an arc seen from both its ends."""
    middle = cubics[len(cubics) // 2]
    at = middle.at(0.5) if len(cubics) % 2 else middle.start
    return (at - cubics[0].start).angle_to(cubics[-1].end - at)


def _bulge(half_angle: float) -> float:
    bulge = math.tan(half_angle / 2.0)
    return bulge if abs(bulge) >= FLAT else 0.0


def _departure(step: Step) -> Vector:
    return (step.end - step.start).turned(-2.0 * math.atan(step.bulge))


def _arrival(step: Step) -> Vector:
    return (step.end - step.start).turned(2.0 * math.atan(step.bulge))


def _fitted(cubic: Cubic, tolerance: float, depth: int) -> list[Step]:
    """Arcs along one cubic, halving it until a pair of arcs keeps near enough."""
    pair = _biarc(cubic)
    if pair is not None and _distance(cubic, pair) <= tolerance * USED:
        return list(pair)
    if depth >= MAX_HALVINGS:
        return [Step(cubic.start, cubic.end, 0.0)]
    left, right = cubic.split(0.5)
    return _fitted(left, tolerance, depth + 1) + _fitted(right, tolerance, depth + 1)


def _biarc(cubic: Cubic) -> tuple[Step, ...] | None:
    """Two arcs with the cubic's ends and end directions; None where they would loop."""
    start, end = cubic.start, cubic.end
    chord = end - start
    t0, t1 = cubic.tangent(0.0), cubic.tangent(1.0)
    if chord.norm == 0.0 or min(chord.dot(t0), chord.dot(t1)) <= 0.0:
        return None
    # d^2 (2 - 2 t0.t1) + 2 d chord.(t0 + t1) = chord.chord, solved without cancellation.
    lean, opening = chord.dot(t0 + t1), 2.0 * (1.0 - t0.dot(t1))
    d = chord.dot(chord) / (lean + math.sqrt(lean * lean + opening * chord.dot(chord)))
    joint = start.towards(end, 0.5).moved(t0 - t1, d / 2.0)
    first = _bulge(t0.angle_to(joint - start))
    second = _bulge((end - joint).angle_to(t1))
    if first == second == 0.0:
        return (Step(start, end, 0.0),)
    return Step(start, joint, first), Step(joint, end, second)


def _distance(cubic: Cubic, steps: Sequence[Step]) -> float:
    """The largest distance of the cubic's samples from the steps."""
    samples = [Point(float(x), float(y)) for x, y in cubic.points(_SAMPLES)]
    return max(min(distance(p, s) for s in steps) for p in samples)


def distance(p: Point, step: Step) -> float:
    """How far a point is from a step, ends included."""
    to_ends = min(p.distance(step.start), p.distance(step.end))
    chord = step.end - step.start
    if step.bulge == 0.0:
        along = (p - step.start).dot(chord) / chord.dot(chord)
        beside = abs((p - step.start).cross(chord)) / chord.norm
        return beside if 0.0 <= along <= 1.0 else to_ends
    b = step.bulge
    centre = step.start.towards(step.end, 0.5).moved(chord.square(), (1.0 - b * b) / (4.0 * b))
    radius = chord.norm * (1.0 + b * b) / (4.0 * abs(b))
    swept = 2.0 * abs(math.atan(b))
    middle = step.start.towards(step.end, 0.5).moved(chord.square(), -b / 2.0)
    off = abs((middle - centre).angle_to(p - centre))
    return abs(p.distance(centre) - radius) if off <= swept else to_ends
