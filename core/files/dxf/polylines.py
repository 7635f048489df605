"""LWPOLYLINE and POLYLINE: their vertices, by columns, and the path through them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.curve import Affine, Chain, Line, Point, Ring, Segment
from core.curve.drawn import Drawn
from core.errors import FileError
from core.files.dxf.pairs import Pairs
from core.files.dxf.paths import Path, Sized, arc_step, path_of
from core.files.dxf.records import Entity
from core.files.dxf.short import COMMENT, FRAME_VERTEX, Short, is_short, short_polyline
from core.piece.too_much import MOST_POINTS

CLOSED, CURVE_FIT, SPLINE_FIT, MESH, POLYFACE = 1, 2, 4, 16, 64
VERTEX_CODES = (20, 40, 41, 42, 91)


class TooManyPointsError(FileError):
    """A line with more points than any piece needs; the rest of the file can be read."""

    def __init__(self, pairs: Pairs, entity: Entity, count: int) -> None:
        super().__init__(
            f"{pairs.name}, line {pairs.line(entity.first)}: this {entity.type} has {count} points,"
            f" and no more than {MOST_POINTS} are read. It stays in the file as it is: draw it"
            " with fewer points."
        )


@dataclass(frozen=True, eq=False)
class Vertices:
    """The drawn vertices of a polyline.

    ``first`` and ``end`` are the pairs of each vertex's own chunk, ``x_at``, ``y_at`` and
    ``bulge_at`` the pairs of its numbers (-1 where a bulge is not written).
    ``frame`` are the chunks of vertices that only shape a fitted curve.
    """

    first: NDArray[np.intp]
    end: NDArray[np.intp]
    x_at: NDArray[np.intp]
    y_at: NDArray[np.intp]
    bulge_at: NDArray[np.intp]
    closed: bool
    flags: int
    frame: bool

    def __len__(self) -> int:
        return len(self.first)


def head_fields(pairs: Pairs, entity: Entity) -> dict[int, int]:
    """The first pair of each code of a polyline outside its vertices."""
    if entity.type == "POLYLINE":
        return pairs.fields(entity.first, entity.head)
    if is_short(entity):
        codes: list[int] = pairs.codes[entity.first : entity.end].tolist()
        starts = [k for k, code in enumerate(codes, entity.first) if code == 10]
    else:
        starts = pairs.positions(entity.first, entity.end, 10).tolist()
    if not starts:
        return pairs.fields(entity.first, entity.end)
    tail = _chunk_end(pairs, starts[-1], entity.end)
    return pairs.fields(tail, entity.end) | pairs.fields(entity.first, starts[0])


def vertices(pairs: Pairs, entity: Entity) -> Vertices:
    """The vertices of the polyline; FileError for one without a place."""
    fields = head_fields(pairs, entity)
    flags = pairs.whole(fields[70]) if 70 in fields else 0
    if entity.type == "POLYLINE":
        first, end, frame = _vertex_records(pairs, entity)
    else:
        first, frame = pairs.positions(entity.first, entity.end, 10), False
        last = [_chunk_end(pairs, int(first[-1]), entity.end)] if len(first) else []
        end = np.append(first[1:], last).astype(np.intp)
    x_at, y_at, bulge_at = (_column(pairs, entity, first, end, code) for code in (10, 20, 42))
    for column in (x_at, y_at):
        if np.any(column < 0):
            at = int(first[int(np.argmax(column < 0))])
            raise FileError(
                f"{pairs.name}, line {pairs.line(at)}: a vertex of the polyline has no x or y. "
                "Save the file again from the program that made it."
            )
    return Vertices(first, end, x_at, y_at, bulge_at, bool(flags & CLOSED), flags, frame)


def _chunk_end(pairs: Pairs, first: int, end: int) -> int:
    """The pair behind the vertex that starts with code 10 at `first`."""
    last = at = first + 1
    # A comment belongs to it where more of it follows.
    while at < end and int(pairs.codes[at]) in (*VERTEX_CODES, COMMENT):
        at += 1
        last = at if int(pairs.codes[at - 1]) != COMMENT else last
    return last


def _vertex_records(
    pairs: Pairs, entity: Entity
) -> tuple[NDArray[np.intp], NDArray[np.intp], bool]:
    """First and end pair of each drawn VERTEX, and whether frame vertices were passed over."""
    starts = pairs.positions(entity.head, entity.end, 0)
    bounds = np.append(starts, entity.end)
    keep = [pairs.value(i) == b"VERTEX" for i in starts.tolist()]
    flags = _column(pairs, entity, starts, bounds[1:], 70)
    frame = False
    for k in np.flatnonzero(flags >= 0).tolist():
        if pairs.whole(int(flags[k])) & FRAME_VERTEX:
            keep[k], frame = False, True
    mask = np.array(keep, dtype=bool)
    return starts[mask], bounds[1:][mask], frame


def _column(
    pairs: Pairs, entity: Entity, first: NDArray[np.intp], end: NDArray[np.intp], code: int
) -> NDArray[np.intp]:
    """The first pair with that code in each chunk, -1 where there is none."""
    out = np.full(len(first), -1, dtype=np.intp)
    at = pairs.positions(entity.first, entity.end, code)[::-1]
    chunk = np.searchsorted(first, at, side="right") - 1
    inside = chunk >= 0
    inside[inside] &= at[inside] < end[chunk[inside]]
    out[chunk[inside]] = at[inside]
    return out


def coordinates(pairs: Pairs, v: Vertices) -> tuple[list[Point], list[float]]:
    """Each vertex's place in file units, and its bulge (0 where none is written)."""
    places = list(map(Point, pairs.numbers(v.x_at), pairs.numbers(v.y_at)))
    return places, bulges_of(pairs, v).tolist()


