"""One entity as geometry in mm: lines, arcs, ellipses, splines, polylines, points, writing."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from core.curve import Affine, Chain, Line, Point, Ring, Vector
from core.curve.arcs import ARC_TOLERANCE, arc_rows, pieces_for
from core.curve.drawn import Drawn
from core.errors import FileError
from core.files.dxf import polylines, splines, through_ezdxf
from core.files.dxf.pairs import Pairs
from core.files.dxf.paths import Path, closed, path_of, widest
from core.files.dxf.polylines import TooManyPointsError
from core.files.dxf.records import Entity, Layout
from core.files.dxf.short import is_short
from core.kept import kept
from core.piece.too_much import MOST_POINTS

WRITING = frozenset({"TEXT", "MTEXT", "ATTRIB"})
POINTS = WRITING | {"POINT"}
CONICS = frozenset({"ARC", "CIRCLE", "ELLIPSE"})
PATHS = CONICS | {"LINE", "SPLINE", "LWPOLYLINE", "POLYLINE"}
SPLINE_DATA = frozenset({10, 20, 11, 21, 40, 41})
# These store their places in a plane of their own (DXF reference, "Object coordinate systems").
OWN_PLANE = frozenset({"LWPOLYLINE", "POLYLINE", "ARC", "CIRCLE", "TEXT", "ATTRIB", "INSERT"})
MIRRORED = Affine(a=-1.0)
# A plane leaning less than this (about 0.06 degrees) shortens nothing by 1e-6.
UPRIGHT = 1e-3
THREE_D = 8
FULL_TURN = 2.0 * math.pi


class Numbers(NamedTuple):
    """The fields of one record with what is needed to read numbers from them."""

    pairs: Pairs
    entity: Entity
    at: dict[int, int]

    def get(self, code: int, default: float | None = None) -> float:
        """The number of that group code; FileError when it must be there and is not."""
        at = self.at.get(code)
        if at is not None:
            return self.pairs.number(at)
        if default is None:
            raise FileError(
                f"{self.pairs.name}, line {self.pairs.line(self.entity.first)}: this "
                f"{self.entity.type} lacks its group code {code}. "
                "Save the file again from the program that made it."
            )
        return default

    def point(self, code: int = 10) -> Point:
        """The point at `code` and `code` + 10, in file units."""
        return Point(self.get(code), self.get(code + 10))


# Where it stands, what layer it is on, and what it draws are asked one after the other.
@kept(most=2)
def numbers(pairs: Pairs, entity: Entity) -> Numbers:
    """The fields of the entity's own record."""
    if entity.type == "LWPOLYLINE":
        return Numbers(pairs, entity, polylines.head_fields(pairs, entity))
    return Numbers(pairs, entity, pairs.fields(entity.first, entity.head))


@dataclass(frozen=True, slots=True)
class Plane:
    """How the entity's own plane lies in the drawing; None when it leans."""

    to_drawing: Affine | None


AS_IT_IS = Affine()
_UPRIGHT = Plane(AS_IT_IS)


def own_plane(of: Numbers) -> Plane:
    """Upright, mirrored (extrusion along -z), or leaning."""
    if 230 not in of.at or of.entity.type not in OWN_PLANE:
        return _UPRIGHT
    if of.entity.type == "POLYLINE" and int(of.get(70, 0.0)) & THREE_D:
        return _UPRIGHT
    across = Vector(of.get(210, 0.0), of.get(220, 0.0))
    if across.norm > UPRIGHT * abs(of.get(230)):
        return Plane(None)
    return Plane(MIRRORED) if of.get(230) < 0.0 else _UPRIGHT


def path(file: Layout, entity: Entity, to_mm: Affine) -> Path | None:
    """The entity's path in mm, or None where it draws nothing that can be followed.

    FileError for numbers that are missing or unusable.
    """
    if entity.type in ("LWPOLYLINE", "POLYLINE"):
        return polylines.path(file.pairs, entity, to_mm)
    of = numbers(file.pairs, entity)
    if entity.type == "LINE":
        line = Line(to_mm.point(of.point(10)), to_mm.point(of.point(11)))
        return Path((line,), (0,)) if line.start != line.end else None
    rows = _curve(of, to_mm)
    return path_of([(0, rows.segments())]) if rows is not None else None


def geometry(file: Layout, entity: Entity, to_mm: Affine) -> Ring | Chain | None:
    """The same as one line; its curves are made when somebody asks for them."""
    if entity.type in ("LWPOLYLINE", "POLYLINE"):
        return polylines.geometry(file.pairs, entity, to_mm)
    if entity.type == "LINE":
        found = path(file, entity, to_mm)
        return found.geometry() if found is not None else None
    rows = _curve(numbers(file.pairs, entity), to_mm)
    if rows is None:
        return None
    return Ring.drawn(rows) if rows.start == rows.end else Chain.drawn(rows)


def _curve(of: Numbers, to_mm: Affine) -> Drawn | None:
    return _spline(of, to_mm) if of.entity.type == "SPLINE" else _conic(of, to_mm)


