"""SPLINE: any B-spline as cubic Bezier curves.

Each span's Bezier points are values of its polar form (blossom), which needs no clamped
ends: unclamped and periodic knots come out right by construction, span by span, in time
linear in their number (L. Ramshaw, "Blossoms are polar forms", 1989). Degrees 1 to 3
without weights are exact. Higher degrees and weighted ones are approximated by Hermite
cubics, halved until they stay within ``TOLERANCE`` mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import comb

import numpy as np
from numpy.typing import NDArray

from core.curve import Affine, Cubic, Line, Point, Segment

# Half of the promised 1e-3 mm; checked at a few places only, hence the margin.
TOLERANCE = 2e-4
MAX_HALVINGS = 12
# A span whose controls lie evenly between its ends, this near (mm), is a straight line.
EVEN = 1e-8
HIGHEST_DEGREE = 25
_CHECKED_AT = np.linspace(0.0, 1.0, 10)[1:-1]

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class BSpline:
    """Degree, knots (n + degree + 1,) and control points (n, 2) with weights (n,)."""

    degree: int
    knots: Array
    controls: Array
    weights: Array | None = None

    @property
    def sound(self) -> bool:
        """Do the numbers fit together?"""
        n = len(self.controls)
        return (
            1 <= self.degree <= HIGHEST_DEGREE
            and n > self.degree
            and len(self.knots) == n + self.degree + 1
            and bool(np.all(np.diff(self.knots) >= 0.0))
            and float(self.knots[n]) > float(self.knots[self.degree])
            and (self.weights is None or bool(np.all(self.weights > 0.0)))
        )

    def mapped(self, by: Affine) -> BSpline:
        """The spline under a map."""
        matrix = np.array([[by.a, by.b], [by.c, by.d]])
        moved = self.controls @ matrix + np.array([by.e, by.f])
        return BSpline(self.degree, self.knots, moved, self.weights)


def bezier_spans(spline: BSpline) -> Iterator[Array]:
    """The homogeneous Bezier points (degree + 1, 3) of each span that has a length."""
    p, u = spline.degree, spline.knots
    w = np.ones(len(spline.controls)) if spline.weights is None else spline.weights
    h = np.column_stack((spline.controls * w[:, None], w))
    # All spans at once: one after the other takes a hundred times as long.
    i = np.arange(p, len(h))
    i = i[u[i + 1] > u[i]]
    d, around = h[i[:, None] + np.arange(-p, 1)], u[i[:, None] + np.arange(1 - p, p + 1)]
    a, b = around[:, p - 1], around[:, p]
    rows = [_blossom(d, around, p, [a] * (p - k) + [b] * k) for k in range(p + 1)]
    yield from np.stack(rows, axis=1)


def _blossom(controls: Array, u: Array, p: int, arguments: Sequence[Array]) -> Array:
    """The polar form of each span at p arguments, by de Boor's scheme: from its p + 1 controls
    (spans, p + 1, 3) and the 2 p knots around it (spans, 2 p)."""
    d = controls
    for r, t in enumerate(arguments, 1):
        low, high = u[:, r - 1 : p], u[:, p : 2 * p - r + 1]
        share = ((t[:, None] - low) / (high - low))[:, :, None]
        d = (1.0 - share) * d[:, :-1] + share * d[:, 1:]
    out: Array = d[:, 0]
    return out


def to_segments(spline: BSpline) -> list[Segment]:
    """The spline as lines (degree 1) and cubics, joined; its controls are in mm."""
    out: list[Segment] = []
    for h in bezier_spans(spline):
        exact = spline.weights is None and spline.degree <= 3
        out.extend([_exact(h)] if exact else _approximate(h, 0.0, 1.0, 0))
    return [s for s in out if any(p != s.start for p in s.controls)]


def _exact(h: Array) -> Segment:
    ps = [Point(float(x), float(y)) for x, y, _ in h]
    if len(ps) == 2:
        return Line(*ps)
    ends = ps[0], ps[-1]
    if all(
        p.distance(ends[0].towards(ends[1], k / (len(ps) - 1))) <= EVEN for k, p in enumerate(ps)
    ):
        return Line(*ends)
    return Cubic.from_quadratic(*ps) if len(ps) == 3 else Cubic(*ps)


def _approximate(h: Array, t0: float, t1: float, depth: int) -> list[Segment]:
    ts = t0 + (t1 - t0) * np.concatenate(([0.0, 1.0], _CHECKED_AT))
    at, slope = _evaluate(h, ts)
    third = (t1 - t0) / 3.0
    cubic = Cubic(
        *(Point(float(x), float(y)) for x, y in
          (at[0], at[0] + slope[0] * third, at[1] - slope[1] * third, at[1]))
    )  # fmt: skip
    off = np.abs(cubic.points(_CHECKED_AT) - at[2:]).max()
    if off <= TOLERANCE or depth >= MAX_HALVINGS:
        return [cubic]
    middle = (t0 + t1) / 2.0
    return _approximate(h, t0, middle, depth + 1) + _approximate(h, middle, t1, depth + 1)


def _evaluate(h: Array, ts: Array) -> tuple[Array, Array]:
    """Points and derivatives of a rational Bezier curve; shapes (n, 2)."""
    value, slope = _bernstein(h, ts), _bernstein(np.diff(h, axis=0) * (len(h) - 1), ts)
    w = value[:, 2:]
    at = value[:, :2] / w
    return at, (slope[:, :2] - at * slope[:, 2:]) / w


def _bernstein(h: Array, ts: Array) -> Array:
    p = len(h) - 1
    basis = np.stack([comb(p, k) * ts**k * (1.0 - ts) ** (p - k) for k in range(p + 1)], axis=1)
    out: Array = basis @ h
    return out
