"""One outline changed at a level: what stays, what moves, and the seams trued between them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from core.alter.level.climb import between, settled, stretch
from core.alter.level.darts import Leg
from core.alter.level.gaps import Gap, gaps
from core.alter.level.model import Level, Part, Truing
from core.alter.level.true_seams import Seams, Span, redrawn
from core.alter.strand import Strand, Thread, close
from core.curve import Affine, Chain, Place, Point, Ring
from core.piece.model import HemRun, Outline, Taper


@dataclass(frozen=True)
class Relaid:
    """An outline before and after, and the stretches of it that were drawn anew."""

    before: Ring
    outline: Outline
    level: Level
    spans: tuple[Span, ...]
    drawn: tuple[Chain, ...]

    @cached_property
    def _starts(self) -> dict[Point, int]:
        return {s.start: k for k, s in enumerate(self.outline.ring)}

    @cached_property
    def _ends(self) -> dict[Place, Point]:
        """Where the ends of the redrawn stretches went."""
        ends = {s.first: s.start for s in self.spans}
        return ends | {s.last: s.end for s in self.spans}

    def span_at(self, place: Place) -> int | None:
        """The number of the redrawn stretch inside which a place of the old ring lies."""
        for k, span in enumerate(self.spans):
            if between(self.before, place, span.first, span.last):
                return k
        return None

    def point(self, place: Place) -> Point:
        """Where a point of the old ring went. In a redrawn stretch: at the height to which
        it goes, on the new seam."""
        place = settled(self.before, place)
        if place in self._ends:
            return self._ends[place]
        old = self.before.at(place)
        k = self.span_at(place)
        if k is None:
            return old + self.level.step if self._moves(place) else old
        new, target = self.drawn[k], self.level.point(old)
        met = [new.at(p) for p in new.meets(target, self.level.frame.across)]
        return min(met, key=target.distance, default=new.nearest(target).point)

    def _moves(self, place: Place) -> bool:
        """Does a place that is not redrawn lie below the level? A kept part that only touches
        the level stays whole, so its height does not tell."""
        following = (*self.spans[1:], self.spans[0])
        return any(
            span.down and between(self.before, place, span.last, other.first)
            for span, other in zip(self.spans, following, strict=True)
        )

    def place(self, place: Place) -> Place:
        """Where a place of the old ring went."""
        p = self.point(place)
        return (
            Place(self._starts[p], 0.0) if p in self._starts else self.outline.ring.nearest(p).place
        )

    def hem(self, hem: HemRun) -> HemRun:
        """The hem run on the new ring."""
        return HemRun(self._taper(hem.first), self._taper(hem.last))

    def _taper(self, taper: Taper) -> Taper:
        """The taper point; a seam that is redrawn up to it goes on as it now does."""
        at = settled(self.before, taper.place)
        down = taper.down
        for span, new in zip(self.spans, self.drawn, strict=True):
            if at == span.lower:
                way = new if span.down else new.reversed()
                down = way.segments[-1].tangent(1.0)
        return replace(taper, place=self.place(taper.place), down=down)


Spanning = Callable[[Seams, Gap], Span]


def relaid(
    outline: Outline,
    level: Level,
    true: Truing,
    stops: Iterable[Place],
    *,
    spanning: Spanning,
    legs: Sequence[Leg] = (),
) -> Relaid:
    """The outline with what lies below the level moved and each jog trued.

    `stops` are the places beyond which nothing is redrawn; `spanning` says what is redrawn
    around a gap; `legs` are those of darts that cross.
    """
    ring = outline.ring
    seams = Seams(ring, level, frozenset(settled(ring, p) for p in stops))
    spans = [_leg_span(leg, ring, level) for leg in legs]
    for gap in gaps(ring, level):
        if not any(_inside(ring, gap, leg) for leg in legs):
            spans.append(spanning(seams, gap))
    spans.sort(key=lambda s: (s.first, s.last))
    drawn = tuple(redrawn(ring, spans, k, true, seams.stops) for k in range(len(spans)))
    threads = _threads(outline, level, spans, drawn)
    return Relaid(ring, close(threads, ()), level, tuple(spans), drawn)


def _inside(ring: Ring, gap: Gap, leg: Leg) -> bool:
    if gap.first == leg.first or gap.last == leg.last:
        return True
    return between(ring, gap.first, leg.first, leg.last)


def _leg_span(leg: Leg, ring: Ring, level: Level) -> Span:
    down = level.part(ring.at(leg.first)) is Part.STAYS
    return Span(leg.first, leg.last, down, leg.start, leg.end, leg=True)


def _threads(
    outline: Outline, level: Level, spans: Sequence[Span], drawn: Sequence[Chain]
) -> Strand:
    """The new ring's threads, from the first redrawn stretch round."""
    out: list[Thread] = []
    for k, (span, chain) in enumerate(zip(spans, drawn, strict=True)):
        number = span.first.index
        out += [Thread(s, number, outline.origins[number]) for s in chain]
        following = spans[(k + 1) % len(spans)].first
        out += _kept(outline, level, span, following)
    return tuple(out)


def _kept(outline: Outline, level: Level, span: Span, end: Place) -> Iterable[Thread]:
    """The threads from a redrawn stretch to the next one, moved or as they were."""
    for k, a, b in stretch(outline.ring, span.last, end):
        segment = outline.ring.segments[k].part(a, b)
        if span.down:
            segment = segment.mapped(Affine.move(level.step.x, level.step.y))
        yield Thread(segment, k, outline.origins[k])
