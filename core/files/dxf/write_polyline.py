"""Polylines on the way out: kept vertices keep their bytes, others are exchanged or added."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from core.curve import Affine, Point
from core.files.dxf import polylines
from core.files.dxf.biarc import Step, as_steps
from core.files.dxf.bytes_out import (
    DECIMALS,
    UNCHANGED,
    Handles,
    copied_record,
    new_pair,
    number_patch,
    number_text,
    others_data,
    patched,
)
from core.files.dxf.legs import Change, Leg, legs, local_same, local_tolerance, meets, runs
from core.files.dxf.pairs import EXTENDED_DATA, Pairs
from core.files.dxf.polylines import CLOSED, CURVE_FIT, SPLINE_FIT, Vertices
from core.files.dxf.records import Entity
from core.files.dxf.shapes import THREE_D
from core.files.dxf.smooth import usual_chord

FITTED = CURVE_FIT | SPLINE_FIT
# A vertex made by curve fitting, by spline fitting, or as a frame.
FITTED_VERTEX = 1 | 8 | 16
VERTEX_ID = 91


@dataclass(frozen=True, slots=True)
class _Out:
    """A vertex to be written: where, with which bulge (None: as it was), after which old one."""

    place: Point
    bulge: float | None
    like: int
    fresh: bool
    kept: bool = False


@dataclass(frozen=True)
class PolylineWriter:
    """Writes one LWPOLYLINE or POLYLINE anew, as little of it as can be."""

    pairs: Pairs
    entity: Entity
    to_mm: Affine
    handles: Handles

    def written(self, changes: Sequence[Change]) -> bytes:
        """The entity with the changes; several when it broke apart, nothing when all is gone."""
        v = polylines.vertices(self.pairs, self.entity)
        same = local_same(self.to_mm)
        stand = _standing(list(self._legs(v, changes)), same)
        found = runs(stand, closed=v.closed, same=same)
        out = []
        for k, run in enumerate(found):
            whole = len(found) == 1 and v.closed
            closed = whole and meets(run[-1].step.end, run[0].step.start, same)
            out.append(self._entity(v, list(_vertices(v, run, closed)), closed, k > 0))
        return b"".join(out)

    def redrawn(self, points: Sequence[tuple[Point, int, bool]]) -> bytes:
        """The entity through these points: each with the old vertex whose record it takes, and
        whether it stays as it was. No bends but those of vertices that stay."""
        v = polylines.vertices(self.pairs, self.entity)
        out, used = [], set[int]()
        for place, like, kept in points:
            fresh = like in used
            used.add(like)
            out.append(_Out(place, None if kept else 0.0, like, fresh, kept and not fresh))
        if not v.closed and points[0][0] == points[-1][0] and len(out) > 1:
            out[-1] = replace(out[-1], like=len(v) - 1, fresh=len(v) - 1 in used)
        return self._entity(v, out, v.closed, False)

    def _legs(self, v: Vertices, changes: Sequence[Change]) -> Iterator[Leg]:
        """The legs of all steps; a step without length stays where its place stays."""
        places, bulges = polylines.coordinates(self.pairs, v)
        by_owner = {c.owner: c for c in changes}
        for k in range(polylines.steps(len(v), v.closed)):
            change = by_owner.get(k)
            after = places[(k + 1) % len(v)]
            if change is None:
                yield Leg(k, True, True, Step(places[k], after, bulges[k]))
            else:
                yield from self._changed(v, change, bulges[k])

    def _changed(self, v: Vertices, change: Change, bulge: float) -> list[Leg]:
        found = legs(change, self.to_mm, chords=self._chords)
        if len(found) == 1 and bulge and self._same_bend(change, found[0]):
            step = found[0].step
            return [Leg(change.owner, True, False, Step(step.start, step.end, bulge))]
        return found

    @cached_property
    def _chords(self) -> float | None:
        """The longest chord for a curve, in a polyline that draws its curves as vertices; None
        where it has bulges, or is as ready for them as for vertices."""
        v = polylines.vertices(self.pairs, self.entity)
        places, bulges = polylines.coordinates(self.pairs, v)
        if any(bulges):
            return None
        usual = usual_chord([complex(p.x, p.y) for p in places], closed=v.closed)
        if usual is None and not v.flags & THREE_D:
            return None
        return math.inf if usual is None else usual

    def _same_bend(self, change: Change, leg: Leg) -> bool:
        """Does it bend as before, as far as cubics can tell?"""
        back = self.to_mm.inverse()
        tolerance = local_tolerance(self.to_mm)
        before = as_steps([s.mapped(back) for s in change.old], tolerance=tolerance)
        return len(before) == 1 and abs(before[0].bulge - leg.step.bulge) <= 1e-9

    def _entity(self, v: Vertices, out: list[_Out], closed: bool, copy: bool) -> bytes:
        head, tail = self._ends(v, len(out), closed, copy)
        return b"".join((head, *(self._vertex(v, o, copy) for o in out), tail))

    def _ends(self, v: Vertices, count: int, closed: bool, copy: bool) -> tuple[bytes, bytes]:
        """What stands before the first vertex and behind the last."""
        pairs, entity = self.pairs, self.entity
        fields = polylines.head_fields(pairs, entity)
        flags = (v.flags & ~(CLOSED | FITTED)) | (CLOSED if closed else 0)
        patch = number_patch(
            pairs,
            [(fields[c], x) for c, x in ((90, count), (70, flags), (75, 0)) if c in fields],
        )
        patch = {i: _integer(text) for i, text in patch.items()}
        first, last = int(v.first[0]), int(v.end[-1])
        if entity.type == "POLYLINE":
            first = entity.head
            last = self._after_vertices(last)
        if not copy:
            head = patched(pairs, entity.first, first, patch)
            return head, patched(pairs, last, entity.end, {})
        head = copied_record(pairs, entity.first, first, patch, self.handles)
        return head, copied_record(pairs, last, entity.end, {}, self.handles)

    def _after_vertices(self, last: int) -> int:
        """The pair of SEQEND, behind all vertices, frame ones too."""
        records = self.pairs.positions(last, self.entity.end, 0).tolist()
        ends = [i for i in records if self.pairs.value(i) == b"SEQEND"]
        return ends[0] if ends else self.entity.end

    def _vertex(self, v: Vertices, o: _Out, copy: bool) -> bytes:
        pairs, first, end = self.pairs, int(v.first[o.like]), int(v.end[o.like])
        if o.kept and not copy and not v.flags & FITTED:
            return pairs.bytes_of(first, end)
        x_at, y_at, bulge_at = (int(c[o.like]) for c in (v.x_at, v.y_at, v.bulge_at))
        patch = self._placed(o.place, x_at, y_at)
        added = b""
        if o.bulge is not None:
            added = self._bulge(patch, o.bulge, bulge_at)
        patch.update(self._unfitted(v, first, end))
        if not (o.fresh or copy):
            if not patch and not added:
                return pairs.bytes_of(first, end)
            cut = self._bulge_place(first, end) if added else end
            return patched(pairs, first, cut, patch) + added + patched(pairs, cut, end, patch)
        return self._fresh_vertex(first, end, patch, added)

    def _placed(self, p: Point, x_at: int, y_at: int) -> dict[int, bytes | None]:
        """Sets the place of a vertex; where an old one was, in the words of that one."""
        patch = number_patch(self.pairs, ((x_at, p.x), (y_at, p.y)))
        told = self._told.get(_key(p)) if patch else None
        if told is None:
            return patch
        return {i: self.pairs.value(at) for i, at in zip((x_at, y_at), told, strict=True)}

    @cached_property
    def _told(self) -> dict[tuple[float, float], tuple[int, int]]:
        """The pairs in which the place of each old vertex is written."""
        v = polylines.vertices(self.pairs, self.entity)
        places, _ = polylines.coordinates(self.pairs, v)
        at = zip(v.x_at.tolist(), v.y_at.tolist(), strict=True)
        return {_key(p): pair for p, pair in zip(places, at, strict=True)}

    def _fresh_vertex(
        self, first: int, end: int, patch: dict[int, bytes | None], added: bytes
    ) -> bytes:
        """A vertex more, like an old one: without its identity and other programs' data."""
        pairs = self.pairs
        fields = pairs.fields(first, end)
        if VERTEX_ID in fields:
            patch[fields[VERTEX_ID]] = None
        if self.entity.type == "POLYLINE":
            for i in others_data(pairs, first, end):
                patch[i] = None
            if 5 in fields:
                patch[fields[5]] = self.handles.fresh()
        cut = self._bulge_place(first, end)
        return patched(pairs, first, cut, patch) + added + patched(pairs, cut, end, patch)

    def _bulge(self, patch: dict[int, bytes | None], bulge: float, at: int) -> bytes:
        """Sets the bulge where one is written; else the pair to be added for it."""
        if at < 0:
            return new_pair(self.pairs, 42, bulge_text(bulge)) if bulge else b""
        if abs(self.pairs.number(at) - bulge) > UNCHANGED:
            patch[at] = bulge_text(bulge)
        return b""

    def _bulge_place(self, first: int, end: int) -> int:
        """Where a bulge belongs: behind place and widths, before flags and extended data."""
        at = first
        for i, code in enumerate(self.pairs.codes[first:end].tolist(), first):
            if code >= EXTENDED_DATA:
                break
            if code in (10, 20, 30, 40, 41):
                at = i + 1
        return at

    def _unfitted(self, v: Vertices, first: int, end: int) -> dict[int, bytes | None]:
        """A polyline that was altered is no longer a fitted one; its vertices stay drawn."""
        if not v.flags & FITTED:
            return {}
        fields = self.pairs.fields(first, end)
        flags = self.pairs.whole(fields[70]) if 70 in fields else 0
        if not flags & FITTED_VERTEX:
            return {}
        return {fields[70]: str(flags & ~FITTED_VERTEX).encode("ascii")}


