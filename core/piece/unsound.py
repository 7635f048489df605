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
# A line whose ends lie further apart than this share of its length is straight.
STRAIGHT = 0.99
# Crossings are looked for on the outline within this (mm).
NEAR = 0.01
_CROSSING = re.compile(r"Self-intersection\[(\S+) (\S+)\]", re.IGNORECASE)


def where_open(shapes: Sequence[Shape]) -> str:
    """The two ends of the one line of open shapes that may be an outline, and the gap between
    them; nothing when there is no such line, or several. A person reads it when no piece was
    found. Straight lines are grain, fold and rulings; short ones are marks.
    """
    joints = Joints()
    links = [
        (joints.index(s.geometry.start), joints.index(s.geometry.end), s.geometry.length())
        for s in shapes
        if isinstance(s.geometry, Chain) and not isinstance(s.geometry, Ring) and _may_be_outline(s)
    ]
    open_ends = []
    for line in _lines(links):
        ends = Counter(joint for a, b, _ in line for joint in (a, b))
        loose = [joints.points[joint] for joint, count in ends.items() if count == 1]
        length = sum(length for *_, length in line)
        straight = len(loose) == 2 and loose[0].distance(loose[1]) > STRAIGHT * length
        if length >= SHORTEST_OUTLINE and not straight:
            open_ends.append(loose)
    if len(open_ends) != 1 or len(open_ends[0]) != 2:
        return ""
    a, b = open_ends[0]
    gap = a.distance(b)
    return (
        f"An outline is open: its ends at {_at(a)} and {_at(b)} are {gap:.1f} mm apart. Close it"
        " there and open the file again."
    )


Link = tuple[int, int, float]


def _lines(links: Sequence[Link]) -> list[list[Link]]:
    """Those that hang together, by the joints in which they meet."""
    home: dict[int, int] = {}

    def root(joint: int) -> int:
        while home.setdefault(joint, joint) != joint:
            home[joint] = joint = home[home[joint]]
        return joint

    for a, b, _ in links:
        home[root(a)] = root(b)
    lines: dict[int, list[Link]] = {}
    for link in links:
        lines.setdefault(root(link[0]), []).append(link)
    return list(lines.values())


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
