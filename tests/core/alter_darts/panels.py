"""A plain panel with a contour dart on it, by numbers: waist up, grain straight down."""

from __future__ import annotations

from core.curve import Chain, Line, Point, Ring
from core.piece.model import Kind, Mark, Piece, Shape
from core.piece.recognise import recognise

HEM = 600.0
CENTRE = 140.0


def diamond(upper: float, *, long: float = 240.0, wide: float = 26.0) -> list[Point]:
    """Corners of a contour dart whose upper tip lies at that height; widest in its middle."""
    middle, half = upper + long / 2, wide / 2
    return [
        Point(CENTRE, upper),
        Point(CENTRE + half, middle),
        Point(CENTRE, upper + long),
        Point(CENTRE - half, middle),
    ]


def panel(corners: list[Point], *, split: bool = False, holes: bool = False) -> Piece:
    """A panel 300 wide above and 280 below, 600 high, hem level, with the contour dart drawn
    as one closed line or as four, and drill holes at its points if there are `holes`."""
    ring = Ring.polygon([Point(-10, 0), Point(290, 0), Point(280, HEM), Point(0, HEM)])
    grain = Chain((Line(Point(60, 80), Point(60, 480)),))
    shapes = [Shape(0, ring, ("Panel",), kind=Kind.OUTLINE), Shape(1, grain, kind=Kind.GRAIN)]
    if split:
        ends = zip(corners, (*corners[1:], corners[0]), strict=True)
        lines: list[Chain] = [Chain((Line(a, b),)) for a, b in ends]
    else:
        lines = [Ring.polygon(corners)]
    shapes += [Shape(2 + k, line, ("dart",), kind=Kind.DART) for k, line in enumerate(lines)]
    if holes:
        shapes += [Shape(10 + k, p, kind=Kind.DRILL) for k, p in enumerate(corners)]
    (piece,), _ = recognise(shapes)
    return piece


def dart_marks(piece: Piece) -> list[Mark]:
    """The drawn lines of the dart, and its holes."""
    return [m for m in piece.marks if m.kind in (Kind.DART, Kind.DRILL)]


def points_of(mark: Mark) -> tuple[Point, ...]:
    if isinstance(mark.geometry, Point):
        return (mark.geometry,)
    return (*(s.start for s in mark.geometry), mark.geometry.end)
