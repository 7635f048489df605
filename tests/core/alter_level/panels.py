"""Plain panels drawn by their numbers, for closed forms: waist up, grain straight down."""

from __future__ import annotations

from dataclasses import replace

from core.alter.level.insert import insert_at
from core.alter.level.model import LevelChange, Truing
from core.alter.model import Altered
from core.curve import Chain, Place, Point, Ring, Vector
from core.piece.model import (
    Because,
    Dart,
    Edge,
    Grain,
    HemRun,
    Kind,
    Mark,
    Origin,
    Outline,
    Piece,
    Role,
    Taper,
)

SURE = Because(True, "drawn so")
DOWN = Vector(0.0, 1.0)


def tapered(top: float, hem: float, height: float, *marks: Mark) -> Piece:
    """A panel with straight seams that narrow from `top` to `hem` over `height` (mm)."""
    corners = [
        Point(-hem / 2, height),
        Point(hem / 2, height),
        Point(top / 2, 0.0),
        Point(-top / 2, 0.0),
    ]
    return polygon(corners, (Role.HEM, Role.SIDE, Role.WAIST, Role.INSEAM), *marks)


def polygon(corners: list[Point], roles: tuple[Role, ...], *marks: Mark) -> Piece:
    """A piece of straight edges; the first is the hem, run from the first corner on."""
    ring = Ring.polygon(corners)
    size = len(ring)
    places = [Place(k, 0.0) for k in range(size)]
    edges = tuple(
        Edge(role, places[k], places[(k + 1) % size], SURE) for k, role in enumerate(roles)
    )
    first, last = ring.segments[-1].tangent(1.0), -ring.segments[1].tangent(0.0)
    return Piece(
        key=0,
        name="Panel",
        outline=Outline(ring, tuple(Origin(0, k) for k in range(size))),
        grain=Grain(DOWN, SURE),
        edges=edges,
        hem=HemRun(Taper(places[0], first, SURE), Taper(places[1], last, SURE)),
        marks=marks,
    )


def with_waist_dart(slant: float, *, depth: float = 110.0, half: float = 12.0) -> Piece:
    """A tapered panel whose waist drops by `slant` per mm, with a dart cut out of it."""
    way = Vector(-1.0, slant).unit()
    right, left = Point(150.0, 0.0), Point(150.0, 0.0).moved(way, 300.0)
    middle = right.towards(left, 0.5)
    mouth = middle.moved(way, -half), middle.moved(way, half)
    square = way.square()
    apex = middle.moved(square if square.y > 0.0 else -square, depth)
    corners = [Point(-130.0, 600.0), Point(130.0, 600.0), right, mouth[0], apex, mouth[1], left]
    ring = Ring.polygon(corners)
    ends = [(0, 1), (1, 2), (2, 6), (6, 0)]
    roles = (Role.HEM, Role.SIDE, Role.WAIST, Role.INSEAM)
    edges = tuple(
        Edge(role, Place(a, 0.0), Place(b, 0.0), SURE)
        for role, (a, b) in zip(roles, ends, strict=True)
    )
    dart = Dart(mouth, apex, SURE, on=Role.WAIST, mouth_places=(Place(3, 0.0), Place(5, 0.0)))
    plain = tapered(300.0, 260.0, 600.0)
    return replace(
        plain,
        outline=Outline(ring, tuple(Origin(0, k) for k in range(len(ring)))),
        edges=edges,
        darts=(dart,),
    )


def line(kind: Kind, key: int, *points: Point) -> Mark:
    return Mark(kind, key, Chain.through(points))


def put_in(
    piece: Piece,
    at: float,
    by: float,
    true: Truing = Truing.STRAIGHT,
    blend: float | None = None,
) -> Altered:
    return insert_at(piece, LevelChange(at, by, true, blend))


def width_at(piece: Piece, height: float) -> float:
    """Width of a panel at a height, in mm."""
    met = [piece.ring.at(p) for p in piece.ring.meets(Point(0.0, height), Vector(1.0, 0.0))]
    return max(p.x for p in met) - min(p.x for p in met)


def near(got: float, wanted: float, what: str, tolerance: float = 1e-9) -> None:
    off = abs(got - wanted)
    assert off <= tolerance, f"{what}: wanted {wanted}, got {got}, tolerance {tolerance}"
