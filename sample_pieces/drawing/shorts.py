"""Allotment shorts: front and back, cut generously, with a rounded hem corner at the side."""

from __future__ import annotations

from dataclasses import dataclass, replace

from core.curve import Affine, Chain, Cubic, Line, Point, Vector
from sample_pieces.drawing.part import (
    Edge,
    Notch,
    Part,
    bearing,
    edge_of,
    notch_on,
    rounded_corner,
    sweep_between,
    third,
)

# Sewn together, so the same on both pieces: waist to taper point, and crotch to hem.
SIDE_SEAM = 388.0
INSEAM = 190.0
CORNER_RADIUS = 58.0
DART_INTAKE = 24.0
DART_DEPTH = 95.0
# A hole exactly at the point of the dart would show on the right side of the cloth.
DRILL_ABOVE_APEX = 10.0
SIDE_NOTCH = 205.0
# The mouth of the dart lies this much below the straight line from centre back to side.
DART_DROP = 3.0
POCKET_IN = 62.0
POCKET_DOWN = 158.0


@dataclass(frozen=True, kw_only=True)
class Cut:
    """The points one piece is drawn through: mm, waist level near 0, side to the right.

    Angles are degrees from the grain, positive towards the leg's middle for the tapers.
    """

    name: str
    centre: Point
    rise_turn: Point
    crotch: Point
    rise_reach: tuple[float, float]
    side: Point
    side_lean: float
    hip: Point
    fit: Point
    side_taper: float
    inseam_taper: float
    hem_lift: float
    grain_x: float
    rise_notches: tuple[float, ...]


FRONT = Cut(
    name="Front",
    centre=Point(9.0, 13.0),
    rise_turn=Point(0.0, 168.0),
    crotch=Point(-46.0, 268.0),
    rise_reach=(62.0, 24.0),
    side=Point(275.0, 0.0),
    side_lean=-11.0,
    hip=Point(300.0, 190.0),
    fit=Point(297.6, 262.0),
    side_taper=4.0,
    inseam_taper=7.0,
    hem_lift=1.5,
    grain_x=128.0,
    rise_notches=(82.0,),
)
BACK = Cut(
    name="Back",
    centre=Point(31.0, -15.0),
    rise_turn=Point(3.0, 140.0),
    crotch=Point(-92.0, 272.0),
    rise_reach=(86.0, 52.0),
    side=Point(296.0, 0.0),
    side_lean=-10.0,
    hip=Point(320.0, 194.0),
    fit=Point(318.0, 262.0),
    side_taper=3.5,
    inseam_taper=9.0,
    hem_lift=3.0,
    grain_x=142.0,
    rise_notches=(112.0, 120.0),
)

# The back is mirrored, so that the side seams face each other across a gap.
FRONT_PLACE = Affine.move(96.0, 60.0)
BACK_PLACE = Affine(a=-1.0, e=826.0, f=60.0)
SHEET = (958.0, 700.0)


def front() -> Part:
    """The front on the sheet, side seam to the right."""
    waist = edge_of("waist", _waist_curve(FRONT, FRONT.centre, FRONT.side))
    body = _piece(FRONT, (waist,))
    pocket = ("pocket", _pocket_opening(body))
    return replace(body, inner=(pocket,)).mapped(FRONT_PLACE)


def back() -> Part:
    """The back on the sheet, mirrored: side seam to the left."""
    half = DART_INTAKE / 2
    along = (BACK.side - BACK.centre).unit()
    middle = BACK.centre.towards(BACK.side, 0.5).moved(along.square(), DART_DROP)
    mouth = middle.moved(along, -half), middle.moved(along, half)
    apex = middle.moved(along.square(), DART_DEPTH)
    body = _piece(BACK, _darted_waist(BACK, mouth, apex))
    hole = apex.moved(along.square(), -DRILL_ABOVE_APEX)
    return replace(body, drills=(hole,)).mapped(BACK_PLACE)


def pieces() -> tuple[Part, Part]:
    return front(), back()


def _darted_waist(cut: Cut, mouth: tuple[Point, Point], apex: Point) -> tuple[Edge, ...]:
    """The waist in two curves, each square to its dart leg, so that it runs smooth once sewn."""
    near, far = mouth
    at_near, at_far = -(apex - near).unit().square(), -(apex - far).unit().square()
    inner = third(cut.centre, _square_to_rise(cut), near, at_near)
    outer = third(far, at_far, cut.side, _square_to_side(cut))
    return (
        edge_of("waist", inner),
        edge_of("dart", Line(near, apex), Line(apex, far)),
        edge_of("waist beyond dart", outer),
    )


def _waist_curve(cut: Cut, start: Point, end: Point) -> Cubic:
    return third(start, _square_to_rise(cut), end, _square_to_side(cut))


def _square_to_rise(cut: Cut) -> Vector:
    return -(cut.rise_turn - cut.centre).unit().square()


def _square_to_side(cut: Cut) -> Vector:
    return -bearing(cut.side_lean).square()


def _piece(cut: Cut, waist: tuple[Edge, ...]) -> Part:
    """Everything but the waist, constructed from the cut's points and the shared lengths."""
    side, fit = _side_seam(cut), bearing(cut.side_taper)
    along_hem = bearing(90.0 + cut.hem_lift)
    corner = rounded_corner(side.end, fit, along_hem, CORNER_RADIUS)
    down = bearing(-cut.inseam_taper)
    foot = cut.crotch.moved(down, INSEAM)
    hem = third(corner.end, along_hem, foot, down.square())
    rise = _rise(cut, down)
    return Part(
        name=cut.name,
        edges=(
            *waist,
            Edge("side", side),
            edge_of("corner", corner),
            edge_of("hem", hem),
            edge_of("inseam", Line(foot, cut.crotch)),
            Edge("rise", rise),
        ),
        grain=Line(Point(cut.grain_x, 118.0), Point(cut.grain_x, 402.0)),
        label=Point(cut.grain_x + 66.0, 236.0),
        notches=(notch_on(side, SIDE_NOTCH, "side"), *_rise_notches(cut, rise)),
    )


def _side_seam(cut: Cut) -> Chain:
    """Curved over the hip, then the straight fit line, ending after just SIDE_SEAM."""
    down, fit = Vector(0.0, 1.0), bearing(cut.side_taper)
    upper = third(cut.side, bearing(cut.side_lean), cut.hip, down)
    lower = third(cut.hip, down, cut.fit, fit)
    rest = SIDE_SEAM - upper.length() - lower.length()
    return Chain((upper, lower, Line(cut.fit, cut.fit.moved(fit, rest))))


def _rise(cut: Cut, down: Vector) -> Chain:
    """From the crotch, square to the inseam so that front and back flow, up to the waist."""
    up = (cut.centre - cut.rise_turn).unit()
    away, towards = cut.rise_reach[1], cut.rise_reach[0]
    curve = sweep_between(cut.crotch, -down.square(), cut.rise_turn, up, reach=(away, towards))
    return Chain((curve, Line(cut.rise_turn, cut.centre)))


def _rise_notches(cut: Cut, rise: Chain) -> tuple[Notch, ...]:
    return tuple(
        notch_on(rise, length, f"rise-{k}") for k, length in enumerate(cut.rise_notches, 1)
    )


def _pocket_opening(body: Part) -> Chain:
    """The slanted opening of the front pocket, from the waist to the side seam."""
    waist, side = body.edge("waist"), body.edge("side")
    top = waist.at(waist.at_length(waist.length() - POCKET_IN))
    low = side.at(side.at_length(POCKET_DOWN))
    return Chain((third(top, bearing(4.0), low, bearing(-42.0)),))
