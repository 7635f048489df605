"""Ways of carrying seams on and of drawing the hem, against closed forms.

The panels are of the kind "w above, w below, h high", symmetrical, in centimetres; their
figures are computed in closed form (right triangles and circles). The clothoid is held
against the Fresnel integrals: DLMF 7.2(iii), values C(1), S(1) as printed in tables.
"""

from __future__ import annotations

import math

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change, HemDarts, HemWay, Measure, SeamWay
from core.curve import Chain, Cubic, Line, Place, Point, Ring, Vector
from core.curve.clothoid import clothoid, reached
from core.errors import AlterationError
from core.piece.model import (
    Because,
    Dart,
    Edge,
    Grain,
    HemRun,
    Origin,
    Outline,
    Piece,
    Role,
    Taper,
)

SURE = Because(True, "drawn so")
CM = 10.0


def piece_of(ring: Ring, *, right: int, left: int, darts: tuple[Dart, ...] = ()) -> Piece:
    """A piece whose hem runs from the start of segment `right` to that of `left`."""
    down_right = ring.segments[right - 1].tangent(1.0)
    down_left = -ring.segments[left].tangent(0.0)
    places = [Place(1, 0.0), Place(right, 0.0), Place(left, 0.0), Place(0, 0.0)]
    roles = (Role.SIDE, Role.HEM, Role.SIDE, Role.WAIST)
    edges = [
        Edge(role, a, b, SURE)
        for role, a, b in zip(roles, places, (*places[1:], places[0]), strict=True)
    ]
    return Piece(
        key=0,
        name="Panel",
        outline=Outline(ring, tuple(Origin(0, k) for k in range(len(ring)))),
        grain=Grain(Vector(0.0, 1.0), SURE),
        edges=tuple(edges),
        hem=HemRun(
            Taper(Place(right, 0.0), down_right, SURE), Taper(Place(left, 0.0), down_left, SURE)
        ),
        darts=darts,
    )


def panel(above: float, below: float, high: float) -> Piece:
    """Sizes in cm; the waist runs from the left to the right."""
    a, b, h = above * CM / 2, below * CM / 2, high * CM
    ring = Ring.polygon([Point(-a, 0), Point(a, 0), Point(b, h), Point(-b, h)])
    return piece_of(ring, right=2, left=3)


def hem_chain(piece: Piece) -> Chain:
    return piece.edge_chain(piece.edges[1])


def test_the_clothoid_ends_where_the_fresnel_integrals_say() -> None:
    """Run backwards from its end at s = 1 (pi/2 form) it must come home to the origin."""
    c1, s1 = 0.7798934003768228, 0.4382591473903548
    home = reached(Point(c1, s1), Vector(0.0, -1.0), -math.pi, 1.0, 1.0)
    assert math.hypot(home.x, home.y) < 1e-12


@pytest.mark.parametrize("radius", [120.0, 400.0, -250.0, 3000.0])
@pytest.mark.parametrize("length", [10.0, 60.0, 200.0])
def test_the_clothoid_as_cubics_stays_on_it(radius: float, length: float) -> None:
    start, way = Point(3.0, 4.0), Vector(0.6, 0.8)
    cubics = clothoid(start, way, 1.0 / radius, length)
    chain = Chain(cubics)
    assert cubics[0].tangent(0.0).angle_to(way) == pytest.approx(0.0, abs=1e-12)
    assert cubics[0].curvature(0.0) == pytest.approx(1.0 / radius, abs=1e-12)
    assert cubics[-1].curvature(1.0) == pytest.approx(0.0, abs=1e-12)
    assert chain.length() == pytest.approx(length, abs=1e-4)
    for k in range(1, 40):
        p = reached(start, way, 1.0 / radius, length, length * k / 40)
        assert chain.nearest(p).distance < 2e-5


