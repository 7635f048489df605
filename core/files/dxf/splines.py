"""SPLINE: any B-spline as cubic Bezier curves.

Each span's Bezier points are values of its polar form (blossom), which needs no clamped
ends: unclamped and periodic knots come out right by construction, span by span, in time
linear in their number (L. Ramshaw, "Blossoms are polar forms", 1989). Degrees 1 to 3
without weights are exact. Higher degrees and weighted ones are approximated by Hermite
cubics, halved until they stay within ``TOLERANCE`` mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
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
FEW_CONTROLS = 12
_ASKED_AT = np.linspace(0.0, 1.0, 10)
_CHECKED_AT = _ASKED_AT[1:-1]

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
            and all(a <= b for a, b in pairwise(self.knots.tolist()))
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
    if len(spline.controls) <= FEW_CONTROLS:
        yield from _few_spans(spline)
        return
    w = np.ones(len(spline.controls)) if spline.weights is None else spline.weights
    h = np.column_stack((spline.controls * w[:, None], w))
    # All spans at once: one after the other takes a hundred times as long.
    i = np.arange(p, len(h))
    i = i[u[i + 1] > u[i]]
    d, around = h[i[:, None] + np.arange(-p, 1)], u[i[:, None] + np.arange(1 - p, p + 1)]
    a, b = around[:, p - 1], around[:, p]
    rows = [_blossom(d, around, p, [a] * (p - k) + [b] * k) for k in range(p + 1)]
    yield from np.stack(rows, axis=1)


def _few_spans(spline: BSpline) -> Iterator[Array]:
    """The same span by span, without arrays: of few points they take ten times as long."""
    p, u, places = spline.degree, spline.knots.tolist(), spline.controls.tolist()
    w = [1.0] * len(places) if spline.weights is None else spline.weights.tolist()
    h = [[x * weight, y * weight, weight] for (x, y), weight in zip(places, w, strict=True)]
    for i in range(p, len(h)):
        a, b = u[i], u[i + 1]
        if b <= a:
            continue
        span = h[i - p : i + 1]
        if u[i - p + 1] == a and u[i + p] == b:
            # Clamped at both ends, it is drawn by its Bezier points.
            yield np.array(span)
            continue
        yield np.array([_polar(span, u, i, [a] * (p - k) + [b] * k) for k in range(p + 1)])


def _polar(span: list[list[float]], u: list[float], i: int, arguments: list[float]) -> list[float]:
    """The polar form of span i at as many arguments as its degree."""
    d, p = span, len(arguments)
    for r, t in enumerate(arguments, 1):
        shares = [
            (t - u[i - p + r + j]) / (u[i + 1 + j] - u[i - p + r + j]) for j in range(p - r + 1)
        ]
        d = [
            [(1.0 - share) * x + share * y for x, y in zip(before, after, strict=True)]
            for share, before, after in zip(shares, d[:-1], d[1:], strict=True)
        ]
    return d[0]


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


class TooManySpansError(ValueError):
    """A spline of more lines and curves than were asked for; ``count`` is how many at least."""

    def __init__(self, count: int) -> None:
        super().__init__()
        self.count = count


def to_segments(spline: BSpline, *, most: int) -> list[Segment]:
    """The spline as lines (degree 1) and cubics, joined; its controls are in mm.

    TooManySpansError for more than `most` of them.
    """
    if len(spline.controls) - spline.degree > most:
        raise TooManySpansError(len(spline.controls) - spline.degree)
    spans = list(bezier_spans(spline))
    exact = spline.weights is None and spline.degree <= 3
    out: Iterable[Segment] = map(_exact, spans) if exact else _approximated(np.array(spans), most)
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


def _approximated(spans: Array, most: int) -> list[Segment]:
    """Hermite cubics along rational Bezier curves (n, degree + 1, 3), all halved at once until each
    stays near enough."""
    of, begin, end = np.arange(len(spans)), np.zeros(len(spans)), np.ones(len(spans))
    done: list[tuple[int, float, Segment]] = []
    for depth in range(MAX_HALVINGS + 1):
        ts = begin[:, None] + (end - begin)[:, None] * _ASKED_AT
        at, slope = _evaluate(spans[of], ts)
        third = ((end - begin) / 3.0)[:, None]
        a, d = at[:, 0], at[:, -1]
        four = np.stack((a, a + slope[:, 0] * third, d - slope[:, -1] * third, d), axis=1)
        near = np.abs(_BASIS @ four - at[:, 1:-1]).max(axis=(1, 2)) <= TOLERANCE
        near |= depth == MAX_HALVINGS
        for k in np.flatnonzero(near).tolist():
            cubic = Cubic(*(Point(x, y) for x, y in four[k].tolist()))
            done.append((int(of[k]), float(begin[k]), cubic))
        of, begin, end = (np.repeat(rows[~near], 2) for rows in (of, begin, end))
        if not len(of):
            break
        if len(of) + len(done) > most:
            raise TooManySpansError(len(of) + len(done))
        middle = (begin[::2] + end[::2]) / 2.0
        begin[1::2], end[::2] = middle, middle
    return [cubic for *_, cubic in sorted(done, key=lambda one: one[:2])]


def _evaluate(h: Array, ts: Array) -> tuple[Array, Array]:
    """Points and derivatives of rational Bezier curves (n, degree + 1, 3), each at its own places
    (n, m); shapes (n, m, 2)."""
    value, slope = _bernstein(h, ts), _bernstein(np.diff(h, axis=1) * (h.shape[1] - 1), ts)
    w = value[..., 2:]
    at = value[..., :2] / w
    return at, (slope[..., :2] - at * slope[..., 2:]) / w


def _bernstein(h: Array, ts: Array) -> Array:
    p = h.shape[1] - 1
    basis = np.stack([comb(p, k) * ts**k * (1.0 - ts) ** (p - k) for k in range(p + 1)], axis=-1)
    out: Array = basis @ h
    return out


# How far each of its four points is heard at the places where a cubic is checked.
_BASIS = _bernstein(np.eye(4)[None], _CHECKED_AT[None])[0]
