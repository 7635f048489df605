"""Where a level cuts an outline: the gaps between what stays and what moves."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

from core.alter.level.climb import settled
from core.alter.level.model import Level, Part
from core.curve import Place, Ring, Segment
from core.errors import AlterationError

# A crossing this near (mm) to a joint is the joint.
AT_JOINT = 1e-6


@dataclass(frozen=True, slots=True)
class Gap:
    """In ring order the end of one kept part and the start of the next.

    `down` when the first stays and the second moves. `first` and `last` are the same place
    when nothing is folded out.
    """

    first: Place
    last: Place
    down: bool


@dataclass(frozen=True, slots=True)
class Bit:
    """The part of segment `index` from `t0` to `t1`, all of it on one part of the piece."""

    index: int
    t0: float
    t1: float
    part: Part


def gaps(ring: Ring, level: Level) -> tuple[Gap, ...]:
    """All gaps of a ring, in order. AlterationError when it goes into the part that is
    folded out and comes back on the same side."""
    bits = [b for k, s in enumerate(ring) for b in bits_of(level, s, k)]
    kept = [b for b in bits if b.part is not Part.REMOVED]
    found = []
    for before, after in zip((kept[-1], *kept), kept, strict=False):
        first = settled(ring, Place(before.index, before.t1))
        last = settled(ring, Place(after.index, after.t0))
        if before.part is after.part:
            if first != last:
                raise AlterationError(
                    "the outline turns back within the part to be folded out."
                    " Choose another line, or fold out less."
                )
            continue
        found.append(Gap(first, last, before.part is Part.STAYS))
    return tuple(found)


def bits_of(level: Level, segment: Segment, index: int) -> Iterator[Bit]:
    """The segment parted at the level (and at the end of what is folded out)."""
    for a, b in itertools.pairwise((0.0, *_cuts(level, segment), 1.0)):
        yield Bit(index, a, b, _part(level, segment, a, b))


def _cuts(level: Level, s: Segment) -> tuple[float, ...]:
    across = level.frame.across
    met = {
        t
        for height in {level.height, level.floor}
        for t in s.meets(level.on(height), across)
        if min(s.at(t).distance(s.start), s.at(t).distance(s.end)) > AT_JOINT
    }
    return tuple(sorted(met))


def _part(level: Level, s: Segment, a: float, b: float) -> Part:
    """The part of a bit that crosses no cut, told where it is farthest from them all."""
    heights = [level.frame.height(s.at(a + (b - a) * share)) for share in (0.25, 0.5, 0.75)]
    cuts = (level.height, level.floor)
    return level.part_at(max(heights, key=lambda h: min(abs(h - c) for c in cuts)))
