"""The cutting line around a stitching line, built as at the table: each edge moved out by
its allowance, the neighbours carried on until they meet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from core.curve import Chain, Cubic, Line, Point, Segment, Vector
from sample_pieces.drawing.part import Part

# How far the chords of a chopped curve may leave it, in mm.
CHOP = 0.01
# Directions that differ by less than this, in radians, go on smoothly.
SMOOTH = 1e-3


@dataclass(frozen=True, slots=True)
class Dot:
    """A point of a chopped line; a turn point is a corner, the others follow a curve."""

    at: Point
    turn: bool


@dataclass(frozen=True, slots=True)
class _Moved:
    """One segment moved out: its points, its directions at both ends, its allowance."""

    points: tuple[Point, ...]
    leaving: Vector
    arriving: Vector
    allowance: float


def stitching_line(part: Part) -> tuple[Dot, ...]:
    """The outline itself, chopped."""
    return _joined([_moved_out(s, 0.0, 1.0) for s in part.ring])


def cutting_line(part: Part, allowances: Mapping[str, float]) -> tuple[Dot, ...]:
    """The closed cutting line of a piece, mm; `allowances` by the first word of an edge's name.

    It runs over the mouth of a dart along the peak that the cloth needs when the dart is
    folded. Where a smooth run changes its allowance, the line steps out square.
    """
    out = -1.0 if part.ring.signed_area() > 0.0 else 1.0
    moved = []
    for k, edge in enumerate(part.edges):
        chain, name = edge.chain, edge.name.split()[0]
        if name == "dart":
            chain, name = _peak(part.edges[k - 1].chain, part.edges[k + 1].chain), "waist"
        moved += [_moved_out(s, allowances[name], out) for s in chain]
    return _joined(moved)


def _peak(before: Chain, after: Chain) -> Chain:
    """Both sides of the waist carried on straight until they meet above the dart."""
    last, first = before.segments[-1], after.segments[0]
    top = _crossing(last.end, last.tangent(1.0), first.start, first.tangent(0.0))
    return Chain((Line(last.end, top), Line(top, first.start)))


def _moved_out(segment: Segment, allowance: float, out: float) -> _Moved:
    ts = np.linspace(0.0, 1.0, _steps(segment) + 1)
    points = tuple(
        segment.at(float(t)).moved(segment.tangent(float(t)).square(), out * allowance) for t in ts
    )
    return _Moved(points, segment.tangent(0.0), segment.tangent(1.0), allowance)


def _steps(segment: Segment) -> int:
    """Enough equal steps that no chord leaves the curve by more than CHOP."""
    if not isinstance(segment, Cubic):
        return 1
    # A chord leaves its curve by at most h^2 / 8 of the largest second derivative.
    bend = max(segment.second_derivative(t).norm for t in (0.0, 1.0))
    return max(1, int(np.ceil(np.sqrt(bend / (8.0 * CHOP)))))


def _joined(moved: list[_Moved]) -> tuple[Dot, ...]:
    """One closed line, each joint made once, at the start of the segment that follows it."""
    dots: list[Dot] = []
    for before, after in zip([moved[-1], *moved[:-1]], moved, strict=True):
        dots += _joint(before, after)
        dots += [Dot(p, turn=False) for p in after.points[1:-1]]
    return tuple(dots)


def _joint(before: _Moved, after: _Moved) -> list[Dot]:
    """Nothing new where it runs on smoothly, a square step, or a mitre."""
    if abs(before.arriving.angle_to(after.leaving)) >= SMOOTH:
        corner = _crossing(before.points[-1], before.arriving, after.points[0], after.leaving)
        last, first = _before_mitre(before, -1, corner), _before_mitre(after, 0, corner)
        return [*last, Dot(corner, turn=True), *first]
    if before.allowance == after.allowance:
        return [Dot(after.points[0], turn=False)]
    return [Dot(before.points[-1], turn=True), Dot(after.points[0], turn=True)]


def _before_mitre(moved: _Moved, end: int, corner: Point) -> list[Dot]:
    """The end of a curve, which goes on straight from there to its corner; none for a line."""
    at = moved.points[end]
    curved = len(moved.points) > 2 and at.distance(corner) > CHOP
    return [Dot(at, turn=False)] if curved else []


def _crossing(p: Point, along: Vector, q: Point, other: Vector) -> Point:
    """Where the endless lines through p and q meet; they must not run side by side."""
    return p.moved(along, (q - p).cross(other) / along.cross(other))
