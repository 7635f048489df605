"""Undoing a split: two cubics that are parts of one become that one again."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from core.curve.cubic import Cubic

# Two cubics count as parts of one when splitting the one gives them back within this (mm).
SAME = 1e-6


# The hem of a piece is looked at anew in every frame of a drag.
@lru_cache(maxsize=4096)
def merged(a: Cubic, b: Cubic) -> tuple[Cubic, float] | None:
    """The cubic of which `a` then `b` are the parts, and the t of the split; None if none is."""
    before, after = (a.end - a.c2).norm, (b.c1 - b.start).norm
    if before <= 0.0 or after <= 0.0:
        return None
    t = before / (before + after)
    whole = Cubic(
        a.start,
        a.start.moved(a.c1 - a.start, 1.0 / t),
        b.end.moved(b.c2 - b.end, 1.0 / (1.0 - t)),
        b.end,
    )
    parts = whole.split(t)
    off = max(
        p.distance(q)
        for mine, theirs in zip(parts, (a, b), strict=True)
        for p, q in zip(mine.controls, theirs.controls, strict=True)
    )
    return (whole, t) if off <= SAME else None


def leading_whole(cubics: Sequence[Cubic]) -> tuple[Cubic, tuple[float, ...]]:
    """The cubic of which as many leading `cubics` as possible are parts.

    With it the t of each split inside it, rising: one less than the cubics it covers.
    """
    whole = cubics[0]
    splits: tuple[float, ...] = ()
    for c in cubics[1:]:
        found = merged(whole, c)
        if found is None:
            break
        whole, t = found
        splits = (*(s * t for s in splits), t)
    return whole, splits


def split_at(whole: Cubic, splits: Sequence[float]) -> tuple[Cubic, ...]:
    """The parts of `whole` between the rising `splits`."""
    parts, done = [], 0.0
    rest = whole
    for t in splits:
        part, rest = rest.split((t - done) / (1.0 - done))
        parts.append(part)
        done = t
    return (*parts, rest)


def joined_at(parts: Sequence[Cubic], splits: Sequence[float]) -> Cubic:
    """The cubic that `split_at` the same rising `splits` gives back as `parts`."""
    first, last = parts[0], parts[-1]
    if not splits:
        return first
    return Cubic(
        first.start,
        first.start.moved(first.c1 - first.start, 1.0 / splits[0]),
        last.end.moved(last.c2 - last.end, 1.0 / (1.0 - splits[-1])),
        last.end,
    )