def bulges_of(pairs: Pairs, v: Vertices) -> NDArray[np.float64]:
    """The bulge of each vertex, 0 where none is written."""
    bulges = np.zeros(len(v))
    written = np.flatnonzero(v.bulge_at >= 0)
    bulges[written] = pairs.numbers(v.bulge_at[written])
    return bulges


def steps(count: int, closed: bool) -> int:
    """How many steps there are from vertex to vertex."""
    return count if closed else count - 1


def path(pairs: Pairs, entity: Entity, to_mm: Affine) -> Path | None:
    """The way through the vertices in mm; each segment owned by the vertex it leaves."""
    v = _read(pairs, entity)
    return _path(v, to_mm) if v is not None else None


def geometry(pairs: Pairs, entity: Entity, to_mm: Affine) -> Ring | Chain | None:
    """The same as one line; straight steps are made when somebody asks for them."""
    v = _read(pairs, entity)
    if v is None:
        return None
    if any(v.bulges):
        found = _path(v, to_mm)
        return found.geometry() if found is not None else None
    places = _in_mm(v, to_mm)
    if v.flags & CLOSED:
        places.append(places[0])
    ends = [p for k, p in enumerate(places) if not k or p != places[k - 1]]
    if len(ends) < 2:
        return None
    xs, ys = zip(*ends, strict=True)
    rows = Drawn(np.array(ends), None, (min(xs), min(ys), max(xs), max(ys)))
    return Ring.drawn(rows) if ends[0] == ends[-1] else Chain.drawn(rows)


def _read(pairs: Pairs, entity: Entity) -> Short | None:
    """The vertices that are drawn; None for a mesh, or where there are none."""
    found = short_polyline(pairs, entity, VERTEX_CODES)
    if found is None:
        v = vertices(pairs, entity)
        if v.flags & (MESH | POLYFACE):
            return None
        if len(v) > MOST_POINTS:
            raise TooManyPointsError(pairs, entity, len(v))
        xs, ys = pairs.numbers(v.x_at), pairs.numbers(v.y_at)
        found = Short(xs, ys, bulges_of(pairs, v).tolist(), v.flags)
    return None if found.flags & (MESH | POLYFACE) or not found.xs else found


def _path(v: Short, to_mm: Affine) -> Path | None:
    ends = [Point(x, y) for x, y in _in_mm(v, to_mm)]
    closed = bool(v.flags & CLOSED)
    afters = [*ends[1:], ends[0]][: steps(len(ends), closed)]
    drawn: list[tuple[Segment, ...]] = [
        (Line(a, b),) if a != b else () for a, b in zip(ends, afters, strict=False)
    ]
    sized = Sized.of(to_mm)
    for k, bulge in enumerate(v.bulges):
        if bulge and k < len(drawn) and drawn[k]:
            after = (k + 1) % len(ends)
            places = Point(v.xs[k], v.ys[k]), Point(v.xs[after], v.ys[after])
            drawn[k] = arc_step(places, (ends[k], ends[after]), bulge, sized)
    return path_of(enumerate(drawn))


def _in_mm(v: Short, to_mm: Affine) -> list[tuple[float, float]]:
    """The points of ``Affine.point``, all at once."""
    a, b, c, d, e, f = to_mm.a, to_mm.b, to_mm.c, to_mm.d, to_mm.e, to_mm.f
    pairs = zip(v.xs, v.ys, strict=True)
    return [(a * x + c * y + e, b * x + d * y + f) for x, y in pairs]
