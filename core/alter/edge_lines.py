"""Lines drawn along an edge of the piece, as a fold line is: they end where the edge ends.

An end that lies on a corner of the hem goes where that corner goes. Of a piece with two lines
the stitching line and the cutting line have each their own corners, and the line keeps to the
one on which it began.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from core.alter.inner_lines import SLIVER, TOUCHES, stretch
from core.alter.redo import Redone
from core.alter.strand import chain_of
from core.curve import Chain, Line, Place, Point, Ring, Segment, Vector
from core.curve.ends import with_ends
from core.piece.model import Mark

# A straight line that is made longer goes through its old end within this (mm): rounding of
# the file, or the scatter of one digitised point. Else the seam turned there, and so does it.
GOES_THROUGH = 0.1
# Less than this (mm) is no length.
ROUNDING = 1e-6


class EdgeSeen:
    """One outline of the piece, and where the joints of its hem run went."""

    def __init__(self, ring: Ring, done: Redone) -> None:
        self._ring, self._done = ring, done

    @cached_property
    def _moves(self) -> tuple[NDArray[np.float64], list[Vector]]:
        """The joints of the old hem run, shape (n, 2), and the step of each."""
        old, new = self._done.old, self._done.new
        went = {**self._done.redrawn.joints, old.first: new.first, old.last: new.last}
        return np.array([(p.x, p.y) for p in went]), [q - p for p, q in went.items()]

    @cached_property
    def _box(self) -> tuple[float, float, float, float]:
        at, _ = self._moves
        (x0, y0), (x1, y1) = at.min(axis=0) - TOUCHES, at.max(axis=0) + TOUCHES
        return float(x0), float(y0), float(x1), float(y1)

    def corner(self, p: Point) -> tuple[float, Vector] | None:
        """How far p lies from the nearest joint of the hem run, and how that went; None when
        it is on none."""
        x0, y0, x1, y1 = self._box
        if not (x0 <= p.x <= x1 and y0 <= p.y <= y1):
            return None
        at, steps = self._moves
        away = np.hypot(at[:, 0] - p.x, at[:, 1] - p.y)
        k = int(away.argmin())
        return (float(away[k]), steps[k]) if away[k] <= TOUCHES else None

    def along(self, chain: Chain) -> bool:
        """Does the line lie on this outline from end to end?"""
        return all(self._ring.nearest(p).distance <= TOUCHES for p in _samples(chain))

    def in_hem(self, chain: Chain) -> bool:
        """Does all of the line lie on the hem run?"""
        run = chain_of(self._done.old_run)
        return all(run.nearest(p).distance <= TOUCHES for p in _samples(chain))


@dataclass(frozen=True)
class EdgeLine:
    """A line along an edge, drawn so that it runs down to the hem, and how its end goes."""

    chain: Chain
    step: Vector
    backwards: bool

    def carried(self, mark: Mark) -> Mark | None:
        """The mark as it ends now; None when nothing of it is left above the new hem."""
        found = _ended(self.chain, self.chain.end + self.step)
        if found is None:
            return None
        chain, numbers = found
        if self.backwards:
            last = len(self.chain) - 1
            chain, numbers = chain.reversed(), tuple(last - k for k in reversed(numbers))
        same = numbers == tuple(range(len(self.chain)))
        return replace(mark, geometry=chain, numbers=None if same else numbers)


def edge_line(seen: Sequence[EdgeSeen], chain: Chain) -> EdgeLine | None:
    """The line as one along an edge down to a corner of the hem; None when it is not one."""
    for _, edge, step, backwards in sorted(_corners(seen, chain), key=lambda f: f[0]):
        if edge.along(chain) and not edge.in_hem(chain):
            return EdgeLine(chain.reversed() if backwards else chain, step, backwards)
    return None


def _corners(
    seen: Iterable[EdgeSeen], chain: Chain
) -> Iterator[tuple[float, EdgeSeen, Vector, bool]]:
    """Each outline on a corner of which one end lies, and that end's distance and step."""
    for edge in seen:
        first, last = edge.corner(chain.start), edge.corner(chain.end)
        if (first is None) is not (last is None):
            at = first or last
            assert at is not None
            yield at[0], edge, at[1], last is None


def _ended(chain: Chain, end: Point) -> tuple[Chain, tuple[int, ...]] | None:
    """The line cut back or carried on to a new end, and the numbers of its segments."""
    last = chain.segments[-1]
    if (end - last.end).dot(last.tangent(1.0)) < 0.0:
        near = chain.nearest(end).place
        if chain.length_to(near) <= SLIVER:
            return None
        kept = stretch(chain, Place(0, 0.0), near)
        return _ending(kept.chain, end), kept.numbers
    numbers = tuple(range(len(chain)))
    if _goes_on(last, end):
        return _ending(chain, end), numbers
    return Chain((*chain, Line(chain.end, end))), (*numbers, numbers[-1])


def _goes_on(last: Segment, end: Point) -> bool:
    if not isinstance(last, Line):
        return last.end.distance(end) <= ROUNDING
    return Line(last.start, end).nearest(last.end).distance <= GOES_THROUGH


def _ending(chain: Chain, end: Point) -> Chain:
    last = chain.segments[-1]
    return Chain((*chain.segments[:-1], with_ends(last, last.start, end)))


def _samples(chain: Chain) -> Iterator[Point]:
    return (s.at(t) for s in chain for t in (0.0, 0.5, 1.0))
