"""Dart caps: the hem runs on over a dart that is folded shut, and everything else stays."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.alter.lengthen import lengthen
from core.alter.model import Change, DartCaps, HemDarts, HemWay, SeamWay, StepKind
from core.alter.simple import is_simple
from core.check.promises import broken_promises
from core.curve import Affine, Chain, Cubic, Line, Point, Ring, Segment, Vector
from core.errors import AlterationError
from core.files import Format, read_bytes
from core.files.across import pattern_of_pieces
from core.files.dxf import fresh_dxf
from core.files.svg import fresh_svg
from core.piece.correct import with_role
from core.piece.model import Dart, Kind, Piece, Role, Shape
from core.piece.recognise import recognise
from tests.core.alter_darts.garments import GARMENTS

KINK = math.radians(0.1)
HEM = 500.0
PLUMB = Change(60.0, seams=SeamWay.PLUMB, dart_caps=DartCaps.CLOSED)


closing = st.builds(
    Change,
    st.floats(-100.0, 150.0).filter(lambda v: abs(v) > 1.0),
    seams=st.sampled_from(list(SeamWay)),
    hem=st.sampled_from([HemWay.REFIT, HemWay.SQUARE]),
    hem_darts=st.sampled_from(list(HemDarts)),
    dart_caps=st.just(DartCaps.CLOSED),
)


def skirt(
    hem: list[Segment],
    apexes: list[Point],
    mouths: list[tuple[Point, Point]],
    *,
    top: float = 300.0,
) -> Piece:
    """A panel whose hem runs from the left to the right, darts drawn as lines on it."""
    left, right = hem[0].start, hem[-1].end
    a, b = Point(-150.0, 0.0), Point(150.0, 0.0)
    ring = Ring((*hem, Line(right, b), Line(b, a), Line(a, left)))
    grain = Chain((Line(Point(-40.0, 40.0), Point(-40.0, 300.0)),))
    shapes = [Shape(0, ring, ("Skirt back",), kind=Kind.OUTLINE), Shape(1, grain, kind=Kind.GRAIN)]
    for k, (apex, mouth) in enumerate(zip(apexes, mouths, strict=True)):
        legs = Chain.through((mouth[0], apex, mouth[1]))
        shapes.append(Shape(2 + k, legs, ("dart",), kind=Kind.DART))
    piece = hem_said(shapes, hem[0])
    assert [d.on for d in piece.darts] == [Role.HEM] * len(mouths)
    return piece


def hem_said(shapes: list[Shape], on: Segment) -> Piece:
    """The piece with the edge on which a segment lies said to be the hem."""
    (piece,), _ = recognise(shapes)
    middle = on.at(0.5)
    away = [piece.edge_chain(e).nearest(middle).distance for e in piece.edges]
    return with_role(piece, away.index(min(away)), Role.HEM)


def straight_when_closed(a: float, h: float, half: float = 140.0) -> Piece:
    """A hem of two straight stretches that are one straight line once the dart is shut."""
    left, right = Point(-a, HEM), Point(a, HEM)
    slope = a / h
    ends = Point(-half, HEM - (half - a) * slope), Point(half, HEM - (half - a) * slope)
    hem: list[Segment] = [Line(ends[0], left), Line(left, right), Line(right, ends[1])]
    return skirt(hem, [Point(0.0, HEM - h)], [(left, right)])


def flat(a: float, h: float, half: float = 140.0, middle: float = 0.0) -> Piece:
    """One straight line from seam to seam, and a dart on it."""
    mouth = Point(middle - a, HEM), Point(middle + a, HEM)
    hem: list[Segment] = [Line(Point(-half, HEM), Point(half, HEM))]
    return skirt(hem, [Point(middle, HEM - h)], [mouth])


def run_of(piece: Piece) -> Chain:
    assert piece.hem is not None
    return piece.ring.run(piece.hem.first.place, piece.hem.last.place)


def around(piece: Piece, dart: Dart) -> tuple[Segment, Segment, list[Segment]]:
    """The segments that end and start at the dart's mouth, and those between them."""
    segments = list(run_of(piece))
    ends = [next(k for k, s in enumerate(segments) if s.end.distance(p) < 1e-9) for p in dart.mouth]
    i, j = min(ends), max(ends)
    return segments[i], segments[j + 1], segments[i + 1 : j + 1]


def kink_when_closed(piece: Piece, dart: Dart) -> float:
    """By how much (radians) the hem bends at the mouth when the second leg lies on the first."""
    before, after, _ = around(piece, dart)
    a, b = (p - dart.apex for p in (before.end, after.start))
    shut = Affine.turn(b.angle_to(a), dart.apex)
    assert shut.point(after.start).distance(before.end) < 1e-9, "the legs are not equal"
    return before.tangent(1.0).angle_to(after.mapped(shut).tangent(0.0))


