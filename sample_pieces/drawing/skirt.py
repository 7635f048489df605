"""Potting skirt: half of a flared front, cut on the fold, on a sheet in tenths of an inch."""

from __future__ import annotations

import math

from core.curve import Affine, Chain, Line, Point, Vector
from sample_pieces.drawing import svg
from sample_pieces.drawing.part import Edge, Part, bearing, edge_of, notch_on, third

# One user unit is a tenth of an inch.
PEN = svg.Pen(unit_mm=2.54, decimals=4)
SHEET = (170.0, 300.0)
PLACE = Affine.move(24.0, 30.0)

CENTRE_WAIST = Point(0.0, 9.0)
SIDE_WAIST = Point(86.0, 0.0)
SIDE_LEAN = -14.0
# Here the curve over the hip is over, and the seam flares straight to the hem.
FLARE_FROM = Point(101.0, 85.0)
FLARE = -7.0
FLARED = 160.0
DART_INTAKE = 8.0
DART_DEPTH = 36.0
DART_FROM_CENTRE = 36.0
HIP_NOTCH = 80.0


def front() -> Part:
    """The half front on the sheet: waist, side, hem, and the fold up the centre."""
    out, flare = Vector(1.0, 0.0), bearing(FLARE)
    waist = third(CENTRE_WAIST, out, SIDE_WAIST, -bearing(SIDE_LEAN).square())
    hip = third(SIDE_WAIST, bearing(SIDE_LEAN), FLARE_FROM, flare)
    side = Chain((hip, Line(FLARE_FROM, FLARE_FROM.moved(flare, FLARED))))
    hem = third(side.end, flare.square(), _centre_hem(side.end), -out)
    body = Part(
        name="Front",
        edges=(
            edge_of("waist", waist),
            Edge("side", side),
            edge_of("hem", hem),
            edge_of("centre", Line(hem.end, CENTRE_WAIST)),
        ),
        grain=Line(Point(50.0, 75.0), Point(50.0, 205.0)),
        label=Point(74.0, 130.0),
        notches=(notch_on(side, HIP_NOTCH, "side"),),
    )
    return body.mapped(PLACE)


def _centre_hem(side: Point) -> Point:
    """Where an arc that is square to the flared side and to the fold reaches the fold."""
    return Point(0.0, side.y + side.x * math.tan(math.radians(-FLARE / 2)))


def dart(part: Part) -> tuple[Line, Line]:
    """The two legs from the waist to the point, square to the mouth and equally long."""
    waist = part.edge("waist")
    near, far = (waist.at(waist.at_length(DART_FROM_CENTRE + s * DART_INTAKE / 2)) for s in (-1, 1))
    down = (far - near).unit().square()
    apex = near.towards(far, 0.5).moved(down, DART_DEPTH)
    return Line(near, apex), Line(far, apex)


def draw() -> bytes:
    part = front()
    legs = dart(part)
    more = _dart(legs) + svg.fold(part, PEN)
    body = svg.piece(part, PEN, words=["Front", "cut 1 on the fold"], more=more)
    body += svg.writing(
        Point(SHEET[0] / 2, 14.0), ["Potting skirt", "seam allowance not included"], PEN
    )
    return svg.document(
        width=f"{SHEET[0] / 10:g}in",
        height=f"{SHEET[1] / 10:g}in",
        view=SHEET,
        title="Potting skirt",
        pen=PEN,
        body=svg.indented(body),
    )


def _dart(legs: tuple[Line, Line]) -> list[str]:
    lines = [f'  <path class="inner" d="{svg.path_data([leg], PEN)}"/>' for leg in legs]
    return ['<g id="dart" class="dart">', *lines, "</g>"]
