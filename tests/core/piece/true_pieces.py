"""Pieces of garments, as their makers know them: what each edge is, and where it ends."""

from __future__ import annotations

import math
from dataclasses import replace

from core.curve import Affine, Chain, Cubic, Line, Point, Segment
from core.piece.model import Role
from tests.core.piece.truth import DOWN, RIGHT, TrueEdge, Truth, bearing, closed, smooth


def trapezoid() -> Truth:
    """A tapered leg of four ruled lines; which seam is the inseam, nobody can tell."""
    a, b = Point(0.0, 0.0), Point(200.0, 0.0)
    c, d = Point(190.0, 300.0), Point(20.0, 300.0)
    return Truth(
        closed(
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
        closed(
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
        closed(
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
        closed(
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
        closed(
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
        closed(
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
            closed(
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
        closed(
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
        closed(
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
        closed(
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
        closed(
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