def test_curved_goes_on_with_the_seams_direction_and_curvature() -> None:
    """A seam that is an arc of R = 500: its bend at the hem is 1/500 and fades to nothing."""
    radius, turn = 500.0, math.radians(20.0)
    k = 4.0 / 3.0 * math.tan(turn / 4.0) * radius
    foot = Point(100.0, 300.0)
    head = Point(100.0 + radius * (1 - math.cos(turn)), 300.0 - radius * math.sin(turn))
    lean = Vector(-math.sin(turn), math.cos(turn))
    seam = Cubic(head, head.moved(lean, k), foot.moved(Vector(0.0, -1.0), k), foot)
    ring = Ring(
        (
            Line(Point(-150.0, head.y), head),
            seam,
            Line(foot, Point(-80.0, 300.0)),
            Line(Point(-80.0, 300.0), Point(-150.0, head.y)),
        )
    )
    piece = piece_of(ring, right=2, left=3)
    done = lengthen(piece, Change(90.0, seams=SeamWay.CURVED)).piece
    old = piece.edge_chain(piece.edges[0])
    new = done.edge_chain(done.edges[0])
    joint = len(old)
    assert new.segments[:joint] == old.segments
    assert new.end.y == pytest.approx(390.0, abs=1e-9)
    before, after = new.segments[joint - 1], new.segments[joint]
    assert before.tangent(1.0).angle_to(after.tangent(0.0)) == pytest.approx(0.0, abs=1e-9)
    assert after.curvature(0.0) == pytest.approx(before.curvature(1.0), abs=1e-12)
    assert new.segments[-1].curvature(1.0) == pytest.approx(0.0, abs=1e-12)
    # The total turn of a clothoid is half its first curvature times its length.
    turned = abs(before.tangent(1.0).angle_to(new.segments[-1].tangent(1.0)))
    added = lengthen(piece, Change(90.0, seams=SeamWay.CURVED)).figures.added_first_mm
    assert turned == pytest.approx(abs(before.curvature(1.0)) * added / 2, abs=1e-9)


def test_plumb_keeps_the_width() -> None:
    done = lengthen(panel(34, 20, 24), Change(120.0, seams=SeamWay.PLUMB))
    assert done.figures.hem_width_after_mm == pytest.approx(200.0, abs=1e-9)
    assert done.figures.added_first_mm == pytest.approx(120.0, abs=1e-9)


@pytest.mark.parametrize("wanted", [150.0, 200.0, 260.0])
def test_to_a_width_gives_that_width(wanted: float) -> None:
    done = lengthen(panel(34, 20, 24), Change(120.0, to_width_mm=wanted))
    assert done.figures.hem_width_after_mm == pytest.approx(wanted, abs=1e-9)
    ends = (hem_chain(done.piece).start, hem_chain(done.piece).end)
    assert [p.y for p in ends] == pytest.approx([360.0, 360.0], abs=1e-9)
    assert ends[0].x == pytest.approx(-ends[1].x, abs=1e-9), "equal tapers share alike"


def test_to_a_width_is_shared_by_the_tapers() -> None:
    """One seam leans 3 times as much as the other, so it takes 3 quarters of the change."""
    ring = Ring.polygon([Point(-90, 0), Point(130, 0), Point(100, 300), Point(-80, 300)])
    done = lengthen(piece_of(ring, right=2, left=3), Change(60.0, to_width_mm=140.0)).piece
    chain = hem_chain(done)
    assert chain.start.x == pytest.approx(100 - 30.0, abs=1e-9)
    assert chain.end.x == pytest.approx(-80 + 10.0, abs=1e-9)


def test_a_width_is_refused_while_shortening() -> None:
    with pytest.raises(AlterationError, match="making longer"):
        lengthen(panel(34, 20, 24), Change(-30.0, to_width_mm=150.0))


def test_taper_until_a_level_then_plumb() -> None:
    """34 above, 20 below, 24 high: the side goes in 7/24 for each mm down, to 30 cm below
    the top; from there it falls straight."""
    done = lengthen(panel(34, 20, 24), Change(120.0, plumb_below_mm=300.0))
    assert done.figures.hem_width_after_mm == pytest.approx(200.0 - 2 * 60.0 * 7 / 24, abs=1e-9)
    assert done.figures.added_first_mm == pytest.approx(60.0 * 25 / 24 + 60.0, abs=1e-9)


def test_measured_along_the_seam() -> None:
    """7-24-25: 12.5 along the seam is 12 down, and the hem loses 7."""
    done = lengthen(panel(34, 20, 24), Change(125.0, measure=Measure.SEAM))
    assert done.figures.hem_width_after_mm == pytest.approx(130.0, abs=1e-9)
    assert hem_chain(done.piece).start.y == pytest.approx(360.0, abs=1e-9)


def test_square_hem_of_the_34_20_24_panel() -> None:
    """The arc square to both seams at 20 wide: R 250/7, sagitta 10/7, length 20.2710078 cm."""
    short = panel(34, 27, 12)
    done = lengthen(short, Change(120.0, hem=HemWay.SQUARE)).piece
    arc = hem_chain(done)
    assert arc.start.distance(arc.end) == pytest.approx(200.0, abs=1e-9)
    assert arc.length() == pytest.approx(202.710078005948, abs=1e-3)
    middle = arc.at(arc.at_length(arc.length() / 2))
    # The seams meet below the hem, and so does the arc's centre lie: the middle is higher.
    assert arc.start.y - middle.y == pytest.approx(100.0 / 7, abs=1e-3)
    assert 1.0 / abs(arc.curvature(Place(0, 0.5))) == pytest.approx(2500.0 / 7, rel=1e-3)


