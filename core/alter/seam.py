"""Carrying a seam on past its taper point, or finding a new end further up on it.

Here a seam is a strand that runs *down* its fit line to the taper point, whichever way
round the outline goes.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from core.alter.frame import Frame
from core.alter.strand import Strand
from core.curve import Line, Point, Segment, Vector
from core.piece.direction import end_direction

# The fit line stops where the outline turns by more than this (radians): there is a corner.
CORNER = math.radians(20.0)
# A last straight stretch that points along the taper within this is simply made longer.
SAME_DIRECTION = 1e-9
# Anything shorter than this (mm) is rounding, not a piece of seam.
SLIVER = 1e-7


@dataclass(frozen=True)
class SeamEnd:
    """A seam with its new end: strand, new taper point, direction down, and what was added.

    ``added_mm`` is measured along the seam; negative where it was cut back, from ``whole``.
    """

    strand: Strand
    end: Point
    down: Vector
    added_mm: float
    whole: Strand = ()


def fit_lines(upper: Strand, frame: Frame) -> tuple[int, int]:
    """How many threads at the start and at the end of `upper` are fit line.

    `upper` runs from the last taper point over the top to the first: its start climbs one
    seam, its end descends the other.
    """
    climbing = _climb((t.segment for t in upper), frame)
    descending = _climb((t.segment.reversed() for t in reversed(upper)), frame)
    return climbing, min(descending, len(upper) - climbing)


def _climb(segments: Iterable[Segment], frame: Frame) -> int:
    """How many of the segments, from a taper point up, belong to one smooth rising line."""
    count, before = 0, None
    for s in segments:
        if before is not None and abs(before.tangent(1.0).angle_to(s.tangent(0.0))) > CORNER:
            break
        if frame.height(s.end) >= frame.height(s.start):
            break
        count, before = count + 1, s
    return count


def drop_available(seam: Strand, frame: Frame) -> float:
    """How far up along the grain the fit line reaches, in mm."""
    if not seam:
        return 0.0
    return frame.height(seam[-1].segment.end) - frame.height(seam[0].segment.start)


def length_available(seam: Strand) -> float:
    """Length of the fit line in mm."""
    return sum(t.segment.length() for t in seam)


def carry_on(seam: Strand, down: Vector, length: float) -> SeamEnd:
    """The seam carried straight on by `length` mm along `down`, as with a ruler."""
    last = seam[-1]
    if length < SLIVER:
        return SeamEnd(seam, last.segment.end, down, 0.0)
    end = last.segment.end.moved(down, length)
    grows = isinstance(last.segment, Line) and (
        abs(last.segment.tangent(1.0).cross(down)) < SAME_DIRECTION
    )
    if grows:
        grown = (*seam[:-1], last.carrying(Line(last.segment.start, end)))
    else:
        grown = (*seam, last.carrying(Line(last.segment.end, end)))
    return SeamEnd(grown, end, down, length)


def cut_back_by_drop(seam: Strand, frame: Frame, drop: float) -> SeamEnd:
    """The seam ended where its fit line lies `drop` mm (along the grain) above its old end."""
    level = frame.height(seam[-1].segment.end) - drop
    origin = Point(0.0, 0.0).moved(frame.down, level)
    k = next(k for k in reversed(range(len(seam))) if _starts_above(seam, k, frame, level))
    crossings = seam[k].segment.meets(origin, frame.across)
    return _ended(seam, k, crossings[-1] if crossings else 0.0)


def _starts_above(seam: Strand, k: int, frame: Frame, level: float) -> bool:
    return k == 0 or frame.height(seam[k].segment.start) <= level


def cut_back_by_length(seam: Strand, length: float) -> SeamEnd:
    """The seam ended `length` mm, along itself, before its old end."""
    k, rest = len(seam) - 1, length
    while k > 0 and rest > seam[k].segment.length():
        rest -= seam[k].segment.length()
        k -= 1
    segment = seam[k].segment
    return _ended(seam, k, segment.at_length(segment.length() - rest))


def _ended(seam: Strand, k: int, t: float) -> SeamEnd:
    """The seam without what lies beyond t of its thread k."""
    segment = seam[k].segment
    kept_length = segment.length_to(t)
    removed = segment.length() - kept_length + length_available(seam[k + 1 :])
    if kept_length < SLIVER and k > 0:
        kept = seam[:k]
    elif segment.length() - kept_length < SLIVER:
        kept = seam[: k + 1]
    else:
        kept = (*seam[:k], seam[k].carrying(segment.part(0.0, t)))
    down = end_direction([thread.segment for thread in kept])
    return SeamEnd(kept, kept[-1].segment.end, down, -removed, seam)
