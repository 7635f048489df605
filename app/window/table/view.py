"""Which part of the table is seen, and how large. Knows nothing of Qt."""

from __future__ import annotations

from dataclasses import dataclass

from core.curve import Box, Point

# Pixels per mm: from a whole roll of paper in the window to a pencil line a finger wide.
SMALLEST, LARGEST = 0.02, 60.0
# Pixels round the pieces, the share of the table that they take at most, and what the grips of
# the hems want below in any case.
AIR, AIR_ABOVE, AIR_BELOW, AIR_SHARE = 64.0, 44.0, 40.0, 0.1
# Below a grip stands what its hem becomes, where the table is at least so high.
LABEL_BELOW, HIGH = 24.0, 400.0
# Grips and what is written at them take so much of the margin below the pieces.
HANGING = 0.92
# And what the name of a piece wants above it, where it has no room within.
NAME_ABOVE = 30.0


@dataclass(frozen=True, slots=True)
class Margins:
    """Pixels to be kept free at each side of the widget."""

    left: float = 0.0
    top: float = 0.0
    right: float = 0.0
    bottom: float = 0.0

    @property
    def hangs(self) -> float:
        """How far grips and what is written at them hang below the pieces, at most."""
        return HANGING * self.bottom

    @staticmethod
    def beside_rulers(ruler: float, width: float, height: float) -> Margins:
        """What grips and labels want round the pieces; less where the table is small."""
        wide, high = min(AIR, AIR_SHARE * width), min(AIR, AIR_SHARE * height)
        above = max(min(AIR_ABOVE, high), NAME_ABOVE)
        below = AIR_BELOW + (LABEL_BELOW if height >= HIGH else 0.0)
        return Margins(ruler + wide, ruler + above, wide, max(high, below))


@dataclass(frozen=True, slots=True)
class View:
    """``scale`` pixels to the mm; (x, y) is what lies at the widget's top left corner, in mm."""

    scale: float = 1.0
    x: float = 0.0
    y: float = 0.0

    @staticmethod
    def fitted(box: Box, width: float, height: float, margins: Margins) -> View:
        """The view in which the whole box fills what the margins leave of width x height px."""
        room_x = max(width - margins.left - margins.right, 1.0)
        room_y = max(height - margins.top - margins.bottom, 1.0)
        scale = _kept(min(room_x / max(box.width, 1.0), room_y / max(box.height, 1.0)))
        return View(
            scale,
            box.centre.x - (margins.left + room_x / 2) / scale,
            box.centre.y - (margins.top + room_y / 2) / scale,
        )

    def zoomed(self, factor: float, px: float, py: float) -> View:
        """Larger by `factor`, with what lies at the pixel (px, py) staying there."""
        scale = _kept(self.scale * factor)
        there = self.to_mm(px, py)
        return View(scale, there.x - px / scale, there.y - py / scale)

    def panned(self, dx: float, dy: float) -> View:
        """With everything moved by that many pixels to the right and down."""
        return View(self.scale, self.x - dx / self.scale, self.y - dy / self.scale)

    def centred(self, p: Point, width: float, height: float) -> View:
        """With the point in the middle of a widget of that size."""
        return View(self.scale, p.x - width / 2 / self.scale, p.y - height / 2 / self.scale)

    def to_mm(self, px: float, py: float) -> Point:
        return Point(self.x + px / self.scale, self.y + py / self.scale)

    def to_px(self, p: Point) -> tuple[float, float]:
        return (p.x - self.x) * self.scale, (p.y - self.y) * self.scale


def _kept(scale: float) -> float:
    return min(LARGEST, max(SMALLEST, scale))
