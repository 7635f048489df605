"""Outlines put together from loose lines, arcs and curves that join end to end.

Ends within JOIN of each other are one joint. Lines that hang loose at one end (inner
lines) are left aside; where several ways lead on, the outermost is the outline.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from core.curve import Chain, Point, Ring, Segment, Vector
from core.curve.ends import with_ends
from core.curve.many import ends
from core.piece.model import Origin, Outline, Shape

# Largest gap in mm between two ends that are meant to meet.
JOIN = 0.1
# Two lines between the same joints are one when their middles are this near (mm).
ON_TOP = 0.5
# A line whose two ends meet is a loop when it is longer than this (mm).
SHORTEST_LOOP = 1.0
# Which of several ways is the outermost is told by where they are after this much (mm).
LOOK = 2.0


@dataclass(frozen=True, slots=True)
class Link:
    """One loose shape between two joints, seen in one of its two directions."""

    shape: int
    chain: Chain
    start: int
    end: int
    reversed: bool

    def back(self) -> Link:
        return Link(self.shape, self.chain.reversed(), self.end, self.start, not self.reversed)


_AROUND = tuple((dx, dy) for dx in (-1, 0, 1) for dy in (-1, 0, 1))
# More rows of cells than any drawing has.
_WIDE = 1 << 31


class Joints:
    """Points that are the same joint when they lie within JOIN; a grid keeps it linear."""

    def __init__(self) -> None:
        self.points: list[Point] = []
        self._exact: dict[tuple[float, float], int] = {}
        self._cells: dict[tuple[int, int], list[int]] = {}

    def index(self, p: Point) -> int:
        """The number of the joint at p; a new one where there is none yet."""
        exact = self._exact.get((p.x, p.y))
        if exact is not None:
            return exact
        cx, cy = math.floor(p.x / JOIN), math.floor(p.y / JOIN)
        best, nearest, cells = -1, JOIN, self._cells
        for dx, dy in _AROUND:
            for k in cells.get((cx + dx, cy + dy), ()):
                away = self.points[k].distance(p)
                if away < nearest or (away == nearest and best < 0):
                    best, nearest = k, away
        if best >= 0:
            return best
        number = len(self.points)
        self.points.append(p)
        self._exact[p.x, p.y] = number
        cells.setdefault((cx, cy), []).append(number)
        return number


def join(shapes: Sequence[Shape]) -> tuple[Outline, ...]:
    """The closed outlines that the open shapes make together, in the order of their first."""
    joints = Joints()
    links = [
        Link(key, line, joints.index(line.start), joints.index(line.end), False)
        for key, line in _meeting(shapes)
    ]
    # Closed by itself, but for a gap: an outline already. A stub within the gap is nothing.
    alone = [k for k in links if k.start == k.end and k.chain.length() > SHORTEST_LOOP]
    outlines = [_outline([link], joints) for link in alone]
    links = _both_ends_shared([link for link in links if link.start != link.end])
    links = _without_loose_ends(_without_doubles(links))
    for component in _components(links):
        loop = _outer_loop(component, joints)
        if loop is not None:
            outlines.append(_outline(loop, joints))
    order = {s.key: n for n, s in enumerate(shapes)}
    return tuple(sorted(outlines, key=lambda o: min(order[g.shape] for g in o.origins)))


def _meeting(shapes: Iterable[Shape]) -> list[tuple[int, Chain]]:
    """Keys and geometry of open shapes that may join another, or close: those with an end so
    near to any other end that both could be one joint."""
    lines = [
        (s.key, s.geometry)
        for s in shapes
        if isinstance(s.geometry, Chain) and not isinstance(s.geometry, Ring)
    ]
    if not lines:
        return []
    at = ends([line for _, line in lines]).reshape(-1, 2)
    # Cells that meet are told apart by a number each; where two share one, more ends are kept.
    columns, rows = np.floor(at / JOIN).astype(np.int64).T
    cells, counts = np.unique(columns * _WIDE + rows, return_counts=True)
    beside = np.zeros(len(at), dtype=np.int64)
    for dx, dy in _AROUND:
        wanted = (columns + dx) * _WIDE + rows + dy
        cell = np.searchsorted(cells, wanted).clip(max=len(cells) - 1)
        beside += np.where(cells[cell] == wanted, counts[cell], 0)
    meets = np.flatnonzero((beside.reshape(-1, 2) > 1).any(axis=1))
    return [lines[k] for k in meets.tolist()]


def _both_ends_shared(links: Sequence[Link]) -> list[Link]:
    """Without lines that meet no other at one end, not even a double of themselves: of
    thousands of loose lines on a piece that leaves hardly any."""
    count = Counter(joint for link in links for joint in (link.start, link.end))
    return [link for link in links if count[link.start] > 1 and count[link.end] > 1]


def _without_doubles(links: Sequence[Link]) -> list[Link]:
    """Without lines drawn once more on top of another, as a fold line is on its edge."""
    between: dict[frozenset[int], list[Link]] = {}
    for link in links:
        beside = between.setdefault(frozenset((link.start, link.end)), [])
        if all(_middle(link).distance(_middle(other)) > ON_TOP for other in beside):
            beside.append(link)
    return [link for beside in between.values() for link in beside]


def _middle(link: Link) -> Point:
    return link.chain.at(link.chain.at_length(link.chain.length() / 2))


def _without_loose_ends(links: list[Link]) -> list[Link]:
    at: dict[int, set[int]] = {}
    for k, link in enumerate(links):
        at.setdefault(link.start, set()).add(k)
        at.setdefault(link.end, set()).add(k)
    loose = [joint for joint, ks in at.items() if len(ks) == 1]
    gone: set[int] = set()
    while loose:
        joint = loose.pop()
        for k in at[joint] - gone:
            gone.add(k)
            other = links[k].end if links[k].start == joint else links[k].start
            at[other].discard(k)
            if len(at[other]) == 1:
                loose.append(other)
    return [link for k, link in enumerate(links) if k not in gone]


def _components(links: list[Link]) -> Iterable[list[Link]]:
    """The links in groups that hang together, each group in the order of the links."""
    at: dict[int, list[int]] = {}
    for k, link in enumerate(links):
        at.setdefault(link.start, []).append(k)
        at.setdefault(link.end, []).append(k)
    seen: set[int] = set()
    for k, link in enumerate(links):
        if k not in seen:
            found = _hanging_on(link, links, at)
            seen |= found
            yield [links[j] for j in sorted(found)]


def _hanging_on(link: Link, links: list[Link], at: dict[int, list[int]]) -> set[int]:
    joints, todo = {link.start}, [link.start]
    found: set[int] = set()
    while todo:
        for k in at[todo.pop()]:
            found.add(k)
            for joint in (links[k].start, links[k].end):
                if joint not in joints:
                    joints.add(joint)
                    todo.append(joint)
    return found


def _outer_loop(links: Sequence[Link], joints: Joints) -> list[Link] | None:
    """The loop around all of them: from the leftmost joint, always the outermost way on."""
    leaving: dict[int, list[Link]] = {}
    for link in links:
        leaving.setdefault(link.start, []).append(link)
        leaving.setdefault(link.end, []).append(link)
    first = min(leaving, key=lambda k: (joints.points[k].x, joints.points[k].y))
    loop: list[Link] = []
    joint = first
    while not loop or joint != first:
        came = loop[-1].shape if loop else None
        ways = [w if w.start == joint else w.back() for w in leaving[joint] if w.shape != came]
        if not ways or len(loop) > len(links):
            return None
        way = ways[0] if len(ways) == 1 else _outermost(loop, ways)
        loop.append(way)
        joint = way.end
    return loop


def _outermost(loop: Sequence[Link], ways: Sequence[Link]) -> Link:
    """Of several ways on from the end of the loop so far."""
    heading = loop[-1].chain.segments[-1].tangent(1.0) if loop else Vector(0.0, 1.0)
    return max(ways, key=lambda w: heading.angle_to(_sets_out(w.chain)))


def _sets_out(chain: Chain) -> Vector:
    """Where the chain is bound for: its tangent may be that of a neighbour from which it bends."""
    ahead = chain.at(chain.at_length(min(LOOK, chain.length()))) - chain.start
    return ahead if ahead.norm > 0.0 else chain.segments[0].tangent(0.0)


def _outline(loop: Iterable[Link], joints: Joints) -> Outline:
    segments: list[Segment] = []
    origins: list[Origin] = []
    for link in loop:
        parts = list(link.chain.segments)
        parts[0] = with_ends(parts[0], joints.points[link.start], parts[0].end)
        parts[-1] = with_ends(parts[-1], parts[-1].start, joints.points[link.end])
        numbers = range(len(parts))
        order = reversed(numbers) if link.reversed else numbers
        segments += parts
        origins += [Origin(link.shape, n, link.reversed) for n in order]
    return Outline(Ring(tuple(segments)), tuple(origins))
