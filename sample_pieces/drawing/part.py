"""A pattern piece while it is being drawn: named edges and the marks on them.

Lengths are in the unit of the sheet that the piece is drawn on, y down. The edges run
round the piece from x towards y until the piece is mirrored.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from core.curve import Affine, Chain, Cubic, Line, Point, Ring, Segment, Vector
from core.curve.arcs import unit_arc


@dataclass(frozen=True, slots=True)
class Edge:
    """A named stretch of the outline."""

    name: str
    chain: Chain


@dataclass(frozen=True, slots=True)
class Notch:
    """A mark on the outline; `inward` is the unit direction into the piece."""

    name: str
    at: Point
    inward: Vector


@dataclass(frozen=True, slots=True)
class Part:
    """One piece. The edges follow each other and close; CurveError from `ring` otherwise."""

    name: str
    edges: tuple[Edge, ...]
    grain: Line
    label: Point
    notches: tuple[Notch, ...] = ()
    drills: tuple[Point, ...] = ()
    inner: tuple[tuple[str, Chain], ...] = ()

    @property
    def ring(self) -> Ring:
        return Ring(tuple(s for e in self.edges for s in e.chain))

    def edge(self, name: str) -> Chain:
        """The edge of that name, which must be there once."""
        (found,) = (e.chain for e in self.edges if e.name == name)
        return found

    def mapped(self, by: Affine) -> Part:
        """Moved, turned or mirrored; `by` must keep lengths."""
        return replace(
            self,
            edges=tuple(Edge(e.name, e.chain.mapped(by)) for e in self.edges),
            grain=self.grain.mapped(by),
            label=by.point(self.label),
            notches=tuple(Notch(n.name, by.point(n.at), by.vector(n.inward)) for n in self.notches),
            drills=tuple(by.point(p) for p in self.drills),
            inner=tuple((name, chain.mapped(by)) for name, chain in self.inner),
        )


def bearing(degrees: float) -> Vector:
    """The unit direction at an angle from straight down, positive towards -x."""
    a = math.radians(degrees)
    return Vector(-math.sin(a), math.cos(a))


def sweep_between(
    start: Point, leaving: Vector, end: Point, arriving: Vector, *, reach: tuple[float, float]
) -> Cubic:
    """The cubic from `start` to `end` with these unit directions of travel.

    `reach` is the length of its two handles.
    """
    return Cubic(start, start.moved(leaving, reach[0]), end.moved(arriving, -reach[1]), end)


def third(start: Point, leaving: Vector, end: Point, arriving: Vector) -> Cubic:
    """`sweep_between` with handles of a third of the chord: an even, quiet curve."""
    reach = start.distance(end) / 3
    return sweep_between(start, leaving, end, arriving, reach=(reach, reach))


def rounded_corner(start: Point, arriving: Vector, leaving: Vector, radius: float) -> Cubic:
    """The arc that turns from one unit direction into another, x towards y, as one cubic.

    One cubic leaves the true arc by up to 2.8e-4 of the radius, as any drawn corner does.
    """
    angle = arriving.angle_to(leaving)
    first = math.atan2(-arriving.x, arriving.y)
    (arc,) = unit_arc(first, angle, 1)
    centre = start.moved(arriving.square(), radius)
    # atan2 above is the angle from the centre back to the start.
    turned = arc.mapped(Affine.move(centre.x, centre.y) @ Affine.scale(radius))
    return Cubic(start, turned.c1, turned.c2, turned.end)


def notch_on(chain: Chain, length: float, name: str) -> Notch:
    """A notch `length` along an edge that has the piece on its x-towards-y side."""
    place = chain.at_length(length)
    return Notch(name, chain.at(place), chain.tangent(place).square())


def edge_of(name: str, *segments: Segment) -> Edge:
    return Edge(name, Chain(segments))
