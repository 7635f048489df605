"""Pruning sleeve: close to the arm, bent forward at the elbow by a dart in its back seam."""

from __future__ import annotations

from core.curve import Affine, Chain, Line, Point, Vector
from sample_pieces.drawing import svg
from sample_pieces.drawing.part import Edge, Part, edge_of, notch_on, sweep_between, third

PEN = svg.Pen()
SHEET = (480.0, 780.0)
PLACE = Affine.move(240.0, 80.0)
SHOULDER = Point(6.0, 0.0)
BACK_UNDERARM, FRONT_UNDERARM = Point(-178.0, 138.0), Point(176.0, 138.0)
FRONT_ELBOW, FRONT_WRIST = Point(136.0, 352.0), Point(118.0, 604.0)
BACK_ELBOW = Point(-150.0, 346.0)
BACK_WRIST_X = -104.0
DART_INTAKE = 24.0
DART_DEPTH = 84.0
SEAM_NOTCH = 120.0
# The dart belongs to the back seam.
EDGES = (("cap", 1), ("underarm-front", 1), ("hem", 1), ("underarm-back", 3))


def sleeve() -> Part:
    """The sleeve on the sheet, its back seam to the left."""
    front = Chain(
        (
            third(FRONT_UNDERARM, _way(FRONT_UNDERARM, FRONT_ELBOW, 0.02), FRONT_ELBOW, _forearm()),
            Line(FRONT_ELBOW, FRONT_WRIST),
        )
    )
    back, dart, lower = _back_seam(front.length())
    hem = third(FRONT_WRIST, _forearm().square(), lower.start, -lower.tangent(0.0).square())
    cap = _cap(front.tangent(front.at_length(0.0)))
    body = Part(
        name="Sleeve",
        edges=(
            Edge("cap", cap),
            Edge("underarm front", front),
            edge_of("hem", hem),
            edge_of("underarm back below dart", lower),
            edge_of("dart", *dart),
            edge_of("underarm back", back),
        ),
        grain=Line(Point(4.0, 120.0), Point(4.0, 520.0)),
        label=Point(56.0, 250.0),
        notches=(
            notch_on(cap, 96.0, "back-1"),
            notch_on(cap, 106.0, "back-2"),
            notch_on(cap, cap.length() - 96.0, "front"),
            notch_on(front, SEAM_NOTCH, "underarm-front"),
            notch_on(Chain((back,)), back.length() - SEAM_NOTCH, "underarm-back"),
        ),
    )
    return body.mapped(PLACE)


def _way(start: Point, end: Point, turn: float) -> Vector:
    return (end - start).unit().turned(turn)


def _forearm() -> Vector:
    return (FRONT_WRIST - FRONT_ELBOW).unit()


def _back_seam(length: float) -> tuple[Line, tuple[Line, Line], Line]:
    """Upwards: above the dart, the dart's legs, below it; without the dart as long as the front.

    The dart lies square to the seam, its legs equal.
    """
    down = (BACK_ELBOW - BACK_UNDERARM).unit()
    upper = BACK_UNDERARM.distance(BACK_ELBOW)
    far = BACK_ELBOW.moved(down, DART_INTAKE)
    middle = BACK_ELBOW.towards(far, 0.5)
    apex = middle.moved(down.square(), -DART_DEPTH)
    # Below the dart the forearm comes forward; its length is what is left of the front's.
    rest = length - upper
    across = BACK_WRIST_X - far.x
    wrist = Point(BACK_WRIST_X, far.y + (rest * rest - across * across) ** 0.5)
    return (
        Line(BACK_ELBOW, BACK_UNDERARM),
        (Line(far, apex), Line(apex, BACK_ELBOW)),
        Line(wrist, far),
    )


def _cap(front_down: Vector) -> Chain:
    """From the back underarm over the shoulder to the front, square to both seams."""
    along = Vector(1.0, 0.0)
    back_down = (BACK_ELBOW - BACK_UNDERARM).unit()
    back, front = Point(-92.0, 60.0), Point(98.0, 64.0)
    rise, fall = along.turned(-0.86), along.turned(0.9)
    return Chain(
        (
            sweep_between(BACK_UNDERARM, -back_down.square(), back, rise, reach=(44.0, 36.0)),
            sweep_between(back, rise, SHOULDER, along, reach=(42.0, 50.0)),
            sweep_between(SHOULDER, along, front, fall, reach=(48.0, 40.0)),
            sweep_between(front, fall, FRONT_UNDERARM, -front_down.square(), reach=(36.0, 42.0)),
        )
    )


def draw() -> bytes:
    body = svg.piece(sleeve(), PEN, words=["Sleeve", "cut 2"], edges=EDGES)
    body += svg.writing(
        Point(SHEET[0] / 2, 30.0), ["Pruning sleeve", "seam allowance not included"], PEN
    )
    return svg.document(
        width=f"{SHEET[0]:g}mm",
        height=f"{SHEET[1]:g}mm",
        view=SHEET,
        title="Pruning sleeve",
        pen=PEN,
        body=svg.indented(body),
    )
