"""Remembering what was made of a value, by the value's identity. Knows nothing of Qt."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from typing import Generic, TypeVar

import numpy as np
from numpy.typing import NDArray

from core.curve import Chain, Segment

Key = TypeVar("Key")
Value = TypeVar("Value")

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


def _coarse(segment: Segment) -> NDArray[np.float64]:
    return Chain((segment,)).flattened(tolerance=COARSE)


# A change leaves most segments the very same, so they are flattened once.
kept_coarse: Kept[Segment, NDArray[np.float64]] = Kept(_coarse)
