"""Lines and cubics as rows of points, before anybody asks for them one by one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.curve.box import Box
from core.curve.cubic import Cubic
from core.curve.line import Line
from core.curve.point import Point


class Drawn(NamedTuple):
    """A chain as the points it is drawn through (mm), handles among them: shape (n, 2).

    ``sizes`` tells for each segment how many of them follow its start, 1 or 3; None when all
    are lines. ``box`` is x0, y0, x1, y1 around all points, where that is known. Rows are shared
    with other chains and never written to.
    """

    points: NDArray[np.float64]
    sizes: NDArray[np.uint8] | None = None
    box: Sequence[float] | None = None

    @property
    def many(self) -> int:
        """How many segments there are."""
        return len(self.points) - 1 if self.sizes is None else len(self.sizes)

    @property
    def start(self) -> Point:
        return Point(*self.points[0].tolist())

    @property
    def end(self) -> Point:
        return Point(*self.points[-1].tolist())

    def segments(self) -> tuple[Line | Cubic, ...]:
        """All of them; those that meet have the very same point there."""
        points = [Point(x, y) for x, y in self.points.tolist()]
        if points[0] == points[-1]:
            points[-1] = points[0]
        if self.sizes is None:
            return tuple(map(Line, points, points[1:]))
        return tuple(_bent(points, self.sizes.tolist()))

    def hull(self) -> Box:
        """The box around all points."""
        if self.box is not None:
            return Box(*self.box)
        return Box(*self.points.min(axis=0).tolist(), *self.points.max(axis=0).tolist())

    def ends(self) -> NDArray[np.float64]:
        """The points in which segments begin and end, handles left out."""
        if self.sizes is None:
            return self.points
        at = np.cumsum(self.sizes, dtype=np.intp)
        return np.concatenate((self.points[:1], self.points[at]))


def _bent(points: list[Point], sizes: list[int]) -> Iterator[Line | Cubic]:
    for at, size in zip(accumulate(sizes, initial=0), sizes, strict=False):
        if size == 1:
            yield Line(points[at], points[at + 1])
        else:
            yield Cubic(points[at], points[at + 1], points[at + 2], points[at + 3])
