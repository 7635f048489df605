"""Finding a free place for every label, or leaving it out. Knows nothing of Qt.

All in pixels of the widget. Lines are rows x0, y0, x1, y1.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Generic, NamedTuple, TypeVar

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Name = TypeVar("Name")

# Pixels kept free between a label and anything else.
AIR = 3.0


class Rect(NamedTuple):
    """x0 < x1, y0 < y1."""

    x0: float
    y0: float
    x1: float
    y1: float

    @staticmethod
    def about(x: float, y: float, width: float, height: float) -> Rect:
        """The rectangle of that size with its middle at (x, y)."""
        return Rect(x - width / 2, y - height / 2, x + width / 2, y + height / 2)

    def grown(self, by: float) -> Rect:
        return Rect(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)

    def overlaps(self, other: Rect) -> bool:
        return (
            self.x0 < other.x1 and other.x0 < self.x1 and self.y0 < other.y1 and other.y0 < self.y1
        )

    def inside(self, other: Rect) -> bool:
        return (
            other.x0 <= self.x0
            and self.x1 <= other.x1
            and other.y0 <= self.y0
            and self.y1 <= other.y1
        )

    def holds(self, x: float, y: float) -> bool:
        return self.x0 <= x <= self.x1 and self.y0 <= y <= self.y1


@dataclass(frozen=True)
class Wish(Generic[Name]):
    """A label of that size and the middles it would like, the best first."""

    name: Name
    width: float
    height: float
    middles: tuple[tuple[float, float], ...]


def place(
    wishes: Iterable[Wish[Name]], *, room: Rect, taken: Sequence[Rect], lines: Floats
) -> dict[Name, Rect]:
    """A rectangle for each label, in the order of the wishes: the first of its middles where
    it lies in the room and touches neither a line, nor what is taken, nor an earlier label.
    A label for which there is none is left out.
    """
    full = list(taken)
    out: dict[Name, Rect] = {}
    for wish in wishes:
        for x, y in wish.middles:
            rect = Rect.about(x, y, wish.width, wish.height)
            wide = rect.grown(AIR)
            if wide.inside(room) and not any(wide.overlaps(r) for r in full):
                if crosses(wide, lines):
                    continue
                out[wish.name] = rect
                full.append(rect)
                break
    return out


def crosses(rect: Rect, lines: Floats) -> bool:
    """Does any of the lines touch the rectangle?

    Separating axes: the two sides of the rectangle, and the normal of the line.
    """
    if not len(lines):
        return False
    x0, y0, x1, y1 = lines.T
    near = (
        (np.minimum(x0, x1) <= rect.x1)
        & (np.maximum(x0, x1) >= rect.x0)
        & (np.minimum(y0, y1) <= rect.y1)
        & (np.maximum(y0, y1) >= rect.y0)
    )
    if not near.any():
        return False
    x0, y0, x1, y1 = lines[near].T
    dx, dy = x1 - x0, y1 - y0
    sides = np.stack(
        [dx * (y - y0) - dy * (x - x0) for x in (rect.x0, rect.x1) for y in (rect.y0, rect.y1)]
    )
    return bool(np.any((sides.min(axis=0) <= 0.0) & (sides.max(axis=0) >= 0.0)))


def along(points: Floats, share: float) -> tuple[Floats, Floats]:
    """The point at that share of a polyline's length, and the unit direction there.

    `points` has shape (n, 2) with a length above 0.
    """
    steps = np.diff(points, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    before = np.concatenate(([0.0], np.cumsum(lengths)))
    want = share * before[-1]
    k = min(int(np.searchsorted(before, want, side="right")) - 1, len(lengths) - 1)
    while lengths[k] == 0.0:
        k -= 1
    return (
        points[k] + steps[k] * ((want - before[k]) / lengths[k]),
        steps[k] / lengths[k],
    )


def beside(
    points: Floats, *, outward: float, width: float, height: float, gap: float,
    shares: Iterable[float] = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8),
) -> tuple[tuple[float, float], ...]:  # fmt: skip
    """Middles for a label beside a polyline: outside first, then inside.

    `outward` is +1 when outside lies to the right of the direction of travel (y down),
    -1 when to the left.
    """
    out = []
    for side in (outward, -outward):
        for share in shares:
            p, d = along(points, share)
            nx, ny = -d[1] * side, d[0] * side
            off = gap + (abs(nx) * width + abs(ny) * height) / 2
            out.append((float(p[0] + nx * off), float(p[1] + ny * off)))
    return tuple(out)
