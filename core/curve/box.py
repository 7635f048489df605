"""Axis-parallel bounding boxes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from core.curve.point import Point


@dataclass(frozen=True, slots=True)
class Box:
    """The rectangle x0..x1, y0..y1 with x0 <= x1 and y0 <= y1."""

    x0: float
    y0: float
    x1: float
    y1: float

    @staticmethod
    def around(points: Iterable[Point]) -> Box:
        """The smallest box around at least one point; ValueError for none."""
        around = list(points)
        if not around:
            raise ValueError("there is no box around nothing")
        xs, ys = [p.x for p in around], [p.y for p in around]
        return Box(min(xs), min(ys), max(xs), max(ys))

    def __or__(self, other: Box) -> Box:
        return Box(
            min(self.x0, other.x0),
            min(self.y0, other.y0),
            max(self.x1, other.x1),
            max(self.y1, other.y1),
        )

    @property
    def width(self) -> float:
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        return self.y1 - self.y0

    @property
    def centre(self) -> Point:
        return Point((self.x0 + self.x1) / 2, (self.y0 + self.y1) / 2)

    def holds(self, other: Box, *, margin: float = 0.0) -> bool:
        """Does `other` lie inside this box grown by `margin`?"""
        return (
            self.x0 - margin <= other.x0
            and self.y0 - margin <= other.y0
            and other.x1 <= self.x1 + margin
            and other.y1 <= self.y1 + margin
        )
