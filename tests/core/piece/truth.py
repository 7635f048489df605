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


def _closed(*edges: tuple[Role | None, Sequence[Segment]]) -> tuple[TrueEdge, ...]:
    return tuple(TrueEdge(role, Chain(tuple(segments))) for role, segments in edges)


def trapezoid() -> Truth:
    """A tapered leg of four ruled lines; which seam is the inseam, nobody can tell."""
    a, b = Point(0.0, 0.0), Point(200.0, 0.0)
    c, d = Point(190.0, 300.0), Point(20.0, 300.0)
    return Truth(
        _closed(
            (Role.HEM, [Line(c, d)]),
            (None, [Line(d, a)]),
            (Role.WAIST, [Line(a, b)]),
            (None, [Line(b, c)]),
        )
    )


def shorts(
    *, side: float = 4.0, inseam: float = 7.0, length: float = 190.0, straight_rise: bool = False
) -> Truth:
    """A front of shorts; `side` and `inseam` are the tapers in degrees."""
    centre, turn, crotch = Point(12.0, 10.0), Point(2.0, 160.0), Point(-48.0, 262.0)
    waist, hip, fit = Point(268.0, 0.0), Point(292.0, 185.0), Point(290.0, 255.0)
    lean = bearing(side)
    foot = crotch.moved(bearing(-inseam), length)
    end = fit.moved(lean, (foot.y - 4.0 - fit.y) / lean.y)
    seam = [
        smooth(waist, bearing(-10.0), hip, DOWN),
        smooth(hip, DOWN, fit, lean),
        Line(fit, end),
    ]
    up = centre - turn
    rise: list[Segment] = [smooth(crotch, RIGHT, turn, up), Line(turn, centre)]
    if straight_rise:
        rise = [Line(crotch, centre)]
    return Truth(
        _closed(
            (Role.HEM, [Line(end, foot)]),
            (Role.INSEAM, [Line(foot, crotch)]),
            (Role.RISE, rise),
            (Role.WAIST, [smooth(centre, RIGHT, waist, RIGHT)]),
            (Role.SIDE, seam),
        )
    )


def trousers(*, flare: float = 0.0) -> Truth:
    """A long leg, narrowing to the knee; below it by `flare` mm a side wider again."""
    centre, turn, crotch = Point(18.0, 4.0), Point(0.0, 170.0), Point(-60.0, 265.0)
    waist, hip = Point(236.0, 0.0), Point(250.0, 200.0)
    knee, hem = Point(212.0, 600.0), Point(200.0 + flare, 1020.0)
    knee_in, hem_in = Point(30.0, 600.0), Point(42.0 - flare, 1020.0)
    down, up = (hem - knee).unit(), (knee_in - hem_in).unit()
    return Truth(
        _closed(
            (Role.HEM, [Line(hem, hem_in)]),
            (Role.INSEAM, [Line(hem_in, knee_in), smooth(knee_in, up, crotch, bearing(160.0))]),
            (Role.RISE, [smooth(crotch, RIGHT, turn, centre - turn), Line(turn, centre)]),
            (Role.WAIST, [smooth(centre, RIGHT, waist, RIGHT)]),
            (
                Role.SIDE,
                [
                    smooth(waist, bearing(-6.0), hip, DOWN),
                    smooth(hip, DOWN, knee, down),
                    Line(knee, hem),
                ],
            ),
        )
    )


def curved_shorts() -> Truth:
    """Shorts whose side seam bends all the way down to the hem (radius about 900 mm)."""
    base = shorts()
    *others, side = base.edges
    hip = side.chain.segments[0].end
    end = side.chain.end
    bent = smooth(hip, DOWN, end, bearing(14.0))
    seam = Chain((side.chain.segments[0], bent))
    return replace(base, edges=(*others, TrueEdge(Role.SIDE, seam)))


def straight_skirt() -> Truth:
    """Half a front on the fold: the side falls straight below the hip."""
    centre, waist, hip = Point(0.0, 12.0), Point(226.0, 0.0), Point(248.0, 200.0)
    end, fold = Point(248.0, 600.0), Point(0.0, 600.0)
    return Truth(
        _closed(
            (Role.HEM, [Line(end, fold)]),
            (Role.FOLD, [Line(fold, centre)]),
            (Role.WAIST, [smooth(centre, RIGHT, waist, RIGHT)]),
            (Role.SIDE, [smooth(waist, bearing(-14.0), hip, DOWN), Line(hip, end)]),
        ),
        on_fold=True,
    )


def flared_skirt() -> Truth:
    """Half a front on the fold, flared straight from the hip; the hem is an arc."""
    centre, waist, hip = Point(0.0, 22.0), Point(218.0, 0.0), Point(262.0, 210.0)
    flare = bearing(-9.0)
    end = hip.moved(flare, 430.0)
    fold = Point(0.0, end.y + end.x * math.tan(math.radians(4.5)))
    return Truth(
        _closed(
            (Role.HEM, [smooth(end, flare.square(), fold, -RIGHT)]),
            (Role.FOLD, [Line(fold, centre)]),
            (Role.WAIST, [smooth(centre, RIGHT, waist, -flare.square())]),
            (Role.SIDE, [smooth(waist, bearing(-16.0), hip, flare), Line(hip, end)]),
        ),
        on_fold=True,
    )


