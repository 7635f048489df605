"""The dense copies of a piece's lines on layers 84 to 87, made afresh for altered lines.

Where the line stays, the copy keeps its vertices; where it only moved, they move along. In
between the copy follows the smooth curve through the curve points, from corner to corner,
as dense as it was (ASTM D6673: the curves by which a receiver checks its own).
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from statistics import median

from core.files.dxf.base_lines import BaseLine, Pair
from core.files.dxf.smooth import is_straight, sampled, tangents

# A dense copy passes this near (mm) to each vertex of its line.
COPIES = 0.5
# Two steps moved by the same way, as far as written decimals tell (units of the file).
SAME_WAY = 1e-6
# A copy whose longest step is no longer than this many usual ones is dense on straights too.
EVEN = 4.0
MOST_BETWEEN = 500


@dataclass(frozen=True)
class DensePoint:
    """A vertex of the copy: where, and the old one whose record it takes; ``kept`` as it is."""

    at: complex
    like: int
    kept: bool


@dataclass(frozen=True)
class Copy:
    """A dense copy and, for each vertex of its line, the copy's vertex nearest to it."""

    line: BaseLine
    at: tuple[int, ...]

    @cached_property
    def step(self) -> float:
        """The usual distance between its vertices."""
        return median(self._steps)

    @cached_property
    def is_even(self) -> bool:
        """Is it dense along straight lines too?"""
        return max(self._steps) <= EVEN * self.step

    @cached_property
    def _steps(self) -> list[float]:
        return [abs(b - a) for a, b in map(self.line.step, range(self.line.steps))]

    def between(self, k: int, after: int) -> list[int]:
        """The copy's vertices after that of the line's vertex k, up to that of `after`."""
        first, last, n = self.at[k], self.at[after], len(self.line.points)
        if last <= first and self.line.closed:
            last += n
        return [j % n for j in range(first + 1, last)]


def copy_of(dense: BaseLine, lines: Sequence[BaseLine], within: float) -> tuple[int, Copy] | None:
    """Which of the lines the dense one is a copy of, the nearest within the distance."""
    best: tuple[float, int, Copy] | None = None
    for k, line in enumerate(lines):
        if line.closed != dense.closed or len(dense.points) < len(line.points):
            continue
        at = tuple(_nearest_in_order(line.points, dense))
        away = max(abs(dense.points[j] - p) for j, p in zip(at, line.points, strict=True))
        if away <= within and (best is None or away < best[0]):
            best = (away, k, Copy(dense, at))
    return None if best is None else best[1:]


def _nearest_in_order(points: Sequence[complex], dense: BaseLine) -> Iterator[int]:
    """The dense vertex nearest to each point, going round once."""
    n = len(dense.points)
    start = min(range(n), key=lambda j: abs(dense.points[j] - points[0]))
    j, left = start, n - 1 if dense.closed else n - 1 - start
    yield start
    for p in points[1:]:
        best, gone = abs(dense.points[j] - p), 0
        for ahead in range(1, left + 1):
            away = abs(dense.points[(j + ahead) % n] - p)
            if away < best:
                best, gone = away, ahead
            elif gone and away > 4.0 * best + 1.0:
                break
        j, left = (j + gone) % n, left - gone
        yield j


