"""Turn and curve points of an altered line: one at each vertex, none where no vertex is left.

A point that came along with its vertex stays what it is. A vertex that the alteration added
gets a point: a turn point at a corner, else a curve point (ASTM D6673, layers 2 and 3).
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from core.files.dxf import layers
from core.files.dxf.base_lines import BaseLine, Pair
from core.files.dxf.bytes_out import Handles, copied_record, number_patch
from core.files.dxf.records import Block, Entity, Layout
from core.files.dxf.shapes import numbers

TURN, CURVE = 2, 3
# A line of which this share of vertices has points has them all; others are left alone.
NEARLY_ALL = 0.9
# Bending more than 30 degrees is a corner. So is anything over 0.1 degrees that bends three
# times as much as what is beside it; less is a step of a digitised curve.
LEAST, STANDS_OUT, SHARP = math.radians(0.1), 3.0, math.radians(30.0)


@dataclass(frozen=True)
class VertexPoint:
    """A POINT on layer 2 or 3."""

    entity: Entity
    layer: int
    at: complex


def vertex_points(file: Layout, block: Block) -> list[VertexPoint]:
    """All turn and curve points of the block."""
    out = []
    for entity in block.entities:
        if entity.type == "POINT":
            number = layers.number_of(file.layer_of(entity))
            if number in (TURN, CURVE):
                p = numbers(file.pairs, entity).point()
                out.append(VertexPoint(entity, number, complex(p.x, p.y)))
    return out


class Near:
    """Finds what lies within a distance; a grid keeps it linear."""

    def __init__(self, points: Sequence[complex], within: float) -> None:
        self.points, self.within = points, within
        self._cells: dict[tuple[int, int], list[int]] = {}
        for k, p in enumerate(points):
            self._cells.setdefault(self._cell(p), []).append(k)

    def _cell(self, p: complex) -> tuple[int, int]:
        return math.floor(p.real / self.within), math.floor(p.imag / self.within)

    def nearest(self, p: complex) -> int | None:
        """The number of the nearest point within the distance."""
        x, y = self._cell(p)
        near = [
            k
            for dx in (-1, 0, 1)
            for dy in (-1, 0, 1)
            for k in self._cells.get((x + dx, y + dy), ())
            if abs(self.points[k] - p) <= self.within
        ]
        return min(near, key=lambda k: abs(self.points[k] - p), default=None)


@dataclass(frozen=True)
class TruePoints:
    """Brings the points of one block in step with its lines; ``within`` is how near a point
    lies to its vertex, in units of the file."""

    file: Layout
    within: float
    handles: Handles

    def stray(
        self, points: Sequence[VertexPoint], before: Sequence[VertexPoint], pairs: Sequence[Pair]
    ) -> list[VertexPoint]:
        """Points at no vertex any more, of a block all of whose points were at vertices."""
        old = Near([p for pair in pairs for p in pair.old.points], self.within)
        if any(old.nearest(p.at) is None for p in before):
            return []
        now = Near([p for pair in pairs for p in pair.new.points], self.within)
        return [p for p in points if now.nearest(p.at) is None]

    def bare(
        self, pair: Pair, before: Sequence[VertexPoint], points: Sequence[VertexPoint]
    ) -> list[int]:
        """The vertices of a changed line that have no point, if all of them had one."""
        was = Near([p.at for p in before], self.within)
        marked = sum(was.nearest(p) is not None for p in pair.old.points)
        if not pair.is_changed or marked < NEARLY_ALL * len(pair.old.points):
            return []
        now = Near([p.at for p in points], self.within)
        return [k for k, p in enumerate(pair.new.points) if now.nearest(p) is None]

    def drawn(self, like: VertexPoint, layer: int, at: complex) -> bytes:
        """A point like another one, elsewhere and perhaps on the other layer."""
        pairs = self.file.pairs
        fields = numbers(pairs, like.entity).at
        patch = number_patch(pairs, ((fields[10], at.real), (fields[20], at.imag)))
        if layer != like.layer:
            patch[fields[8]] = str(layer).encode("ascii")
        return copied_record(pairs, like.entity.first, like.entity.head, patch, self.handles)


def layer_for(line: BaseLine, k: int) -> int:
    """Turn or curve: what a new vertex of the line is."""
    return TURN if is_corner(line, k) else CURVE


def is_corner(line: BaseLine, k: int) -> bool:
    """Does the line bend there much more than beside it, or sharply, or end?"""
    bends = [_bend(line, j) for j in (k - 1, k, k + 1)]
    before, here, after = (SHARP if b is None else abs(b) for b in bends)
    if here >= SHARP:
        return True
    beside = max((b for b in (before, after) if b < SHARP), default=0.0)
    return here > LEAST and here > STANDS_OUT * beside


def _bend(line: BaseLine, k: int) -> float | None:
    """By how much the line turns at a vertex; None at its ends."""
    n = len(line.points)
    if not line.closed and not 0 < k < n - 1:
        return None
    here = line.points[k % n]
    came, goes = here - line.points[(k - 1) % n], line.points[(k + 1) % n] - here
    if not came or not goes:
        return 0.0
    arrives = came * cmath.exp(2j * math.atan(line.bulges[(k - 1) % n]))
    leaves = goes * cmath.exp(-2j * math.atan(line.bulges[k % n]))
    return cmath.phase(leaves / arrives)


def corners_of(line: BaseLine, points: Sequence[VertexPoint], within: float) -> Iterator[int]:
    """The corners of a line: its turn points if it has points, else what bends like one."""
    turns = Near([p.at for p in points if p.layer == TURN], within)
    curves = Near([p.at for p in points if p.layer == CURVE], within)
    for k, p in enumerate(line.points):
        told = turns.nearest(p) is not None or curves.nearest(p) is not None
        if turns.nearest(p) is not None or (not told and is_corner(line, k)):
            yield k
