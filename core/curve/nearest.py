"""The answer to "where on this curve is it nearest?"."""

from __future__ import annotations

from dataclasses import dataclass

from core.curve.point import Point


@dataclass(frozen=True, slots=True)
class Nearest:
    """t in [0, 1] on the segment, the point there, and its distance in mm."""

    t: float
    point: Point
    distance: float
