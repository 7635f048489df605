"""The cutting line round the hem run, drawn anew from the altered stitching line."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from core.alter.allowance.across import ON_ACROSS, NoMatchError
from core.alter.allowance.base import Base, Pairing, Spot, paired, without_notches
from core.alter.allowance.fit import Beside, cubics_beside
from core.alter.allowance.joints import NO_GAIN, SMOOTH, Gain, Joint, Meeting, joint
from core.alter.allowance.seams import SideDone
from core.alter.allowance.views import Views
from core.alter.strand import Strand, Thread, chain_of
from core.curve import Chain, Cubic, Line, Place, Point, Segment
from core.curve.ends import with_ends
from core.piece.cutting import WIDEST_ALLOWANCE

# A foot that lies further (mm) from square than this, or behind the one before it by more,
# shows that the two lines do not run side by side.
ASKEW = 2.0
# Places of one line nearer (mm) than this are one.
SAME = 1e-7
# A part of a curve shorter than this (mm) has no bend to speak of.
LEAST_PART = 0.05


@dataclass(frozen=True)
class _Stretch:
    """A smooth stretch of the hem run before and after, and which length goes to which."""

    old: Base
    new: Base
    pairing: Pairing

    def became_curved(self, start: Spot, end: Spot) -> bool:
        """Is it a curve between two new spots that was straight there (a hem made square)?"""
        new = start.length, end.length
        old = self.pairing.old_length(new[0]), self.pairing.old_length(new[1])
        return _curved(self.new.chain, *new) and not _curved(self.old.chain, *old)

    def spot(self, p: Point, *, at_end: float | None = None) -> Spot:
        """The new spot of an old point; `at_end` is 0 or 1 for one across from an end."""
        if at_end is not None:
            found = self._end_spot(p, at_end)
            if abs(found.along) <= ON_ACROSS:
                return found
        old = self.old.spot(p)
        return Spot(self.pairing.length(old.length), old.along, old.beside)

    def _end_spot(self, p: Point, at_end: float) -> Spot:
        place = Place(0, 0.0) if at_end == 0.0 else Place(len(self.old.chain) - 1, 1.0)
        off = p - self.old.chain.at(place)
        way = self.old.tangent(place)
        length = self.new.chain.length() * at_end
        return Spot(length, off.dot(way), off.cross(way) * self.old.sign)


@dataclass(frozen=True)
class _Node:
    """A place of the old cutting line, and where it belongs: to the corner drawn round a
    joint, or to one or two stretches, with its new spot on each."""

    place: Place
    at: Point
    corner: int | None
    spots: Mapping[int, Spot]


@dataclass(frozen=True)
class RunDone:
    """The new cutting line from beside the one new taper point to beside the other; where
    its old joints went; the joints of the stitching line; and the old points of the corner
    drawn beside each taper point, from the seam on."""

    strand: Strand
    went: Mapping[Point, Point]
    joints: tuple[Joint, ...]
    corners: tuple[tuple[Point, ...], tuple[Point, ...]]


@dataclass(frozen=True)
class RunBuilder:
    """Draws the run; `mouths` are the old and the new darts that are notches of the hem."""

    views: Views
    sides: tuple[SideDone, SideDone]
    places: tuple[Place, Place]
    mouths: tuple[Mapping[Point, Point], Mapping[Point, Point]]

    def done(self) -> RunDone:
        """NoMatchError when the cutting line does not run beside the stitching line."""
        nodes = self._nodes()
        self._check_order(nodes)
        nodes = self._needed(nodes)
        points = [self._point(node) for node in nodes]
        ends = [s.end if s.hem is None else s.hem for s in self.sides]
        points = _settled([ends[0], *points[1:-1], ends[1]])
        threads = self._mitre(nodes[0], self.sides[0].end, points[0])
        for (a, b), (p, q) in zip(pairwise(nodes), pairwise(points), strict=True):
            threads += self._drawn(a, b, p, q)
        threads += self._mitre(nodes[-2], points[-1], self.sides[1].end)
        starts = {s.start for s in self._cut}
        went = {n.at: p for n, p in zip(nodes, points, strict=True) if n.at in starts}
        last = len(self._joints) - 1
        corners = (
            tuple(n.at for n in nodes if n.corner == 0),
            tuple(n.at for n in reversed(nodes) if n.corner == last),
        )
        return RunDone(tuple(threads), went, self._joints, corners)

    def _mitre(self, node: _Node, p: Point, q: Point) -> list[Thread]:
        """The hem's part of a corner that was cut; nothing where there is none."""
        return [] if p == q else [self.views.cut[node.place.index].carrying(Line(p, q))]

    @cached_property
    def _cut(self) -> Chain:
        return chain_of(self.views.cut)

    @cached_property
    def _runs(self) -> tuple[tuple[Segment, ...], tuple[Segment, ...]]:
        """The hem run before and after, without the notches of its darts."""
        old = without_notches(self.views.old_run.segments, self.mouths[0])
        new = without_notches(self.views.new_run.segments, self.mouths[1])
        return old, new

    @cached_property
    def _parts(self) -> tuple[tuple[Chain, Chain], ...]:
        """The run's smooth stretches, each before and after."""
        old, new = self._runs
        breaks = [
            k
            for k in range(1, len(old))
            if abs(old[k - 1].tangent(1.0).angle_to(old[k].tangent(0.0))) > SMOOTH
        ]
        starts = {s.start: k for k, s in enumerate(new)}
        went = [starts.get(self.views.joints.get(old[k].start, old[k].start)) for k in breaks]
        # Coarse steps of a rounding that was trimmed off are gone with it, at the ends only.
        found = [k for k, n in enumerate(went) if n is not None]
        if found and None in went[found[0] : found[-1]]:
            raise NoMatchError("cannot be followed round the corners of the hem")
        left = [(k, n) for k, n in zip(breaks, went, strict=True) if n is not None]
        stops = [0, *(k for k, _ in left), len(old)]
        new_stops = [0, *(n for _, n in left), len(new)]
        if sorted(set(new_stops)) != new_stops:
            raise NoMatchError("cannot be followed round the corners of the hem")
        return tuple(
            (Chain(old[a:b]), Chain(new[c:d]))
            for (a, b), (c, d) in zip(pairwise(stops), pairwise(new_stops), strict=True)
        )

    @cached_property
    def _stretches(self) -> tuple[_Stretch, ...]:
        sign = self.views.sign
        return tuple(
            _Stretch(Base(a, sign), Base(b, sign), paired(a, b, self.views.joints))
            for a, b in self._parts
        )

    @cached_property
    def _joints(self) -> tuple[Joint, ...]:
        meetings = [self._meetings(k) for k in range(len(self._parts) + 1)]
        last = len(meetings) - 1
        out = []
        for k, (old, new) in enumerate(meetings):
            before = self.places[0] if k == 0 else None
            found = joint(self._cut, old, new, before=before)
            if k == last:
                found = Joint(old, new, found.before, self.places[1])
            out.append(found)
        return tuple(out)

    def _meetings(self, k: int) -> tuple[Meeting, Meeting]:
        """Joint k of the run before and after; the first and the last are the taper points."""
        first, last = self.views.seams
        sign = self.views.sign
        pair = []
        for now in (0, 1):
            parts = [p[now] for p in self._parts]
            coming = parts[k - 1].segments[-1].tangent(1.0)
            leaving = parts[k % len(parts)].segments[0].tangent(0.0)
            at = parts[k].start if k < len(parts) else parts[-1].end
            if k == 0:
                coming = (first.old_down, first.new_down)[now]
            if k == len(parts):
                leaving = -(last.old_down, last.new_down)[now]
            pair.append(Meeting(at, coming, leaving, sign))
        return pair[0], pair[1]

    def _nodes(self) -> list[_Node]:
        """All old joints and places across, in order, each with where it belongs."""
        bounds = [(j.before, j.after) for j in self._joints]
        flat = [place for pair in bounds for place in pair]
        if any(b < a for a, b in pairwise(flat)):
            raise NoMatchError("does not go round the hem's corners in their order")
        places = {*flat, *(Place(k, 0.0) for k in range(len(self._cut)))}
        # A corner that was cut takes the place of all that went round it.
        first = bounds[0][0 if self.sides[0].hem is None else 1]
        last = bounds[-1][1 if self.sides[1].hem is None else 0]
        inside = sorted(p for p in places if first <= p <= last)
        return [self._node(p, bounds) for p in inside]

    def _node(self, place: Place, bounds: Sequence[tuple[Place, Place]]) -> _Node:
        at = self._cut.at(place)
        last = len(bounds) - 1
        corner = next((k for k, (a, b) in enumerate(bounds) if a < place < b), None)
        if corner is not None:
            return _Node(place, at, corner, {})
        spots = {}
        for k, stretch in enumerate(self._stretches):
            start, end = bounds[k][1], bounds[k + 1][0]
            if start <= place <= end:
                spots[k] = self._spot(stretch, at, place == start, place == end)
        if len(spots) == 2:
            k = max(spots)
            hollow = 0 < k < last and self._joints[k].old.turn < -SMOOTH
            if hollow:
                spots = {n: self._stretches[n].spot(at) for n in spots}
                return _Node(place, at, k, spots)
        return _Node(place, at, None, spots)

    def _needed(self, nodes: Sequence[_Node]) -> list[_Node]:
        """The nodes without those that lie within a line that stays one: straight across
        from the end of an edge it may go on a little, or, at a blunt corner, end before."""
        inner = zip(nodes, nodes[1:], nodes[2:], strict=False)
        kept = [n for a, n, b in inner if n.place.t == 0.0 or not self._one_line(a, n, b)]
        return [nodes[0], *kept, nodes[-1]]

    def _one_line(self, a: _Node, node: _Node, b: _Node) -> bool:
        if not isinstance(self._cut.segments[node.place.index], Line):
            return False
        return not any(self._became_curved(*pair) for pair in ((a, node), (node, b)))

    def _became_curved(self, a: _Node, b: _Node) -> bool:
        return any(
            self._stretches[k].became_curved(a.spots[k], b.spots[k])
            for k in a.spots.keys() & b.spots.keys()
        )

    def _spot(self, stretch: _Stretch, at: Point, starts: bool, ends: bool) -> Spot:
        return stretch.spot(at, at_end=0.0 if starts else 1.0 if ends else None)

    def _check_order(self, nodes: Sequence[_Node]) -> None:
        dented = bool(self.mouths[0])
        for k in range(len(self._stretches)):
            spots = [n.spots[k] for n in nodes if k in n.spots]
            for a, b in pairwise(spots):
                if b.length < a.length - ASKEW:
                    raise NoMatchError("turns back on itself beside the hem")
            for s in spots:
                outside = 0.0 < s.beside <= WIDEST_ALLOWANCE or dented
                if abs(s.along) > ASKEW or not outside:
                    raise NoMatchError("does not run beside the hem")

    def _point(self, node: _Node) -> Point:
        if node.corner is not None:
            return self._joints[node.corner].carried(node.at, self._gained(node.corner))
        for k, spot in node.spots.items():
            return self._stretches[k].new.point(spot)
        return node.at

    def _gained(self, corner: int) -> tuple[Gain, Gain]:
        """What the allowances of both edges of a corner gained: only a seam's does."""
        first = last = NO_GAIN
        if corner == 0:
            first = _gain(self.sides[0])
        if corner == len(self._joints) - 1:
            last = _gain(self.sides[1])
        return first, last

    def _drawn(self, a: _Node, b: _Node, p: Point, q: Point) -> Iterator[Thread]:
        """The old line between two nodes, drawn anew from p to q."""
        if p == q:
            return
        thread = self.views.cut[a.place.index]
        old = thread.segment
        if isinstance(old, Line) and not self._became_curved(a, b):
            yield thread.carrying(Line(p, q))
            return
        shared = a.spots.keys() & b.spots.keys()
        if shared:
            k = min(shared)
            line = Beside(self._stretches[k].new, a.spots[k], b.spots[k])
            for cubic in cubics_beside(line, p, q):
                yield thread.carrying(cubic)
            return
        part = old.part(a.place.t, b.place.t if b.place.index == a.place.index else 1.0)
        corner = next(j for n in (a, b) for j in self._corners_at(n))
        gained = self._gained(corner)
        moved = Cubic(*(self._joints[corner].carried(c, gained) for c in part.controls))
        yield thread.carrying(with_ends(moved, p, q))

    def _corners_at(self, node: _Node) -> Iterator[int]:
        if node.corner is not None:
            yield node.corner
        for k, j in enumerate(self._joints):
            if node.place in (j.before, j.after):
                yield k


def _curved(chain: Chain, start: float, end: float) -> bool:
    """Is any of the chain between two lengths along it a curve?"""
    spans = zip(chain.segments, pairwise(chain.lengths_before), strict=True)
    return any(
        isinstance(s, Cubic) and min(b, end) - max(a, start) > LEAST_PART for s, (a, b) in spans
    )


def _settled(points: list[Point]) -> list[Point]:
    """The same points; those that are one up to rounding are one exactly, ends first."""
    out = points[:1]
    for p in points[1:-1]:
        out.append(out[-1] if p.distance(out[-1]) < SAME else p)
    last = points[-1]
    return [*(last if p.distance(last) < SAME else p for p in out), last]


def _gain(side: SideDone) -> Gain:
    return Gain(side.new - side.old - side.past, side.slope)
