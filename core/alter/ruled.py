"""Straight lines that were drawn as curves: handled as lines, and drawn as they were."""

from __future__ import annotations

from core.alter.strand import Strand, Thread
from core.curve import Cubic, Line, Point

# A curve whose handles lie this near (mm) to its chord is a straight line.
ON_CHORD = 0.01


def ruled(strand: Strand) -> Strand:
    """The strand with lines for the curves in it that are straight."""
    return tuple(t.carrying(_line(t.segment)) if _is_straight(t) else t for t in strand)


def drawn_as(strand: Strand, before: Strand) -> Strand:
    """The strand with its lines drawn as curves again that were curves `before`."""
    curved = {t.number for t in before if _is_straight(t)}
    return tuple(
        t.carrying(_cubic(t.segment)) if t.number in curved and isinstance(t.segment, Line) else t
        for t in strand
    )


def _is_straight(thread: Thread) -> bool:
    s = thread.segment
    if not isinstance(s, Cubic) or s.start == s.end:
        return False
    way = (s.end - s.start).unit()
    shares = [(c - s.start).dot(way) for c in s.controls]
    return shares == sorted(shares) and all(
        abs((c - s.start).cross(way)) <= ON_CHORD for c in s.controls
    )


def _line(s: Line | Cubic) -> Line:
    return Line(s.start, s.end)


def _cubic(s: Line | Cubic) -> Cubic:
    def at(share: float) -> Point:
        return s.start.towards(s.end, share)

    return Cubic(s.start, at(1.0 / 3.0), at(2.0 / 3.0), s.end)
