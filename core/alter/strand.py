"""An outline taken apart at its taper points, and put together again.

A strand is a run of outline segments that remember where in the outline, and where in
the file, they came from. An alteration keeps, replaces, drops and adds strands' threads;
closing them gives an outline that starts where the old one started.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.curve import Chain, Place, Ring, Segment
from core.piece.model import HemRun, Origin, Outline


@dataclass(frozen=True, slots=True)
class Thread:
    """A segment, its number in the old ring, and where it was drawn."""

    segment: Segment
    number: int
    origin: Origin

    def carrying(self, segment: Segment) -> Thread:
        """Another segment that belongs to the same place in the outline."""
        return Thread(segment, self.number, self.origin)


Strand = tuple[Thread, ...]


def chain_of(strand: Strand) -> Chain:
    return Chain(tuple(t.segment for t in strand))


def backwards(strand: Strand) -> Strand:
    """The same threads the other way round, each segment reversed."""
    return tuple(t.carrying(t.segment.reversed()) for t in reversed(strand))


def open_at_tapers(outline: Outline, hem: HemRun) -> tuple[Strand, Strand]:
    """(upper, run): from the last taper point over the top to the first; and the hem run."""
    threads = tuple(
        Thread(segment, k, origin)
        for k, (segment, origin) in enumerate(zip(outline.ring, outline.origins, strict=True))
    )
    first, last = hem.first.place, hem.last.place
    if first < last:
        head, rest = _cut(threads, last)
        top, run = _cut(head, first)
        return rest + top, run
    head, rest = _cut(threads, first)
    run_end, upper = _cut(head, last)
    return upper, rest + run_end


def _cut(strand: Strand, place: Place) -> tuple[Strand, Strand]:
    """The threads before and after a place of the old ring."""
    before = tuple(t for t in strand if t.number < place.index)
    after = tuple(t for t in strand if t.number > place.index)
    (at,) = (t for t in strand if t.number == place.index)
    if place.t <= 0.0:
        return before, (at, *after)
    if place.t >= 1.0:
        return (*before, at), after
    left, right = at.segment.split(place.t)
    return (*before, at.carrying(left)), (at.carrying(right), *after)


def close(upper: Strand, run: Strand) -> Outline:
    """The ring of both strands, starting with what is left of the old ring's beginning."""
    threads = upper + run
    size = len(threads)
    starts = [k for k in range(size) if threads[k - 1].number > threads[k].number]
    k = starts[0] if starts else 0
    turned = threads[k:] + threads[:k]
    return Outline(Ring(tuple(t.segment for t in turned)), tuple(t.origin for t in turned))
