"""Real roots of small polynomials on the unit interval."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

# A leading coefficient this much smaller than the largest one is rounding noise.
NEGLIGIBLE = 1e-13
# A root this far beyond an end still counts as the end (rounding of the solver).
END_SLACK = 1e-9
IMAGINARY_SLACK = 1e-7


def real_roots(coefficients: Sequence[float]) -> tuple[float, ...]:
    """Roots in [0, 1], rising, of c0 + c1 t + c2 t^2 + ...; none for the zero polynomial.

    Companion-matrix roots (numpy), each polished by two Newton steps.
    """
    c = np.asarray(coefficients, dtype=float)
    biggest = float(np.max(np.abs(c), initial=0.0))
    if biggest == 0.0 or not np.isfinite(biggest):
        return ()
    c = c / biggest
    while len(c) > 1 and abs(c[-1]) < NEGLIGIBLE:
        c = c[:-1]
    if len(c) < 2:
        return ()
    if len(c) == 2:
        found = [float(-c[0] / c[1])]
    else:
        raw = np.roots(c[::-1])
        found = [float(r.real) for r in raw if abs(r.imag) < IMAGINARY_SLACK]
    polished = (_polish(c, t) for t in found)
    inside = [min(1.0, max(0.0, t)) for t in polished if -END_SLACK <= t <= 1.0 + END_SLACK]
    return tuple(sorted(set(inside)))


def _polish(c: np.typing.NDArray[np.float64], t: float) -> float:
    slope = np.polynomial.polynomial.polyder(c)
    for _ in range(2):
        steep = float(np.polynomial.polynomial.polyval(t, slope))
        if abs(steep) < 1e-9:
            break
        t -= float(np.polynomial.polynomial.polyval(t, c)) / steep
    return t
