"""Upright rectangles. Knows nothing of Qt."""

from __future__ import annotations

from typing import NamedTuple


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

    @property
    def middle(self) -> tuple[float, float]:
        return (self.x0 + self.x1) / 2, (self.y0 + self.y1) / 2

    def grown(self, by: float) -> Rect:
        return Rect(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)

    def moved(self, *, right: float = 0.0, down: float = 0.0) -> Rect:
        return Rect(self.x0 + right, self.y0 + down, self.x1 + right, self.y1 + down)

    def overlaps(self, other: Rect) -> bool:
        return (
            self.x0 < other.x1 and other.x0 < self.x1 and self.y0 < other.y1 and other.y0 < self.y1
        )

    def meets(self, other: Rect) -> bool:
        """Do they overlap or touch? Either may be without width or height."""
        return (
            self.x0 <= other.x1
            and other.x0 <= self.x1
            and self.y0 <= other.y1
            and other.y0 <= self.y1
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
