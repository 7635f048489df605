"""Pattern pieces whose every answer is known, because they are built from the answers.

All are drawn waist up, the ring running from x towards y: hem, then the seam that rises from
it, the top, and the seam that falls back to the hem. The grain points down the page.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from core.curve import Affine, Chain, Cubic, Line, Point, Ring, Segment, Vector
from core.curve.arcs import unit_arc
from core.piece.model import Role

DOWN = Vector(0.0, 1.0)
RIGHT = Vector(1.0, 0.0)


@dataclass(frozen=True)
class TrueEdge:
    """An edge and its role; None where the drawing alone does not tell."""

    role: Role | None
    chain: Chain


@dataclass(frozen=True)
class TrueDart:
    """Mouth and apex; `notched` into the outline, or drawn as lines inside."""

    mouth: tuple[Point, Point]
    apex: Point
    notched: bool = False


@dataclass(frozen=True)
class Truth:
    """A piece and the right answers about it; the first edge is the hem run."""

    edges: tuple[TrueEdge, ...]
    darts: tuple[TrueDart, ...] = ()
    down: Vector = DOWN
    on_fold: bool = False

    @property
    def ring(self) -> Ring:
        return Ring(tuple(s for e in self.edges for s in e.chain))

    @property
    def tapers(self) -> tuple[tuple[Point, Vector], tuple[Point, Vector]]:
        """Both taper points with the direction in which the seam goes on."""
        hem, rising, falling = self.edges[0].chain, self.edges[1].chain, self.edges[-1].chain
        up = rising.segments[0].tangent(0.0)
        return (hem.start, falling.segments[-1].tangent(1.0)), (hem.end, -up)

    def mapped(self, by: Affine) -> Truth:
        """Turned, mirrored, moved; `by` must keep lengths."""
        darts = tuple(
            TrueDart((by.point(d.mouth[0]), by.point(d.mouth[1])), by.point(d.apex), d.notched)
            for d in self.darts
        )
        edges = tuple(TrueEdge(e.role, e.chain.mapped(by)) for e in self.edges)
        return replace(self, edges=edges, darts=darts, down=by.vector(self.down).unit())

    def grain(self) -> Line:
        """A grain line in the middle of the piece, drawn from waist to hem."""
        flat = self.ring.flattened(tolerance=1.0)
        middle = Point(*(float(v) for v in (flat.max(axis=0) + flat.min(axis=0)) / 2))
        return Line(middle.moved(self.down, -60.0), middle.moved(self.down, 60.0))


def smooth(start: Point, leaving: Vector, end: Point, arriving: Vector) -> Cubic:
    """A cubic with these directions and handles of a third of the chord."""
    third = start.distance(end) / 3
    return Cubic(start, start.moved(leaving.unit(), third), end.moved(arriving.unit(), -third), end)


def lines(*points: Point) -> Chain:
    return Chain.through(points)


def bearing(degrees: float) -> Vector:
    """The direction at that angle from straight down, positive towards -x."""
    a = math.radians(degrees)
    return Vector(-math.sin(a), math.cos(a))


def fillet(corner: Point, into: Vector, out: Vector, radius: float) -> tuple[Cubic, ...]:
    """The true arc that rounds a corner between two straight lines."""
    turn = into.angle_to(out)
    reach = radius * math.tan(abs(turn) / 2)
    start = corner.moved(into, -reach)
    centre = start.moved(into.square(), math.copysign(radius, turn))
    first = math.atan2(start.y - centre.y, start.x - centre.x)
    place = Affine.move(centre.x, centre.y) @ Affine.scale(radius)
    arcs = [c.mapped(place) for c in unit_arc(first, turn, 3)]
    end = corner.moved(out, reach)
    stops = [start, *(a.end for a in arcs[:-1]), end]
    return tuple(Cubic(stops[k], a.c1, a.c2, stops[k + 1]) for k, a in enumerate(arcs))


def rounded(
    falling: Chain, hem: Chain, *, up: float, along: float, handle: float = 0.5523
) -> tuple[Chain, Chain]:
    """Falling seam and hem run with one cubic corner: cut `up` mm above, `along` mm beside.

    `handle` is the share of the way to the corner that each handle covers.
    """
    a, b = falling.at_length(falling.length() - up), hem.at_length(along)
    kept = falling.part(falling.at_length(0.0), a)
    rest = hem.part(b, hem.at_length(hem.length()))
    p, q = kept.end, rest.start
    corner = Cubic(
        p,
        p.moved(falling.tangent(a), up * handle),
        q.moved(hem.tangent(b), -along * handle),
        q,
    )
    return kept, Chain((corner, *rest.segments))


def arc_rounded(falling: Chain, hem: Chain, radius: float) -> tuple[Chain, Chain]:
    """As `rounded`, by a true arc between the two straight lines that meet there."""
    last, first = falling.segments[-1], hem.segments[0]
    assert isinstance(last, Line)
    assert isinstance(first, Line)
    arcs = fillet(last.end, last.tangent(1.0), first.tangent(0.0), radius)
    kept = Chain((*falling.segments[:-1], Line(last.start, arcs[0].start)))
    rest = (Line(arcs[-1].end, first.end), *hem.segments[1:])
    return kept, Chain((*arcs, *rest))


Corner = tuple[str, float, float]
"""("arc", radius, 0), ("cubic", up, along) or ("long", up, along)."""


def with_corners(true: Truth, falling: Corner | None = None, rising: Corner | None = None) -> Truth:
    """The piece with its hem corners rounded where the falling and rising seams run in."""
    out = true
    if falling is not None:
        out = _with_corner(out, falling)
    if rising is not None:
        out = run_backwards(_with_corner(run_backwards(out), rising))
    return out


def _with_corner(true: Truth, corner: Corner) -> Truth:
    seam, hem = true.edges[-1], true.edges[0]
    kind, a, b = corner
    if kind == "arc":
        kept, run = arc_rounded(seam.chain, hem.chain, a)
    else:
        handle = 0.5523 if kind == "cubic" else 0.95
        kept, run = rounded(seam.chain, hem.chain, up=a, along=b, handle=handle)
    edges = (TrueEdge(hem.role, run), *true.edges[1:-1], TrueEdge(seam.role, kept))
    return replace(true, edges=edges)


def run_backwards(true: Truth) -> Truth:
    """The same piece, run the other way round."""
    hem, *others = true.edges
    edges = [TrueEdge(e.role, e.chain.reversed()) for e in (hem, *reversed(others))]
    return replace(true, edges=tuple(edges))


def closed(*edges: tuple[Role | None, Sequence[Segment]]) -> tuple[TrueEdge, ...]:
    """The edges of a piece, told by their segments."""
    return tuple(TrueEdge(role, Chain(tuple(segments))) for role, segments in edges)


def curved_hem(true: Truth, sag: float) -> Truth:
    """The piece with its straight hem bowed down by `sag` mm."""
    hem = true.edges[0].chain
    p, q = hem.start, hem.end
    low = 4.0 / 3.0 * sag
    bow = Cubic(p, p.towards(q, 1 / 3).moved(DOWN, low), p.towards(q, 2 / 3).moved(DOWN, low), q)
    return replace(true, edges=(TrueEdge(Role.HEM, Chain((bow,))), *true.edges[1:]))


def with_waist_dart(
    true: Truth,
    *,
    share: float = 0.5,
    half: float = 12.0,
    deep: float = 95.0,
    notched: bool,
) -> Truth:
    """The piece with a dart hanging from the middle of its waist."""
    k = next(k for k, e in enumerate(true.edges) if e.role is Role.WAIST)
    chain = true.edges[k].chain
    middle = chain.length() * share
    first, last = chain.at_length(middle - half), chain.at_length(middle + half)
    p, q = chain.at(first), chain.at(last)
    apex = p.towards(q, 0.5).moved((q - p).unit().square(), deep)
    dart = TrueDart((p, q), apex, notched)
    if not notched:
        return replace(true, darts=(*true.darts, dart))
    before = chain.part(chain.at_length(0.0), first)
    after = chain.part(last, chain.at_length(chain.length()))
    opened = Chain((*before.segments, Line(p, apex), Line(apex, q), *after.segments))
    edges = (*true.edges[:k], TrueEdge(Role.WAIST, opened), *true.edges[k + 1 :])
    return replace(true, edges=edges, darts=(*true.darts, dart))


def vented(true: Truth, *, wide: float = 40.0, deep: float = 160.0) -> Truth:
    """The piece with a vent at the end of its falling seam: a step out, and down to the hem."""
    seam, hem = true.edges[-1].chain, true.edges[0].chain
    stop = seam.at_length(seam.length() - deep)
    kept = seam.part(seam.at_length(0.0), stop)
    out = Vector(kept.end.x - hem.end.x, 0.0).unit()
    corner = kept.end.moved(out, wide)
    low = Point(corner.x, hem.start.y)
    run = Chain((Line(kept.end, corner), Line(corner, low), Line(low, hem.start), *hem.segments))
    edges = (TrueEdge(Role.HEM, run), *true.edges[1:-1], TrueEdge(true.edges[-1].role, kept))
    return replace(true, edges=edges)
