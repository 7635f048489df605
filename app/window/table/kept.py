"""Remembering what was made of a value, by the value's identity. Knows nothing of Qt."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Iterable
from typing import Generic, TypeVar

import numpy as np
from numpy.typing import NDArray

from core.curve import Chain, Cubic, Point, Segment

Key = TypeVar("Key")
Value = TypeVar("Value")

Floats = NDArray[np.float64]

# Flattening in mm for keeping labels and the pointer off the lines; never for drawing.
COARSE = 0.5


class Kept(Generic[Key, Value]):
    """What `make` makes of a value; the last `most` of them.

    Equality would compare (and hash) thousands of coordinates to find the very same ring.
    """

    def __init__(self, make: Callable[[Key], Value], *, most: int = 4096) -> None:
        self._make, self._most = make, most
        self._kept: OrderedDict[int, tuple[Key, Value]] = OrderedDict()

    def __call__(self, key: Key) -> Value:
        found = self._kept.get(id(key))
        if found is not None:
            self._kept.move_to_end(id(key))
            return found[1]
        value = self._make(key)
        # Holding the key too keeps its id from being given to another.
        self._kept[id(key)] = key, value
        if len(self._kept) > self._most:
            self._kept.popitem(last=False)
        return value


def _curved(curve: Cubic) -> list[tuple[float, float]]:
    points = Chain((curve,)).flattened(tolerance=COARSE)[1:]
    return [(x, y) for x, y in points.tolist()]


# A change leaves most curves the very same, so they are flattened once.
_kept_curved: Kept[Cubic, list[tuple[float, float]]] = Kept(_curved)


def flat(segments: Iterable[Segment]) -> Floats:
    """The segments, in order, as one coarse polyline of shape (n, 2): straight over gaps."""
    points: list[tuple[float, float]] = []
    end: Point | None = None
    for s in segments:
        if s.start is not end:
            points.append((s.start.x, s.start.y))
        end = s.end
        if isinstance(s, Cubic):
            points += _kept_curved(s)
        else:
            points.append((end.x, end.y))
    return np.array(points)


kept_flat: Kept[Chain, Floats] = Kept(flat, most=512)
