"""Arc length of cubics by Gauss-Legendre quadrature to an absolute tolerance."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise

import numpy as np

from core.curve.roots import real_roots

# Absolute, in mm, at every size: the sum of the local estimates stays below it.
TOLERANCE = 1e-9
# Beside a narrow turn two sums can agree about ten times better than they are right.
CAUTION = 0.01
# Halving stops here; a cusp then contributes less than the tolerance.
MAX_DEPTH = 24
# A place at a given length is found this well, in mm.
PLACE_TOLERANCE = 1e-10
# Bisection alone would be done by then.
MAX_STEPS = 60
# A share of the whole below which two sums differ by rounding, not by truncation.
ROUNDING = 4e-15

Pair = tuple[float, float]
# Three control vectors of a derivative: quadratic in t, in mm per unit of t.
Hodograph = tuple[Pair, Pair, Pair]

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)
_T = (_NODES + 1.0) / 2.0
# The nodes of the whole, of its first half and of its second half.
_ALL = np.concatenate((_T, _T / 2.0, (_T + 1.0) / 2.0))
_BASIS = np.stack(((1.0 - _ALL) ** 2, 2.0 * (1.0 - _ALL) * _ALL, _ALL**2), axis=1)
# Rows: sum over the whole, over the first half, over the second half.
_SUMS = np.kron(np.diag((0.5, 0.25, 0.25)), _WEIGHTS)


def hodograph(controls: Sequence[Pair]) -> Hodograph:
    """The derivative of the cubic with these four controls."""
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = controls
    return (
        (3 * (x1 - x0), 3 * (y1 - y0)),
        (3 * (x2 - x1), 3 * (y2 - y1)),
        (3 * (x3 - x2), 3 * (y3 - y2)),
    )


def between(h: Hodograph, t0: float, t1: float, *, tolerance: float = TOLERANCE) -> float:
    """Arc length in mm from t0 to t1; negative when t1 < t0.

    16-point Gauss-Legendre, cut where the curve doubles back, and halved where the two
    halves disagree with the whole by more than the tolerance's share.
    """
    if t0 == 0.0 and t1 == 1.0:
        return _whole(h, tolerance)
    size = _size(_part(h, t0, t1), tolerance)
    return size if t1 >= t0 else -size


# Places along a curve are asked for one after the other, and each needs the whole.
@lru_cache(maxsize=4096)
def _whole(h: Hodograph, tolerance: float) -> float:
    return _size(h, tolerance)


def _size(h: Hodograph, tolerance: float) -> float:
    stops = (0.0, *_slowest(h), 1.0)
    pieces = [h] if len(stops) == 2 else [_part(h, *p) for p in pairwise(stops)]
    return sum(_adaptive(p, CAUTION * tolerance / len(pieces), 0) for p in pieces)


def _slowest(h: Hodograph) -> tuple[float, ...]:
    """Where the speed is least (or greatest), when the curve turns by a right angle or more.

    The speed has a kink where the curve doubles back. Beyond the outermost nodes no sum would
    see it: a straight seam whose handle points slightly backward comes out short.
    """
    (ax, ay), (bx, by), (cx, cy) = h
    if ax * bx + ay * by > 0.0 and bx * cx + by * cy > 0.0 and ax * cx + ay * cy > 0.0:
        return ()
    ux, uy, vx, vy = 2 * (bx - ax), 2 * (by - ay), ax - 2 * bx + cx, ay - 2 * by + cy
    # Half the slope of the squared speed |a + u t + v t^2|^2.
    slope = (
        ax * ux + ay * uy,
        ux * ux + uy * uy + 2 * (ax * vx + ay * vy),
        3 * (ux * vx + uy * vy),
        2 * (vx * vx + vy * vy),
    )
    return tuple(t for t in real_roots(slope) if 0.0 < t < 1.0)


def _adaptive(h: Hodograph, tolerance: float, depth: int) -> float:
    speeds = _BASIS @ np.array(h)
    whole, first, second = (_SUMS @ np.hypot(speeds[:, 0], speeds[:, 1])).tolist()
    both = float(first + second)
    if depth >= MAX_DEPTH or not abs(both - whole) > max(tolerance, ROUNDING * both):
        return both
    half, deeper = tolerance / 2.0, depth + 1
    return _adaptive(_part(h, 0.0, 0.5), half, deeper) + _adaptive(_part(h, 0.5, 1.0), half, deeper)


def _part(h: Hodograph, t0: float, t1: float) -> Hodograph:
    """The derivative over t0..t1 as its own 0..1, so scaled by t1 - t0."""
    step = t1 - t0

    def polar(u: float, v: float) -> Pair:
        a, b, c = (1.0 - u) * (1.0 - v), (1.0 - u) * v + u * (1.0 - v), u * v
        (x0, y0), (x1, y1), (x2, y2) = h
        return (a * x0 + b * x1 + c * x2) * step, (a * y0 + b * y1 + c * y2) * step

    return polar(t0, t0), polar(t0, t1), polar(t1, t1)


def _speed(h: Hodograph, t: float) -> Pair:
    """The speed at t, and how fast it rises there."""
    u = 1.0 - t
    a, b, c = u * u, 2.0 * u * t, t * t
    (x0, y0), (x1, y1), (x2, y2) = h
    x, y = a * x0 + b * x1 + c * x2, a * y0 + b * y1 + c * y2
    speed = math.hypot(x, y)
    if speed == 0.0:
        return 0.0, 0.0
    dx, dy = u * (x1 - x0) + t * (x2 - x1), u * (y1 - y0) + t * (y2 - y1)
    return speed, 2.0 * (x * dx + y * dy) / speed


def parameter_at(h: Hodograph, s: float) -> float:
    """The t in [0, 1] at arc length `s` mm, by Halley's steps kept inside a bisection bracket.

    Lengths outside the curve give the nearer end.
    """
    whole = between(h, 0.0, 1.0)
    if not (s > 0.0 and 0.0 < whole < math.inf):
        return 0.0
    if s >= whole:
        return 1.0
    low, high, t = 0.0, 1.0, s / whole
    off = between(h, 0.0, t) - s
    for _ in range(MAX_STEPS):
        if abs(off) <= max(PLACE_TOLERANCE, ROUNDING * whole):
            break
        low, high = (low, t) if off > 0.0 else (t, high)
        following = _halley(t, off, *_speed(h, t))
        if not low < following < high:
            following = (low + high) / 2.0
        # Only the step is measured: the length up to t is already known.
        off += between(h, t, following)
        t = following
    return t


def _halley(t: float, off: float, speed: float, rise: float) -> float:
    """From t nearer to where nothing is `off`; t itself where the curve stands still.

    Source: Press et al., Numerical Recipes, 9.4 (third order where Newton's step is second).
    """
    below = 2.0 * speed * speed - off * rise
    return t - 2.0 * off * speed / below if below > 0.0 else t
