"""Tapered panels whose alteration is known in closed form, and what handbooks state of them."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change
from core.alter.redo import Reach
from core.alter.together import alter_together
from core.curve import Affine, Cubic, Line, Place, Point, Ring, Segment, Vector
from core.curve.arcs import elliptical_arc
from core.files.read import read
from core.measure import MM_PER_INCH, parse_length
from core.piece.model import (
    Because,
    Edge,
    Grain,
    HemRun,
    Origin,
    Outline,
    Piece,
    Role,
    Taper,
)
from tests.laws.compare import close

SURE = Because(True, "drawn so")
DOWN = Vector(0.0, 1.0)
SHORTS = Path(__file__).parents[2] / "sample_pieces" / "allotment_shorts.svg"


def panel(waist: tuple[Point, Point], hem: tuple[Segment, ...]) -> Piece:
    """A panel from the waist (left to right) down two straight seams to the hem, which runs
    right to left."""
    left, right = waist
    seams = Line(right, hem[0].start), Line(hem[-1].end, left)
    ring = Ring((Line(left, right), seams[0], *hem, seams[1]))
    first, last = Place(2, 0.0), Place(2 + len(hem), 0.0)
    return Piece(
        key=0,
        name="panel",
        outline=Outline(ring, tuple(Origin(0, k) for k in range(len(ring)))),
        grain=Grain(DOWN, SURE),
        edges=(
            Edge(Role.HEM, first, last, SURE),
            Edge(Role.SIDE, last, Place(0, 0.0), SURE),
            Edge(Role.WAIST, Place(0, 0.0), Place(1, 0.0), SURE),
            Edge(Role.CENTRE_FRONT, Place(1, 0.0), first, SURE),
        ),
        hem=HemRun(
            Taper(first, seams[0].tangent(1.0), SURE),
            Taper(last, -seams[1].tangent(0.0), SURE),
        ),
    )


def trapezoid(above: float, below: float, high: float) -> Piece:
    """A straight-edged panel, widths above and below, symmetric about its grain."""
    waist = Point(-above / 2, 0.0), Point(above / 2, 0.0)
    return panel(waist, (Line(Point(below / 2, high), Point(-below / 2, high)),))


def turned(piece: Piece, by: Affine) -> Piece:
    """The panel laid otherwise on the page, with its grain."""
    assert piece.hem is not None
    first, last = piece.hem.first, piece.hem.last
    return replace(
        piece,
        outline=Outline(piece.ring.mapped(by), piece.outline.origins),
        grain=replace(piece.grain, down=by.vector(piece.grain.down).unit()),
        hem=HemRun(
            replace(first, down=by.vector(first.down).unit()),
            replace(last, down=by.vector(last.down).unit()),
        ),
    )


def hem_ends(piece: Piece) -> tuple[Point, Point]:
    assert piece.hem is not None
    return piece.ring.at(piece.hem.first.place), piece.ring.at(piece.hem.last.place)


def hem_width(piece: Piece) -> float:
    a, b = hem_ends(piece)
    return a.distance(b)


def seam(piece: Piece, role: Role) -> float:
    return piece.edge_length(piece.edge(role))


@pytest.mark.parametrize(
    ("by", "right", "left"),
    [
        (60.0, Point(188.0, 360.0), Point(24.0, 360.0)),
        (-60.0, Point(192.0, 240.0), Point(16.0, 240.0)),
    ],
)
@pytest.mark.parametrize("degrees", [0.0, 30.0, 90.0, 123.4, 180.0, -77.7])
def test_the_panel_of_200_over_170(by: float, right: Point, left: Point, degrees: float) -> None:
    """Waist (0,0)-(200,0), side to (190,300), hem to (20,300). Closed form: each seam goes
    on by 10 and 20 mm across for every 300 down."""
    waist = Point(0.0, 0.0), Point(200.0, 0.0)
    piece = panel(waist, (Line(Point(190.0, 300.0), Point(20.0, 300.0)),))
    lay = Affine.turn(math.radians(degrees), Point(31.0, -17.0))
    got = hem_ends(lengthen(turned(piece, lay), Change(by)).piece)
    for p, q in zip(got, (lay.point(right), lay.point(left)), strict=True):
        assert p.distance(q) <= 1e-6, f"wanted {q}, got {p}, tolerance 1e-6"


@pytest.mark.parametrize(
    ("by", "hem", "seams"), [(0.0, 20.0, 25.0), (12.0, 13.0, 37.5), (-12.0, 27.0, 12.5)]
)
@pytest.mark.parametrize("unit", [10.0, MM_PER_INCH])
def test_the_panel_of_34_over_20(by: float, hem: float, seams: float, unit: float) -> None:
    """34 above, 20 below, 24 high, in cm or in: seams by the triple 7-24-25. Closed form."""
    after = lengthen(trapezoid(34 * unit, 20 * unit, 24 * unit), Change(by * unit)).piece
    close(hem_width(after), hem * unit, 1e-9, "hem")
    for role in (Role.SIDE, Role.CENTRE_FRONT):
        close(seam(after, role), seams * unit, 1e-9, role.value)


def test_the_panel_of_22_over_18() -> None:
    """22 above, 18 below, 60 high: seams sqrt(60^2 + 2^2), hem at acos(2 / seam). Closed form."""
    piece = trapezoid(220.0, 180.0, 600.0)
    close(seam(piece, Role.SIDE), 600.333240792, 1e-8, "seam")
    after = lengthen(piece, Change(150.0)).piece
    close(seam(after, Role.SIDE), 600.333240792 * 750 / 600, 1e-8, "seam, a quarter longer")
    close(hem_width(after), 170.0, 1e-9, "hem, a quarter of 4 cm narrower")
    for each in (piece, after):
        assert each.hem is not None
        line = each.ring.segments[each.hem.first.place.index]
        inside = math.degrees(abs((-each.hem.first.down).angle_to(line.tangent(0.0))))
        close(min(inside, 180.0 - inside), 88.0908, 1e-4, "angle of the hem to the seam")


def test_a_cone_grows_along_its_slant() -> None:
    """Cone frustum of girth 60 to 40 cm, 50 high: slant 50.1012187313, as a flat sector of
    22.8720102879 degrees. Closed form; slant + 10: girth 36.0081."""
    sector, outer = math.radians(22.8720102879), 1002.02437463
    top = 1503.03656194
    close(top - outer, 501.012187313, 1e-6, "slant")
    half = sector / 2
    right, left = (Vector(math.sin(a), -math.cos(a)) for a in (half, -half))
    origin = Point(0.0, 0.0)
    waist = origin.moved(left, top), origin.moved(right, top)
    hem = elliptical_arc(origin, outer, outer, start=half - math.pi / 2, sweep=-sector)
    first, last = hem[0], hem[-1]
    hem = (Cubic(origin.moved(right, outer), first.c1, first.c2, first.end), *hem[1:])
    if len(hem) == 1:
        hem = (Cubic(hem[0].start, hem[0].c1, hem[0].c2, origin.moved(left, outer)),)
    else:
        hem = (*hem[:-1], Cubic(last.start, last.c1, last.c2, origin.moved(left, outer)))
    along = Reach(100.0, along_seam=True)
    after = lengthen(panel(waist, hem), Change(100.0), first=along, last=along).piece
    wanted = 2 * (outer - 100.0) * math.sin(half)
    close(hem_width(after), wanted, 1e-6, "hem from seam end to seam end")
    # The hem keeps its depth and its right angle to both seams; it is refitted, not struck
    # anew from the apex, so it is 0.42 mm (0.12 %) longer than the cone's.
    close(after.edge_length(after.edge(Role.HEM)), 360.081, 0.43, "girth")


@pytest.mark.parametrize("by", [120.0, -50.0])
def test_front_and_back_side_seams_stay_equal(by: float) -> None:
    """Tailoring and sewing columns: front and back side seams are equal in length, and
    inseams from hem to knee."""
    pieces = read(SHORTS).pieces
    after = [done.piece for done in alter_together(pieces, Change(by))]
    for role in (Role.SIDE, Role.INSEAM):
        front, back = (seam(p, role) for p in after)
        close(back, front, 0.05, f"{role.value} of the back against the front's")
        assert (front - seam(pieces[0], role)) * by > 0.0, f"the {role.value} did not change"


def test_an_inch() -> None:
    """1 in = 25.4 mm exactly. Source: W3C CSS Values and Units 3, absolute lengths."""
    assert MM_PER_INCH == 25.4
    assert parse_length("1 in") == 25.4
    assert parse_length('2 1/2"') == 63.5
    assert parse_length("72 pt") == 25.4
    assert parse_length("96 px") == 25.4