def whole_flared_skirt() -> Truth:
    """A whole front: both sides slant outwards, waist hollow, hem an arc."""
    a, b = Point(-130.0, 0.0), Point(130.0, 0.0)
    right, left = bearing(-11.0), bearing(11.0)
    c, d = b.moved(right, 560.0), a.moved(left, 560.0)
    return Truth(
        _closed(
            (Role.HEM, [smooth(c, right.square(), d, left.square())]),
            (Role.SIDE, [Line(d, a)]),
            (Role.WAIST, [smooth(a, bearing(-79.0), b, bearing(-101.0))]),
            (Role.SIDE, [Line(b, c)]),
        )
    )


def fitted_skirt(
    *, waist: float, hip: float, hem: float, length: float, deep: float = 120.0, half: bool = False
) -> Truth:
    """A front over the hip, `deep` mm below the waist; widths are quarters of the whole skirt."""
    centre, top = Point(0.0, 12.0), Point(waist, 0.0)
    fullest, end = Point(hip, deep), Point(hem, length)
    lean = (end - fullest).unit()
    out = bearing(-math.degrees(math.atan2(1.3 * (hip - waist), deep)))
    side = [smooth(top, out, fullest, lean), Line(fullest, end)]
    if half:
        fold = Point(0.0, length)
        return Truth(
            _closed(
                (Role.HEM, [Line(end, fold)]),
                (Role.FOLD, [Line(fold, centre)]),
                (Role.WAIST, [smooth(centre, RIGHT, top, RIGHT)]),
                (Role.SIDE, side),
            ),
            on_fold=True,
        )
    over = Affine(a=-1.0)
    left = [s.mapped(over).reversed() for s in reversed(side)]
    across = [smooth(left[-1].end, RIGHT, centre, RIGHT), smooth(centre, RIGHT, top, RIGHT)]
    return Truth(
        _closed(
            (Role.HEM, [Line(end, left[0].start)]),
            (Role.SIDE, left),
            (Role.WAIST, across),
            (Role.SIDE, side),
        )
    )


def bodice(
    *, chest: float, waist: float, neck: tuple[float, float], shoulder: float, length: float
) -> Truth:
    """Half a front from the shoulder down, its centre along the grain; the neck is (wide, deep)."""
    wide, deep = neck
    low, high = Point(0.0, deep), Point(wide, 0.0)
    tip, arm = Point(wide + shoulder, 35.0), Point(chest, 230.0)
    end, centre = Point(waist, length), Point(0.0, length)
    return Truth(
        _closed(
            (Role.HEM, [Line(end, centre)]),
            (Role.CENTRE_FRONT, [Line(centre, low)]),
            (Role.OTHER, [smooth(low, RIGHT, high, -DOWN)]),
            (Role.OTHER, [Line(high, tip)]),
            (Role.OTHER, [smooth(tip, bearing(8.0), arm, RIGHT)]),
            (Role.SIDE, [Line(arm, end)]),
        )
    )


def gore() -> Truth:
    """A gore of four ruled lines, wider at the hem."""
    a, b = Point(40.0, 0.0), Point(160.0, 0.0)
    c, d = Point(230.0, 620.0), Point(-30.0, 620.0)
    return Truth(
        _closed(
            (Role.HEM, [Line(c, d)]),
            (Role.SIDE, [Line(d, a)]),
            (Role.WAIST, [Line(a, b)]),
            (Role.SIDE, [Line(b, c)]),
        )
    )


def sleeve(*, cap: float = 130.0, taper: float = 6.0, length: float = 420.0) -> Truth:
    """A sleeve: S-shaped cap, two tapering underarm seams."""
    left, right, crown = Point(-170.0, 0.0), Point(170.0, 0.0), Point(8.0, -cap)
    end = right.moved(bearing(taper), length)
    start = left.moved(bearing(-taper), length)
    return Truth(
        _closed(
            (Role.HEM, [Line(end, start)]),
            (Role.UNDERARM, [Line(start, left)]),
            (
                Role.CAP,
                [
                    Cubic(left, Point(-90.0, -10.0), Point(-80.0, -cap), crown),
                    Cubic(crown, Point(90.0, -cap), Point(100.0, -14.0), right),
                ],
            ),
            (Role.UNDERARM, [Line(right, end)]),
        )
    )


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


def one_cubic_side() -> Truth:
    """Shorts whose side seam below the hip and hem corner are one and the same cubic.

    The cubic runs from the hip, nearly straight at first, and bends into the hem: the taper
    point lies inside it. (The hem run given here is too long, its end is not to be used.)
    """
    base = shorts()
    hip, run = base.edges[-1].chain.segments[0].end, base.edges[0].chain
    beside = run.at(run.at_length(70.0))
    side = Cubic(hip, hip.moved(DOWN, 170.0), Point(hip.x - 4.0, run.start.y), beside)
    hem = Chain((side, Line(beside, run.end)))
    return replace(
        base,
        edges=(
            TrueEdge(Role.HEM, hem),
            *base.edges[1:-1],
            TrueEdge(Role.SIDE, Chain((base.edges[-1].chain.segments[0],))),
        ),
    )


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
