"""A piece with a cutting line only, changed as if its stitching line were drawn.

The allowances told say where it is sewn, so a stitching line is made for the time of the change:
the seams are carried on where they are sewn, and a turn-up folds on the hem that is sewn. What
comes out has its cutting line only, as what came in.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from core.alter.allowance.implied import applies, kept_by_allowances, sewn_edges
from core.alter.model import Altered, Change
from core.alter.simple import is_simple
from core.curve import Chain, Line, Place, Point, Ring, Segment, Vector
from core.curve.ends import with_ends
from core.piece.corners import joint_turn
from core.piece.cutting import cutting_hem
from core.piece.direction import end_direction
from core.piece.model import Because, Dart, Edge, HemRun, Origin, Outline, Piece, Role, Taper

# Ends of edges that are as far apart as this (mm) are the same corner of the stitching line.
SAME = 0.02
# A stretch of this length (mm) at the end of a seam is left over from where it was cut.
SLIVER = 0.05
# A place of the old cutting line this near (mm) to the new one is still there.
STAYED = 1e-6
# A corner at the edge of a turn-up lies no more steps below its fold, and turns as it did within
# this (radians).
FEW_STEPS = 2
SAME_TURN = 0.1
# Sewn in another direction (radians) than it is drawn at the corner, a seam ends above a fold.
FOLDS = math.radians(0.4)
# The made line is drawn by no shape of the file.
NO_SHAPE = -1


def with_told_line(piece: Piece, change: Change) -> Piece | None:
    """The piece with a stitching line by the allowances that were told.

    None where it needs none, and where none can be made: a hem with darts in it, seams that run
    smoothly into a hem of another allowance, or allowances that leave no piece.
    """
    if not applies(piece, change) or piece.hem is None:
        return None
    return _line_made(piece, change)


@kept_by_allowances
def _line_made(piece: Piece, change: Change) -> Piece | None:
    if any(d.on is Role.HEM for d in piece.darts):
        return None
    chains = sewn_edges(piece, change)
    if any(not parts for parts in chains):
        return None
    rows = [
        _over_darts(piece, edge, parts) for edge, parts in zip(piece.edges, chains, strict=True)
    ]
    joined = _joined(rows)
    return None if joined is None else _stitched(piece, joined)


def _over_darts(piece: Piece, edge: Edge, parts: Sequence[Chain]) -> list[Segment]:
    """The edge's parts as one, in and out of the darts between them."""
    out = list(parts[0])
    darts = _notches(piece, edge)
    for dart, (before, after) in zip(darts, pairwise(parts), strict=True):
        out += [Line(before.end, dart.apex), Line(dart.apex, after.start), *after]
    return out


def _notches(piece: Piece, edge: Edge) -> list[Dart]:
    """The darts cut into an edge, in its order."""
    chain = piece.edge_chain(edge)
    starts = {s.start: k for k, s in enumerate(chain)}
    inside = [d for d in piece.darts if d.mouth_places and d.mouth[0] in starts]
    return sorted(inside, key=lambda d: starts[d.mouth[0]])


def _joined(rows: list[list[Segment]]) -> list[list[Segment]] | None:
    """The rows with each ending where the next begins; None when they are too far apart."""
    rows = [_without_slivers(row) for row in rows]
    for row, following in zip(rows, (*rows[1:], rows[0]), strict=True):
        if row[-1].end.distance(following[0].start) > SAME:
            return None
    for row, following in zip(rows, (*rows[1:], rows[0]), strict=True):
        row[-1] = with_ends(row[-1], row[-1].start, following[0].start)
    return rows


def _without_slivers(row: list[Segment]) -> list[Segment]:
    """The row without what is left over at its ends, which points nowhere in particular."""
    first, last = row[0].start, row[-1].end
    while len(row) > 1 and row[0].length() < SLIVER:
        row = row[1:]
    while len(row) > 1 and row[-1].length() < SLIVER:
        row = row[:-1]
    row[0] = with_ends(row[0], first, row[0].end)
    row[-1] = with_ends(row[-1], row[-1].start, last)
    return row


def _stitched(piece: Piece, rows: list[list[Segment]]) -> Piece | None:
    """The piece with that stitching line, its edges, hem run and darts on it."""
    segments = [s for row in rows for s in row]
    ring = Ring(tuple(segments))
    if not is_simple(ring) or ring.signed_area() * piece.ring.signed_area() <= 0.0:
        return None
    starts = [0]
    for row in rows:
        starts.append(starts[-1] + len(row))
    places = [Place(k % len(segments), 0.0) for k in starts]
    edges = tuple(
        replace(e, start=a, end=b) for e, (a, b) in zip(piece.edges, pairwise(places), strict=True)
    )
    outline = Outline(ring, tuple(Origin(NO_SHAPE, k) for k in range(len(segments))))
    made = replace(
        piece,
        stitching=outline,
        edges=edges,
        hem=_hem_on(piece, rows, edges),
        darts=tuple(_dart_on(d, ring) for d in piece.darts),
    )
    hem = cutting_hem(made)
    return None if hem is None else replace(made, cutting_hem=hem)


def _hem_on(piece: Piece, rows: list[list[Segment]], edges: tuple[Edge, ...]) -> HemRun:
    """The hem run where it is sewn: its seams point as they do there."""
    assert piece.hem is not None
    (number,) = (k for k, e in enumerate(piece.edges) if e.role is Role.HEM)
    coming, leaving = rows[number - 1], rows[(number + 1) % len(rows)]
    back = [s.reversed() for s in reversed(leaving)]
    return HemRun(
        _taper_on(piece.hem.first, edges[number].start, end_direction(coming)),
        _taper_on(piece.hem.last, edges[number].end, end_direction(back)),
    )


