"""A polyline in the place of another entity: same layer, same looks."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from core.files.dxf.biarc import Step
from core.files.dxf.bytes_out import Handles, new_pair, number_text
from core.files.dxf.records import Entity, Layout
from core.files.dxf.shapes import OWN_PLANE, numbers
from core.files.dxf.write_polyline import bulge_text

R12 = "AC1009"
# Paper space, layout, layer, line type, colour, weight, scale, visibility, true colours.
LOOKS = (67, 410, 8, 6, 62, 370, 48, 60, 420, 430, 440)
EXTRUSION = (210, 220, 230)


@dataclass(frozen=True)
class NewPolyline:
    """A polyline that looks like the entity ``like``.

    With ``keep_handle`` it takes over that entity's handle, otherwise it gets a fresh one.
    """

    file: Layout
    like: Entity
    handles: Handles
    keep_handle: bool

    def written(self, steps: Sequence[Step], *, closed: bool) -> bytes:
        """Along the steps: POLYLINE in an R12 file, LWPOLYLINE in a newer one."""
        points = [(s.start.x, s.start.y, s.bulge) for s in steps]
        if not closed:
            points.append((steps[-1].end.x, steps[-1].end.y, 0.0))
        records = self._heavy if self.file.version <= R12 else self._light
        return b"".join(records(points, b"1" if closed else b"0"))

    def _light(self, points: list[tuple[float, float, float]], flags: bytes) -> Iterable[bytes]:
        yield self._pair(0, b"LWPOLYLINE")
        yield self._handle(keep=self.keep_handle)
        yield self._copied((330,))
        yield self._pair(100, b"AcDbEntity")
        yield self._copied(LOOKS)
        yield self._pair(100, b"AcDbPolyline")
        yield self._pair(90, str(len(points)).encode("ascii"))
        yield self._pair(70, flags)
        for x, y, bulge in points:
            yield self._place(x, y)
            yield self._pair(42, bulge_text(bulge)) if bulge else b""
        yield self._extrusion()

    def _heavy(self, points: list[tuple[float, float, float]], flags: bytes) -> Iterable[bytes]:
        yield self._pair(0, b"POLYLINE")
        yield self._handle(keep=self.keep_handle)
        yield self._copied(LOOKS)
        yield self._pair(66, b"1")
        yield self._place(0.0, 0.0) + self._pair(30, b"0.0")
        yield self._pair(70, flags)
        yield self._extrusion()
        for x, y, bulge in points:
            yield self._pair(0, b"VERTEX") + self._handle(keep=False) + self._copied((8,))
            yield self._place(x, y) + self._pair(30, b"0.0")
            yield self._pair(42, bulge_text(bulge)) if bulge else b""
        yield self._pair(0, b"SEQEND") + self._handle(keep=False) + self._copied((8,))

    def _pair(self, code: int, value: bytes) -> bytes:
        return new_pair(self.file.pairs, code, value)

    def _place(self, x: float, y: float) -> bytes:
        return self._pair(10, number_text(x)) + self._pair(20, number_text(y))

    def _handle(self, *, keep: bool) -> bytes:
        """A handle where the file keeps them."""
        at = numbers(self.file.pairs, self.like).at
        if 5 not in at:
            return b""
        return self._pair(5, self.file.pairs.value(at[5]) if keep else self.handles.fresh())

    def _copied(self, codes: Sequence[int]) -> bytes:
        pairs, at = self.file.pairs, numbers(self.file.pairs, self.like).at
        return b"".join(pairs.bytes_of(at[c], at[c] + 1) for c in codes if c in at)

    def _extrusion(self) -> bytes:
        """The entity's own plane, in which its places were worked out."""
        return self._copied(EXTRUSION) if self.like.type in OWN_PLANE else b""
