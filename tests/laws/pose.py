"""A piece laid differently: turned, mirrored, moved, its outline run from elsewhere or back."""

from __future__ import annotations

from dataclasses import dataclass, replace

from core.curve import Affine, Place, Point, Ring, Segment, Vector
from core.piece.model import Dart, Edge, HemRun, Mark, Origin, Outline, Piece, Taper

NOWHERE = Vector(0.0, 0.0)


@dataclass(frozen=True)
class Pose:
    """How a piece lies on its page and how its outline is listed."""

    angle: float = 0.0
    mirrored: bool = False
    step: Vector = NOWHERE
    backwards: bool = False
    start: int = 0

    @property
    def affine(self) -> Affine:
        """From the page of the sketch to this one."""
        flip = Affine.scale(-1.0, 1.0) if self.mirrored else Affine()
        return Affine.move(self.step.x, self.step.y) @ Affine.turn(self.angle) @ flip

    def of(self, piece: Piece) -> Piece:
        """The piece in this pose."""
        out = mapped(piece, self.affine)
        out = listed_backwards(out) if self.backwards else out
        return started_at(out, self.start % len(out.ring)) if out.stitching is None else out


def mapped(piece: Piece, by: Affine) -> Piece:
    """The piece under a map that keeps angles; its listing stays as it is."""

    def way(v: Vector) -> Vector:
        return by.vector(v).unit()

    def hem(run: HemRun | None) -> HemRun | None:
        if run is None:
            return None
        first = replace(run.first, down=way(run.first.down))
        return HemRun(first, replace(run.last, down=way(run.last.down)))

    def dart(d: Dart) -> Dart:
        a, b = d.mouth
        return replace(d, mouth=(by.point(a), by.point(b)), apex=by.point(d.apex))

    sewn = piece.stitching
    return replace(
        piece,
        outline=replace(piece.outline, ring=piece.outline.ring.mapped(by)),
        stitching=None if sewn is None else replace(sewn, ring=sewn.ring.mapped(by)),
        grain=replace(piece.grain, down=way(piece.grain.down)),
        hem=hem(piece.hem),
        cutting_hem=hem(piece.cutting_hem),
        darts=tuple(dart(d) for d in piece.darts),
        marks=tuple(mapped_mark(m, by) for m in piece.marks),
    )


def mapped_mark(mark: Mark, by: Affine) -> Mark:
    if isinstance(mark.geometry, Point):
        return replace(mark, geometry=by.point(mark.geometry))
    return replace(mark, geometry=mark.geometry.mapped(by))


def listed_backwards(piece: Piece) -> Piece:
    """The very same piece with its outlines drawn the other way round."""

    def back(place: Place, size: int) -> Place:
        k, t = size - 1 - place.index, 1.0 - place.t
        return Place((k + 1) % size, 0.0) if t >= 1.0 else Place(k, t)

    def outline(o: Outline) -> Outline:
        numbered = tuple(Origin(o.origins[0].shape, k) for k in range(len(o.ring)))
        return Outline(o.ring.reversed(), numbered)

    def hem(run: HemRun | None, size: int) -> HemRun | None:
        if run is None:
            return None
        a, b = run.first, run.last
        return HemRun(replace(b, place=back(b.place, size)), replace(a, place=back(a.place, size)))

    size = len(piece.ring)

    def edge(e: Edge) -> Edge:
        return replace(e, start=back(e.end, size), end=back(e.start, size))

    def dart(d: Dart) -> Dart:
        assert d.mouth_places is not None
        a, b = d.mouth_places
        return replace(
            d, mouth=(d.mouth[1], d.mouth[0]), mouth_places=(back(b, size), back(a, size))
        )

    hem_edge, *others = piece.edges
    return replace(
        piece,
        outline=outline(piece.outline),
        stitching=None if piece.stitching is None else outline(piece.stitching),
        edges=(edge(hem_edge), *(edge(e) for e in reversed(others))),
        hem=hem(piece.hem, size),
        cutting_hem=hem(piece.cutting_hem, len(piece.outline.ring)),
        darts=tuple(dart(d) for d in piece.darts),
    )


