"""Where a piece without a stitching line is sewn: inside its outline, by the allowances told.

Each edge is moved in by its own allowance and ends where it meets its moved neighbours, as
at the table; a fold has no allowance, and the legs of a dart are sewn where they are drawn.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeVar

import numpy as np

from core.alter.allowance.base import Base, Spot, outwards
from core.alter.allowance.fit import Beside, cubics_beside
from core.alter.figures import paired, straight_width
from core.alter.model import Change, EdgeFigure, Figures, Lengths
from core.curve import Chain, Line, Place, Point, Segment, Vector
from core.curve.ends import with_ends
from core.errors import AlterationError
from core.kept import kept
from core.piece.model import Edge, Piece, Role

# Edges that meet at less than this angle (radians) run on smoothly: neither ends the other.
SMOOTH = 0.1
# An edge's line is carried on past its ends by so many of the larger allowance.
CARRIED_ON = 4.0
# Flattening (mm) of the neighbour when it is asked where it meets an edge's line.
FLATTENING = 1e-4
# Of two lines that run there and back the lines beside them meet nowhere (sum of the unit normals'
# product and 1).
BACK = 1e-9
# Boxes as near as this (mm) may hold a place where the lines touch.
BESIDE = 1e-3


# For each edge its parts.
Edges = tuple[tuple[Chain, ...], ...]
Made = TypeVar("Made")


@dataclass(frozen=True)
class Sewn:
    """Lengths in mm of the edges where they are sewn, and the hem's width there."""

    lengths: tuple[float, ...]
    hem_width: float


def applies(piece: Piece, change: Change) -> bool:
    """Are allowances told, and is there no stitching line that says it better?"""
    told = change.allowance_mm is not None or change.hem_allowance_mm is not None
    return told and piece.stitching is None


def refuse_negative(change: Change) -> None:
    """AlterationError for an allowance of less than nothing."""
    if min(change.allowance_mm or 0.0, change.hem_allowance_mm or 0.0) < 0.0:
        raise AlterationError("A seam allowance cannot be less than nothing. Leave out the minus.")


def sewn_figures(before: Piece, after: Piece, change: Change) -> Figures:
    """What the change does, measured where the pieces are sewn."""
    old, new = sewn_lengths(before, change), sewn_lengths(after, change)
    was = dict(zip(before.edges, old.lengths, strict=True))
    now = dict(zip(after.edges, new.lengths, strict=True))
    pairs = list(paired(before, after))
    edges = tuple(EdgeFigure(a.role, was[a], now[b] if b else 0.0) for a, b in pairs)
    gains = {a: now[b] - was[a] for a, b in pairs if b}
    first, last = (0.0 if k is None else gains.get(before.edges[k], 0.0) for k in before.hem_seams)
    lengths = Lengths(edges, old.hem_width, new.hem_width)
    return Figures(first, last, measure=lambda: lengths)


def sewn_lengths(piece: Piece, change: Change) -> Sewn:
    """The piece's edges measured where they are sewn."""
    ended = sewn_edges(piece, change)
    hems = [c for c, e in zip(ended, piece.edges, strict=True) if e.role is Role.HEM]
    width = _hem_width(piece, hems[0]) if len(hems) == 1 and hems[0] else 0.0
    return Sewn(tuple(sum(c.length() for c in chains) for chains in ended), width)


def _hem_width(piece: Piece, parts: Sequence[Chain]) -> float:
    """The hem's width where it is sewn, its darts closed; `parts` lie between those cut into it."""
    open_width = straight_width(piece, parts[0].start, parts[-1].end)
    cut = sum(a.end.distance(b.start) for a, b in pairwise(parts))
    return (
        open_width
        - cut
        - sum(d.intake for d in piece.darts if d.on is Role.HEM and d.mouth_places is None)
    )


def kept_by_allowances(make: Callable[[Piece, Change], Made]) -> Callable[[Piece, Change], Made]:
    """Has a function of which a change matters by its allowances alone remember what it made of a
    piece: a drag asks for the same at every frame, another change of the piece too."""

    @kept(most=64)
    def known(_piece: Piece) -> dict[tuple[float | None, float | None], Made]:
        return {}

    def answer(piece: Piece, change: Change) -> Made:
        allowances = change.allowance_mm, change.hem_allowance_mm
        found = known(piece)
        if allowances not in found:
            found[allowances] = make(piece, change)
        return found[allowances]

    return answer


@kept_by_allowances
def sewn_edges(piece: Piece, change: Change) -> Edges:
    """Each of the piece's edges where it is sewn: its parts between the darts that lie in it."""
    edges = [_Moved(piece, e, _allowance(e, change)) for e in piece.edges]
    size = len(edges)
    return tuple(tuple(_ended(edges[k - 1], edges[k], edges[(k + 1) % size])) for k in range(size))


def _allowance(edge: Edge, change: Change) -> float:
    seam = change.allowance_mm or 0.0
    if edge.role is Role.FOLD:
        return 0.0
    if edge.role is Role.HEM and change.hem_allowance_mm is not None:
        return change.hem_allowance_mm
    return seam


class _Moved:
    """One edge moved in by its allowance: its parts between the darts that lie in it."""

    def __init__(self, piece: Piece, edge: Edge, allowance: float) -> None:
        self.allowance = allowance
        self.sign = 1.0 if piece.ring.signed_area() >= 0.0 else -1.0
        whole = piece.edge_chain(edge)
        self.outer = _parts(piece.sewn_segments(edge))
        self.parts = [_moved_in(p, allowance, self.sign) for p in self.outer]
        self.legs = [_legs(whole, a.end, b.start) for a, b in pairwise(self.outer)]
        self.start, self.end = whole.segments[0].tangent(0.0), whole.segments[-1].tangent(1.0)


