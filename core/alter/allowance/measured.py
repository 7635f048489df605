"""The allowance between cutting line and stitching line, measured edge by edge."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import NDArray

from core.alter.allowance.base import outwards
from core.alter.allowance.joints import SMOOTH, Meeting
from core.curve import Chain, Place, Point, Ring
from core.piece.cutting import WIDEST_ALLOWANCE
from core.piece.model import Because, Edge, Piece, Role

# Places at which the allowance of an edge is measured, and the share of the edge left out
# at each of its ends, where the corners are.
PLACES = 15
LEFT_OUT = 0.04
# Differences up to this (mm) are the scatter of drawing and digitising.
SCATTER = 0.25
# A joint of the cutting line this near (mm) to a point lies there.
AT_JOINT = 0.5
# A hem allowance wider than this (mm) is a turn-up; a plain hem takes 10 to 15 mm.
WIDE = 15.0
# Fewer places with an answer than this share: the cutting line does not run beside it.
MOST = 0.75

Values = NDArray[np.float64]


class CornerDrawn(Enum):
    """How the cutting line goes round a corner of the stitching line."""

    PLAIN = "as it is drawn"
    CARRIED_ON = "both edges carried on until they meet"
    STEP = "a square step"
    SQUARE_END = "ended square to an edge"
    MIRRORED = "a turn-up, mirrored"


@dataclass(frozen=True)
class EdgeAllowance:
    """The allowance along one edge, in mm: at its start and its end (in ring order), evenly
    in between; None where the cutting line does not run beside it."""

    role: Role
    start_mm: float | None
    end_mm: float | None
    because: Because

    @property
    def constant(self) -> bool:
        """Is it the same all along?"""
        return self.start_mm == self.end_mm


@dataclass(frozen=True)
class CornerAllowance:
    """How the cutting line is drawn round the corner at the end of an edge."""

    at: Point
    drawn: CornerDrawn
    because: Because


@dataclass(frozen=True)
class Allowances:
    """All edges of a piece in their order, and the corner at the end of each."""

    edges: tuple[EdgeAllowance, ...]
    corners: tuple[CornerAllowance, ...]


def measure_allowances(piece: Piece) -> Allowances | None:
    """The allowances of a piece that has both lines; None for any other."""
    if piece.stitching is None:
        return None
    edges = tuple(_edge(piece, e) for e in piece.edges)
    following = (*edges[1:], *edges[:1])
    corners = tuple(
        _corner(piece, e, (a, b)) for e, a, b in zip(piece.edges, edges, following, strict=True)
    )
    return Allowances(edges, corners)


def _edge(piece: Piece, edge: Edge) -> EdgeAllowance:
    chain = Chain(piece.sewn_segments(edge)) if piece.darts == () else piece.edge_chain(edge)
    sign = 1.0 if piece.ring.signed_area() >= 0.0 else -1.0
    shares = np.linspace(LEFT_OUT, 1.0 - LEFT_OUT, PLACES)
    found = [(w, _at(piece.outline.ring, chain, float(w), sign)) for w in shares]
    told = [(w, a) for w, a in found if a is not None]
    if len(told) < MOST * PLACES:
        return EdgeAllowance(
            edge.role, None, None, Because(False, "the cutting line does not run beside it")
        )
    ws, values = (np.array(column) for column in zip(*told, strict=True))
    return _fitted(edge.role, ws, values)


def _fitted(role: Role, ws: Values, values: Values) -> EdgeAllowance:
    """Constant when no place leaves the median by more than the scatter, else even."""
    median = float(np.median(values))
    if np.quantile(np.abs(values - median), 0.8) <= SCATTER:
        sure = bool(np.abs(values - median).max() <= SCATTER)
        why = "the same all along" if sure else "the same but for a few places"
        return EdgeAllowance(role, median, median, Because(sure, why))
    slope, start = (float(x) for x in np.polyfit(ws, values, 1))
    off = float(np.abs(start + slope * ws - values).max())
    even = off <= SCATTER
    why = "it changes evenly along the edge" if even else f"it varies by up to {off:.1f} mm"
    return EdgeAllowance(role, start, start + slope, Because(even, why))


def _at(outer: Ring, chain: Chain, share: float, sign: float) -> float | None:
    """The distance square out from the edge to the cutting line, in mm."""
    place = chain.at_length(share * chain.length())
    p, normal = chain.at(place), outwards(chain.tangent(place), sign)
    out = [(outer.at(met) - p).dot(normal) for met in outer.meets(p, normal)]
    near = [d for d in out if 0.0 < d <= WIDEST_ALLOWANCE]
    return min(near, default=None)


def _corner(
    piece: Piece, edge: Edge, beside: tuple[EdgeAllowance, EdgeAllowance]
) -> CornerAllowance:
    at = piece.ring.at(edge.end)
    first, second = beside[0].end_mm, beside[1].start_mm
    if first is None or second is None:
        return CornerAllowance(at, CornerDrawn.PLAIN, Because(False, "an edge has no allowance"))
    drawn, why = _drawn(piece, edge.end, (first, second))
    return CornerAllowance(at, drawn, Because(drawn is not CornerDrawn.PLAIN, why))


def _drawn(piece: Piece, place: Place, allowances: tuple[float, float]) -> tuple[CornerDrawn, str]:
    """How the corner at a joint of the stitching line is drawn, and by what it was told."""
    at = _meeting(piece.ring, place)
    first, second = allowances
    a, b = at.normals
    ends = at.at.moved(a, first), at.at.moved(b, second)
    if abs(at.turn) < SMOOTH:
        if abs(first - second) <= SCATTER:
            return CornerDrawn.CARRIED_ON, "both edges run on smoothly"
        step = all(_has_joint(piece.outline.ring, p) for p in ends)
        return (CornerDrawn.STEP, "it steps out square") if step else _UNTOLD
    if _has_joint(piece.outline.ring, at.at_distances(first, second)):
        return CornerDrawn.CARRIED_ON, "its corner lies where both edges meet, carried on"
    if any(_is_mirrored(piece.outline.ring, m, pair) for m, pair in _both_ways(at, allowances)):
        return CornerDrawn.MIRRORED, "its side is the mirror image of the seam"
    if any(_has_joint(piece.outline.ring, p) for p in ends):
        return CornerDrawn.SQUARE_END, "an edge ends straight across from the corner"
    return _UNTOLD


_UNTOLD = (CornerDrawn.PLAIN, "it is drawn in no way that has a name")


def _meeting(ring: Ring, place: Place) -> Meeting:
    segments = ring.segments
    sign = 1.0 if ring.signed_area() >= 0.0 else -1.0
    if place.t > 0.0:
        way = ring.tangent(place)
        return Meeting(ring.at(place), way, way, sign)
    coming, leaving = segments[place.index - 1].tangent(1.0), segments[place.index].tangent(0.0)
    return Meeting(ring.at(place), coming, leaving, sign)


def _has_joint(ring: Ring, p: Point) -> bool:
    return any(s.start.distance(p) <= AT_JOINT for s in ring)


def _both_ways(
    at: Meeting, allowances: tuple[float, float]
) -> Iterator[tuple[Meeting, tuple[float, float]]]:
    """The corner with either edge as the one on which a turn-up folds."""
    yield at, allowances
    yield at.turned_round(), (allowances[1], allowances[0])


def _is_mirrored(ring: Ring, at: Meeting, allowances: tuple[float, float]) -> bool:
    """Is there a joint on the fold, and one at the end of the mirrored seam?"""
    seam, hem = allowances
    if hem <= WIDE or not _has_joint(ring, at.at_distances(seam, 0.0)):
        return False
    return _has_joint(ring, at.mirrored().point(at.at_distances(seam, -hem)))
