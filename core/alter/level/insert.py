"""Inserting length into one piece at a level, or folding it out there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from core.alter.figures import figures
from core.alter.frame import Frame
from core.alter.level.beside import span_beside
from core.alter.level.climb import between, lowest_and_highest, settled
from core.alter.level.contours import carried_contour
from core.alter.level.darts import CarriedDart, carried, legs
from core.alter.level.gaps import Gap
from core.alter.level.marks import Carried, Setting, carry_marks
from core.alter.level.model import Level, LevelChange, Truing
from core.alter.level.refuse import refuse_crossing, refuse_folding_away, refuse_level
from core.alter.level.relay import Relaid, relaid
from core.alter.level.steps import construction
from core.alter.level.stops import Fixed, cutting_darts, cutting_stops, sewn_stops
from core.alter.level.true_seams import Asked, Seams, Span
from core.alter.model import Altered, Change, Figures, Finding, Severity
from core.alter.simple import is_simple
from core.curve import Chain, Place
from core.measure import in_cm
from core.piece.model import Dart, Edge, Piece

# A straight truing that leaves a curved seam by more than this (mm) is told.
CUTS_ACROSS = 3.0
# An apex that goes aside by more than this (mm) to keep its legs equal is told.
ASIDE = 0.5
# For comparing the old seam with the new one, in mm.
FLATTENING = 0.1


def insert_at(piece: Piece, change: LevelChange) -> Altered:
    """The piece with `change.by_mm` put in at a line square to the grain, or folded out.

    What lies above the redrawn stretches of the seams stays as it is, bit for bit; what
    lies below them moves down by `change.by_mm` along the grain, and so do the parts of
    inner lines, the marks and the darts there. When length is folded out, what lies between
    the line and as much below it is gone.

    Raises AlterationError, with the largest amount that works where there is one: the line
    does not cross the piece or runs through the mouth of a dart; a corner, a taper point, a
    dart's mouth or apex or the whole lower part would be folded away; the outline would
    cross itself.
    """
    if change.by_mm == 0.0:
        same = figures(piece, piece, (0.0, 0.0))
        return Altered(piece, piece, Change(0.0), same, (), (), change)
    frame = Frame(piece.grain.down)
    refuse_level(piece, frame, change)
    height = lowest_and_highest(piece.ring, frame)[0] + change.at_mm
    refuse_folding_away(piece, frame, height, change.by_mm)
    return _Work(piece, frame, height, change).altered()


class _Work:
    """One change of one piece; its amount can be varied to look for the largest."""

    def __init__(self, piece: Piece, frame: Frame, height: float, change: LevelChange) -> None:
        self.piece, self.frame, self.height, self.change = piece, frame, height, change
        self.stops = _places(sewn_stops(piece))
        if piece.stitching is not None:
            self.outer_stops, self.outer_darts = _places(cutting_stops(piece)), cutting_darts(piece)

    def level(self, by_mm: float) -> Level:
        return Level(self.frame, self.height, by_mm)

    def darts(self, level: Level) -> tuple[CarriedDart, ...]:
        return tuple(carried(level, d, self.piece.name) for d in self.piece.darts)

    def span(self, seams: Seams, gap: Gap) -> Span:
        """What is redrawn around a gap, as it was asked for; little where it is in the hem."""
        asked = Asked.by(self.change.blend_mm)
        sewn = seams.ring is self.piece.ring
        hem = self.piece.hem if sewn else self.piece.cutting_hem
        if hem is not None:
            first, last = (settled(seams.ring, t.place) for t in (hem.first, hem.last))
            if between(seams.ring, gap.first, first, last):
                asked = asked.in_hem()
        return seams.span(gap, asked)

    def sewn(self, level: Level) -> Relaid:
        """The line along which the piece is sewn, changed."""
        return relaid(
            self.piece.sewn,
            level,
            self.change.true,
            self.stops,
            spanning=self.span,
            legs=legs(self.piece.ring, self.darts(level)),
        )

    def outer(self, level: Level, sewn: Relaid) -> Relaid | None:
        """The cutting line around it, changed alike."""
        if self.piece.stitching is None:
            return None
        darts = tuple(carried(level, d, self.piece.name) for d in self.outer_darts)
        return relaid(
            self.piece.outline,
            level,
            self.change.true,
            self.outer_stops,
            spanning=lambda seams, gap: span_beside(seams, gap, sewn) or self.span(seams, gap),
            legs=legs(self.piece.outline.ring, darts),
        )

    def is_sound(self, sewn: Relaid, outer: Relaid | None) -> bool:
        """Do the lines not cross themselves, where they did not before?"""
        pairs = [(self.piece.ring, sewn)]
        pairs += [] if outer is None else [(self.piece.outline.ring, outer)]
        return all(is_simple(now.outline.ring) or not is_simple(was) for was, now in pairs)

    def works(self, by_mm: float) -> bool:
        """Would the lines not cross themselves with this amount?"""
        level = self.level(by_mm)
        sewn = self.sewn(level)
        return self.is_sound(sewn, self.outer(level, sewn))

    def altered(self) -> Altered:
        piece, change = self.piece, self.change
        level = self.level(change.by_mm)
        sewn, darts = self.sewn(level), self.darts(level)
        outer = self.outer(level, sewn)
        if not self.is_sound(sewn, outer):
            refuse_crossing(piece, change.by_mm, self.works)
        new = _found_again(piece, sewn, outer, darts)
        marks = carry_marks(Setting(piece, level, sewn, outer, darts, new.contours))
        new = replace(new, marks=marks.marks)
        found = () if change.preview else _findings(piece, change, sewn, darts, marks)
        findings = tuple(found)
        return Altered(
            before=piece,
            piece=new,
            change=Change(change.by_mm),
            figures=_figures(piece, new, preview=change.preview),
            steps=construction(
                piece, new, change=change, sewn=sewn, darts=darts, findings=findings
            ),
            findings=findings,
            level=change,
        )


def _places(stops: tuple[Fixed, ...]) -> tuple[Place, ...]:
    return tuple(f.place for f in stops)


def _found_again(
    piece: Piece, sewn: Relaid, outer: Relaid | None, darts: tuple[CarriedDart, ...]
) -> Piece:
    """The piece with its altered lines and every edge, dart and taper point found on them."""
    new = replace(
        piece,
        hem=None if piece.hem is None else sewn.hem(piece.hem),
        edges=tuple(_edge(sewn, e) for e in piece.edges),
        darts=tuple(_dart(sewn, d) for d in darts),
        contours=tuple(carried_contour(sewn.level, d, piece.name) for d in piece.contours),
    )
    if outer is None:
        return replace(new, outline=sewn.outline)
    hem = None if piece.cutting_hem is None else outer.hem(piece.cutting_hem)
    return replace(new, stitching=sewn.outline, outline=outer.outline, cutting_hem=hem)


def _edge(sewn: Relaid, edge: Edge) -> Edge:
    return replace(edge, start=sewn.place(edge.start), end=sewn.place(edge.end))


def _dart(sewn: Relaid, dart: CarriedDart) -> Dart:
    if dart.after.mouth_places is None:
        return dart.after
    a, b = (sewn.place(p) for p in dart.after.mouth_places)
    return replace(dart.after, mouth_places=(a, b))


def _figures(piece: Piece, new: Piece, *, preview: bool) -> Figures:
    """The figures; what the seams above the hem gained along themselves is added to them."""
    found = figures(piece, new, (0.0, 0.0))
    if piece.hem is None or preview:
        return found
    gains = [e.after_mm - e.before_mm for e in found.edges]
    first, last = (0.0 if k is None else gains[k] for k in piece.hem_seams)
    return Figures(first, last, measure=lambda: found.lengths)


def _findings(
    piece: Piece,
    change: LevelChange,
    sewn: Relaid,
    darts: tuple[CarriedDart, ...],
    marks: Carried,
) -> Iterator[Finding]:
    if not piece.grain.because.sure:
        yield Finding(Severity.LOOK, f"{piece.name}: check the grain: {piece.grain.because.why}.")
    for k, span in enumerate(sewn.spans):
        if not span.leg:
            yield from _span_findings(piece, change, sewn, k)
    for dart in darts:
        yield from _aside(piece, sewn.level, dart)
    yield from marks.findings


def _span_findings(piece: Piece, change: LevelChange, sewn: Relaid, k: int) -> Iterator[Finding]:
    span = sewn.spans[k]
    if piece.hem is not None and _in_hem(piece, span):
        yield Finding(
            Severity.LOOK,
            f"{piece.name}: the line runs through the shape of the hem, which is redrawn there."
            " Choose a line above it.",
            span.start,
        )
    off = _cut_across(sewn, k) if change.true is Truing.STRAIGHT else 0.0
    if off > CUTS_ACROSS:
        yield Finding(
            Severity.LOOK,
            f"{piece.name}: a curved seam was trued straight and lies up to {in_cm(off)} beside"
            " its old shape. True it smoothly, or over less.",
            span.start.towards(span.end, 0.5),
        )


def _in_hem(piece: Piece, span: Span) -> bool:
    assert piece.hem is not None
    first, last = (settled(piece.ring, t.place) for t in (piece.hem.first, piece.hem.last))
    run = piece.ring.run(first, last)
    middle = piece.ring.run(span.first, span.last)
    return run.nearest(middle.at(middle.at_length(middle.length() / 2))).distance < FLATTENING


def _cut_across(sewn: Relaid, k: int) -> float:
    """How far the old seam bends away from the straight line between its ends, in mm."""
    span = sewn.spans[k]
    old = sewn.before.run(span.first, span.last)
    chord = Chain.through((old.start, old.end))
    return max(chord.nearest(s.at(t)).distance for s in old for t in (0.0, 0.25, 0.5, 0.75))


def _aside(piece: Piece, level: Level, dart: CarriedDart) -> Iterator[Finding]:
    way = (dart.after.apex - dart.before.apex).dot(level.frame.across)
    if abs(way) > ASIDE:
        yield Finding(
            Severity.NOTE,
            f"{piece.name}: the apex of the dart in the {dart.before.on.value} went"
            f" {in_cm(abs(way), decimals=2)} aside, so that its legs stay equal.",
            dart.after.apex,
        )
