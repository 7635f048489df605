"""Cubics along a line that runs beside a base: the offset of a curve, as curves."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.alter.allowance.base import Base, Spot
from core.curve import Cubic, Point, Vector

# Largest distance (mm) between the true line and its cubics; a fifth of what is promised,
# so that two changes still agree with the one by their sum.
TOLERANCE = 2e-3
# Halvings of a line before what is left counts as good enough.
MOST_HALVINGS = 7
# Lines shorter than this (mm) are drawn as one cubic.
LEAST_LENGTH = 2.0
# Places at which a cubic is fitted and looked at.
SAMPLES = 13
# Rounds in which the handles are made better.
ROUNDS = 4
# The shortest handle, as a share of the whole; by what a step is damped; and the least speed
# by which anything is divided.
LEAST, DAMPED, TINY = 0.05, 1e-3, 1e-12

Values = NDArray[np.float64]
Pair = tuple[Values, Values]


@dataclass(frozen=True)
class Beside:
    """A line beside a base, from a spot evenly to another (w in [0, 1])."""

    base: Base
    start: Spot
    end: Spot

    def spot(self, w: float) -> Spot:
        def even(a: float, b: float) -> float:
            return a + w * (b - a)

        a, b = self.start, self.end
        return Spot(even(a.length, b.length), even(a.along, b.along), even(a.beside, b.beside))

    def point(self, w: float) -> Point:
        return self.base.point(self.spot(w))

    def way(self, w: float) -> Vector:
        run = self.end.length - self.start.length
        slope = (self.end.beside - self.start.beside) / run if run > 0.0 else 0.0
        return self.base.way(self.spot(w), slope)


def cubics_beside(line: Beside, start: Point, end: Point) -> tuple[Cubic, ...]:
    """Cubics from `start` to `end` within TOLERANCE of the line, smoothly joined."""
    return _between(line, (0.0, start), (1.0, end), MOST_HALVINGS)


def _between(
    line: Beside, first: tuple[float, Point], last: tuple[float, Point], halvings: int
) -> tuple[Cubic, ...]:
    (w0, start), (w1, end) = first, last
    ws = np.linspace(w0, w1, SAMPLES)
    points = np.array([(p.x, p.y) for p in map(line.point, map(float, ws[1:-1]))])
    cubic, off = _fitted(points, start, end, line.way(w0), line.way(w1))
    if off <= TOLERANCE or halvings == 0 or start.distance(end) < LEAST_LENGTH:
        return (cubic,)
    w = (w0 + w1) / 2
    middle = (w, line.point(w))
    return (
        *_between(line, first, middle, halvings - 1),
        *_between(line, middle, last, halvings - 1),
    )


def _fitted(
    inner: Values, start: Point, end: Point, leaving: Vector, arriving: Vector
) -> tuple[Cubic, float]:
    """The cubic with the given ends and directions that best follows the points, and the
    largest distance (mm) that is left; the two handles by least squares."""
    a, b = np.array((start.x, start.y)), np.array((end.x, end.y))
    u, v = np.array((leaving.x, leaving.y)), np.array((arriving.x, arriving.y))
    steps = np.linalg.norm(np.diff(np.vstack((a, inner, b)), axis=0), axis=1)
    whole = float(steps.sum())
    ts = np.cumsum(steps)[:-1] / whole if whole > 0.0 else np.linspace(0, 1, SAMPLES)[1:-1]
    handles = np.array((whole / 3, whole / 3))
    for _ in range(ROUNDS):
        c = _controls((a, b), (u, v), handles)
        ts = _nearer(inner, ts, c)
        handles = _better(inner, ts, ((a, b), (u, v)), handles)
        handles = np.clip(handles, LEAST * whole, whole)
    c = _controls((a, b), (u, v), handles)
    ts = _nearer(inner, ts, c)
    off = float(np.linalg.norm(_at(c, ts) - inner, axis=1).max())
    c1, c2 = (Point(float(p[0]), float(p[1])) for p in c[1:3])
    return Cubic(start, c1, c2, end), off if math.isfinite(off) else math.inf


def _controls(ends: Pair, ways: Pair, handles: Values) -> Values:
    c1, c2 = ends[0] + handles[0] * ways[0], ends[1] - handles[1] * ways[1]
    return np.stack((ends[0], c1, c2, ends[1]))


def _better(inner: Values, ts: Values, frame: tuple[Pair, Pair], handles: Values) -> Values:
    """Handles nearer to the points: only the distance square to the curve is to vanish, so
    that places on the curve are free to slide along it and few rounds are enough."""
    ends, ways = frame
    c = _controls(ends, ways, handles)
    way = _speed(c, ts)
    normals = np.stack((-way[:, 1], way[:, 0]), axis=1)
    normals /= np.maximum(np.linalg.norm(normals, axis=1), TINY)[:, None]
    b1, b2 = 3 * (1 - ts) ** 2 * ts, 3 * (1 - ts) * ts * ts
    left = np.stack((b1 * (normals @ ways[0]), -b2 * (normals @ ways[1])), axis=1)
    short = ((inner - _at(c, ts)) * normals).sum(axis=1)
    # On a line without bend the handles are free along it: damped, they stay where they are.
    step = np.linalg.solve(left.T @ left + DAMPED * DAMPED * np.eye(2), left.T @ short)
    return np.asarray(handles + step)


def _nearer(inner: Values, ts: Values, c: Values) -> Values:
    """One Newton step from each t towards the place nearest to its point."""
    t = ts[:, None]
    d1 = _speed(c, ts)
    d2 = 6 * ((1 - t) * (c[2] - 2 * c[1] + c[0]) + t * (c[3] - 2 * c[2] + c[1]))
    off = _at(c, ts) - inner
    down = (d1 * d1 + off * d2).sum(axis=1)
    step = (off * d1).sum(axis=1) / np.where(np.abs(down) > 1e-12, down, 1.0)
    return np.asarray(np.clip(ts - step, 0.0, 1.0))


def _speed(c: Values, ts: Values) -> Values:
    t = ts[:, None]
    u = 1 - t
    return np.asarray(
        3 * (u * u * (c[1] - c[0]) + 2 * u * t * (c[2] - c[1]) + t * t * (c[3] - c[2]))
    )


def _at(c: Values, ts: Values) -> Values:
    t = ts[:, None]
    u = 1 - t
    return np.asarray(u**3 * c[0] + 3 * u * u * t * c[1] + 3 * u * t * t * c[2] + t**3 * c[3])
