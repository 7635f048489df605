"""What must follow when a line of a sewn-products piece was altered: points and copies.

A second pass over the spliced bytes, block by block: turn and curve points at the vertices
as they are now, and the dense copies on layers 84 to 87 made afresh. Blocks whose lines did
not change stay as they are, byte for byte.
"""

from __future__ import annotations

import re
from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass

from core.curve import Affine, Point
from core.files.dxf import layers
from core.files.dxf.base_lines import BASES, BaseLine, Pair, base_lines, paired
from core.files.dxf.bytes_out import Handles, number_patch, patched, spliced_in
from core.files.dxf.pairs import index
from core.files.dxf.records import Block, Layout, layout
from core.files.dxf.shapes import numbers
from core.files.dxf.validation import COPIES, Afresh, copy_of
from core.files.dxf.vertex_points import (
    TruePoints,
    VertexPoint,
    corners_of,
    layer_for,
    vertex_points,
)
from core.files.dxf.write_polyline import PolylineWriter
from core.piece.model import AT_VERTEX

COPY_NAME = re.compile(r"(.+)_\d+$")
DENSE = frozenset(layers.VALIDATION)


def follow(before: Layout, data: bytes, mm_per_unit: float) -> bytes:
    """The bytes with points and copies made true; `before` is the file as it was read."""
    file = layout(index(before.pairs.name, data))
    handles = Handles(file)
    found: list[tuple[int, int, bytes]] = []
    for block in file.blocks.values():
        old = _block_before(before, block)
        if old is not None:
            found += _Following(before, file, old, block, handles, mm_per_unit).splices()
    for i, value in handles.seed_patch().items():
        found.append((*file.pairs.span(i), value or b""))
    return spliced_in(data, found)


def _block_before(before: Layout, block: Block) -> Block | None:
    """The block as it was; that of which it is a copy, if it is one."""
    name = block.name.lower()
    copied = COPY_NAME.match(name)
    return before.blocks.get(name) or (before.blocks.get(copied[1]) if copied else None)


@dataclass(frozen=True)
class _Following:
    """One block before and after the alteration."""

    before: Layout
    file: Layout
    old: Block
    new: Block
    handles: Handles
    mm_per_unit: float

    def splices(self) -> Iterator[tuple[int, int, bytes]]:
        """What is to be exchanged in the new bytes, as begin, end and new bytes."""
        old = list(base_lines(self.before, self.old, BASES))
        pairs = list(paired(old, list(base_lines(self.file, self.new, BASES))))
        if not any(pair.is_changed for pair in pairs):
            return
        points = vertex_points(self.file, self.new)
        added = yield from self._points(pairs, points)
        yield from self._copies(old, pairs, [*points, *added])

    # -- turn and curve points ---------------------------------------------------------

    def _points(
        self, pairs: Sequence[Pair], points: Sequence[VertexPoint]
    ) -> Generator[tuple[int, int, bytes], None, list[VertexPoint]]:
        before = vertex_points(self.before, self.old)
        if not before or not points:
            return []
        true = TruePoints(self.file, AT_VERTEX / self.mm_per_unit, self.handles)
        stray = true.stray(points, before, pairs)
        for p in stray:
            yield self._begin(p), self._end(p), b""
        added: list[VertexPoint] = []
        for pair in pairs:
            bare = true.bare(pair, before, points)
            added += [_point(pair.new, k, points) for k in bare]
        for p in added:
            like = _like(points, p.layer)
            yield self._end(like), self._end(like), true.drawn(like, p.layer, p.at)
        return added

    def _begin(self, p: VertexPoint) -> int:
        return self.file.pairs.begin(p.entity.first)

    def _end(self, p: VertexPoint) -> int:
        return self.file.pairs.begin(p.entity.end)

    # -- dense copies ------------------------------------------------------------------

    def _copies(
        self, old: list[BaseLine], pairs: Sequence[Pair], points: Sequence[VertexPoint]
    ) -> Iterator[tuple[int, int, bytes]]:
        within = COPIES / self.mm_per_unit
        dense = list(base_lines(self.before, self.old, DENSE))
        now = list(base_lines(self.file, self.new, DENSE))
        if len(dense) != len(now):
            return
        by_old = {id(pair.old): pair for pair in pairs}
        for was, line in zip(dense, now, strict=True):
            found = copy_of(was, old, within)
            pair = by_old.get(id(old[found[0]])) if found is not None else None
            if found is None or pair is None or not pair.is_changed:
                continue
            corners = set(corners_of(pair.new, points, AT_VERTEX / self.mm_per_unit))
            yield self._copy(line, Afresh(pair, found[1], corners))

    def _copy(self, line: BaseLine, afresh: Afresh) -> tuple[int, int, bytes]:
        pairs, entity = self.file.pairs, line.entity
        span = pairs.begin(entity.first), pairs.begin(entity.end)
        if entity.type == "LINE":
            ends = afresh.pair.new.points
            at = numbers(pairs, entity).at
            values = ((10, ends[0].real), (20, ends[0].imag), (11, ends[-1].real))
            new = number_patch(pairs, ((at[c], x) for c, x in (*values, (21, ends[-1].imag))))
            return (*span, patched(pairs, entity.first, entity.end, new))
        writer = PolylineWriter(pairs, entity, Affine(), self.handles)
        found = afresh.points()
        rows = [(Point(p.at.real, p.at.imag), p.like, p.kept) for p in found]
        return (*span, writer.redrawn(rows))


def _point(line: BaseLine, k: int, points: Sequence[VertexPoint]) -> VertexPoint:
    """What a new vertex gets; the entity is only that of the point it will look like."""
    layer = layer_for(line, k)
    return VertexPoint(_like(points, layer).entity, layer, line.points[k])


def _like(points: Sequence[VertexPoint], layer: int) -> VertexPoint:
    """The last point on that layer, else the last of all."""
    same = [p for p in points if p.layer == layer]
    return (same or list(points))[-1]


def not_followed(file: Layout, mm_per_unit: float) -> list[str]:
    """Names of blocks with dense copies of which it is not clear what they are copies of."""
    out = []
    for block in file.blocks.values():
        drawn = [e for e in block.entities if layers.number_of(file.layer_of(e)) in DENSE]
        if drawn:
            lines = list(base_lines(file, block, BASES))
            found = [
                copy_of(dense, lines, COPIES / mm_per_unit)
                for dense in base_lines(file, block, DENSE)
            ]
            if len(found) < len(drawn) or None in found:
                out.append(block.name)
    return out