def test_square_hem_of_the_22_18_60_panel() -> None:
    """Sagitta 0.149958 cm, R 270.149958 cm; both corners are right angles."""
    done = lengthen(panel(22, 20, 30), Change(300.0, hem=HemWay.SQUARE)).piece
    arc = hem_chain(done)
    middle = arc.at(arc.at_length(arc.length() / 2))
    assert arc.start.y - middle.y == pytest.approx(1.49958, abs=1e-4)
    seam = done.edge_chain(done.edges[0])
    corner = seam.segments[-1].tangent(1.0).angle_to(arc.segments[0].tangent(0.0))
    assert abs(corner) == pytest.approx(math.pi / 2, abs=1e-9)


def test_slide_and_trim_cuts_a_straight_hem_at_the_seams() -> None:
    done = lengthen(panel(34, 20, 24), Change(120.0, hem=HemWay.TRIM)).piece
    chain = hem_chain(done)
    got = [(chain.start.x, chain.start.y), (chain.end.x, chain.end.y)]
    assert got == [pytest.approx((65.0, 360.0), abs=1e-9), pytest.approx((-65.0, 360.0), abs=1e-9)]


def test_slide_and_trim_keeps_the_curve_and_cuts_the_little_corner() -> None:
    """A hem that is an arc slides 6 cm down; what is left of it is the very same arc."""
    a, b, h = 170.0, 100.0, 240.0
    k = 200.0 / 3
    hem = Cubic(Point(b, h), Point(b - k, h + 15), Point(-b + k, h + 15), Point(-b, h))
    ring = Ring(
        (
            Line(Point(-a, 0), Point(a, 0)),
            Line(Point(a, 0), Point(b, h)),
            hem,
            Line(Point(-b, h), Point(-a, 0)),
        )
    )
    done = lengthen(piece_of(ring, right=2, left=3), Change(60.0, hem=HemWay.TRIM)).piece
    left = hem_chain(done)
    slid = Chain((Cubic(*(p.moved(Vector(0.0, 60.0)) for p in hem.controls)),))
    for f in (0.0, 0.2, 0.5, 0.8, 1.0):
        p = left.at(left.at_length(f * left.length()))
        assert slid.nearest(p).distance < 1e-9
    assert left.length() < slid.length()
    seam = done.edge_chain(done.edges[0])
    assert abs((left.start - Point(a, 0)).cross(Point(b, h) - Point(a, 0))) < 1e-6
    assert seam.end == left.start


def test_slide_and_trim_carries_the_hem_on_to_a_flared_seam() -> None:
    done = lengthen(panel(18, 22, 60), Change(60.0, hem=HemWay.TRIM)).piece
    chain = hem_chain(done)
    assert chain.start.x == pytest.approx(110.0 + 60.0 * 2 / 60, abs=1e-9)
    assert chain.start.y == pytest.approx(660.0, abs=1e-9)


def dart_panel() -> Piece:
    """24 wide hem with a dart of 3 in it, off the middle, 10 deep."""
    points = [
        Point(-170, 0), Point(170, 0), Point(130, 240),
        Point(75, 240), Point(60, 140), Point(45, 240),
        Point(-130, 240),
    ]  # fmt: skip
    ring = Ring.polygon(points)
    dart = Dart(
        (Point(75, 240), Point(45, 240)),
        Point(60, 140),
        SURE,
        on=Role.HEM,
        mouth_places=(Place(3, 0.0), Place(5, 0.0)),
    )
    return piece_of(ring, right=2, left=6, darts=(dart,))


@pytest.mark.parametrize("way", list(HemDarts))
@pytest.mark.parametrize("by", [60.0, -60.0])
def test_a_hem_dart_keeps_its_intake_and_equal_legs(way: HemDarts, by: float) -> None:
    before = dart_panel()
    done = lengthen(before, Change(by, hem_darts=way)).piece
    (old,), (new,) = before.darts, done.darts
    assert new.intake == pytest.approx(old.intake, abs=1e-9)
    assert new.legs[0] == pytest.approx(new.legs[1], abs=1e-9)
    middle = new.mouth[0].towards(new.mouth[1], 0.5)
    assert middle.y == pytest.approx(240.0 + by, abs=1e-9)
    if way is HemDarts.APEX:
        assert new.apex == old.apex
        assert middle.y - new.apex.y == pytest.approx(100.0 + by, abs=1e-9)
    else:
        assert middle.y - new.apex.y == pytest.approx(100.0, abs=1e-9)
    # It is the closed hem that narrows: 7/24 of the amount in all, the dart left out.
    closed = done.edge_length(done.edges[1])
    lean = 2 * by * 40 / 240
    assert closed == pytest.approx(260.0 - 30.0 - lean, abs=1e-6)