def _standing(found: Sequence[Leg], same: float) -> Iterator[Leg]:
    """The legs without those that have no length and whose place went elsewhere."""
    for k, leg in enumerate(found):
        start = leg.step.start
        if start != leg.step.end:
            yield leg
            continue
        before = found[k - 1].step.end
        after = found[(k + 1) % len(found)].step.start
        if meets(before, start, same) or meets(after, start, same):
            yield leg


def _vertices(v: Vertices, run: Sequence[Leg], closed: bool) -> Iterator[_Out]:
    """One vertex for the start of each leg, and one more where an open run ends."""
    for leg in run:
        bulge = None if leg.kept else leg.step.bulge
        yield _Out(leg.step.start, bulge, leg.owner, not leg.first, leg.kept)
    if closed:
        return
    if v.closed:
        yield _Out(run[-1].step.end, 0.0, run[-1].owner, True)
    else:
        yield _Out(run[-1].step.end, None, len(v) - 1, False)


def _key(p: Point) -> tuple[float, float]:
    """The same for places that are written as the same."""
    return round(p.x, DECIMALS), round(p.y, DECIMALS)


def _integer(text: bytes | None) -> bytes | None:
    return None if text is None else text.partition(b".")[0]


def bulge_text(bulge: float) -> bytes:
    """Bulges carry more weight than places: a long chord multiplies them."""
    return number_text(bulge, b"." + b"0" * 12)