def cap_of(piece: Piece, dart: Dart) -> float:
    """How far beyond the mouth the hem lies on the fold line of the dart, in mm."""
    middle = dart.mouth[0].towards(dart.mouth[1], 0.5)
    axis = (middle - dart.apex).unit()
    _, _, between = around(piece, dart)
    met = Chain(tuple(between)).meets(dart.apex, axis)
    assert len(met) == 1, "the cap crosses the fold line once"
    return axis.dot(Chain(tuple(between)).at(met[0]) - middle)


@pytest.mark.parametrize(("a", "h"), [(15.0, 100.0), (8.0, 120.0), (25.0, 90.0)])
def test_a_hem_straight_once_closed_has_a_cap_of_a_squared_over_h(a: float, h: float) -> None:
    """Source: closed form. Half intake 1.5, depth 10: 0.225 cm."""
    done = lengthen(straight_when_closed(a, h), PLUMB).piece
    (dart,) = done.darts
    assert cap_of(done, dart) == pytest.approx(a * a / h, abs=1e-9)
    assert all(isinstance(s, Line) for s in run_of(done)), "a straight hem stays straight"
    assert abs(kink_when_closed(done, dart)) < 1e-9


def test_the_cap_of_a_straight_hem_is_told_and_drawn_as_a_step() -> None:
    done = lengthen(straight_when_closed(15.0, 100.0), PLUMB)
    (told,) = (f.sentence for f in done.findings if "cap" in f.sentence)
    assert "2.2 mm beyond its mouth" in told, told
    steps = [s for s in done.steps if s.kind is StepKind.CARRY_DARTS]
    assert any("Fold" in s.sentence and len(s.lines) == 1 for s in steps)


@given(
    a=st.floats(4.0, 25.0),
    h=st.floats(60.0, 150.0),
    middle=st.floats(-50.0, 50.0),
    change=closing,
)
def test_the_hem_has_no_kink_over_a_closed_dart(
    a: float, h: float, middle: float, change: Change
) -> None:
    piece = flat(a, h, middle=middle)
    assume(change.hem_darts is HemDarts.WHOLE or h + change.by_mm > 2.5 * a)
    try:
        done = lengthen(piece, change).piece
    except AlterationError:
        assume(False)
    (old,), (dart,) = piece.darts, done.darts
    assert abs(kink_when_closed(done, dart)) < KINK
    assert dart.intake == pytest.approx(old.intake, abs=1e-9)
    assert dart.legs[0] == pytest.approx(dart.legs[1], abs=1e-9)
    before, after, between = around(done, dart)
    assert before.end.distance(after.start) == pytest.approx(old.intake, abs=1e-9)
    assert cap_of(done, dart) > 0.0, "the cap goes out over the mouth"
    assert len(between) % 2 == 0
    assert is_simple(done.ring)


@given(a=st.floats(4.0, 20.0), h=st.floats(60.0, 150.0), by=st.floats(2.0, 150.0))
def test_each_layer_of_the_cap_lies_on_the_hem_when_the_dart_is_folded(
    a: float, h: float, by: float
) -> None:
    """Fold the first half over its leg, turn the second onto the first: both lie on the hem
    on the side to which the dart is pressed."""
    done = lengthen(flat(a, h), Change(by, dart_caps=DartCaps.CLOSED)).piece
    (dart,) = done.darts
    before, after, between = around(done, dart)
    p, q = before.end, after.start
    half = len(between) // 2
    leg = (p - dart.apex).unit()
    shut = Affine.turn((q - dart.apex).angle_to(p - dart.apex), dart.apex)
    for s in between[:half]:
        for t in (0.0, 0.4, 1.0):
            off = s.at(t) - dart.apex
            folded = dart.apex.moved(leg, 2.0 * off.dot(leg)) + (-off)
            assert Chain((before,)).nearest(folded).distance < 1e-6
    for s in between[half:]:
        for t in (0.0, 0.4, 1.0):
            assert Chain((before,)).nearest(shut.point(s.at(t))).distance < 1e-6


def test_two_darts_are_both_capped() -> None:
    mouths = [(Point(-62.0, HEM), Point(-38.0, HEM)), (Point(35.0, HEM), Point(55.0, HEM))]
    apexes = [Point(-50.0, HEM - 110.0), Point(45.0, HEM - 90.0)]
    piece = skirt([Line(Point(-140.0, HEM), Point(140.0, HEM))], apexes, mouths)
    done = lengthen(piece, Change(50.0, dart_caps=DartCaps.CLOSED)).piece
    for dart in done.darts:
        assert abs(kink_when_closed(done, dart)) < KINK
        assert cap_of(done, dart) > 0.0
    assert is_simple(done.ring)


