"""Raking skirt: the half back of a straight block, its long dart reaching below the level at
which such a block is lengthened over the hip."""

from __future__ import annotations

from core.curve import Affine, Chain, Line, Point, Vector
from sample_pieces.drawing import svg
from sample_pieces.drawing.part import Edge, Part, bearing, edge_of, notch_on, third

PEN = svg.Pen()
SHEET = (360.0, 760.0)
PLACE = Affine.move(50.0, 70.0)
CENTRE_WAIST = Point(0.0, 14.0)
SIDE_WAIST = Point(236.0, 0.0)
SIDE_LEAN = -13.0
HIP = Point(262.0, 208.0)
TAPER = 2.0
BELOW_HIP = 392.0
DART_INTAKE = 32.0
DART_DEPTH = 142.0
DART_AT = 0.46
# The dart crosses this level, measured from the highest point of the piece.
LEVEL = 95.0


def back() -> Part:
    """The half back on the sheet, side seam to the right."""
    down, taper = Vector(0.0, 1.0), bearing(TAPER)
    side = Chain(
        (
            third(SIDE_WAIST, bearing(SIDE_LEAN), HIP, taper),
            Line(HIP, HIP.moved(taper, BELOW_HIP)),
        )
    )
    foot = Point(0.0, side.end.y + 4.0)
    hem = third(side.end, taper.square(), foot, down.square())
    body = Part(
        name="Back",
        edges=(
            *_darted_waist(),
            Edge("side", side),
            edge_of("hem", hem),
            edge_of("centre", Line(foot, CENTRE_WAIST)),
        ),
        grain=Line(Point(52.0, 240.0), Point(52.0, 520.0)),
        label=Point(150.0, 360.0),
        notches=(notch_on(side, 204.0, "side"),),
        inner=(("hip-line", Chain((Line(Point(0.0, 208.0), HIP),))),),
    )
    return body.mapped(PLACE)


def _darted_waist() -> tuple[Edge, ...]:
    """The waist in two curves, each square to its dart leg, to centre and to side."""
    along = (SIDE_WAIST - CENTRE_WAIST).unit()
    middle = CENTRE_WAIST.towards(SIDE_WAIST, DART_AT).moved(along.square(), 4.0)
    near, far = (middle.moved(along, s * DART_INTAKE / 2) for s in (-1.0, 1.0))
    apex = middle.moved(along.square(), DART_DEPTH)
    at_near, at_far = -(apex - near).unit().square(), -(apex - far).unit().square()
    return (
        edge_of("waist", third(CENTRE_WAIST, Vector(1.0, 0.0), near, at_near)),
        edge_of("dart", Line(near, apex), Line(apex, far)),
        edge_of("waist beyond dart", third(far, at_far, SIDE_WAIST, -bearing(SIDE_LEAN).square())),
    )


def draw() -> bytes:
    body = svg.piece(back(), PEN, words=["Back", "cut 2"])
    body += svg.writing(
        Point(SHEET[0] / 2, 26.0), ["Raking skirt", "seam allowance not included"], PEN
    )
    return svg.document(
        width=f"{SHEET[0]:g}mm",
        height=f"{SHEET[1]:g}mm",
        view=SHEET,
        title="Raking skirt",
        pen=PEN,
        body=svg.indented(body),
    )
