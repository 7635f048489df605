"""The cutting line goes by the sewing line: it is redrawn where that one is, beside it."""

from __future__ import annotations

from dataclasses import replace

from core.alter.level.climb import next_break
from core.alter.level.gaps import Gap
from core.alter.level.relay import Relaid
from core.alter.level.true_seams import Seams, Span
from core.curve import Chain, Cubic, Line, Place, Point, Segment
from core.curve.ends import with_ends
from core.piece.cutting import WIDEST_ALLOWANCE

# A curve is laid beside another in so many parts; four keep an allowance of 1 cm within 0.06 mm
# even where the seam is a crotch curve.
PARTS = 4


def span_beside(cutting: Seams, gap: Gap, sewn: Relaid) -> Span | None:
    """The stretch of the cutting line around a gap, drawn beside the redrawn seam there.

    At both its ends it keeps the allowance that the old lines have there. None when no
    redrawn seam lies beside the gap.
    """
    at = cutting.ring.at(gap.first)
    found = [k for k, s in enumerate(sewn.spans) if not s.leg]
    k = min(found, key=lambda k: _distance(sewn, sewn.spans[k], at), default=None)
    if k is None or _distance(sewn, sewn.spans[k], at) > WIDEST_ALLOWANCE:
        return None
    near, seam = sewn.spans[k], sewn.drawn[k]
    ends = (near.first, near.last)
    if near.down is not gap.down:
        ends, seam = (near.last, near.first), seam.reversed()
    first = _beside(cutting, gap.first, sewn.before.at(ends[0]), forward=False)
    last = _beside(cutting, gap.last, sewn.before.at(ends[1]), forward=True)
    span = cutting.from_to(first, last, down=gap.down)
    return replace(span, drawn=_laid_beside(seam, span.start, span.end))


def _distance(sewn: Relaid, span: Span, p: Point) -> float:
    """From p to the stretch of the old sewing line that is redrawn, in mm."""
    return sewn.before.run(span.first, span.last).nearest(p).distance


def _beside(cutting: Seams, start: Place, p: Point, *, forward: bool) -> Place:
    """The place of the cutting line that is nearest to a point of the sewing line."""
    ring, stop = cutting.ring, next_break(cutting.breaks, start, forward=forward)
    run = ring.run(start, stop.place) if forward else ring.run(stop.place, start)
    return cutting.settled(ring.nearest(run.nearest(p).point).place)


def _laid_beside(seam: Chain, start: Point, end: Point) -> Chain:
    """A line beside a seam, at the distance from it that `start` and `end` have."""
    parts = [p for s in seam for p in _parts(s)]
    normals = [p.tangent(0.0).square() for p in parts] + [parts[-1].tangent(1.0).square()]
    first, last = (start - seam.start).dot(normals[0]), (end - seam.end).dot(normals[-1])
    joints = [p.start for p in parts] + [seam.end]
    off = [
        joint.moved(normal, first + (last - first) * k / len(parts))
        for k, (joint, normal) in enumerate(zip(joints, normals, strict=True))
    ]
    off[0], off[-1] = start, end
    return Chain(tuple(_between(part, off[k], off[k + 1]) for k, part in enumerate(parts)))


def _parts(s: Segment) -> list[Segment]:
    if isinstance(s, Line):
        return [s]
    return [s.part(k / PARTS, (k + 1) / PARTS) for k in range(PARTS)]


def _between(part: Segment, start: Point, end: Point) -> Segment:
    """The part from `start` to `end`, its handles longer or shorter as its chord is."""
    if isinstance(part, Line):
        return with_ends(part, start, end)
    scale = start.distance(end) / part.start.distance(part.end)
    return Cubic(
        start,
        start.moved(part.c1 - part.start, scale),
        end.moved(part.c2 - part.end, scale),
        end,
    )