def _conic(of: Numbers, to_mm: Affine) -> Drawn | None:
    if of.entity.type == "ELLIPSE":
        oval, start, sweep = ellipse_of(of)
        return _arc(oval, start, sweep, to_mm)
    start, sweep = 0.0, FULL_TURN
    if of.entity.type == "ARC":
        start, end = math.radians(of.get(50)), math.radians(of.get(51))
        sweep = (end - start) % FULL_TURN or FULL_TURN
    return _arc(Oval(of.point(), Vector(of.get(40), 0.0), of.get(40)), start, sweep, to_mm)


class Oval(NamedTuple):
    """An ellipse by its centre, major half axis and signed length of the minor one."""

    centre: Point
    major: Vector
    minor: float

    def to_circle(self) -> Affine:
        """The map that makes of it the circle of radius 1 around the origin."""
        turn = math.atan2(self.major.y, self.major.x)
        place = Affine.move(self.centre.x, self.centre.y) @ Affine.turn(turn)
        return (place @ Affine.scale(self.major.norm, self.minor)).inverse()


def ellipse_of(of: Numbers) -> tuple[Oval, float, float]:
    """An ELLIPSE, the parameter at which its part starts, and through how much it goes."""
    major = Vector(of.get(11), of.get(21))
    minor = of.get(40) * major.norm * (-1.0 if of.get(230, 1.0) < 0.0 else 1.0)
    start, end = of.get(41, 0.0), of.get(42, FULL_TURN)
    sweep = end - start if abs(end - start) <= FULL_TURN else (end - start) % FULL_TURN
    if sweep < 0.0:
        sweep += FULL_TURN
    return Oval(of.point(), major, minor), start, sweep or FULL_TURN


def _arc(oval: Oval, start: float, sweep: float, to_mm: Affine) -> Drawn | None:
    """Part of an ellipse, from its own parameter `start` through `sweep` radians; None where that
    has no size."""
    centre, major, minor = oval
    long = major.norm
    if long == 0.0 or minor == 0.0:
        return None
    tolerance = ARC_TOLERANCE / widest(to_mm)
    count = pieces_for(max(long, abs(minor)), sweep, tolerance=tolerance)
    # Along the major axis, and along the minor one, which is a quarter turn on.
    x, y = major.x, major.y
    share = minor / long
    place = to_mm @ Affine(x, y, -y * share, x * share, centre.x, centre.y)
    rows = arc_rows(start, sweep, count, place)
    return closed(rows) if abs(sweep) > math.pi else rows


def _spline(of: Numbers, to_mm: Affine) -> Drawn | None:
    spline = bspline(of)
    if spline is None:
        return None
    try:
        rows = splines.drawn(spline.mapped(to_mm), most=MOST_POINTS)
    except splines.TooManySpansError as trouble:
        raise TooManyPointsError(of.pairs, of.entity, trouble.count) from None
    return closed(rows) if rows is not None else None


def slow_spline(of: Numbers) -> int:
    """How many splines' work it is to follow one with weights or through fit points; 0 for any
    other."""
    plain = 10 in of.at and 41 not in of.at and int(of.get(71, 3.0)) <= 3
    return 0 if plain else 1 + (of.entity.head - of.entity.first) // 20


def bspline(of: Numbers) -> splines.BSpline | None:
    """The SPLINE in file units; None when its numbers do not fit together."""
    many = _all_numbers(of)
    controls = _points(many, 10)
    if not controls:
        fit = _points(many, 11)
        if fit is None or len(fit) < 2:
            return None
        if len(fit) > MOST_POINTS:
            raise TooManyPointsError(of.pairs, of.entity, len(fit))
        return through_ezdxf.through_points(fit, (_direction(of, 12), _direction(of, 13)))
    weights = many[41]
    uneven = len(weights) == len(controls) and max(weights) > min(weights)
    spline = splines.BSpline(int(of.get(71, 3.0)), many[40], controls, weights if uneven else None)
    return spline if spline.sound else None


def _direction(of: Numbers, code: int) -> tuple[float, float] | None:
    said = code in of.at and code + 10 in of.at
    return (of.get(code), of.get(code + 10)) if said else None


def _all_numbers(of: Numbers) -> dict[int, list[float]]:
    """Knots (40), weights (41), control points (10, 20) and fit points (11, 21)."""
    pairs, first, head = of.pairs, of.entity.first, of.entity.head
    if not is_short(of.entity):
        places = {c: pairs.positions(first, head, c) for c in SPLINE_DATA}
        return {c: pairs.numbers(at) for c, at in places.items()}
    codes = pairs.codes[first:head].tolist()
    at = [k for k, code in enumerate(codes, first) if code in SPLINE_DATA]
    out: dict[int, list[float]] = {c: [] for c in SPLINE_DATA}
    for k, x in zip(at, pairs.few_numbers(at), strict=True):
        out[codes[k - first]].append(x)
    return out


def _points(many: Mapping[int, list[float]], code: int) -> list[tuple[float, float]] | None:
    xs, ys = many[code], many[code + 10]
    return list(zip(xs, ys, strict=True)) if len(xs) == len(ys) else None


def words_of(file: Layout, of: Numbers) -> str:
    """What a TEXT, ATTRIB or MTEXT says, without its formatting codes."""
    text = file.text(of.at[1]) if 1 in of.at else ""
    if of.entity.type != "MTEXT":
        return text
    parts = file.pairs.positions(of.entity.first, of.entity.head, 3).tolist()
    text = "".join(file.text(i) for i in parts) + text
    return through_ezdxf.plain(text) if "\\" in text or "{" in text else text
