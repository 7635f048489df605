"""One mark of each sort on a drawn piece, and the keys by which they are found again."""

from __future__ import annotations

from core.curve import Chain, Line, Point, Ring, Vector
from core.piece.model import Kind, Mark

DOWN = Vector(0.0, 1.0)

GRAIN_KEY, CREASE_KEY, FOLD_KEY, HEM_NOTCH_KEY, SEAM_NOTCH_KEY = 10, 11, 12, 13, 14
HIGH_HOLE_KEY, LOW_HOLE_KEY, HIGH_LINE_KEY, LOW_LINE_KEY, WORDS_KEY = 15, 16, 17, 18, 19
# How far above the taper points (mm) the fold of the hem and the low marks lie.
FOLD_ABOVE, LOW_ABOVE = 30.0, 25.0


def marks_on(ring: Ring, top: Chain, tapers: tuple[Point, Point], run: Chain) -> list[Mark]:
    """One mark of each sort; those of the low ones lie LOW_ABOVE above the taper points."""
    first, last = tapers
    centre = first.towards(last, 0.5)
    high = max(p.y for p in _across_middle(top, first, last))
    crease, notch = (_on_run(run, first.towards(last, share)) for share in (0.42, 0.2))
    seam_foot = _beside(ring, last, LOW_ABOVE)
    fold = [_beside(ring, taper, FOLD_ABOVE) for taper in (first, last)]
    third = first.towards(last, 0.36)
    return [
        _line(
            Kind.GRAIN,
            GRAIN_KEY,
            third + Vector(0.0, high - third.y + 40.0),
            third + Vector(0.0, -45.0),
        ),
        _line(Kind.INNER, CREASE_KEY, Point(crease.x, high), crease),
        _line(Kind.INNER, FOLD_KEY, *fold),
        _line(Kind.NOTCH, HEM_NOTCH_KEY, notch, notch + Vector(0.0, -6.0)),
        _line(Kind.NOTCH, SEAM_NOTCH_KEY, seam_foot, seam_foot + Vector(-6.0, 0.0)),
        Mark(Kind.DRILL, HIGH_HOLE_KEY, Point(centre.x + 9.0, high + 30.0)),
        Mark(Kind.DRILL, LOW_HOLE_KEY, centre + Vector(9.0, -LOW_ABOVE)),
        _line(
            Kind.INNER,
            HIGH_LINE_KEY,
            Point(centre.x - 20.0, high + 50.0),
            Point(centre.x + 20.0, high + 55.0),
        ),
        _line(
            Kind.INNER,
            LOW_LINE_KEY,
            centre + Vector(-15.0, -LOW_ABOVE),
            centre + Vector(15.0, -LOW_ABOVE - 2.0),
        ),
        Mark(Kind.TEXT, WORDS_KEY, centre + Vector(-12.0, -120.0), "cut two"),
    ]


def _across_middle(top: Chain, first: Point, last: Point) -> list[Point]:
    """Where lines down the piece's middle part cross its top."""
    return [
        top.at(place)
        for share in (0.36, 0.42, 0.5)
        for place in top.meets(first.towards(last, share), DOWN)
    ]


def _on_run(run: Chain, p: Point) -> Point:
    return run.at(run.meets(p, DOWN)[0])


def _beside(ring: Ring, taper: Point, above: float) -> Point:
    """The seam's point so far above its taper point."""
    met = ring.meets(taper + Vector(0.0, -above), Vector(1.0, 0.0))
    return min((ring.at(place) for place in met), key=lambda p: p.distance(taper))


def _line(kind: Kind, key: int, start: Point, end: Point) -> Mark:
    return Mark(kind, key, Chain((Line(start, end),)))
