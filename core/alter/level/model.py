"""A change at a level, and where the level parts the piece."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from core.alter.frame import Frame
from core.curve import Point, Vector

# A point this near (mm) to the level lies on it.
AT_LEVEL = 1e-6


class Truing(Enum):
    """How a seam is redrawn over the jog that the change leaves in it."""

    STRAIGHT = "straight"
    SMOOTH = "smooth"


@dataclass(frozen=True, slots=True)
class LevelChange:
    """Put `by_mm` in at a line square to the grain; fold it out when it is negative.

    The line lies `at_mm` along the grain below the highest point of the line along which the
    piece is sewn. Each seam that it crosses is redrawn between a point `blend_mm` above the
    line and a point `blend_mm` below it (below the part that is folded out), or up to the
    next corner, taper point or dart, whichever comes first.

    When `blend_mm` is None it is `true_seams.BLEND`, but only as far as the seam runs down
    rather than across; a rest shorter than `true_seams.SHORT_REST` up to the next corner is
    redrawn too. A ``preview`` finds nothing, measures nothing that is not asked for, and has of
    the steps only what is done to the seams; the pieces are the same.
    """

    at_mm: float
    by_mm: float
    true: Truing = Truing.SMOOTH
    blend_mm: float | None = None
    preview: bool = False


class Part(Enum):
    """The parts of a piece that a level tells apart."""

    STAYS = "stays"
    REMOVED = "folded out"
    MOVES = "moves"


@dataclass(frozen=True, slots=True)
class Level:
    """The line at `height` of the frame, and by how much what lies below it moves down."""

    frame: Frame
    height: float
    by_mm: float

    @property
    def step(self) -> Vector:
        return self.frame.down * self.by_mm

    @property
    def floor(self) -> float:
        """Height of the highest points that move: the level, or the end of what is folded out."""
        return self.height + max(0.0, -self.by_mm)

    @property
    def new_floor(self) -> float:
        """Where the highest points that move go."""
        return self.height + max(0.0, self.by_mm)

    def on(self, height: float) -> Point:
        """A point of the line at that height."""
        return Point(0.0, 0.0).moved(self.frame.down, height)

    def part(self, p: Point) -> Part:
        """A point on the line itself moves, or is folded out."""
        return self.part_at(self.frame.height(p))

    def part_at(self, height: float) -> Part:
        if height >= self.floor - AT_LEVEL:
            return Part.MOVES
        return Part.STAYS if height < self.height - AT_LEVEL else Part.REMOVED

    def step_of(self, p: Point) -> Vector:
        """How a point goes; one that is folded out goes up to the line."""
        match self.part(p):
            case Part.STAYS:
                return Vector(0.0, 0.0)
            case Part.MOVES:
                return self.step
        return self.frame.down * (self.height - self.frame.height(p))

    def point(self, p: Point) -> Point:
        return p + self.step_of(p)
