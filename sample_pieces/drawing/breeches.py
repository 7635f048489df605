"""Rain breeches: front and back in five sizes, drawn over each other, all from the same top of
the centre seam. From size to size not only the widths grow: the legs taper more."""

from __future__ import annotations

from dataclasses import dataclass

from core.curve import Affine, Chain, Line, Point, Vector
from sample_pieces.drawing.part import Edge, Part, bearing, edge_of, notch_on, third

SIZES = (36, 38, 40, 42, 44)
# Front and back are sewn together along these: waist to hem, and crotch to hem; mm of the
# smallest size, and what each size adds.
SIDE_SEAM = 566.0
INSEAM = 322.0
SEAM_STEP = 7.0
INSEAM_STEP = 2.0
SIDE_NOTCH = 180.0


@dataclass(frozen=True, kw_only=True)
class Cut:
    """One piece of the smallest size, and what a size adds to it: mm, side to the right.

    The top of the centre seam is the origin, from which all sizes are drawn. Angles are
    degrees from the grain, positive towards the middle of the leg.
    """

    name: str
    crotch: Vector
    crotch_step: Vector
    side: Vector
    side_step: Vector
    hip: Vector
    hip_step: Vector
    side_taper: float
    inseam_taper: float
    taper_step: float
    grain_x: float


FRONT = Cut(
    name="Front",
    crotch=Vector(-48.0, 236.0),
    crotch_step=Vector(-2.5, 4.0),
    side=Vector(206.0, -14.0),
    side_step=Vector(9.0, -1.0),
    hip=Vector(238.0, 176.0),
    hip_step=Vector(10.0, 2.0),
    side_taper=4.0,
    inseam_taper=5.0,
    taper_step=0.45,
    grain_x=96.0,
)
BACK = Cut(
    name="Back",
    crotch=Vector(-104.0, 262.0),
    crotch_step=Vector(-4.0, 5.0),
    side=Vector(214.0, 22.0),
    side_step=Vector(9.0, -1.0),
    hip=Vector(246.0, 212.0),
    hip_step=Vector(11.0, 2.0),
    side_taper=3.5,
    inseam_taper=8.0,
    taper_step=0.6,
    grain_x=88.0,
)
FRONT_PLACE = Affine.move(130.0, 90.0)
# The back is mirrored, so that the side seams face each other across a gap.
BACK_PLACE = Affine(a=-1.0, e=790.0, f=90.0)
SHEET = (960.0, 760.0)


def front(size: int) -> Part:
    """The front of that size on the sheet, side seam to the right."""
    return _piece(FRONT, size).mapped(FRONT_PLACE)


def back(size: int) -> Part:
    """The back of that size on the sheet, mirrored: side seam to the left."""
    return _piece(BACK, size).mapped(BACK_PLACE)


def pieces(size: int) -> tuple[Part, Part]:
    return front(size), back(size)


def pocket() -> tuple[str, Chain]:
    """The slanted pocket opening of the front, the same in every size."""
    opening = Chain((Line(Point(118.0, 26.0), Point(176.0, 148.0)),))
    return "pocket", opening.mapped(FRONT_PLACE)


def _piece(cut: Cut, size: int) -> Part:
    n = SIZES.index(size)
    # The top of the centre seam is the same point in every size.
    top = Point(0.0, 0.0)
    crotch = top + cut.crotch + cut.crotch_step * n
    side, hip = top + cut.side + cut.side_step * n, top + cut.hip + cut.hip_step * n
    outer = bearing(cut.side_taper + cut.taper_step * n)
    inner = bearing(-cut.inseam_taper - cut.taper_step * n)
    side_seam = _side_seam(side, hip, outer, SIDE_SEAM + SEAM_STEP * n)
    inseam = _inseam(crotch, inner, INSEAM + INSEAM_STEP * n)
    hem = third(side_seam.end, outer.square(), inseam.start, inner.square())
    return Part(
        name=cut.name,
        edges=(
            edge_of("waist", third(top, Vector(1.0, 0.05).unit(), side, Vector(1.0, -0.1).unit())),
            Edge("side", side_seam),
            edge_of("hem", hem),
            Edge("inseam", inseam),
            Edge("rise", _rise(crotch, top)),
        ),
        grain=Line(Point(cut.grain_x, 150.0), Point(cut.grain_x, 440.0)),
        label=Point(cut.grain_x + 60.0, 250.0),
        notches=(notch_on(side_seam, SIDE_NOTCH, "side"),),
    )


def _side_seam(side: Point, hip: Point, outer: Vector, length: float) -> Chain:
    """Over the hip in two curves, then straight along its taper, just `length` long."""
    low = hip.moved(Vector(0.0, 1.0), 70.0).moved(outer.square(), 2.0)
    upper = third(side, bearing(-12.0), hip, Vector(0.0, 1.0))
    lower = third(hip, Vector(0.0, 1.0), low, outer)
    rest = length - upper.length() - lower.length()
    return Chain((upper, lower, Line(low, low.moved(outer, rest))))


def _inseam(crotch: Point, inner: Vector, length: float) -> Chain:
    """From the hem up: straight along its taper, then hollow towards the crotch."""
    knee = crotch.moved(inner, 120.0).moved(inner.square(), -7.0)
    hollow = third(knee, -inner, crotch, -inner.turned(-0.12))
    foot = knee.moved(inner, length - hollow.length())
    return Chain((Line(foot, knee), hollow))


def _rise(crotch: Point, top: Point) -> Chain:
    """From the crotch in a curve, then straight up to the waist."""
    turn = Point(0.0, 0.55 * crotch.y)
    curve = third(crotch, Vector(1.0, 0.12).unit(), turn, Vector(0.0, -1.0))
    return Chain((curve, Line(turn, top)))
