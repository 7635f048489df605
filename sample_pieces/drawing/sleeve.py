"""Watering sleeve: one piece, laid askew on a sheet in centimetres."""

from __future__ import annotations

import math

from core.curve import Chain, Cubic, Line, Point, Vector
from sample_pieces.drawing import svg
from sample_pieces.drawing.part import Edge, Part, edge_of, notch_on, sweep_between, third

PEN = svg.Pen(unit_mm=10.0, decimals=4)
SHEET = (50.0, 72.0)
# Two groups, one moving and one turning: the grain is not the page's vertical.
MOVED = "translate(29 8)"
TURNED = "rotate(12)"

SHOULDER = Point(0.9, 0.0)
BACK_UNDERARM = Point(-18.5, 13.5)
FRONT_UNDERARM = Point(18.5, 13.5)
BACK_WRIST = Point(-12.0, 57.0)
FRONT_WRIST = Point(12.0, 57.0)


def sleeve() -> Part:
    """The sleeve upright, before it is turned on the sheet; centimetres."""
    down = (FRONT_WRIST - FRONT_UNDERARM).unit()
    hem = third(FRONT_WRIST, down.square(), BACK_WRIST, Vector(-down.x, down.y).square())
    cap = _cap(down)
    return Part(
        name="Sleeve",
        edges=(
            Edge("cap", cap),
            edge_of("underarm front", Line(FRONT_UNDERARM, FRONT_WRIST)),
            edge_of("hem", hem),
            edge_of("underarm back", Line(BACK_WRIST, BACK_UNDERARM)),
        ),
        grain=Line(Point(0.0, 12.0), Point(0.0, 48.0)),
        label=Point(5.6, 26.0),
        notches=(
            notch_on(cap, 9.6, "back-1"),
            notch_on(cap, 10.6, "back-2"),
            notch_on(cap, cap.length() - 9.6, "front"),
        ),
    )


def _cap(down: Vector) -> Chain:
    """From the back underarm over the shoulder to the front, which is hollowed out more.

    Square to both underarm seams, so that the armhole runs on over the closed seam.
    """
    along = Vector(1.0, 0.0)
    back, front = Point(-9.7, 5.9), Point(10.2, 6.3)
    rise, fall = along.turned(math.radians(-49.0)), along.turned(math.radians(52.0))
    return Chain(
        (
            _bow(BACK_UNDERARM, Vector(down.y, down.x), back, rise, (4.6, 3.8)),
            _bow(back, rise, SHOULDER, along, (4.4, 5.2)),
            _bow(SHOULDER, along, front, fall, (5.0, 4.2)),
            _bow(front, fall, FRONT_UNDERARM, -down.square(), (3.8, 4.4)),
        )
    )


def _bow(
    start: Point, leaving: Vector, end: Point, arriving: Vector, reach: tuple[float, float]
) -> Cubic:
    return sweep_between(start, leaving, end, arriving, reach=reach)


def draw() -> bytes:
    body = svg.piece(sleeve(), PEN, words=["Sleeve", "cut 2"])
    turned = svg.moved(body, TURNED)
    body = svg.moved(turned, MOVED)
    body += svg.writing(
        Point(SHEET[0] / 2, 3.4), ["Watering sleeve", "seam allowance not included"], PEN
    )
    return svg.document(
        width=f"{SHEET[0]:g}cm",
        height=f"{SHEET[1]:g}cm",
        view=SHEET,
        title="Watering sleeve",
        pen=PEN,
        body=svg.indented(body),
    )
