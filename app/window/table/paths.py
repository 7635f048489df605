"""Our curves as Qt's. Each chain is turned once; a drag keeps most of what it shows."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from typing import Generic, TypeVar

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainterPath

from app.window.table.sights import COARSE
from core.curve import Chain, Cubic, Point, Ring

Key = TypeVar("Key")
Value = TypeVar("Value")


class Kept(Generic[Key, Value]):
    """What `make` makes of a value, remembered by the value's identity.

    Equality would compare (and hash) thousands of coordinates to find the very same ring.
    """

    def __init__(self, make: Callable[[Key], Value], *, most: int = 2048) -> None:
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


def path_of(chain: Chain) -> QPainterPath:
    """The chain in mm; closed when it is a ring."""
    path = QPainterPath(point_of(chain.start))
    for s in chain:
        if isinstance(s, Cubic):
            path.cubicTo(s.c1.x, s.c1.y, s.c2.x, s.c2.y, s.end.x, s.end.y)
        else:
            path.lineTo(s.end.x, s.end.y)
    if isinstance(chain, Ring):
        path.closeSubpath()
    return path


def coarse(chain: Chain) -> NDArray[np.float64]:
    """The chain as a polyline, shape (n, 2), in mm."""
    return chain.flattened(tolerance=COARSE)


def point_of(p: Point) -> QPointF:
    return QPointF(p.x, p.y)


kept_path: Kept[Chain, QPainterPath] = Kept(path_of)
kept_coarse: Kept[Chain, NDArray[np.float64]] = Kept(coarse)