@dataclass(frozen=True)
class Afresh:
    """Makes the copy of a changed line anew; `corners` are vertices of the new line."""

    pair: Pair
    copy: Copy
    corners: Collection[int]

    def points(self) -> list[DensePoint]:
        """The vertices of the new copy, in order from the line's first vertex."""
        new, out = self.pair.new, list[DensePoint]()
        for k in range(new.steps):
            out.append(self._vertex(k))
            out += self._between(k)
        if not new.closed:
            out.append(self._vertex(len(new.points) - 1))
        return out

    @cached_property
    def _old_at(self) -> dict[complex, int]:
        return {p: k for k, p in reversed(list(enumerate(self.pair.old.points)))}

    def _was(self, k: int) -> int | None:
        """The old vertex that the new vertex k is: still there, or moved when none was added."""
        old, new = self.pair.old, self.pair.new
        found = self._old_at.get(new.points[k])
        if found is None and len(old.points) == len(new.points):
            return None if old.points[k] in self._new_places else k
        return found

    @cached_property
    def _new_places(self) -> set[complex]:
        return set(self.pair.new.points)

    def _vertex(self, k: int) -> DensePoint:
        at, was = self.pair.new.points[k], self._was(k)
        if was is None:
            return DensePoint(at, self._like(k), False)
        j = self.copy.at[was]
        stays = self.pair.old.points[was] == at
        return DensePoint(self.copy.line.points[j] if stays else at, j, stays)

    def _like(self, k: int) -> int:
        """The old dense vertex whose record a new one takes: that of the nearest kept vertex."""
        for j in range(k, -1, -1):
            was = self._was(j)
            if was is not None:
                return self.copy.at[was]
        return 0

    def _between(self, k: int) -> Iterator[DensePoint]:
        way = self._only_moved(k)
        if way is not None:
            old, first = self.copy.line.points, self._was(k) or 0
            for j in self.copy.between(first, (first + 1) % len(self.pair.old.points)):
                yield DensePoint(old[j] + way, j, way == 0)
            return
        like = self._like(k)
        for p in self._curve(k):
            yield DensePoint(p, like, False)

    def _only_moved(self, k: int) -> complex | None:
        """By how much the step from vertex k was moved, if that is all; exactly 0 if nothing."""
        old, new = self.pair.old, self.pair.new
        after = (k + 1) % len(new.points)
        first, last = self._was(k), self._was(after)
        if first is None or last != (first + 1) % len(old.points):
            return None
        if old.bulges[first] != new.bulges[k]:
            return None
        ways = new.points[k] - old.points[first], new.points[after] - old.points[last]
        return ways[0] if abs(ways[1] - ways[0]) <= SAME_WAY else None

    def _curve(self, k: int) -> list[complex]:
        a, b = self.pair.new.step(k)
        count = min(max(round(abs(b - a) / self.copy.step) - 1, 0), MOST_BETWEEN)
        if a == b:
            return []
        leaves, arrives = self._directions[k]
        if is_straight(a, b, leaves, arrives) and not self.copy.is_even:
            return []
        return sampled(a, b, leaves, arrives, count)

    @cached_property
    def _directions(self) -> dict[int, tuple[complex, complex]]:
        """The curve's direction at both ends of each step."""
        out: dict[int, tuple[complex, complex]] = {}
        for run in self._runs():
            points = [self.pair.new.points[k] for k in run]
            doubled = any(a == b for a, b in pairwise(points))
            found = _chords(points) if doubled else tangents(points)
            for n, k in enumerate(run[:-1]):
                out[k] = self._bent(k) or (found[n], found[n + 1])
        return out

    def _bent(self, k: int) -> tuple[complex, complex] | None:
        """The directions of an arc, where the step is one."""
        bulge, (a, b) = self.pair.new.bulges[k], self.pair.new.step(k)
        half = cmath.exp(2j * math.atan(bulge))
        unit = (b - a) / abs(b - a) if a != b else 1.0 + 0.0j
        return (unit / half, unit * half) if bulge else None

    def _runs(self) -> Iterator[list[int]]:
        """Vertices from corner to corner; a line without corners goes round once and a bit."""
        n, closed = len(self.pair.new.points), self.pair.new.closed
        cuts = sorted(set(self.corners) | (set() if closed else {0, n - 1}))
        if not cuts:
            yield [(k - 2) % n for k in range(n + 5)]
            return
        for a, b in zip(cuts, [*cuts[1:], cuts[0] + n], strict=True):
            if b < n or closed:
                yield [k % n for k in range(a, b + 1)]


def _chords(points: Sequence[complex]) -> list[complex]:
    """Directions along the chords, for points that fall on one another."""
    steps = [b - a for a, b in pairwise(points)]
    units = [s / abs(s) if s else 1.0 + 0.0j for s in steps]
    return [*units, units[-1]]