def _parts(segments: Sequence[Segment]) -> list[Chain]:
    """The segments as chains, parted where a dart was left out."""
    rows: list[list[Segment]] = []
    for s in segments:
        if rows and rows[-1][-1].end == s.start:
            rows[-1].append(s)
        else:
            rows.append([s])
    return [Chain(tuple(row)) for row in rows]


def _legs(whole: Chain, first: Point, second: Point) -> tuple[Chain, Chain]:
    """The two legs of the dart between two points of the edge, each from its mouth in."""
    numbers = {s.start: k for k, s in enumerate(whole)}
    notch = whole.segments[numbers[first] : numbers[second]]
    return Chain(notch[:1]), Chain((notch[-1].reversed(),))


def _moved_in(chain: Chain, by: float, sign: float) -> Chain:
    """The chain moved in square to itself, within a thousandth of a millimetre."""
    if by == 0.0:
        return chain
    base = Base(chain, sign)
    out: list[Segment] = []
    spots = [Spot(at, 0.0, -by) for at in chain.lengths_before]
    points = [base.point(s) for s in spots]
    for k, (a, b) in enumerate(pairwise(chain.segments), 1):
        if isinstance(a, Line) and isinstance(b, Line):
            points[k] = _mitred(b.start, a.tangent(1.0), b.tangent(0.0), -by, sign)
    for k, s in enumerate(chain.segments):
        if isinstance(s, Line):
            out.append(Line(points[k], points[k + 1]))
        else:
            line = Beside(base, spots[k], spots[k + 1])
            out += cubics_beside(line, points[k], points[k + 1])
    return Chain(tuple(out))


def _mitred(p: Point, coming: Vector, leaving: Vector, beside: float, sign: float) -> Point:
    """Where the lines beside two lines that meet at p meet themselves."""
    first, second = outwards(coming, sign), outwards(leaving, sign)
    if 1.0 + first.dot(second) < BACK:
        return p.moved(first, beside)
    return p.moved(first + second, beside / (1.0 + first.dot(second)))


def _ended(before: _Moved, edge: _Moved, after: _Moved) -> list[Chain]:
    """The edge's parts, ended where they meet their neighbours and the legs of darts."""
    if not edge.parts:
        return []
    lines = list(edge.parts)
    reach = CARRIED_ON * max(before.allowance, edge.allowance, after.allowance, 1.0)
    if before.parts and _turns(before, edge):
        lines[0] = _cut(lines[0].reversed(), _longer(before.parts[-1], reach), reach).reversed()
    elif before.parts and before.allowance == edge.allowance:
        lines[0] = _ended_at(lines[0].reversed(), _shared(before, edge)).reversed()
    if after.parts and _turns(edge, after):
        neighbour = _longer(after.parts[0].reversed(), reach).reversed()
        lines[-1] = _cut(lines[-1], neighbour, reach)
    elif after.parts and after.allowance == edge.allowance:
        lines[-1] = _ended_at(lines[-1], _shared(edge, after))
    for k, (first, second) in enumerate(edge.legs):
        lines[k] = _cut(lines[k], first, reach)
        lines[k + 1] = _cut(lines[k + 1].reversed(), second, reach).reversed()
    return lines


def _shared(a: _Moved, b: _Moved) -> Point:
    """Where two edges of one allowance that run on smoothly meet: a digitised line turns a little
    at each of its joints, at that between two edges too."""
    return _mitred(a.outer[-1].end, a.end, b.start, -a.allowance, a.sign)


def _ended_at(chain: Chain, p: Point) -> Chain:
    last = chain.segments[-1]
    return Chain((*chain.segments[:-1], with_ends(last, last.start, p)))


def _turns(a: _Moved, b: _Moved) -> bool:
    return abs(a.end.angle_to(b.start)) > SMOOTH


def _longer(chain: Chain, reach: float) -> Chain:
    """The chain carried straight on past its end."""
    end, way = chain.end, chain.segments[-1].tangent(1.0)
    return Chain((*chain.segments, Line(end, end.moved(way, reach))))


def _cut(chain: Chain, neighbour: Chain, reach: float) -> Chain:
    """The chain ended where it, carried straight on, last meets its neighbour; as it is when
    it does not meet it."""
    long = _longer(chain, reach)
    flat = neighbour.flattened(tolerance=FLATTENING)
    boxes = np.hstack((np.minimum(flat[:-1], flat[1:]), np.maximum(flat[:-1], flat[1:])))
    places: list[Place] = []
    for k in long.touched(boxes, margin=BESIDE).tolist():
        (x0, y0), (x1, y1) = flat[k].tolist(), flat[k + 1].tolist()
        a, b = Point(x0, y0), Point(x1, y1)
        run = b - a
        square = run.dot(run)
        if square == 0.0 or min(a.distance(chain.end), b.distance(chain.end)) > square**0.5 + reach:
            continue
        for place in long.meets(a, run):
            if -1e-9 <= (long.at(place) - a).dot(run) / square <= 1.0 + 1e-9:
                places.append(place)
    near = [p for p in places if long.at(p).distance(chain.end) <= reach]
    if not near:
        return chain
    place = min(near, key=lambda p: long.at(p).distance(chain.end))
    return long.part(Place(0, 0.0), place)
