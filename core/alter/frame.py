"""Across and down: the directions of a piece as the maker sees them.

Nothing in an alteration depends on how the page lies, so heights and widths are always
taken in this frame, never from x and y.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.curve import Affine, Point, Vector


@dataclass(frozen=True, slots=True)
class Frame:
    """`down` is the unit vector along the grain towards the hem; `across` is square to it."""

    down: Vector

    @property
    def across(self) -> Vector:
        return Vector(self.down.y, -self.down.x)

    def height(self, p: Point) -> float:
        """How far down p lies, in mm; grows towards the hem."""
        return p.x * self.down.x + p.y * self.down.y

    def width(self, p: Point) -> float:
        """How far across p lies, in mm."""
        return p.x * self.down.y - p.y * self.down.x

    def from_page(self) -> Affine:
        """Page to frame: x is across, y is down."""
        g = self.down
        return Affine(g.y, g.x, -g.x, g.y, 0.0, 0.0)

    def to_page(self) -> Affine:
        """Frame to page; the exact transpose, so that nothing is lost by inverting."""
        g = self.down
        return Affine(g.y, -g.x, g.x, g.y, 0.0, 0.0)
