"""Finding a free place for every label, or leaving it out. Knows nothing of Qt.

All in pixels of the widget. Lines are rows x0, y0, x1, y1.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

import numpy as np

from app.window.table.coarse import Floats
from app.window.table.leads import Row, clear, lead
from app.window.table.rect import Rect

Name = TypeVar("Name")

# Pixels kept free between a label and anything else.
AIR = 3.0
# Lines face each other within this cosine, and at most so many times as far apart as a label
# between them wants.
FACING, FAR = 0.8, 4.0
# Where along an edge its label is tried, in this order.
SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)


@dataclass(frozen=True)
class Wish(Generic[Name]):
    """A label of that size and the middles it would like, the best first; walked once. What is to
    stand ``surely`` goes across lines where none of them is free of lines. One with a ``pin`` has
    a lead to that place. The ``others`` are tried in its stead, in order, where it has no room.
    """

    name: Name
    width: float
    height: float
    middles: Iterable[tuple[float, float]]
    surely: bool = False
    pin: tuple[float, float] | None = None
    others: Iterable[Wish[Name]] = ()


def place(
    wishes: Iterable[Wish[Name]], *, room: Rect, taken: Sequence[Rect], lines: Floats
) -> dict[Name, Rect]:
    """A rectangle for each label, in the order of the wishes: the first of its middles where
    it lies in the room and touches neither a line, nor what is taken, nor an earlier label; so
    with its lead.
    A label for which there is none is left out, but for one that is to stand surely.
    """
    full = list(taken)
    out: dict[Name, Rect] = {}
    for wish in wishes:
        for one in itertools.chain((wish,), wish.others):
            rect = _free(one, room, full, lines)
            if rect is None:
                continue
            out[one.name] = rect
            full.append(rect)
            if one.pin is not None:
                lines = np.vstack((lines, lead(rect, one.pin)))
            break
    return out


def _free(wish: Wish[Name], room: Rect, full: Sequence[Rect], lines: Floats) -> Rect | None:
    across = None
    for x, y in wish.middles:
        rect = Rect.about(x, y, wish.width, wish.height)
        wide = rect.grown(AIR)
        if wide.inside(room) and not any(wide.overlaps(r) for r in full):
            if crosses(wide, lines):
                across = across or rect
            elif wish.pin is None or _leads(lead(rect, wish.pin), full, lines):
                return rect
    return across if wish.surely else None


def _leads(row: Row, full: Sequence[Rect], lines: Floats) -> bool:
    """Does it get to its place past all lines and labels?"""
    only = np.array([row])
    return clear(row, lines) and not any(crosses(r.grown(1.0), only) for r in full)


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


class Polyline:
    """Points of shape (n, 2), to be walked along."""

    def __init__(self, points: Floats) -> None:
        steps = np.diff(points, axis=0)
        lengths = np.hypot(steps[:, 0], steps[:, 1])
        # Joints of flattened segments lie twice in a row.
        kept = lengths > 0.0
        self._starts, self._steps, self._lengths = points[:-1][kept], steps[kept], lengths[kept]
        self._before = np.concatenate(([0.0], np.cumsum(self._lengths)))

    @property
    def length(self) -> float:
        return float(self._before[-1])

    def at(self, share: float) -> tuple[tuple[float, float], tuple[float, float]]:
        """The point at that share of a length above 0, and the unit direction there."""
        want = share * self.length
        k = min(int(self._before.searchsorted(want, "right")) - 1, len(self._lengths) - 1)
        (x, y), (dx, dy) = self._starts[k].tolist(), self._steps[k].tolist()
        length = float(self._lengths[k])
        part = (want - float(self._before[k])) / length
        return (x + dx * part, y + dy * part), (dx / length, dy / length)

    def nearest(self, x: float, y: float) -> tuple[tuple[float, float], tuple[float, float]]:
        """The nearest point, and the unit direction there."""
        away = np.array((x, y)) - self._starts
        along = (away * self._steps).sum(axis=1) / self._lengths**2
        feet = self._starts + self._steps * np.clip(along, 0.0, 1.0)[:, None]
        k = int(np.argmin(np.hypot(feet[:, 0] - x, feet[:, 1] - y)))
        (fx, fy), (dx, dy) = feet[k].tolist(), self._steps[k].tolist()
        length = float(self._lengths[k])
        return (fx, fy), (dx / length, dy / length)


def beside(
    line: Polyline, *, outward: float, width: float, height: float, gap: float
) -> Iterator[tuple[float, float]]:
    """Middles for a label beside a polyline: outside first, then inside, the middle first.

    `outward` is +1 when outside lies to the right of the direction of travel (y down),
    -1 when to the left.
    """
    for side in (outward, -outward):
        for share in SHARES:
            (x, y), (dx, dy) = line.at(share)
            nx, ny = -dy * side, dx * side
            off = gap + (abs(nx) * width + abs(ny) * height) / 2
            yield x + nx * off, y + ny * off


def between(
    lines: tuple[Polyline, Polyline], *, outward: tuple[float, float], size: tuple[float, float]
) -> Iterator[tuple[float, float]]:
    """Middles for one label of two lines that face each other, half way from one to the other;
    none where they lie too near to each other for it, or so far apart that it would belong to
    neither. `outward` as in `beside`.
    """
    line, mate = lines
    for share in SHARES:
        (x, y), (dx, dy) = line.at(share)
        (u, v), (ex, ey) = mate.nearest(x, y)
        away = float(np.hypot(u - x, v - y))
        if away == 0.0:
            continue
        nx, ny = (u - x) / away, (v - y) / away
        faces = (nx * -dy + ny * dx) * outward[0] > FACING
        faced = (nx * ey - ny * ex) * outward[1] > FACING
        need = abs(nx) * size[0] + abs(ny) * size[1] + 2 * AIR + 2.0
        if faces and faced and need <= away <= FAR * need:
            yield (x + u) / 2, (y + v) / 2
