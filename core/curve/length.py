"""Arc length of cubics by Gauss-Legendre quadrature to an absolute tolerance."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

# Absolute, in mm, at every size: the sum of the local estimates stays below it.
TOLERANCE = 1e-9
# Halving stops here; a cusp then contributes less than the tolerance.
MAX_DEPTH = 24

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)
_T = (_NODES + 1.0) / 2.0
_W = _WEIGHTS / 2.0
# Rows: weight of each control difference in the derivative at each node.
_BASIS = np.stack((3 * (1 - _T) ** 2, 6 * (1 - _T) * _T, 3 * _T**2), axis=1)


def _quadrature(p: NDArray[np.float64]) -> float:
    d = _BASIS @ np.diff(p, axis=0)
    return float(_W @ np.hypot(d[:, 0], d[:, 1]))


def _halves(p: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    ab, bc, cd = (p[:-1] + p[1:]) / 2
    abc, bcd = (ab + bc) / 2, (bc + cd) / 2
    middle = (abc + bcd) / 2
    return np.stack((p[0], ab, abc, middle)), np.stack((middle, bcd, cd, p[3]))


def of_cubic(controls: NDArray[np.float64], *, tolerance: float = TOLERANCE) -> float:
    """Length in mm of the cubic with `controls` of shape (4, 2).

    16-point Gauss-Legendre, halved where the two halves disagree with the whole by
    more than the tolerance's share.
    """
    return _adaptive(controls, _quadrature(controls), tolerance, 0)


def _adaptive(p: NDArray[np.float64], whole: float, tolerance: float, depth: int) -> float:
    left, right = _halves(p)
    a, b = _quadrature(left), _quadrature(right)
    # Below this the difference is rounding, not truncation.
    floor = 4e-15 * whole
    if depth >= MAX_DEPTH or abs(a + b - whole) <= max(tolerance, floor):
        return a + b
    return _adaptive(left, a, tolerance / 2, depth + 1) + _adaptive(
        right, b, tolerance / 2, depth + 1
    )


def parameter_at(
    length_to: Callable[[float], float], speed: Callable[[float], float], s: float
) -> float:
    """The t in [0, 1] with length_to(t) = s, by Newton kept inside a bisection bracket.

    Lengths outside the curve give the nearer end.
    """
    whole = length_to(1.0)
    if s <= 0.0 or whole == 0.0:
        return 0.0
    if s >= whole:
        return 1.0
    low, high, t = 0.0, 1.0, s / whole
    for _ in range(60):
        off = length_to(t) - s
        if abs(off) <= 1e-10:
            break
        low, high = (low, t) if off > 0 else (t, high)
        v = speed(t)
        step = t - off / v if v > 0.0 else low
        t = step if low < step < high else (low + high) / 2
    return t
