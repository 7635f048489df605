"""Real roots of small polynomials on the unit interval."""

from __future__ import annotations

import math
from collections.abc import Sequence

# A value below this share of the sum of all coefficients is rounding noise.
NOISE = 1e-15
# One rounding of the largest coefficient, and of a t near 1: there is no nearer to get.
FINEST = 2.0**-53
# Newton doubles its digits, bisection gains one bit: enough for either alone.
MAX_STEPS = 100


def real_roots(coefficients: Sequence[float], *, slack: float = 0.0) -> tuple[float, ...]:
    """Roots in [0, 1], rising, of c0 + c1 t + c2 t^2 + ...; each once, however often it counts.

    An end of the interval, or a touching extremum, whose value is within `slack` of zero
    counts as a root. None for the zero polynomial and for coefficients that are not finite.

    Between neighbouring extrema there is at most one root, and the extrema are roots of the
    derivative: Yuksel, High-Performance Polynomial Root Finding for Graphics (2022).
    """
    biggest = max((abs(x) for x in coefficients), default=0.0)
    if biggest == 0.0 or not all(map(math.isfinite, coefficients)):
        return ()
    c = [x / biggest for x in coefficients]
    return tuple(_roots(c, max(slack / biggest, NOISE * sum(map(abs, c)))))


def extrema(coefficients: Sequence[float]) -> tuple[float, ...]:
    """Where c0 + c1 t + c2 t^2 + ... stops rising or falling inside (0, 1), in order."""
    slope = [k * x for k, x in enumerate(coefficients)][1:]
    if len(slope) < 2:
        return ()
    found = _quadratic(*slope) if len(slope) == 3 else _roots(slope, 0.0)
    return tuple(t for t in found if 0.0 < t < 1.0)


def _roots(c: Sequence[float], slack: float) -> list[float]:
    breaks = [0.0, *extrema(c), 1.0]
    values = [_value(c, t) for t in breaks]
    found = [0.0] if abs(values[0]) <= slack else []
    for k in range(1, len(breaks)):
        before, after = values[k - 1], values[k]
        if abs(before) <= slack:
            # The interval's one root is the break before it, and has been counted.
            continue
        if abs(after) <= slack:
            found.append(breaks[k])
        elif (before < 0.0) != (after < 0.0):
            found.append(_between(c, breaks[k - 1], breaks[k], rising=after > 0.0))
    return found


def _quadratic(c: float, b: float, a: float) -> list[float]:
    """Both roots of c + b t + a t^2, rising, without cancellation and for any small `a`."""
    square = b * b - 4.0 * a * c
    if square < 0.0:
        return []
    q = -(b + math.copysign(math.sqrt(square), b)) / 2.0
    return sorted({*([c / q] if q != 0.0 else []), *([q / a] if a != 0.0 else [])})


def _value(c: Sequence[float], t: float) -> float:
    value = 0.0
    for x in reversed(c):
        value = value * t + x
    return value


def _between(c: Sequence[float], low: float, high: float, *, rising: bool) -> float:
    """The root in a stretch that rises (or falls) through zero: Newton kept inside the bracket."""
    t = (low + high) / 2.0
    for _ in range(MAX_STEPS):
        value, slope = 0.0, 0.0
        for x in reversed(c):
            slope = slope * t + value
            value = value * t + x
        if abs(value) <= FINEST * (1.0 + abs(slope)):
            break
        low, high = (low, t) if (value > 0.0) == rising else (t, high)
        step = t - value / slope if slope != 0.0 else low
        t = step if low < step < high else (low + high) / 2.0
    return t
