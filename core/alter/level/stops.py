"""The places of an outline beyond which no seam is redrawn."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from core.alter.frame import Frame
from core.alter.level.climb import lowest_and_highest, turns_back
from core.alter.level.darts import apex_place
from core.curve import Place, Point, Ring
from core.kept import kept
from core.piece.corners import corners, place_of
from core.piece.darts import notch_darts
from core.piece.model import Dart, HemRun, Piece

# The mouth of a dart that is drawn with lines lies within this (mm) of its edge.
MOUTH_REACH = 3.0


@dataclass(frozen=True, slots=True)
class Fixed:
    """A place that must not be folded away, and what to call it."""

    place: Place
    what: str


# A drag asks for these of the same few pieces in each of its frames.
@kept(most=256)
def sewn_stops(piece: Piece) -> tuple[Fixed, ...]:
    """Corners, ends of edges, taper points and darts of the line along which it is sewn."""
    ring = piece.ring
    out = [Fixed(p, "a corner of the outline") for e in piece.edges for p in (e.start, e.end)]
    out += [Fixed(place_of(k), "a corner of the outline") for k in corners(ring)]
    out += _tapers(piece.hem)
    for dart in piece.darts:
        out += [Fixed(p, _dart(dart)) for p in _dart_places(ring, dart)]
    return tuple(out)


@kept(most=256)
def cutting_stops(piece: Piece) -> tuple[Fixed, ...]:
    """The same for the cutting line around the sewn one; its darts are found on itself."""
    ring = piece.outline.ring
    out = [Fixed(place_of(k), "a corner of the cutting line") for k in corners(ring)]
    out += _tapers(piece.cutting_hem)
    for dart in cutting_darts(piece):
        out += [Fixed(p, "a dart") for p in _dart_places(ring, dart)]
    return tuple(out)


@kept(most=256)
def cutting_darts(piece: Piece) -> tuple[Dart, ...]:
    """Darts that the cutting line has as notches of its own."""
    return notch_darts(piece.outline.ring, corners(piece.outline.ring))


def _tapers(hem: HemRun | None) -> list[Fixed]:
    return [] if hem is None else [Fixed(t.place, "a taper point") for t in (hem.first, hem.last)]


def _dart(dart: Dart) -> str:
    return f"the dart in the {dart.on.value}"


def _dart_places(ring: Ring, dart: Dart) -> Iterator[Place]:
    if dart.mouth_places is not None:
        yield from dart.mouth_places
        yield apex_place(ring, dart)
        return
    for p in dart.mouth:
        near = ring.nearest(p)
        if near.distance <= MOUTH_REACH:
            yield near.place


@dataclass(frozen=True, slots=True)
class Room:
    """How much can be folded out, in mm, before this is folded away."""

    mm: float
    what: str
    at: Point


def rooms(piece: Piece, frame: Frame, height: float) -> tuple[Room, ...]:
    """All that limits how much can be folded out below a height, nearest first."""
    rings = [(piece.ring, sewn_stops(piece))]
    if piece.stitching is not None:
        rings.append((piece.outline.ring, cutting_stops(piece)))
    points = [(d.apex, _dart(d)) for d in piece.darts]
    points += [(m, _dart(d)) for d in piece.darts for m in d.mouth]
    points += [(p, "the contour dart") for d in piece.contours for p in d.corners]
    for ring, stops in rings:
        points += [(ring.at(f.place), f.what) for f in stops]
        points += [(ring.at(p), _turn(ring, frame, p)) for p in turns_back(ring, frame)]
    found = [Room(frame.height(p) - height, what, p) for p, what in points]
    return tuple(sorted((r for r in found if r.mm > -1e-6), key=lambda r: r.mm))


def _turn(ring: Ring, frame: Frame, place: Place) -> str:
    _, lowest = lowest_and_highest(ring, frame)
    at_end = lowest - frame.height(ring.at(place)) < 1e-6
    return "the lower end of the piece" if at_end else "a place where the outline turns back"
