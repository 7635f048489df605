"""Planting skirt: a whole front, its hem scooped out over the knees."""

from __future__ import annotations

from core.curve import Affine, Chain, Line, Point, Vector
from sample_pieces.drawing import svg
from sample_pieces.drawing.part import Edge, Part, bearing, notch_on, third

PEN = svg.Pen()
SHEET = (640.0, 720.0)
PLACE = Affine.move(320.0, 70.0)
WAIST, WAIST_DIP = 172.0, 14.0
SIDE_LEAN = -15.0
HIP = Point(206.0, 196.0)
FLARE = -5.0
BELOW_HIP = 360.0
# How far in from the side the scoop begins, where it is half way up, and how deep it is.
SCOOP_FROM, SCOOP_HALF, SCOOP_DEEP = 62.0, 118.0, 84.0
HIP_NOTCH = 198.0
EDGES = (("waist", 1), ("side-seam", 1), ("hem", 1), ("far-side-seam", 1))


def front() -> Part:
    """The whole front on the sheet."""
    right = _half()
    mirror = Affine.scale(-1.0, 1.0)
    side, hem = right
    waist_side, centre = Point(WAIST, 0.0), Point(0.0, WAIST_DIP)
    waist = third(centre, Vector(1.0, 0.0), waist_side, -bearing(SIDE_LEAN).square())
    other = Chain((waist.mapped(mirror).reversed(), waist))
    far_side = side.mapped(mirror).reversed()
    body = Part(
        name="Front",
        edges=(
            Edge("waist", other),
            Edge("side", side),
            Edge("hem", Chain((*hem, *hem.mapped(mirror).reversed()))),
            Edge("far side", far_side),
        ),
        grain=Line(Point(0.0, 90.0), Point(0.0, 410.0)),
        label=Point(84.0, 250.0),
        notches=(
            notch_on(side, HIP_NOTCH, "side"),
            notch_on(far_side, far_side.length() - HIP_NOTCH, "far-side"),
        ),
    )
    return body.mapped(PLACE)


def _half() -> tuple[Chain, Chain]:
    """The right side seam going down, and the hem from it to the centre."""
    flare, left = bearing(FLARE), Vector(-1.0, 0.0)
    side = Chain(
        (
            third(Point(WAIST, 0.0), bearing(SIDE_LEAN), HIP, flare),
            Line(HIP, HIP.moved(flare, BELOW_HIP)),
        )
    )
    start, way = side.end, flare.square()
    begin = start.moved(way, SCOOP_FROM)
    top = Point(0.0, begin.y - SCOOP_DEEP)
    half = Point(start.x - SCOOP_HALF, begin.y - SCOOP_DEEP * 0.52)
    steep = left.turned(0.85)
    hem = (
        third(start, way, begin, left.turned(0.06)),
        third(begin, left.turned(0.06), half, steep),
        third(half, steep, top, left),
    )
    return side, Chain(hem)


def draw() -> bytes:
    body = svg.piece(front(), PEN, words=["Front", "cut 1"], edges=EDGES)
    body += svg.writing(
        Point(SHEET[0] / 2, 26.0), ["Planting skirt", "seam allowance not included"], PEN
    )
    return svg.document(
        width=f"{SHEET[0]:g}mm",
        height=f"{SHEET[1]:g}mm",
        view=SHEET,
        title="Planting skirt",
        pen=PEN,
        body=svg.indented(body),
    )