def started_at(piece: Piece, start: int) -> Piece:
    """The very same piece (without a stitching line), its outline listed from another joint."""
    size = len(piece.ring)

    def place(p: Place) -> Place:
        return Place((p.index - start) % size, p.t)

    def taper(t: Taper) -> Taper:
        return replace(t, place=place(t.place))

    def dart(d: Dart) -> Dart:
        assert d.mouth_places is not None
        return replace(d, mouth_places=(place(d.mouth_places[0]), place(d.mouth_places[1])))

    segments = piece.ring.segments
    turned = (*segments[start:], *segments[:start])
    origins = tuple(Origin(piece.outline.origins[0].shape, k) for k in range(size))
    return replace(
        piece,
        outline=Outline(Ring(turned), origins),
        edges=tuple(replace(e, start=place(e.start), end=place(e.end)) for e in piece.edges),
        hem=None if piece.hem is None else HemRun(taper(piece.hem.first), taper(piece.hem.last)),
        darts=tuple(dart(d) for d in piece.darts),
    )


def split(piece: Piece, index: int, t: float) -> Piece:
    """The very same shape with one segment of its outline drawn in two parts."""
    segments, size = piece.ring.segments, len(piece.ring)
    parts: tuple[Segment, ...] = segments[index].split(t)
    ring = Ring((*segments[:index], *parts, *segments[index + 1 :]))
    origins = tuple(Origin(piece.outline.origins[0].shape, k) for k in range(size + 1))

    def place(p: Place) -> Place:
        if p.index != index or p.t == 0.0:
            return Place(p.index + (p.index > index), p.t)
        if p.t < t:
            return Place(index, p.t / t)
        return Place(index + 1, (p.t - t) / (1.0 - t))

    def taper(x: Taper) -> Taper:
        return replace(x, place=place(x.place))

    def dart(d: Dart) -> Dart:
        assert d.mouth_places is not None
        return replace(d, mouth_places=(place(d.mouth_places[0]), place(d.mouth_places[1])))

    assert piece.hem is not None
    return replace(
        piece,
        outline=Outline(ring, origins),
        edges=tuple(replace(e, start=place(e.start), end=place(e.end)) for e in piece.edges),
        hem=HemRun(taper(piece.hem.first), taper(piece.hem.last)),
        darts=tuple(dart(d) for d in piece.darts),
    )


def dragged(piece: Piece, first_mm: float, last_mm: float) -> Piece:
    """The piece with its taper points dragged up their seams by so much, along them."""
    assert piece.hem is not None
    ring, hem = piece.ring, piece.hem
    first, last = hem.first, hem.last
    if first_mm > 0.0:
        up = _settled(ring, ring.length_to(first.place) - first_mm)
        first = replace(first, place=up, down=_before(ring, up))
    if last_mm > 0.0:
        up = _settled(ring, ring.length_to(last.place) + last_mm)
        last = replace(last, place=up, down=-ring.tangent(up))

    def moved(place: Place) -> Place:
        if place == hem.first.place:
            return first.place
        return last.place if place == hem.last.place else place

    edges = tuple(replace(e, start=moved(e.start), end=moved(e.end)) for e in piece.edges)
    return replace(piece, hem=HemRun(first, last), edges=edges)


def _before(ring: Ring, place: Place) -> Vector:
    """The way in which the ring arrives at a place."""
    return ring.tangent(place) if place.t > 0.0 else ring.segments[place.index - 1].tangent(1.0)


def _settled(ring: Ring, length: float) -> Place:
    place = ring.at_length(length % ring.length())
    return Place((place.index + 1) % len(ring), 0.0) if place.t >= 1.0 else place