def test_a_curved_hem_flows_over_the_closed_dart() -> None:
    hem = Cubic(
        Point(-140.0, HEM), Point(-50.0, HEM + 22.0), Point(50.0, HEM + 22.0), Point(140.0, HEM)
    )
    parts = hem.split(0.45)
    rest = parts[1].split(0.18)
    left, right = parts[0].end, rest[0].end
    axis = (right - left).unit().square()
    middle = left.towards(right, 0.5)
    apex = min((middle.moved(axis, d) for d in (110.0, -110.0)), key=lambda p: p.y)
    piece = skirt([parts[0], rest[0], rest[1]], [apex], [(left, right)])
    for by in (60.0, -40.0):
        done = lengthen(piece, Change(by, dart_caps=DartCaps.CLOSED)).piece
        (dart,) = done.darts
        assert abs(kink_when_closed(done, dart)) < KINK
        assert is_simple(done.ring)


def test_a_dart_cut_out_of_the_outline_gets_no_cap_and_is_named() -> None:
    points = [
        Point(-150, 0), Point(-140, HEM), Point(-15, HEM), Point(0, HEM - 100),
        Point(15, HEM), Point(140, HEM), Point(150, 0),
    ]  # fmt: skip
    grain = Chain((Line(Point(-40.0, 40.0), Point(-40.0, 300.0)),))
    shapes = [
        Shape(0, Ring.polygon(points), ("Skirt back",), kind=Kind.OUTLINE),
        Shape(1, grain, kind=Kind.GRAIN),
    ]
    piece = hem_said(shapes, Line(Point(15.0, HEM), Point(140.0, HEM)))
    done = lengthen(piece, Change(60.0, dart_caps=DartCaps.CLOSED))
    (old,), (dart,) = piece.darts, done.piece.darts
    assert dart.mouth_places is not None
    assert dart.intake == pytest.approx(old.intake, abs=1e-9)
    _, _, between = around(done.piece, dart)
    assert [type(s) for s in between] == [Line, Line], "the legs are what they were"
    assert abs(kink_when_closed(done.piece, dart)) < KINK
    assert any("cut out of the outline" in f.sentence for f in done.findings)


def test_as_drawn_is_what_was_done_before() -> None:
    piece = straight_when_closed(15.0, 100.0)
    assert (
        lengthen(piece, Change(40.0)).piece.ring
        == lengthen(piece, Change(40.0, dart_caps=DartCaps.AS_DRAWN)).piece.ring
    )
    assert lengthen(piece, Change(0.0, dart_caps=DartCaps.CLOSED)).piece is piece


@pytest.mark.parametrize("name", list(GARMENTS))
@pytest.mark.parametrize("cut", [True, False])
@pytest.mark.parametrize("by", [60.0, -30.0])
def test_a_cap_is_no_broken_promise(name: str, cut: bool, by: float) -> None:
    """Its point is a turn of the outline that comes with the dart, not a corner of the piece."""
    change = Change(by, dart_caps=DartCaps.CLOSED)
    told = broken_promises(lengthen(GARMENTS[name](cut=cut), change))
    assert not told, [f.sentence for f in told]


@pytest.mark.parametrize("name", list(GARMENTS))
@pytest.mark.parametrize("form", list(Format))
def test_a_piece_with_caps_is_read_again_as_what_it_is(name: str, form: Format) -> None:
    """Darts, corners and the whole hem from seam to seam."""
    piece = lengthen(GARMENTS[name](cut=False), Change(60.0, dart_caps=DartCaps.CLOSED)).piece
    draw = fresh_svg if form is Format.SVG else fresh_dxf
    out = draw(pattern_of_pieces([piece]))
    (again,) = read_bytes(Path(f"again{form.value}"), out).pieces
    assert len(again.darts) == len(piece.darts)
    ends = hem_ends(piece)
    middle = ends[0].towards(ends[1], 0.5)
    facing = [again.edge_chain(e).nearest(middle).distance for e in again.edges]
    said = with_role(again, facing.index(min(facing)), Role.HEM)
    # The page of an SVG begins above and to the left of the piece.
    was, now = piece.ring.bounds(), said.ring.bounds()
    back = Vector(was.x0 - now.x0, was.y0 - now.y0)
    for p in (end + back for end in hem_ends(said)):
        assert min(p.distance(q) for q in ends) < 0.05, f"wanted the hem to {ends}, got {p}"


def hem_ends(piece: Piece) -> tuple[Point, Point]:
    assert piece.hem is not None
    return piece.ring.at(piece.hem.first.place), piece.ring.at(piece.hem.last.place)


def test_caps_can_be_drawn_over_caps() -> None:
    once = lengthen(flat(15.0, 100.0), Change(40.0, dart_caps=DartCaps.CLOSED)).piece
    twice = lengthen(once, Change(20.0, dart_caps=DartCaps.CLOSED)).piece
    (dart,) = twice.darts
    assert abs(kink_when_closed(twice, dart)) < KINK
    assert cap_of(twice, dart) > 0.0
    assert is_simple(twice.ring)


def test_a_cap_that_is_drawn_goes_along_with_its_dart() -> None:
    once = lengthen(straight_when_closed(15.0, 100.0), PLUMB).piece
    along = lengthen(once, Change(30.0)).piece
    (dart,) = along.darts
    assert cap_of(along, dart) == pytest.approx(2.25, abs=1e-9)
