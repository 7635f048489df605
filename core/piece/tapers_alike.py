"""The same taper point on another size of a piece: as far above its hem, along the grain.

A vent, a rounded corner, or the knee from which a leg is flared is drawn at the same height above
the hem in every size; how long the seam is down to there is not the same.
"""

from __future__ import annotations

from core.curve import Chain, Point, Vector
from core.piece.model import HemRun, Piece

# A taper point this near (mm) to a joint of the outline is that joint.
AT_JOINT = 0.5
# And on another size the joint that lies within this (mm) of the same height.
SAME_JOINT = 12.0


def taper_alike(piece: Piece, at: Point, other: Piece, *, last: bool) -> tuple[Point, bool] | None:
    """Where the first or last taper point of `other` lies when that of `piece` is at a place of
    its outline, and whether it is the last one there: outlines may run either way round.

    Both are sizes of one pattern, each seen along its own grain. None where one has no hem.
    """
    if piece.hem is None or other.hem is None:
        return None
    same_way = _runs_across(piece, piece.hem) == _runs_across(other, other.hem)
    there = last if same_way else not last
    own, way = way_to(piece, last=last), way_to(other, last=there)
    near = own.nearest(at)
    height = _lowest(piece, piece.hem) - _height(near.point, piece.grain.down)
    down = other.grain.down
    level = _lowest(other, other.hem) - height
    met = way.meets(Point(0.0, 0.0).moved(down, level), down.square())
    p = way.at(met[0]) if met else _nearest_height(way, down, level)
    if _joint(own, near.point, AT_JOINT) is not None:
        p = _joint(way, p, SAME_JOINT) or p
    return p, there


def way_to(piece: Piece, *, last: bool) -> Chain:
    """All on which the first or last taper point of a piece that has a hem may lie: from the top
    of its seam down and through the hem to the other one."""
    assert piece.hem is not None
    ring, hem = piece.ring, piece.hem
    if last:
        return ring.run(hem.first.place, piece.edges[1].end).reversed()
    return ring.run(piece.edges[-1].start, hem.last.place)


def _height(p: Point, down: Vector) -> float:
    return p.x * down.x + p.y * down.y


def _runs_across(piece: Piece, hem: HemRun) -> bool:
    """Does the hem run from left to right, as seen along the grain?"""
    step = piece.ring.at(hem.last.place) - piece.ring.at(hem.first.place)
    return piece.grain.down.cross(step) > 0.0


def _lowest(piece: Piece, hem: HemRun) -> float:
    """How far down the grain the lowest place of the hem lies."""
    run, down = piece.ring.run(hem.first.place, hem.last.place), piece.grain.down
    ends = (s.at(t) for s in run for t in (0.0, 0.25, 0.5, 0.75, 1.0))
    return max(_height(p, down) for p in ends)


def _nearest_height(way: Chain, down: Vector, level: float) -> Point:
    """The joint of the way that lies nearest to a height at which nothing of it lies."""
    joints = [way.start, *(s.end for s in way)]
    return min(joints, key=lambda p: abs(_height(p, down) - level))


def _joint(way: Chain, p: Point, reach: float) -> Point | None:
    """The nearest joint inside the way, if it lies within reach."""
    found = min((s.end for s in way.segments[:-1]), key=p.distance, default=None)
    return found if found is not None and found.distance(p) <= reach else None
