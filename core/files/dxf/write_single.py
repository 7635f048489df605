"""Lines, arcs, splines, points and writing on the way out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from core.curve import Affine, Cubic, Point, Segment, Vector
from core.curve.arcs import ARC_TOLERANCE
from core.files.dxf.biarc import Step, one_arc
from core.files.dxf.bytes_out import (
    Handles,
    copied_record,
    number_patch,
    patched,
)
from core.files.dxf.legs import (
    Change,
    Leg,
    legs,
    local_same,
    local_tolerance,
    meets,
    moved_whole,
    runs,
)
from core.files.dxf.new_polyline import NewPolyline
from core.files.dxf.notch_turn import angle_patch
from core.files.dxf.paths import widest
from core.files.dxf.records import Entity, Layout
from core.files.dxf.shapes import numbers
from core.files.dxf.write_curve import CurveWriter
from core.files.edits import PathEdit


@dataclass(frozen=True)
class SingleWriter:
    """Writes one entity of a single record anew."""

    file: Layout
    entity: Entity
    to_mm: Affine
    handles: Handles

    def moved(self, by: Vector, *, turn: float = 0.0) -> bytes:
        """The entity moved by a vector in mm; the angle of a POINT turned by radians."""
        pairs, step = self.file.pairs, self.to_mm.inverse().vector(by)
        new = [
            (i, pairs.number(i) + (step.x if code < 20 else step.y)) for code, i in self._places()
        ]
        patch = number_patch(pairs, new)
        patch |= angle_patch(numbers(pairs, self.entity), turn, self.to_mm)
        return patched(pairs, self.entity.first, self.entity.head, patch)

    def _places(self) -> list[tuple[int, int]]:
        """The group codes and pairs that hold places, not directions."""
        pairs, first, end = self.file.pairs, self.entity.first, self.entity.head
        if self.entity.type == "SPLINE":
            codes = (10, 20, 11, 21)
            return [(c, i) for c in codes for i in pairs.positions(first, end, c).tolist()]
        two_places = self.entity.type in ("TEXT", "ATTRIB", "LINE")
        at = numbers(pairs, self.entity).at
        return [(c, at[c]) for c in ((10, 20, 11, 21) if two_places else (10, 20)) if c in at]

    def written(self, edit: PathEdit, changes: Sequence[Change]) -> bytes:
        """What stands in the place of a changed path."""
        if not any(c.new for c in changes):
            return b""
        by = moved_whole(edit)
        if by is not None:
            return self.moved(by)
        if self.entity.type == "LINE":
            return self._line(changes)
        if self.entity.type in ("SPLINE", "ELLIPSE"):
            return CurveWriter(self.file, self.entity, self.to_mm, self.handles).written(changes[0])
        arc = self._still_an_arc(changes[0].new)
        if self.entity.type == "ARC" and arc is not None:
            return self._arc(arc)
        return self._as_polylines(legs(changes[0], self.to_mm), keep_handle=True)

    # -- lines -----------------------------------------------------------------------

    def _line(self, changes: Sequence[Change]) -> bytes:
        """The LINE, more LINEs behind it, and polylines where it bends."""
        found = legs(changes[0], self.to_mm)
        out, used, bent = [], False, list[Leg]()
        any_straight = any(leg.step.bulge == 0.0 for leg in found)
        for leg in found:
            if leg.step.bulge:
                bent.append(leg)
                continue
            out += [self._bent(bent, keep_handle=False), self._straight(leg.step, copy=used)]
            used, bent = True, []
        out.append(self._bent(bent, keep_handle=not any_straight))
        return b"".join(out)

    def _bent(self, found: Sequence[Leg], *, keep_handle: bool) -> bytes:
        return self._as_polylines(found, keep_handle=keep_handle) if found else b""

    def _straight(self, step: Step, *, copy: bool) -> bytes:
        pairs, at = self.file.pairs, numbers(self.file.pairs, self.entity).at
        ends = ((10, step.start.x), (20, step.start.y), (11, step.end.x), (21, step.end.y))
        patch = number_patch(pairs, ((at[code], x) for code, x in ends))
        first, end = self.entity.first, self.entity.head
        if copy:
            return copied_record(pairs, first, end, patch, self.handles)
        return patched(pairs, first, end, patch)

    def _as_polylines(self, found: Sequence[Leg], *, keep_handle: bool) -> bytes:
        """New polylines in the place of the entity, the first with its handle."""
        same = local_same(self.to_mm)
        out = []
        for k, run in enumerate(runs(found, closed=True, same=same)):
            closed = meets(run[-1].step.end, run[0].step.start, same)
            steps = [leg.step for leg in run]
            new = NewPolyline(self.file, self.entity, self.handles, keep_handle and k == 0)
            out.append(new.written(steps, closed=closed))
        return b"".join(out)

    # -- arcs ------------------------------------------------------------------------

    def _still_an_arc(self, new: Sequence[Segment]) -> Step | None:
        cubics = [s for s in new if isinstance(s, Cubic)]
        if len(cubics) != len(new):
            return None
        back = self.to_mm.inverse()
        same = local_same(self.to_mm)
        local = [c.mapped(back) for c in cubics]
        if any(not meets(a.end, b.start, same) for a, b in pairwise(local)):
            return None
        return one_arc(local, tolerance=local_tolerance(self.to_mm))

    def _arc(self, arc: Step) -> bytes:
        """The ARC with new centre, radius and angles; it always runs counter-clockwise."""
        pairs, at = self.file.pairs, numbers(self.file.pairs, self.entity).at
        b, chord = arc.bulge, arc.end - arc.start
        if b == 0.0:
            return self._as_polylines([Leg(0, True, False, arc)], keep_handle=True)
        centre = arc.start.towards(arc.end, 0.5).moved(chord.square(), (1.0 - b * b) / (4.0 * b))
        radius = chord.norm * (1.0 + b * b) / (4.0 * abs(b))
        old = numbers(pairs, self.entity)
        on_old = [p.distance(old.point()) - old.get(40) for p in (arc.start, arc.end, _top(arc))]
        if max(map(abs, on_old)) * widest(self.to_mm) <= 2.0 * ARC_TOLERANCE:
            centre, radius = old.point(), old.get(40)
        first, last = (arc.start, arc.end) if b > 0.0 else (arc.end, arc.start)
        values = [(10, centre.x), (20, centre.y), (40, radius)]
        values += [(50, _degrees(first - centre)), (51, _degrees(last - centre))]
        patch = number_patch(pairs, ((at[code], x) for code, x in values))
        return patched(pairs, self.entity.first, self.entity.head, patch)


def _top(arc: Step) -> Point:
    """The middle of an arc."""
    chord = arc.end - arc.start
    return arc.start.towards(arc.end, 0.5).moved(chord.square(), -arc.bulge / 2.0)


def _degrees(v: Vector) -> float:
    return math.degrees(math.atan2(v.y, v.x)) % 360.0
