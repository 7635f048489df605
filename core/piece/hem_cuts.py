"""What is cut into a hem from below: slits, scoops, steps. Beyond them the hem goes on."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from core.curve import Line, Point, Ring, Segment, Vector
from core.piece.corners import outward_sign

# The outline faces the hem where its outward normal is within 45 degrees of the grain.
FACES = math.cos(math.radians(45.0))
# A scoop or a step reaches at most so far up (shares of the piece's height); a seam goes on.
HIGHEST = 0.3
# A slit may reach higher: it is narrow (mm), and comes down again.
HIGHEST_SLIT, WIDEST_SLIT = 0.6, 80.0
COMES_DOWN = 0.5
SAMPLES = 16


@dataclass(frozen=True)
class HemCuts:
    """Tells a cut in the hem from the seam beyond it, on a ring whose grain points `down`."""

    down: Vector
    sign: float
    height: float

    @classmethod
    def of(cls, ring: Ring, down: Vector) -> HemCuts:
        flat = ring.flattened(tolerance=1.0)
        tall = float(np.ptp(flat @ np.array((down.x, down.y))))
        return cls(down, outward_sign(ring), tall)

    def over(self, way: Sequence[Segment], start: float) -> int | None:
        """The segment of the way (which climbs from t = `start` of its first one) on which the
        outline faces the hem again, low enough to be the upper end of a cut; None for a seam."""
        foot = way[0].at(start)
        for k, t in self._samples(way, start):
            up = self._above(foot, way[k].at(t))
            if up > HIGHEST_SLIT * self.height:
                return None
            if k > 0 and self._faces(way[k].tangent(t)):
                low = up <= HIGHEST * self.height
                return k if low or self._comes_down(foot, up, way[k:]) else None
        return None

    def _samples(self, way: Sequence[Segment], start: float) -> Iterator[tuple[int, float]]:
        for k, s in enumerate(way):
            count = 1 if isinstance(s, Line) else SAMPLES
            for n in range(count):
                t = (n + 0.5) / count
                if k > 0 or t > start:
                    yield k, t

    def _comes_down(self, foot: Point, up: float, way: Sequence[Segment]) -> bool:
        for s in way:
            if abs((s.end - foot).cross(self.down)) > WIDEST_SLIT:
                return False
            if self._above(foot, s.end) <= COMES_DOWN * up:
                return True
        return False

    def _above(self, foot: Point, p: Point) -> float:
        return -(p - foot).dot(self.down)

    def _faces(self, d: Vector) -> bool:
        return (d.y * self.down.x - d.x * self.down.y) * self.sign > FACES
