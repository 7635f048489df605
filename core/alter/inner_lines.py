"""Open lines inside a piece: left, moved, carried on to the new hem, or cut back to it."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from core.alter.refit import run_map
from core.alter.strand import Strand
from core.alter.zones import ON_EDGE, Zone, Zones
from core.curve import Affine, Chain, Cubic, Line, Place, Point, Segment
from core.curve.ends import with_ends
from core.piece.model import Mark

# An end within this (mm) of a line lies on it.
TOUCHES = 1.0
# A line from seam to seam within this (mm) of the hem is a fold or stitching of the hem.
HEM_REACH = 80.0
# ... if its distance to the hem differs by no more than this (mm) from end to end.
HEM_EVEN = 4.0
# Less than this (mm) of a line is not worth keeping.
SLIVER = 1.0
# Sampling for finding where an inner line leaves the piece; the place is then bisected.
SAMPLES = 64


def alter_inner_line(zones: Zones, mark: Mark) -> Mark | None:
    """The line after the change; None when all of it lay in the part that was taken away."""
    chain = mark.geometry
    if not isinstance(chain, Chain):
        raise TypeError("an inner line is an open chain")
    hem_line = _hem_line(zones, chain)
    if hem_line is not None:
        return replace(mark, geometry=hem_line)
    found = {zones.of(s.at(t)) for s in chain for t in (0.0, 0.5, 1.0)}
    if found == {Zone.ABOVE}:
        return mark
    if found == {Zone.HEM}:
        return replace(mark, geometry=_in_hem(zones, chain))
    if found == {Zone.REMOVED}:
        return None
    if zones.drop_at(chain.bounds().centre) > 0.0:
        return replace(mark, geometry=_carried_down(zones, chain))
    return _cut_back(zones, mark, chain)


def _hem_line(zones: Zones, chain: Chain) -> Chain | None:
    """A line from seam to seam a little above the hem follows it, ending on the new seams."""
    old, new = zones.done.old, zones.done.new
    seams = [s.strand for s in zones.done.seams]
    ends = (chain.start, chain.end)
    if zones.share(ends[0]) > zones.share(ends[1]):
        ends = (chain.end, chain.start)
    heights = [
        zones.frame.height(t) - zones.frame.height(e)
        for t, e in zip((old.first, old.last), ends, strict=True)
    ]
    near = all(0.0 < h < HEM_REACH for h in heights)
    even = abs(heights[0] - heights[1]) < HEM_EVEN
    # Of a great many loose lines hardly any is near, so what costs most is asked last.
    if not (near and even and all(zones.on_seam(e) for e in ends)):
        return None
    targets = [
        _at_height(seam, zones, zones.frame.height(t) - h)
        for seam, t, h in zip(seams, (new.first, new.last), heights, strict=True)
    ]
    if targets[0] is None or targets[1] is None:
        return None
    before = replace(old, first=ends[0], last=ends[1])
    after = replace(new, first=targets[0], last=targets[1])
    return chain.mapped(run_map(zones.frame, before, after, ()).pieces[0])


def _at_height(seam: Strand, zones: Zones, level: float) -> Point | None:
    """The lowest point of a seam at a height."""
    origin = Point(0.0, 0.0).moved(zones.frame.down, level)
    for thread in reversed(seam):
        found = thread.segment.meets(origin, zones.frame.across)
        if found:
            return thread.segment.at(found[-1])
    return None


def _in_hem(zones: Zones, chain: Chain) -> Chain:
    """A line of the hem: redrawn with it when it ends on the outline, else moved whole."""
    if all(zones.old_run.nearest(p).distance < TOUCHES for p in (chain.start, chain.end)):
        return each_point(chain, zones.carried_point)
    centre = chain.bounds().centre
    step = zones.carried_point(centre) - centre
    return chain.mapped(Affine.move(step.x, step.y))


def each_point(chain: Chain, move: Callable[[Point], Point]) -> Chain:
    """The chain with each of its points and handles moved by itself."""
    return type(chain)(tuple(_point_by_point(s, move) for s in chain))


def _point_by_point(s: Segment, move: Callable[[Point], Point]) -> Segment:
    if isinstance(s, Line):
        return Line(move(s.start), move(s.end))
    return Cubic(move(s.start), move(s.c1), move(s.c2), move(s.end))


def _carried_down(zones: Zones, chain: Chain) -> Chain:
    """A line that runs into the hem grows with the piece; ends that lay on the hem still do."""

    def move(p: Point) -> Point:
        if zones.of(p) is not Zone.HEM:
            return p
        if min(p.distance(zones.done.old.first), p.distance(zones.done.old.last)) < TOUCHES:
            return zones.carried_point(p)
        return p.moved(zones.frame.down, zones.drop_at(p))

    grown = each_point(chain, move)
    first = _end_on_hem(zones, chain.segments[0].reversed(), grown.start)
    last = _end_on_hem(zones, chain.segments[-1], grown.end)
    segments = list(grown.segments)
    segments[0] = with_ends(segments[0], first, segments[0].end)
    segments[-1] = with_ends(segments[-1], segments[-1].start, last)
    return Chain(tuple(segments))


def _end_on_hem(zones: Zones, segment: Segment, moved: Point) -> Point:
    """Where a line that ended on the hem meets the new hem; else where it was moved.

    A straight line goes straight on; the end of a curve goes down the grain.
    """
    on_hem = zones.old_run.nearest(segment.end).distance < TOUCHES
    if not (on_hem and zones.of(segment.start) is Zone.ABOVE):
        return moved
    straight = isinstance(segment, Line)
    origin, way = (segment.start, segment.tangent(1.0)) if straight else (moved, zones.frame.down)
    run = zones.new_run
    met = [run.at(p) for p in run.meets(origin, way)]
    return min(met, key=lambda p: p.distance(moved), default=moved)


def _cut_back(zones: Zones, mark: Mark, chain: Chain) -> Mark | None:
    """The longest part of a line that stays on the piece, cut at the new hem."""
    left = stretches_left(zones, chain)
    if not left:
        return None
    kept = max(left, key=lambda stretch: stretch.chain.length())
    if kept.chain == chain:
        return mark
    return replace(mark, geometry=kept.chain, numbers=kept.numbers)


@dataclass(frozen=True)
class Stretch:
    """A part of a line, and which of its segments it is made of."""

    chain: Chain
    numbers: tuple[int, ...]


def stretches_left(zones: Zones, chain: Chain) -> list[Stretch]:
    """What of a line is not beyond the new hem, in order; slivers left out."""
    places = [Place(0, 0.0), *_crossings(zones, chain), Place(len(chain) - 1, 1.0)]
    on_piece = not zones.beyond_new_hem(chain.start)
    found = []
    for a, b in itertools.pairwise(places):
        if on_piece and a < b:
            found.append(stretch(chain, a, b))
        on_piece = not on_piece
    return [s for s in found if s.chain.length() > SLIVER]


def stretch(chain: Chain, a: Place, b: Place) -> Stretch:
    """The part of a line between two places."""
    part = chain if (a, b) == (Place(0, 0.0), Place(len(chain) - 1, 1.0)) else chain.part(a, b)
    first = a.index + (1 if a.t >= 1.0 else 0)
    return Stretch(part, tuple(range(first, first + len(part))))


def _crossings(zones: Zones, chain: Chain) -> Iterator[Place]:
    """Where a line goes out over the new hem and where it comes in again, in order."""
    outside = zones.beyond_new_hem(chain.start)
    for k, s in enumerate(chain):
        ts = np.linspace(0.0, 1.0, SAMPLES + 1)
        for a, b in itertools.pairwise(ts):
            if zones.beyond_new_hem(s.at(float(b))) is not outside:
                yield Place(k, _bisect(zones, s, float(a), float(b), outside=outside))
                outside = not outside


def _bisect(zones: Zones, s: Segment, before: float, after: float, *, outside: bool) -> float:
    """Where it crosses, on the side that lies on the piece."""
    on_piece = s.at(after if outside else before)
    slack = ON_EDGE if zones.beyond_new_hem(on_piece, slack=0.0) else 0.0
    for _ in range(50):
        t = (before + after) / 2
        same = zones.beyond_new_hem(s.at(t), slack=slack) is outside
        before, after = (t, after) if same else (before, t)
    return after if outside else before
