"""A fresh file: read back by the own reader, found sound by ezdxf, laid out by the standard."""

from __future__ import annotations

import math

import pytest
from dxf_made import audited, farthest

from core.curve import Chain, Cubic, Line, Point, Ring, Vector
from core.files.across import pattern_of_pieces
from core.files.dxf import fresh_dxf, read_dxf
from core.piece.model import Because, Grain, Kind, Mark, Origin, Outline, Piece

SURE = Because(True, "drawn")


def outline(ring: Ring) -> Outline:
    return Outline(ring, tuple(Origin(0, k) for k in range(len(ring))))


def leg(name: str = "Front leg", shift: float = 0.0) -> Piece:
    a, b, c, d = (Point(x + shift, y) for x, y in ((0, 0), (200, 0), (180, 600), (20.125, 600)))
    hem = Cubic(c, Point(c.x - 10, 615), Point(d.x + 20, 590), d)
    ring = Ring((Line(a, b), Line(b, c), hem, Line(d, a)))
    inner = Chain((Line(Point(50 + shift, 100), Point(90 + shift, 100)),))
    marks = (
        Mark(Kind.NOTCH, 1, Point(200 + shift, 0)),
        Mark(Kind.DRILL, 2, Point(100 + shift, 200)),
        Mark(Kind.INNER, 3, inner),
        Mark(
            Kind.CUTOUT,
            4,
            Ring.polygon(
                [Point(90 + shift, y) for y in (300,)]
                + [Point(110 + shift, 300), Point(100 + shift, 320)]
            ),
        ),
        Mark(Kind.TEXT, 5, Point(60 + shift, 60), "cut two"),
        Mark(Kind.TEXT, 6, Point(60 + shift, 60), "Units: ENGLISH"),
    )
    inside = Ring.polygon([Point(10 + shift, 10), Point(190 + shift, 10), Point(100 + shift, 580)])
    return Piece(
        0, name, outline(ring), Grain(Vector(0, 1), SURE), stitching=outline(inside), marks=marks
    )


def test_own_reader_gets_the_same_pieces_back() -> None:
    pieces = [leg(), leg("Back leg", 300.0)]
    reading = read_dxf("new.dxf", fresh_dxf(pattern_of_pieces(pieces)))
    assert reading.unit.mm_per_unit == 1.0
    assert reading.unit.because.sure
    for k, piece in enumerate(pieces):
        mine = [s for s in reading.shapes if s.group == k]
        assert {s.group_name for s in mine} == {piece.name}
        by_kind = {s.kind: s.geometry for s in mine}
        off = farthest(by_kind[Kind.OUTLINE], piece.outline.ring)
        assert off <= 0.02, f"wanted the outline within 0.02 mm, got {off}"
        assert by_kind[Kind.STITCHING] == piece.stitching.ring
        for mark in piece.marks[:4]:
            assert by_kind[mark.kind] == mark.geometry, mark.kind
        assert "cut two" in {s.text for s in mine}
        assert sum(s.text.startswith("Units") for s in mine) == 1


def test_straight_outlines_are_exact() -> None:
    ring = Ring.polygon([Point(0, 0), Point(100.125, 0), Point(50.5, 80.75)])
    piece = Piece(0, "Tri", outline(ring), Grain(Vector(0, 1), SURE))
    (got,) = [
        s
        for s in read_dxf("n.dxf", fresh_dxf(pattern_of_pieces([piece]))).shapes
        if s.kind is Kind.OUTLINE
    ]
    assert got.geometry == ring


def test_the_strict_reader_finds_it_sound_and_by_the_standard() -> None:
    """ASTM D6673-10 clause 4.3: blocks, numbered layers, name and unit as text on layer 1."""
    document = audited(fresh_dxf(pattern_of_pieces([leg()])))
    assert document.dxfversion == "AC1015"
    assert document.header["$INSUNITS"] == 4
    (insert,) = document.modelspace()
    block = document.blocks[insert.dxf.name]
    (boundary,) = block.query('SPLINE[layer=="1"]')
    assert tuple(boundary.control_points[0]) == tuple(boundary.control_points[-1])
    said = {t.dxf.text for t in block.query('TEXT[layer=="1"]')}
    assert said == {"Piece Name: Front leg", "Units: METRIC"}
    layers = {e.dxf.layer for e in block}
    assert layers == {"1", "2", "4", "7", "8", "11", "13", "14", "15"}
    turn_points = {
        (round(p.dxf.location.x, 3), round(p.dxf.location.y, 3))
        for p in block.query('POINT[layer=="2"]')
    }
    assert turn_points == {(0, 0), (200, 0), (180, -600), (20.125, -600)}


def test_grain_line_lies_along_the_grain() -> None:
    shapes = read_dxf("n.dxf", fresh_dxf(pattern_of_pieces([leg()]))).shapes
    (grain,) = [s.geometry for s in shapes if s.kind is Kind.GRAIN]
    assert grain.segments[0].tangent(0.0).angle_to(Vector(0, 1)) == pytest.approx(0.0, abs=1e-9)
    assert grain.length() > 100


def test_same_pieces_give_the_same_bytes() -> None:
    assert fresh_dxf(pattern_of_pieces([leg()])) == fresh_dxf(pattern_of_pieces([leg()]))


@pytest.mark.parametrize("name", ["Ärmel / links: <2>", "", "腰帯", "a" * 300])
def test_any_name_gives_a_sound_file(name) -> None:
    data = fresh_dxf(pattern_of_pieces([leg(name), leg(name)]))
    audited(data)
    groups = {s.group for s in read_dxf("n.dxf", data).shapes}
    assert groups == {0, 1}


def test_smooth_outline_has_curve_points_and_no_corners() -> None:
    k, r = 0.5522847498, 100.0
    at = [Point(r * math.cos(a), r * math.sin(a)) for a in (0, math.pi / 2, math.pi, -math.pi / 2)]
    ring = []
    for p, q in zip(at, [*at[1:], at[0]], strict=True):
        ring.append(
            Cubic(p, Point(p.x + k * q.x, p.y + k * q.y), Point(q.x + k * p.x, q.y + k * p.y), q)
        )
    piece = Piece(0, "Disc", outline(Ring(tuple(ring))), Grain(Vector(0, 1), SURE))
    shapes = read_dxf("n.dxf", fresh_dxf(pattern_of_pieces([piece]))).shapes
    kinds = [s.kind for s in shapes]
    assert Kind.TURN_POINT not in kinds
    assert kinds.count(Kind.CURVE_POINT) >= 4