def _taper_on(drawn: Taper, place: Place, down: Vector) -> Taper:
    """The taper point where it is sewn; above the fold of a turn-up there is no doubt about it."""
    folds = abs(down.angle_to(drawn.down)) > FOLDS
    because = Because(True, "the hem is sewn here by the allowances") if folds else drawn.because
    return Taper(place, down, because)


def _dart_on(dart: Dart, ring: Ring) -> Dart:
    """A notch of the outline as the notch that it is on the stitching line."""
    if dart.mouth_places is None:
        return dart
    size = len(ring)
    (tip,) = (k for k, s in enumerate(ring.segments) if s.start == dart.apex)
    a, b = Place((tip - 1) % size, 0.0), Place((tip + 1) % size, 0.0)
    return replace(dart, mouth=(ring.at(a), ring.at(b)), mouth_places=(a, b))


def without_told_line(altered: Altered, piece: Piece, change: Change) -> Altered:
    """What came of the piece with the made line, as what comes of `piece` without it."""
    now = altered.piece
    ring = now.outline.ring
    assert now.cutting_hem is not None
    assert piece.hem is not None
    hem = _one_way_round(now.cutting_hem, now)
    was = altered.before.cutting_hem
    if was is not None:
        hem = _as_far_down(piece, _one_way_round(was, altered.before), ring, hem)
    found = _Found(piece, ring, hem)
    edges = tuple(e for old in piece.edges if (e := found.edge(old)) is not None)
    darts = tuple(found.dart(d, new) for d, new in zip(piece.darts, now.darts, strict=True))
    bare = replace(now, stitching=None, cutting_hem=None, hem=hem, edges=edges, darts=darts)
    return replace(altered, before=piece, piece=bare, change=change)


def _one_way_round(hem: HemRun, now: Piece) -> HemRun:
    """The hem run in the order of the outline."""
    same = (now.ring.signed_area() > 0.0) == (now.outline.ring.signed_area() > 0.0)
    return hem if same else HemRun(hem.last, hem.first)


def _as_far_down(piece: Piece, was: HemRun, ring: Ring, now: HemRun) -> HemRun:
    """The hem run between the corners between which it lay on the piece.

    Beside the stitching line it begins where a turn-up folds, above the corners at its edge.
    """
    assert piece.hem is not None
    first = _corner_below(piece.ring, was.first.place, piece.hem.first.place, ring, now.first.place)
    last = _corner_below(
        piece.ring, was.last.place, piece.hem.last.place, ring, now.last.place, forward=False
    )
    return HemRun(replace(now.first, place=first), replace(now.last, place=last))


def _corner_below(
    old: Ring, fold: Place, corner: Place, ring: Ring, place: Place, *, forward: bool = True
) -> Place:
    """The joint of the new ring as many steps from `place` as the `corner` was from the `fold`;
    `place` itself where no such corner is there."""
    if any(p.t > 0.0 for p in (fold, corner, place)):
        return place
    way = 1 if forward else -1
    steps = (corner.index - fold.index) * way % len(old)
    if not 0 < steps <= FEW_STEPS:
        return place
    found = (place.index + way * steps) % len(ring)
    turned = joint_turn(old, corner.index) - joint_turn(ring, found)
    return Place(found, 0.0) if abs(turned) < SAME_TURN else place


class _Found:
    """Where places of the old cutting line are on the new one."""

    def __init__(self, piece: Piece, ring: Ring, hem: HemRun) -> None:
        assert piece.hem is not None
        self._old, self._ring = piece.ring, ring
        self._ends = {
            piece.hem.first.place: hem.first.place,
            piece.hem.last.place: hem.last.place,
        }

    def edge(self, edge: Edge) -> Edge | None:
        """The edge; None when all of it was cut away."""
        start, end = self._place(edge.start), self._place(edge.end)
        if start is None and end is None:
            return None
        lost_to = edge.end if start is None else edge.start
        other = self._beside(lost_to)
        a, b = start or other, end or other
        return None if a is None or b is None or a == b else replace(edge, start=a, end=b)

    def dart(self, dart: Dart, new: Dart) -> Dart:
        """A notch as it is cut now; another dart as it came out."""
        if dart.mouth_places is None:
            return new
        a, b = (self.at(p) for p in dart.mouth)
        return replace(dart, mouth_places=(a, b))

    def at(self, p: Point) -> Place:
        return self._joint(p) or self._ring.nearest(p).place

    def _place(self, place: Place) -> Place | None:
        """The place; None when it is gone."""
        if place in self._ends:
            return self._ends[place]
        p = self._old.at(place)
        joint = self._joint(p)
        if joint is not None:
            return joint
        near = self._ring.nearest(p)
        return near.place if near.distance <= STAYED else None

    def _joint(self, p: Point) -> Place | None:
        return next((Place(k, 0.0) for k, s in enumerate(self._ring) if s.start == p), None)

    def _beside(self, place: Place) -> Place | None:
        """The taper point to which an edge was cut back whose other end is still there."""
        kept = self._place(place)
        if kept is None:
            return None
        p = self._ring.at(kept)
        ends = list(self._ends.values())
        return min(ends, key=lambda e: self._ring.at(e).distance(p))
