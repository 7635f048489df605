"""Splines and ellipses on the way out: a spline stays a spline, a part of an ellipse its part."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from core.curve import Affine, Cubic, Line, Point, Segment
from core.files.dxf.bytes_out import (
    DECIMALS,
    Handles,
    copied_record,
    new_pair,
    number_patch,
    number_text,
    patched,
)
from core.files.dxf.legs import Change, local_same, local_tolerance, meets
from core.files.dxf.new_polyline import LOOKS
from core.files.dxf.pairs import EXTENDED_DATA
from core.files.dxf.records import Entity, Layout
from core.files.dxf.shapes import ellipse_of, numbers

# The spline's own data: flags, degree, counts, end tangents, knots, weights, points.
SPLINE_NUMBERS = (10, 20, 30, 11, 21, 31, 40, 41)
SPLINE_DROPPED = (12, 22, 32, 13, 23, 33, *SPLINE_NUMBERS)
SPLINE_CLOSED, SPLINE_PERIODIC, SPLINE_RATIONAL, SPLINE_PLANAR = 1, 2, 4, 8
# Where a new curve is compared with the old ellipse.
_COMPARED_AT = [k / 8 for k in range(9)]


@dataclass(frozen=True)
class CurveWriter:
    """Writes one SPLINE or ELLIPSE anew."""

    file: Layout
    entity: Entity
    to_mm: Affine
    handles: Handles

    def written(self, change: Change) -> bytes:
        """The SPLINE as joined cubic Bezier curves on clamped knots, which is exact; the
        ELLIPSE with other ends, or a SPLINE where it is no longer the same ellipse."""
        back, same = self.to_mm.inverse(), local_same(self.to_mm)
        found = _joined([s.mapped(back) for s in change.new], same)
        if self.entity.type == "ELLIPSE":
            ends = self._ends_on_ellipse(found[0]) if len(found) == 1 else None
            if ends is not None:
                return self._ellipse(*ends)
            return b"".join(self._new_spline(run, copy=k > 0) for k, run in enumerate(found))
        return b"".join(self._bezier_spline(run, copy=k > 0) for k, run in enumerate(found))

    # -- ellipses --------------------------------------------------------------------

    def _ends_on_ellipse(self, run: Sequence[Segment]) -> tuple[float, float] | None:
        """The ellipse's parameter at both ends, if the run lies on it and goes its way."""
        oval, _, _ = ellipse_of(numbers(self.file.pairs, self.entity))
        round_it = oval.to_circle()
        tolerance = local_tolerance(self.to_mm) / max(oval.major.norm, abs(oval.minor))
        angles: list[float] = []
        for p in (s.at(t) for s in run for t in _COMPARED_AT):
            on = round_it.point(p)
            if abs(math.hypot(on.x, on.y) - 1.0) > tolerance:
                return None
            angle = math.atan2(on.y, on.x)
            if angles:
                angle = angles[-1] + math.remainder(angle - angles[-1], 2.0 * math.pi)
            angles.append(angle)
        if any(b < a for a, b in pairwise(angles)):
            return None
        return angles[0], angles[-1]

    def _ellipse(self, start: float, end: float) -> bytes:
        pairs, at = self.file.pairs, numbers(self.file.pairs, self.entity).at
        turns = math.floor(start / (2.0 * math.pi)) * 2.0 * math.pi
        values = {41: start - turns, 42: end - turns}
        patch = number_patch(pairs, ((at[c], x) for c, x in values.items() if c in at))
        missing = [new_pair(pairs, c, number_text(x)) for c, x in values.items() if c not in at]
        first, cut, last = self.entity.first, self._cut(), self.entity.head
        whole = patched(pairs, first, cut, patch), *missing, patched(pairs, cut, last, patch)
        return b"".join(whole)

    def _new_spline(self, run: Sequence[Segment], *, copy: bool) -> bytes:
        """A SPLINE that looks like the entity and takes its handle, or a fresh one."""
        pairs, at = self.file.pairs, numbers(self.file.pairs, self.entity).at
        handle = self.handles.fresh() if copy else pairs.value(at[5]) if 5 in at else b""
        counts = (70, SPLINE_PLANAR), (71, 3), (72, 3 * len(run) + 5), (73, 3 * len(run) + 1)
        return b"".join(
            (
                new_pair(pairs, 0, b"SPLINE"),
                new_pair(pairs, 5, handle) if handle else b"",
                self._copied((330,)),
                new_pair(pairs, 100, b"AcDbEntity"),
                self._copied(LOOKS),
                new_pair(pairs, 100, b"AcDbSpline"),
                *(new_pair(pairs, c, b"%d" % n) for c, n in (*counts, (74, 0))),
                self._spline_numbers(run),
            )
        )

    def _copied(self, codes: Sequence[int]) -> bytes:
        pairs, at = self.file.pairs, numbers(self.file.pairs, self.entity).at
        return b"".join(pairs.bytes_of(at[c], at[c] + 1) for c in codes if c in at)

    # -- splines ---------------------------------------------------------------------

    def _bezier_spline(self, run: Sequence[Segment], *, copy: bool) -> bytes:
        pairs, first, end = self.file.pairs, self.entity.first, self.entity.head
        at = numbers(pairs, self.entity).at
        flags = pairs.whole(at[70]) if 70 in at else SPLINE_PLANAR
        flags &= ~(SPLINE_CLOSED | SPLINE_PERIODIC | SPLINE_RATIONAL)
        counts = {70: flags, 71: 3, 72: 3 * len(run) + 5, 73: 3 * len(run) + 1, 74: 0}
        patch: dict[int, bytes | None] = {
            at[c]: str(n).encode("ascii") for c, n in counts.items() if c in at
        }
        for code in SPLINE_DROPPED:
            patch.update(dict.fromkeys(pairs.positions(first, end, code).tolist()))
        cut = self._cut()
        added = self._spline_numbers(run)
        if copy:
            head = copied_record(pairs, first, cut, patch, self.handles)
            return head + added
        return patched(pairs, first, cut, patch) + added + patched(pairs, cut, end, patch)

    def _cut(self) -> int:
        """The first pair of extended data, before which new numbers go."""
        codes = self.file.pairs.codes[self.entity.first : self.entity.head].tolist()
        for i, code in enumerate(codes, self.entity.first):
            if code >= EXTENDED_DATA:
                return i
        return self.entity.head

    def _spline_numbers(self, run: Sequence[Segment]) -> bytes:
        pairs = self.file.pairs
        knots = [0, *(k for k in range(len(run) + 1) for _ in range(3)), len(run)]
        z = pairs.positions(self.entity.first, self.entity.head, 30).tolist()
        height = pairs.value(z[0]) if z else b"0.0"
        out = [new_pair(pairs, 40, number_text(float(k))) for k in knots]
        controls = [run[0].start, *(p for s in run for p in _cubic(s).controls[1:])]
        old = self._old_controls()
        for p in controls:
            # A place that stays keeps the text of its numbers.
            texts = old.get(_rounded(p)) or (number_text(p.x), number_text(p.y))
            for code, value in zip((10, 20, 30), (*texts, height), strict=True):
                out.append(new_pair(pairs, code, value))
        return b"".join(out)

    def _old_controls(self) -> dict[tuple[float, float], tuple[bytes, bytes]]:
        """The numbers of the spline's control points as they stand in the file, by their place."""
        pairs, first, end = self.file.pairs, self.entity.first, self.entity.head
        xs, ys = pairs.positions(first, end, 10), pairs.positions(first, end, 20)
        if self.entity.type != "SPLINE" or len(xs) != len(ys):
            return {}
        places = zip(pairs.numbers(xs), pairs.numbers(ys), strict=True)
        texts = zip(map(pairs.value, xs.tolist()), map(pairs.value, ys.tolist()), strict=True)
        return {_rounded(Point(*p)): text for p, text in zip(places, texts, strict=True)}


def _rounded(p: Point) -> tuple[float, float]:
    """The place to as many decimals as are written."""
    return round(p.x, DECIMALS), round(p.y, DECIMALS)


def _joined(segments: Iterable[Segment], same: float) -> list[list[Segment]]:
    """The segments in unbroken runs."""
    out: list[list[Segment]] = []
    for s in segments:
        if out and meets(out[-1][-1].end, s.start, same):
            out[-1].append(s)
        else:
            out.append([s])
    return out


def _cubic(s: Segment) -> Cubic:
    """A line as a cubic with even speed."""
    if isinstance(s, Line):
        return Cubic(s.start, s.at(1 / 3), s.at(2 / 3), s.end)
    return s
