"""The hem run of a cutting line beside that of the stitching line."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path

import pytest
import shapely

from core.curve import Chain, Cubic, Line, Point, Ring, Vector
from core.files.read import read
from core.piece.model import Kind, Piece, Shape
from core.piece.recognise import recognise
from sample_pieces import draw
from tests.core.piece.true_pieces import shorts, straight_skirt, trapezoid
from tests.core.piece.truth import Truth, fillet, with_corners

SEAM, TURN_UP = 10.0, 25.0
SAMPLES = Path(draw.__file__).resolve().parent


def _offset(truth: Truth, by: float, *, join_style: int = 2) -> Ring:
    polygon = shapely.Polygon(truth.ring.flattened(tolerance=0.01))
    around = polygon.buffer(by, join_style=join_style, mitre_limit=10.0)
    return Ring.polygon(Point(float(x), float(y)) for x, y in around.exterior.coords[:-1])


def _piece(truth: Truth, cutting: Ring, *, backwards: bool = False, words: bool = True) -> Piece:
    stitching = truth.ring
    shapes = [
        Shape(0, cutting, ("cutting line",) if words else ()),
        Shape(
            1,
            stitching.reversed() if backwards else stitching,
            ("stitching line",) if words else (),
        ),
        Shape(2, Chain((truth.grain(),)), kind=Kind.GRAIN),
    ]
    (piece,), _ = recognise(shapes)
    assert piece.stitching is not None
    return piece


def _ends(piece: Piece) -> tuple[Point, Point]:
    assert piece.cutting_hem is not None
    ring = piece.outline.ring
    return ring.at(piece.cutting_hem.first.place), ring.at(piece.cutting_hem.last.place)


def _near(got: Sequence[Point], wanted: Point, reach: float) -> bool:
    return min(p.distance(wanted) for p in got) <= reach


@pytest.mark.parametrize("words", [True, False])
@pytest.mark.parametrize("backwards", [True, False])
def test_beside_a_plain_corner_it_is_the_mitred_corner(backwards: bool, words: bool) -> None:
    truth = trapezoid()
    piece = _piece(truth, _offset(truth, SEAM), backwards=backwards, words=words)
    for corner in (Point(190.0, 300.0), Point(20.0, 300.0)):
        assert not _near(_ends(piece), corner, SEAM * 0.99)
        assert _near(_ends(piece), corner, SEAM * math.sqrt(2.0) * 1.1)
    for end in _ends(piece):
        assert end.y == pytest.approx(310.0, abs=0.02)


@pytest.mark.parametrize("backwards", [True, False])
def test_its_first_end_is_the_first_along_its_own_ring(backwards: bool) -> None:
    truth = with_corners(shorts(), ("arc", 58.0, 0.0))
    piece = _piece(truth, _offset(truth, SEAM), backwards=backwards)
    assert piece.cutting_hem is not None
    ring = piece.outline.ring
    run = ring.run(piece.cutting_hem.first.place, piece.cutting_hem.last.place)
    middle = truth.edges[0].chain.at(
        truth.edges[0].chain.at_length(truth.edges[0].chain.length() / 2)
    )
    assert run.nearest(middle).distance == pytest.approx(SEAM, abs=0.1)
    assert run.length() < ring.length() / 2


@pytest.mark.parametrize("radius", [20.0, 58.0, 100.0])
def test_beside_a_rounded_corner_it_is_straight_across_the_allowance(radius: float) -> None:
    truth = with_corners(straight_skirt(), ("arc", radius, 0.0))
    piece = _piece(truth, _offset(truth, SEAM))
    wanted = Point(248.0 + SEAM, 600.0 - radius)
    assert _near(_ends(piece), wanted, 0.6), f"wanted {wanted}, got {_ends(piece)} (+-0.6 mm)"


def test_a_step_of_the_allowance_at_the_taper_point_is_where_the_hem_run_begins() -> None:
    for piece in read(SAMPLES / "allotment_shorts.dxf").pieces:
        assert piece.hem is not None
        assert piece.cutting_hem is not None
        ring = piece.outline.ring
        rounded = piece.hem.first
        at = piece.ring.at(rounded.place)
        ends = [ring.at(piece.cutting_hem.first.place), ring.at(piece.cutting_hem.last.place)]
        off = min(abs(p.distance(at) - SEAM) for p in ends)
        assert off <= 0.05, f"{piece.name}: wanted {SEAM} mm across, got {off} off (+-0.05)"


def _stepped() -> Ring:
    """Allowance of 10 up the side, of 25 round the corner and hem, with a step between."""
    top, low = Point(258.0, -10.0), Point(258.0, 542.0)
    corner = Point(273.0, 625.0)
    arcs = fillet(corner, Vector(0.0, 1.0), Vector(-1.0, 0.0), 83.0)
    step = arcs[0].start
    parts: list[Line | Cubic] = [Line(top, low), Line(low, step), *arcs]
    parts += [Line(arcs[-1].end, Point(-10.0, 625.0)), Line(Point(-10.0, 625.0), Point(-10.0, 2.0))]
    parts += [Line(Point(-10.0, 2.0), top)]
    return Ring(tuple(parts))


@pytest.mark.parametrize("backwards", [True, False])
def test_a_drawn_step_keeps_the_seam_s_own_allowance_above_it(backwards: bool) -> None:
    truth = with_corners(straight_skirt(), ("arc", 58.0, 0.0))
    piece = _piece(truth, _stepped(), backwards=backwards)
    low = Point(258.0, 542.0)
    assert _near(_ends(piece), low, 1e-6), f"wanted {low}, got {_ends(piece)}"


def test_without_a_stitching_line_there_is_no_second_hem_run() -> None:
    truth = shorts()
    shapes = [Shape(0, truth.ring), Shape(1, Chain((truth.grain(),)), kind=Kind.GRAIN)]
    (piece,), _ = recognise(shapes)
    assert piece.cutting_hem is None
