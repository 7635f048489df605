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
from itertools import pairwise
from math import comb, hypot

import numpy as np
from numpy.typing import NDArray

from core.curve import Affine
from core.curve.drawn import Drawn

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
Row = Sequence[float]


@dataclass(frozen=True)
class BSpline:
    """Degree, n + degree + 1 knots, and n control points (x, y) with as many weights."""

    degree: int
    knots: Row
    controls: Sequence[Row]
    weights: Row | None = None

    @property
    def sound(self) -> bool:
        """Do the numbers fit together?"""
        n = len(self.controls)
        return (
            1 <= self.degree <= HIGHEST_DEGREE
            and n > self.degree
            and len(self.knots) == n + self.degree + 1
            and all(a <= b for a, b in pairwise(self.knots))
            and self.knots[n] > self.knots[self.degree]
            and (self.weights is None or min(self.weights) > 0.0)
        )

    @property
    def exact(self) -> bool:
        """Is it cubics, or less, as it stands?"""
        return self.weights is None and self.degree <= 3

    def mapped(self, by: Affine) -> BSpline:
        """The spline under a map."""
        a, b, c, d, e, f = by.a, by.b, by.c, by.d, by.e, by.f
        moved = [(a * x + c * y + e, b * x + d * y + f) for x, y in self.controls]
        return BSpline(self.degree, self.knots, moved, self.weights)


def bezier_spans(spline: BSpline) -> Array:
    """The homogeneous Bezier points of each span with a length: shape (spans, degree + 1, 3)."""
    p, u = spline.degree, np.array(spline.knots)
    w = np.ones(len(spline.controls)) if spline.weights is None else np.array(spline.weights)
    h = np.column_stack((np.array(spline.controls) * w[:, None], w))
    # All spans at once: one after the other takes a hundred times as long.
    i = np.arange(p, len(h))
    i = i[u[i + 1] > u[i]]
    d, around = h[i[:, None] + np.arange(-p, 1)], u[i[:, None] + np.arange(1 - p, p + 1)]
    a, b = around[:, p - 1], around[:, p]
    rows = [_blossom(d, around, p, [a] * (p - k) + [b] * k) for k in range(p + 1)]
    return np.stack(rows, axis=1)


def _few_spans(spline: BSpline) -> Iterator[Sequence[Row]]:
    """The same of a spline without weights, (x, y) span by span, without arrays: of few points they
    take ten times as long."""
    p, u, h = spline.degree, spline.knots, spline.controls
    for i in range(p, len(h)):
        a, b = u[i], u[i + 1]
        if b <= a:
            continue
        span = h[i - p : i + 1]
        if u[i - p + 1] == a and u[i + p] == b:
            # Clamped at both ends, it is drawn by its Bezier points.
            yield span
            continue
        yield [_polar(span, u, i, [a] * (p - k) + [b] * k) for k in range(p + 1)]


def _polar(span: Sequence[Row], u: Row, i: int, arguments: list[float]) -> Row:
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


def drawn(spline: BSpline, *, most: int) -> Drawn | None:
    """The spline as lines (degree 1) and cubics, joined; its controls are in mm. None where it
    stays in one place.

    TooManySpansError for more than `most` of them.
    """
    if len(spline.controls) - spline.degree > most:
        raise TooManySpansError(len(spline.controls) - spline.degree)
    if spline.exact and len(spline.controls) <= FEW_CONTROLS:
        return _few(spline)
    spans = bezier_spans(spline)
    if not spline.exact:
        return _many(_approximated(spans, most))
    return _many(spans[..., :2])


def _few(spline: BSpline) -> Drawn | None:
    points: list[Row] = []
    sizes: list[int] = []
    for span in _few_spans(spline):
        start, *_, end = span
        if all(p == start for p in span):
            continue
        if not points:
            points.append(start)
        if spline.degree == 1 or _is_even(span):
            points.append(end)
            sizes.append(1)
            continue
        points += span[1:] if spline.degree == 3 else (*_handles(*span), end)
        sizes.append(3)
    if not points:
        return None
    return Drawn(np.array(points), np.array(sizes, np.uint8) if 3 in sizes else None)


def _is_even(span: Sequence[Row]) -> bool:
    (x0, y0), *inner, (x1, y1) = span
    step_x, step_y = (x1 - x0) / (len(span) - 1), (y1 - y0) / (len(span) - 1)
    return all(
        hypot(x - x0 - k * step_x, y - y0 - k * step_y) <= EVEN for k, (x, y) in enumerate(inner, 1)
    )


def _handles(start: Row, control: Row, end: Row) -> tuple[Row, Row]:
    """Of the cubic that is the same curve as a quadratic one."""
    (x0, y0), (x, y), (x1, y1) = start, control, end
    return (
        (x0 + (x - x0) * 2.0 / 3.0, y0 + (y - y0) * 2.0 / 3.0),
        (x1 + (x - x1) * 2.0 / 3.0, y1 + (y - y1) * 2.0 / 3.0),
    )


def _many(spans: Array) -> Drawn | None:
    """The curves of spans of degree 1 to 3, shape (n, degree + 1, 2)."""
    spans = spans[(spans != spans[:, :1]).any(axis=(1, 2))]
    if not len(spans):
        return None
    p = spans.shape[1] - 1
    start, end = spans[:, 0], spans[:, -1]
    level = start[:, None] + (end - start)[:, None] * (np.arange(p + 1) / p)[:, None]
    even = (np.hypot(*np.moveaxis(spans - level, -1, 0)) <= EVEN).all(axis=1) | (p == 1)
    if p == 2:
        third = (spans[:, 1:2] - spans[:, ::2]) * 2.0 / 3.0
        spans = np.concatenate((spans[:, :1], spans[:, ::2] + third, spans[:, 2:]), axis=1)
    after = spans[:, 1:]
    drawn = np.ones(after.shape[:2], np.bool_)
    drawn[:, :-1] = ~even[:, None]
    points = np.concatenate((spans[0, :1], after[drawn]))
    return Drawn(points, None if even.all() else np.where(even, 1, 3).astype(np.uint8))


def _approximated(spans: Array, most: int) -> Array:
    """Hermite cubics along rational Bezier curves (n, degree + 1, 3), all halved at once until each
    stays near enough: shape (m, 4, 2)."""
    of, begin, end = np.arange(len(spans)), np.zeros(len(spans)), np.ones(len(spans))
    done: list[tuple[NDArray[np.intp], Array, Array]] = []
    count = 0
    for depth in range(MAX_HALVINGS + 1):
        ts = begin[:, None] + (end - begin)[:, None] * _ASKED_AT
        at, slope = _evaluate(spans[of], ts)
        third = ((end - begin) / 3.0)[:, None]
        a, d = at[:, 0], at[:, -1]
        four = np.stack((a, a + slope[:, 0] * third, d - slope[:, -1] * third, d), axis=1)
        near = np.abs(_BASIS @ four - at[:, 1:-1]).max(axis=(1, 2)) <= TOLERANCE
        near |= depth == MAX_HALVINGS
        done.append((of[near], begin[near], four[near]))
        count += len(done[-1][0])
        of, begin, end = (np.repeat(rows[~near], 2) for rows in (of, begin, end))
        if not len(of):
            break
        if len(of) + count > most:
            raise TooManySpansError(len(of) + count)
        middle = (begin[::2] + end[::2]) / 2.0
        begin[1::2], end[::2] = middle, middle
    spans_of, begins, cubics = (np.concatenate(rows) for rows in zip(*done, strict=True))
    out: Array = cubics[np.lexsort((begins, spans_of))]
    return out


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
