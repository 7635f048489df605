"""A notch that is new on a piece: like those it has, else as its kind of file draws them.

In sewn-products interchange a notch is a POINT on layer 4 whose Z is its depth (ASTM D6673);
elsewhere it is a short LINE on the layer of the outline.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from core.curve import Affine, Chain, Point
from core.files.dxf import layers
from core.files.dxf.bytes_out import Handles, copied_record, new_pair, number_patch, number_text
from core.files.dxf.new_polyline import LOOKS, R12
from core.files.dxf.records import Entity, Layout
from core.files.dxf.shapes import numbers
from core.files.dxf.source import DxfSource
from core.files.dxf.walk import Drawn
from core.files.edits import Added

NOTCH_LAYER = "4"
LAYER, ANGLE = 8, 50


@dataclass(frozen=True)
class NewMarks:
    """Writes new notches of a file, each behind the outline of its piece."""

    source: DxfSource
    new: Sequence[Added]
    handles: Handles

    def all(self, *, without: Collection[int]) -> Iterator[tuple[int, bytes]]:
        """Where in the file (byte) which record goes, but for those beside the outlines
        `without`; and the layer that they need."""
        yield from self._drawn(a for a in self.new if a.outline not in without)
        if any(self._needs_layer(a) for a in self.new):
            yield from self._layer()

    def beside(self, outlines: Collection[int]) -> Iterator[tuple[int, bytes]]:
        """The same for those beside these outlines."""
        yield from self._drawn(a for a in self.new if a.outline in outlines)

    def _drawn(self, new: Iterable[Added]) -> Iterator[tuple[int, bytes]]:
        for one in new:
            outline = self.source.drawn[one.outline]
            yield self.source.file.pairs.begin(outline.entity.end), self._record(one, outline)

    def _record(self, new: Added, outline: Drawn) -> bytes:
        alike = self._alike(new, outline)
        to_file = outline.standing.to_page.inverse()
        if alike is not None:
            return _copied(self.source.file, alike.entity, _placed(new, to_file), self.handles)
        shape = new.mark.geometry
        record = _Record(self.source.file, outline.entity, self.handles)
        if self._is_standard(outline):
            at, depth = _ends(shape)
            reach = to_file.vector(depth - at).norm
            return record.point(to_file.point(at), reach, NOTCH_LAYER)
        if isinstance(shape, Point):
            return record.point(to_file.point(shape), 0.0, None)
        return record.line(*(to_file.point(p) for p in _ends(shape)))

    def _alike(self, new: Added, outline: Drawn) -> Drawn | None:
        """A notch in the same block that can be copied: a POINT, or a LINE for a line."""
        if new.like is None:
            return None
        found = self.source.drawn[new.like]
        kinds = ("POINT",) if isinstance(new.mark.geometry, Point) else ("POINT", "LINE")
        same_block = found.standing.inserts == outline.standing.inserts
        return found if same_block and found.entity.type in kinds else None

    def _is_standard(self, outline: Drawn) -> bool:
        numbered = layers.number_of(outline.layer) in (layers.BOUNDARY, layers.SEW_LINE)
        return numbered and layers.is_standard(self.source.file)

    def _needs_layer(self, new: Added) -> bool:
        file, outline = self.source.file, self.source.drawn[new.outline]
        listed = NOTCH_LAYER in file.layers or not file.layers
        return not listed and self._alike(new, outline) is None and self._is_standard(outline)

    def _layer(self) -> Iterator[tuple[int, bytes]]:
        """The notches' layer, made after the boundary's in the layer table."""
        file, pairs = self.source.file, self.source.file.pairs
        for first, end in pairwise(pairs.positions(0, len(pairs), 0).tolist()):
            if pairs.value(first) != b"LAYER":
                continue
            fields = pairs.fields(first, end)
            if 2 in fields and layers.number_of(file.text(fields[2])) == layers.BOUNDARY:
                name = {fields[2]: NOTCH_LAYER.encode("ascii")}
                yield pairs.begin(end), copied_record(pairs, first, end, name, self.handles)
                return


def _ends(shape: Chain | Point) -> tuple[Point, Point]:
    """Where a mark stands, and how far it goes."""
    return (shape, shape) if isinstance(shape, Point) else (shape.start, shape.end)


def _placed(new: Added, to_file: Affine) -> tuple[Point, Point]:
    start, end = _ends(new.mark.geometry)
    return to_file.point(start), to_file.point(end)


def _copied(file: Layout, like: Entity, ends: tuple[Point, Point], handles: Handles) -> bytes:
    """The notch `like` once more, elsewhere; it does not say which way it points."""
    pairs, at = file.pairs, numbers(file.pairs, like).at
    places = [(10, ends[0].x), (20, ends[0].y), (11, ends[1].x), (21, ends[1].y)]
    patch = number_patch(pairs, ((at[code], x) for code, x in places if code in at))
    if like.type == "POINT" and ANGLE in at:
        patch[at[ANGLE]] = None
    return copied_record(pairs, like.first, like.head, patch, handles)


@dataclass(frozen=True)
class _Record:
    """A new record that belongs where the entity ``like`` does and looks like it."""

    file: Layout
    like: Entity
    handles: Handles

    def point(self, at: Point, depth: float, layer: str | None) -> bytes:
        """A POINT, on another layer if one is named."""
        places = ((10, at.x), (20, at.y), (30, depth))
        return self._head("POINT", "AcDbPoint", layer) + self._numbers(places)

    def line(self, start: Point, end: Point) -> bytes:
        """A LINE."""
        places = ((10, start.x), (20, start.y), (30, 0.0), (11, end.x), (21, end.y), (31, 0.0))
        return self._head("LINE", "AcDbLine", None) + self._numbers(places)

    def _head(self, kind: str, subclass: str, layer: str | None) -> bytes:
        old = self.file.version <= R12
        looks = LOOKS if layer is None else tuple(c for c in (67, 410) if c in LOOKS)
        named = b"" if layer is None else self._pair(LAYER, layer.encode("ascii"))
        return b"".join(
            (
                self._pair(0, kind.encode("ascii")),
                self._handle(),
                b"" if old else self._copied((330,)) + self._pair(100, b"AcDbEntity"),
                self._copied(looks) + named,
                b"" if old else self._pair(100, subclass.encode("ascii")),
            )
        )

    def _numbers(self, places: Iterable[tuple[int, float]]) -> bytes:
        return b"".join(self._pair(code, number_text(x)) for code, x in places)

    def _pair(self, code: int, value: bytes) -> bytes:
        return new_pair(self.file.pairs, code, value)

    def _handle(self) -> bytes:
        """A handle where the file keeps them."""
        known = 5 in numbers(self.file.pairs, self.like).at
        return self._pair(5, self.handles.fresh()) if known else b""

    def _copied(self, codes: Sequence[int]) -> bytes:
        pairs, at = self.file.pairs, numbers(self.file.pairs, self.like).at
        return b"".join(pairs.bytes_of(at[c], at[c] + 1) for c in codes if c in at)
