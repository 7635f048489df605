"""Where an outline does not close, or crosses itself, said so that it can be mended."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

import shapely

from core.curve import Chain, Point, Ring
from core.piece.join import Joints
from core.piece.model import Kind, Shape

# A loose line shorter than this (mm) is no outline that someone forgot to close.
SHORTEST_OUTLINE = 200.0
# Crossings are looked for on the outline within this (mm).
NEAR = 0.01
_CROSSING = re.compile(r"Self-intersection\[(\S+) (\S+)\]", re.IGNORECASE)


def where_open(shapes: Sequence[Shape]) -> str:
    """The two ends of the longest line of open shapes, and the gap between them; nothing when
    there is no such line. A person reads it when no piece was found."""
    joints = Joints()
    links = [
        (joints.index(s.geometry.start), joints.index(s.geometry.end), s.geometry.length())
        for s in shapes
        if isinstance(s.geometry, Chain) and not isinstance(s.geometry, Ring) and _may_be_outline(s)
    ]
    ends = Counter(joint for a, b, _ in links for joint in (a, b))
    loose = [joint for joint, count in ends.items() if count == 1]
    if len(loose) != 2 or sum(length for *_, length in links) < SHORTEST_OUTLINE:
        return ""
    a, b = (joints.points[k] for k in loose)
    gap = a.distance(b)
    return (
        f"An outline is open: its ends at {_at(a)} and {_at(b)} are {gap:.1f} mm apart. Close it"
        " there and open the file again."
    )


def _may_be_outline(shape: Shape) -> bool:
    return shape.kind in (None, Kind.OUTLINE) and not shape.hidden


def crossing(ring: Ring) -> Point | None:
    """A place at which the outline crosses itself, if it does."""
    rows = ring.flattened(tolerance=NEAR)
    if len(rows) < 4 or shapely.LinearRing(rows).is_simple:
        return None
    found = _CROSSING.match(str(shapely.is_valid_reason(shapely.Polygon(rows))))
    return Point(float(found[1]), float(found[2])) if found else None


def where_crossing(name: str, ring: Ring) -> str:
    """A sentence about the crossing of a piece's outline; nothing when there is none."""
    at = crossing(ring)
    if at is None:
        return ""
    return (
        f"{name}: its outline crosses itself at {_at(at)}. Move the points apart there in the"
        " program that made the file, or the piece cannot be altered truly."
    )


def _at(p: Point) -> str:
    return f"x {p.x:.1f}, y {p.y:.1f} mm"
