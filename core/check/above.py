"""Is everything above the taper points the very same: same segments, same order?"""

from __future__ import annotations

from collections.abc import Sequence

from core.alter.strand import open_at_tapers
from core.curve import Line, Point, Segment
from core.piece.model import HemRun, Outline

# The end of a seam that was cut or carried on lies on the longer one within this (mm).
ON_SEAM = 1e-6


def first_changed(
    before: Outline, hem: HemRun, after: Outline, new_hem: HemRun, *, longer: bool
) -> Point | None:
    """The first point above the taper points that is not as it was; None when all is.

    Made longer, the old line must stand whole in the new one; made shorter, the new in the
    old. Only its two last segments may differ, as the longer and the shorter part of one.
    """
    old = tuple(t.segment for t in open_at_tapers(before, hem)[0])
    new = tuple(t.segment for t in open_at_tapers(after, new_hem)[0])
    whole, part = (new, old) if longer else (old, new)
    if len(part) > len(whole):
        return new[0].start
    faults = [_fault(whole[k : k + len(part)], part) for k in range(len(whole) - len(part) + 1)]
    furthest = max(len(part) if f is None else f for f in faults)
    return None if furthest == len(part) else part[furthest].start


def _fault(whole: Sequence[Segment], part: Sequence[Segment]) -> int | None:
    """Number of the first segment that is not the same; None when all are."""
    last = len(part) - 1
    for k, (a, b) in enumerate(zip(whole, part, strict=True)):
        if a == b or (k == 0 and _is_end(a, b, at_start=True)):
            continue
        if k == last and _is_end(a, b, at_start=False):
            continue
        return k
    return None


def _is_end(whole: Segment, part: Segment, *, at_start: bool) -> bool:
    """Is `part` what is left of `whole` when its free end was cut or not yet carried on?"""
    if isinstance(whole, Line) is not isinstance(part, Line):
        return False
    kept = part.end == whole.end if at_start else part.start == whole.start
    middle = part.at(0.5)
    free = part.start if at_start else part.end
    return kept and max(whole.nearest(p).distance for p in (middle, free)) <= ON_SEAM
