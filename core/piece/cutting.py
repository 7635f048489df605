"""The hem run of a cutting line, found from that of the stitching line inside it."""

from __future__ import annotations

from collections.abc import Sequence

from core.curve import Place, Point, Ring, Vector
from core.piece.corners import corners as find_corners
from core.piece.corners import joint_turn
from core.piece.model import Because, HemRun, Kind, Piece, Taper

# The cutting line lies at most this far (mm) outside the stitching line: common practice, a
# skirt hem takes 2 to 3 in.
WIDEST_ALLOWANCE = 80.0
# A corner of the cutting line lies within this many allowances of its stitching corner, or, below
# a deep hem, within this many times both allowances together.
CORNER_REACH, MITRE_REACH = 4.0, 1.5
# A place this near (mm) to a joint is that joint.
AT_JOINT = 0.5
# The side of a mirrored turn-up turns on the fold by more than this (radians).
LEAST_FOLD = 0.01


def cutting_hem(piece: Piece) -> HemRun | None:
    """Taper points on the outline of a piece that has a stitching line too; else None, and
    where the outline has no hem beside that of the stitching line.

    Beside a plain corner of the stitching line it is the cutting line's own corner, or, in
    front of a turn-up whose sides are mirrored, its joint on the fold; where the hem is
    rounded into the seam it is the place straight across the allowance.
    """
    if piece.stitching is None or piece.hem is None:
        return None
    told = [m.geometry for m in piece.marks if m.kind is Kind.TURN_POINT]
    turns = [p for p in told if isinstance(p, Point)]
    corners = find_corners(piece.outline.ring, told=turns)
    sewn_corners = set(find_corners(piece.ring))
    first = _across(piece, piece.hem.first, corners, sewn_corners)
    last = _across(piece, piece.hem.last, corners, sewn_corners)
    if first.place == last.place:
        return None
    # Both rings must run the same way round for "first" to stay first.
    if (piece.ring.signed_area() > 0.0) != (piece.outline.ring.signed_area() > 0.0):
        first, last = last, first
    return HemRun(first, last)


def _across(piece: Piece, taper: Taper, corners: Sequence[int], sewn_corners: set[int]) -> Taper:
    ring = piece.outline.ring
    p = piece.ring.at(taper.place)
    foot = ring.nearest(p)
    plain = taper.place.t == 0.0 and taper.place.index in sewn_corners
    place = _joint_near(ring, foot.place)
    if plain and corners:
        hem = _hem_way(piece.ring, taper)
        deep = _hem_allowance(ring, p.moved(hem, foot.distance), hem, taper.down)
        reach = max(CORNER_REACH * max(foot.distance, 1.0), MITRE_REACH * (foot.distance + deep))
        corner = min(corners, key=lambda k: ring.segments[k].start.distance(p))
        if ring.segments[corner].start.distance(p) <= reach:
            place = Place(_fold_joint(ring, corner, p, hem), 0.0)
    because = Because(taper.because.sure, f"{taper.because.why}, on the cutting line")
    return Taper(place, taper.down, because)


def _hem_way(ring: Ring, taper: Taper) -> Vector:
    """The unit direction in which the hem leaves the corner at its taper point."""
    k = taper.place.index
    coming, leaving = -ring.segments[k - 1].tangent(1.0), ring.segments[k].tangent(0.0)
    along = abs(coming.dot(taper.down)), abs(leaving.dot(taper.down))
    return leaving if along[1] < along[0] else coming


def _hem_allowance(ring: Ring, p: Point, hem: Vector, down: Vector) -> float:
    """How far (mm) below p, square to the hem, the cutting line lies; nothing where it does not."""
    below = hem.square() if hem.square().dot(down) > 0.0 else -hem.square()
    offs = [(ring.at(place) - p).dot(below) for place in ring.meets(p, below)]
    return min((off for off in offs if 0.0 <= off <= WIDEST_ALLOWANCE), default=0.0)


def _fold_joint(ring: Ring, corner: int, p: Point, hem: Vector) -> int:
    """The joint beside `corner` at which a mirrored turn-up's side turns on the fold line
    through p; the corner itself when there is none."""
    size = len(ring)
    for k in ((corner - 1) % size, (corner + 1) % size):
        off = ring.segments[k].start - p
        outwards = off.dot(hem) < 0.0
        turns = abs(joint_turn(ring, k)) > LEAST_FOLD
        if outwards and turns and abs(off.cross(hem)) <= AT_JOINT:
            return k
    return corner


def _joint_near(ring: Ring, place: Place) -> Place:
    """The place, or the joint that it as good as lies on."""
    p, size = ring.at(place), len(ring)
    for k in (place.index, (place.index + 1) % size):
        if ring.segments[k].start.distance(p) <= AT_JOINT:
            return Place(k, 0.0)
    return place
