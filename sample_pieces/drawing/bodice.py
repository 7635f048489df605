"""Picking bodice: front on the fold and back, each with two darts in its lower edge."""

from __future__ import annotations

from dataclasses import dataclass

from core.curve import Affine, Chain, Line, Point, Vector
from sample_pieces.drawing import svg
from sample_pieces.drawing.part import Edge, Part, bearing, edge_of, notch_on, sweep_between, third

PEN = svg.Pen()
SHEET = (640.0, 560.0)
# The back is mirrored, so that the side seams face each other across a gap.
FRONT_PLACE = Affine.move(50.0, 70.0)
BACK_PLACE = Affine(a=-1.0, e=590.0, f=70.0)
# Sewn together, so the same on both pieces.
SIDE_SEAM = 205.0
SIDE_NOTCH = 90.0
ACROSS = Vector(1.0, 0.0)


@dataclass(frozen=True, kw_only=True)
class Cut:
    """The points one piece is drawn through: mm, the centre at x = 0, side to the right.

    `darts` are, from the side on: how far from the centre, intake, depth.
    """

    name: str
    neck: Point
    neck_reach: tuple[float, float]
    shoulder: tuple[Point, Point]
    across: Point
    underarm: Point
    taper: float
    centre: Point
    darts: tuple[tuple[float, float, float], ...]


FRONT = Cut(
    name="Front",
    neck=Point(0.0, 74.0),
    neck_reach=(40.0, 38.0),
    shoulder=(Point(70.0, 2.0), Point(176.0, 40.0)),
    across=Point(160.0, 128.0),
    underarm=Point(240.0, 206.0),
    taper=6.0,
    centre=Point(0.0, 416.0),
    darts=((168.0, 16.0, 112.0), (94.0, 22.0, 128.0)),
)
BACK = Cut(
    name="Back",
    neck=Point(0.0, 22.0),
    neck_reach=(48.0, 8.0),
    shoulder=(Point(72.0, 0.0), Point(178.0, 40.0)),
    across=Point(166.0, 122.0),
    underarm=Point(232.0, 206.0),
    taper=5.0,
    centre=Point(0.0, 408.0),
    darts=((160.0, 14.0, 120.0), (84.0, 20.0, 138.0)),
)


def front() -> Part:
    return _piece(FRONT).mapped(FRONT_PLACE)


def back() -> Part:
    return _piece(BACK).mapped(BACK_PLACE)


def pieces() -> tuple[Part, Part]:
    return front(), back()


def _piece(cut: Cut) -> Part:
    inner, tip = cut.shoulder
    slope, down = (tip - inner).unit(), bearing(cut.taper)
    side = Line(cut.underarm, cut.underarm.moved(down, SIDE_SEAM))
    # Square to the shoulder and to the centre, so that neck and armhole run on once sewn.
    neck = sweep_between(cut.neck, ACROSS, inner, -slope.square(), reach=cut.neck_reach)
    armhole = (
        third(tip, slope.square(), cut.across, bearing(2.0)),
        sweep_between(cut.across, bearing(2.0), cut.underarm, -down.square(), reach=(42.0, 40.0)),
    )
    return Part(
        name=cut.name,
        edges=(
            edge_of("neck", neck),
            edge_of("shoulder", Line(inner, tip)),
            Edge("armhole", Chain(armhole)),
            edge_of("side", side),
            *_lower_edge(cut, side.end, down),
            edge_of("centre", Line(cut.centre, cut.neck)),
        ),
        grain=Line(Point(44.0, 130.0), Point(44.0, 330.0)),
        label=Point(122.0, 210.0),
        notches=(notch_on(Chain((side,)), SIDE_NOTCH, "side"),),
    )


def _lower_edge(cut: Cut, start: Point, side: Vector) -> tuple[Edge, ...]:
    """From side to centre, square to both and to the legs of its darts, so that it runs smooth
    once they are sewn."""
    edges: list[Edge] = []
    at, way = start, side.square()
    along = (cut.centre - start).unit()
    for k, (from_centre, intake, depth) in enumerate(cut.darts, 1):
        share = (start.x - from_centre) / (start.x - cut.centre.x)
        middle = start.towards(cut.centre, share) + Vector(0.0, 2.0)
        near, far = middle.moved(along, -intake / 2), middle.moved(along, intake / 2)
        apex = middle.moved(along.square(), depth)
        towards, away = (apex - near).unit(), (far - apex).unit()
        edges += [
            edge_of(f"hem {k}", third(at, way, near, -towards.square())),
            edge_of(f"dart {k}", Line(near, apex), Line(apex, far)),
        ]
        at, way = far, away.square()
    return (*edges, edge_of("hem", third(at, way, cut.centre, -ACROSS)))


def _edges(centre: str) -> list[tuple[str, int]]:
    """The words of each edge; the darts belong to the lower one."""
    return [
        ("neck", 1),
        ("shoulder", 1),
        ("armhole", 1),
        ("side-seam", 1),
        ("lower-edge", 5),
        (centre, 1),
    ]


def draw() -> bytes:
    parts = front(), back()
    body = svg.piece(
        parts[0],
        PEN,
        words=["Front", "cut 1 on the fold"],
        more=svg.fold(parts[0], PEN),
        edges=_edges("fold"),
    )
    body += svg.piece(parts[1], PEN, words=["Back", "cut 2"], edges=_edges("centre-back"))
    body += svg.writing(
        Point(SHEET[0] / 2, 26.0), ["Picking bodice", "seam allowance not included"], PEN
    )
    return svg.document(
        width=f"{SHEET[0]:g}mm",
        height=f"{SHEET[1]:g}mm",
        view=SHEET,
        title="Picking bodice",
        pen=PEN,
        body=svg.indented(body),
    )
