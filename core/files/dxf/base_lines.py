"""The lines of a piece in sewn-products interchange, old and new side by side.

Boundary (layer 1), inner lines (8), cutouts (11) and sew line (14) are the lines whose
vertices bear turn and curve points, and of which the layers 84 to 87 hold dense copies
(ASTM D6673, clause 4.3).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from core.files.dxf import layers, polylines
from core.files.dxf.records import Block, Entity, Layout
from core.files.dxf.shapes import numbers

BASES = frozenset({1, 8, 11, 14})
POLYLINES = ("POLYLINE", "LWPOLYLINE")


@dataclass(frozen=True, eq=False)
class BaseLine:
    """A line through vertices in the block's own units; a closed one ends at its last vertex."""

    entity: Entity
    layer: int
    points: tuple[complex, ...]
    bulges: tuple[float, ...]
    closed: bool

    def step(self, k: int) -> tuple[complex, complex]:
        """From vertex k to the next."""
        return self.points[k], self.points[(k + 1) % len(self.points)]

    @property
    def steps(self) -> int:
        """How many steps there are."""
        return polylines.steps(len(self.points), self.closed)


def base_lines(file: Layout, block: Block, wanted: frozenset[int]) -> Iterator[BaseLine]:
    """The lines of the block on these layers that can be followed vertex by vertex."""
    for entity in block.entities:
        number = layers.number_of(file.layer_of(entity))
        if number in wanted and entity.type in (*POLYLINES, "LINE"):
            line = _line(file, entity, number or 0)
            if len(line.points) > 1:
                yield line


def _line(file: Layout, entity: Entity, number: int) -> BaseLine:
    if entity.type == "LINE":
        of = numbers(file.pairs, entity)
        ends = tuple(complex(p.x, p.y) for p in (of.point(10), of.point(11)))
        return BaseLine(entity, number, ends, (0.0, 0.0), False)
    v = polylines.vertices(file.pairs, entity)
    places, bulges = polylines.coordinates(file.pairs, v)
    points = [complex(p.x, p.y) for p in places]
    # Some programs repeat the first vertex at the end instead of setting the flag.
    closes = len(points) > 2 and points[0] == points[-1]
    if closes:
        points.pop()
    return BaseLine(entity, number, tuple(points), tuple(bulges[: len(points)]), v.closed or closes)


@dataclass(frozen=True)
class Pair:
    """A line as it was and as it is."""

    old: BaseLine
    new: BaseLine

    @property
    def is_changed(self) -> bool:
        """Did any vertex or bulge change?"""
        return self.old.points != self.new.points or self.old.bulges != self.new.bulges


def paired(old: list[BaseLine], new: list[BaseLine]) -> Iterator[Pair]:
    """Each old line with the new one on its layer that shares most of its vertices.

    As many as before stand in the same order, and so they are told apart by that.
    """
    for layer in sorted({line.layer for line in old}):
        before = [line for line in old if line.layer == layer]
        after = [line for line in new if line.layer == layer]
        if len(before) == len(after):
            yield from map(Pair, before, after)
        elif after:
            yield from (Pair(b, max(after, key=lambda a: _shared(a, b))) for b in before)


def _shared(a: BaseLine, b: BaseLine) -> int:
    return len(set(a.points) & set(b.points))
