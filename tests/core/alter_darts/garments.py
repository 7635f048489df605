"""Pieces of each garment with darts in the hem and above it, cut out or drawn as lines."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from core.curve import Chain, Cubic, Line, Point, Ring, Segment
from core.piece.correct import with_role
from core.piece.model import Kind, Piece, Role, Shape
from core.piece.recognise import recognise


@dataclass(frozen=True)
class DartPlan:
    """A dart: both ends of its mouth in outline order, and its apex."""

    a: Point
    b: Point
    apex: Point


def dart(a: Point, b: Point, depth: float) -> DartPlan:
    """Square to its mouth, into a piece that runs so that the left hand points inwards."""
    into = (b - a).unit().square()
    return DartPlan(a, b, a.towards(b, 0.5).moved(into, depth))


def _through(points: Sequence[Point], darts: Sequence[DartPlan], *, cut: bool) -> list[Segment]:
    """Lines through the points, the darts cut out of them if they are to be."""
    row = list(points)
    if cut:
        for d in darts:
            k = next(k for k in range(len(row) - 1) if _on(row[k], row[k + 1], d.a))
            row[k + 1 : k + 1] = [d.a, d.apex, d.b]
    return [Line(a, b) for a, b in pairwise(row)]


def _on(a: Point, b: Point, p: Point) -> bool:
    return abs(a.distance(p) + p.distance(b) - a.distance(b)) < 1e-6


def _piece(
    name: str, ring: list[Segment], darts: Sequence[DartPlan], grain: Line, *, cut: bool, low: Point
) -> Piece:
    """The piece as it is read; the edge at `low` said to be the hem where that is not seen."""
    shapes = [
        Shape(0, Ring(tuple(ring)), (name,), kind=Kind.OUTLINE),
        Shape(1, Chain((grain,)), kind=Kind.GRAIN),
    ]
    if not cut:
        legs = [Chain.through((d.a, d.apex, d.b)) for d in darts]
        shapes += [Shape(2 + k, c, ("dart",), kind=Kind.DART) for k, c in enumerate(legs)]
    (piece,), _ = recognise(shapes)
    away = [piece.edge_chain(e).nearest(low).distance for e in piece.edges]
    number = away.index(min(away))
    if piece.edges[number].role is not Role.HEM:
        piece = with_role(piece, number, Role.HEM)
    return piece


def trousers(*, cut: bool) -> Piece:
    """A front leg: waist dart, hem dart; inseam and side seam curve above the knee."""
    hem = dart(Point(150, 1000), Point(130, 1000), 80)
    waist = dart(Point(120, 0), Point(140, 0), 90)
    low = _through([Point(230, 1000), Point(50, 1000)], [hem], cut=cut)
    top = _through([Point(60, 0), Point(240, 0)], [waist], cut=cut)
    ring: list[Segment] = [
        *top,
        Cubic(Point(240, 0), Point(262, 90), Point(272, 170), Point(270, 260)),
        Cubic(Point(270, 260), Point(268, 400), Point(250, 600), Point(244, 720)),
        Line(Point(244, 720), Point(230, 1000)),
        *low,
        Line(Point(50, 1000), Point(36, 720)),
        Cubic(Point(36, 720), Point(30, 600), Point(12, 420), Point(0, 290)),
        Cubic(Point(0, 290), Point(40, 270), Point(52, 200), Point(60, 0)),
    ]
    grain = Line(Point(100, 300), Point(100, 800))
    return _piece("Trousers front", ring, [waist, hem], grain, cut=cut, low=Point(60, 1000))


def shorts(*, cut: bool) -> Piece:
    """A back leg with a rounded hem corner at the side, and a dart in the hem."""
    hem = dart(Point(170, 420), Point(146, 420), 70)
    low = _through([Point(250, 420), Point(10, 420)], [hem], cut=cut)
    ring: list[Segment] = [
        Line(Point(70, 0), Point(280, 10)),
        Cubic(Point(280, 10), Point(300, 120), Point(306, 200), Point(302, 300)),
        Line(Point(302, 300), Point(299, 370)),
        Cubic(Point(299, 370), Point(297.6, 400), Point(280, 420), Point(250, 420)),
        *low,
        Cubic(Point(10, 420), Point(4, 390), Point(0, 370), Point(-6, 330)),
        Cubic(Point(-6, 330), Point(46, 320), Point(60, 220), Point(70, 0)),
    ]
    grain = Line(Point(120, 60), Point(120, 320))
    return _piece("Shorts back", ring, [hem], grain, cut=cut, low=Point(20, 420))


def skirt(*, cut: bool) -> Piece:
    """A flared skirt: two waist darts, two darts in a hem that slopes."""
    left, right = Point(-40, 600), Point(320, 612)
    way = (left - right).unit()
    hems = [
        dart(right.moved(way, 110), right.moved(way, 132), 90),
        dart(right.moved(way, 230), right.moved(way, 256), 110),
    ]
    waists = [dart(Point(90, 0), Point(112, 0), 100), dart(Point(180, 0), Point(200, 0), 110)]
    ring: list[Segment] = [
        *_through([Point(0, 0), Point(280, 0)], waists, cut=cut),
        Cubic(Point(280, 0), Point(300, 90), Point(306, 140), Point(309, 220)),
        Line(Point(309, 220), right),
        *_through([right, left], hems, cut=cut),
        Line(left, Point(0, 0)),
    ]
    grain = Line(Point(60, 120), Point(60, 480))
    return _piece(
        "Skirt back", ring, [*waists, *hems], grain, cut=cut, low=left.towards(right, 0.1)
    )


def sleeve(*, cut: bool) -> Piece:
    """A long sleeve: elbow dart in the back underarm seam, a dart at the wrist."""
    top, wrist = Point(340, 160), Point(268, 620)
    way = (wrist - top).unit()
    elbow = dart(top.moved(way, 205), top.moved(way, 221), 70)
    hem = dart(Point(204, 620), Point(190, 620), 85)
    ring: list[Segment] = [
        Cubic(Point(0, 160), Point(70, 150), Point(90, 0), Point(170, 0)),
        Cubic(Point(170, 0), Point(250, 0), Point(270, 150), top),
        *_through([top, wrist], [elbow], cut=cut),
        *_through([wrist, Point(72, 620)], [hem], cut=cut),
        Line(Point(72, 620), Point(0, 160)),
    ]
    grain = Line(Point(160, 120), Point(160, 500))
    return _piece("Sleeve", ring, [elbow, hem], grain, cut=cut, low=Point(90, 620))


def bodice(*, cut: bool) -> Piece:
    """A front bodice: bust dart in the side seam, two waist darts in its lower edge."""
    arm, side = Point(250, 190), Point(232, 400)
    way = (side - arm).unit()
    bust = dart(arm.moved(way, 40), arm.moved(way, 66), 90)
    waists = [
        dart(Point(170, 400), Point(144, 400), 120),
        dart(Point(90, 400), Point(72, 400), 100),
    ]
    ring: list[Segment] = [
        Cubic(Point(0, 80), Point(40, 80), Point(70, 50), Point(80, 0)),
        Line(Point(80, 0), Point(200, 40)),
        Cubic(Point(200, 40), Point(180, 120), Point(196, 186), arm),
        *_through([arm, side], [bust], cut=cut),
        *_through([side, Point(0, 400)], waists, cut=cut),
        Line(Point(0, 400), Point(0, 80)),
    ]
    grain = Line(Point(40, 120), Point(40, 360))
    return _piece("Bodice front", ring, [bust, *waists], grain, cut=cut, low=Point(30, 400))


GARMENTS: dict[str, Callable[..., Piece]] = {
    "trousers": trousers,
    "shorts": shorts,
    "skirt": skirt,
    "sleeve": sleeve,
    "bodice": bodice,
}
