"""Every way of drawing a piece, altered from end to end: it goes back in its own kind, within
0.02 mm, and ezdxf's audit finds nothing."""

from __future__ import annotations

import math
from pathlib import Path

import ezdxf
import pytest
from dxf_made import as_bytes, audited, edit, farthest, paths, reread

from core.alter.model import Change
from core.alter.together import alter_together
from core.curve import Chain, Cubic, Line, Point
from core.files.dxf import read_dxf, splice_dxf
from core.files.read import read_bytes
from core.files.write import render

WITHIN = 0.02
PATH = Path("leg.dxf")
A, B, C, D = (0.0, 0.0), (200.0, 0.0), (220.0, 600.0), (-20.0, 600.0)
K = 0.5522847498


def sides(space) -> None:
    for a, b in ((B, C), (C, D), (D, A)):
        space.add_line(a, b)


def ellipse(space) -> None:
    """Half an ellipse from A to B, sagging by 20."""
    sides(space)
    space.add_ellipse((100, 0), (100, 0), 0.2, math.pi, 2 * math.pi)


def spline(space) -> None:
    sides(space)
    space.add_open_spline([A, (60, -30), (140, -30), B])


def rational(space) -> None:
    sides(space)
    space.add_rational_spline([A, (100, -40), B], weights=[1, 2, 1], degree=2)


def fit_points(space) -> None:
    sides(space)
    space.add_spline([A, (50, -14), (100, -20), (150, -14), B])


def closed_spline(space) -> None:
    ring = [
        (0, 0),
        (100, -30),
        (200, 0),
        (215, 300),
        (220, 600),
        (100, 630),
        (-20, 600),
        (-15, 300),
    ]
    space.add_spline().set_closed([(*p, 0) for p in ring])


def digitised(space) -> None:
    xs = [200 * k / 40 for k in range(1, 40)]
    hem = [(x, -20 * math.sin(math.pi * x / 200)) for x in xs]
    _closed(space, [A, *hem, B, C, D])


def bulges(space) -> None:
    _closed(space, [(*A, 0.3), (*B, 0.0), (*C, 0.1), (*D, 0.0)], "xyb")


def soup(space) -> None:
    """Lines and an arc through both hem corners."""
    sides(space)
    centre, radius = (100.0, 240.0), 260.0
    first = math.degrees(math.atan2(A[1] - centre[1], A[0] - centre[0])) % 360
    space.add_arc(centre, radius, first, 540.0 - first)


def _closed(space, points, form="xy") -> None:
    if space.doc.dxfversion == "AC1009":
        space.add_polyline2d(points, format=form, close=True)
    else:
        space.add_lwpolyline(points, format=form, close=True)


KINDS = [ellipse, spline, rational, fit_points, closed_spline, digitised, bulges, soup]
IN_R12 = (digitised, bulges, soup)
# A hem drawn anew is narrower, and so no part of the same circle or ellipse any more.
BECOMES = {"ARC": "LWPOLYLINE", "ELLIPSE": "SPLINE"}
VERSIONS = ["R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"]
PLACES = {
    "as it is": {},
    "offset": {"insert": (300.25, -71.5)},
    "turned": {"rotation": 37.0},
    "mirrored": {"xscale": -1.0},
    "scaled": {"xscale": 0.5, "yscale": 0.5, "zscale": 0.5},
    "turned, mirrored, scaled": {"rotation": -20, "xscale": 2.0, "yscale": -2.0, "zscale": 2.0},
}


def with_grain(kind):
    """The piece with a grain line, which tells how it lies wherever it is put."""

    def draw(space):
        kind(space)
        space.add_line((100, 100), (100, 500), dxfattribs={"layer": "grain"})

    return draw


def checked(document) -> None:
    """Lengthens by 60 mm, writes, reads again: it is what was asked to be written."""
    data = as_bytes(document)
    drawing = read_bytes(PATH, data)
    done = [a.piece for a in alter_together(drawing.pieces, Change(60.0))]
    assert len(done) == 1
    after = render(drawing.with_pieces(done))
    out = audited(after)
    got, wanted = _kinds(out), {BECOMES.get(k, k) for k in _kinds(audited(data))}
    if out.dxfversion == "AC1009":
        wanted = {k.replace("LWPOLYLINE", "POLYLINE") for k in wanted}
    assert got == wanted, f"wanted {wanted}, got {got}"
    (again,) = read_bytes(PATH, after).pieces
    off = farthest(again.outline.ring, done[0].outline.ring, samples=5)
    assert off <= WITHIN, f"wanted it within {WITHIN} mm of the altered piece, got {off}"
    assert again.outline.ring.area() > drawing.pieces[0].outline.ring.area()


def _kinds(document) -> set[str]:
    spaces = (document.modelspace(), *(b for b in document.blocks if not b.name.startswith("*")))
    return {e.dxftype() for space in spaces for e in space}


@pytest.mark.parametrize("kind", KINDS, ids=lambda f: f.__name__)
@pytest.mark.parametrize("version", VERSIONS)
def test_each_kind_goes_back_in_its_kind(kind, version) -> None:
    if version == "R12" and kind not in IN_R12:
        return
    document = ezdxf.new(version, units=4)
    with_grain(kind)(document.modelspace())
    checked(document)


@pytest.mark.parametrize("kind", KINDS, ids=lambda f: f.__name__)
@pytest.mark.parametrize("place", PLACES)
def test_each_kind_in_a_block_wherever_it_is_put(kind, place) -> None:
    document = ezdxf.new("R2010", units=4)
    with_grain(kind)(document.blocks.new("LEG", base_point=(7.0, -3.0)))
    look = dict(PLACES[place])
    document.modelspace().add_blockref("LEG", look.pop("insert", (0, 0)), dxfattribs=look)
    checked(document)


@pytest.mark.parametrize("kind", KINDS, ids=lambda f: f.__name__)
def test_each_kind_in_a_block_in_a_block(kind) -> None:
    document = ezdxf.new("R2018", units=4)
    with_grain(kind)(document.blocks.new("LEG", base_point=(7.0, -3.0)))
    outer = document.blocks.new("SHEET", base_point=(1, 2))
    outer.add_blockref("LEG", (40, 0), dxfattribs={"rotation": 30, "xscale": -1.0})
    document.modelspace().add_blockref("SHEET", (5, 5), dxfattribs={"rotation": 200})
    checked(document)


def test_part_of_an_ellipse_that_is_cut_stays_an_ellipse() -> None:
    document = ezdxf.new("R2010", units=4)
    document.modelspace().add_ellipse((3, 4), (90, 30), 0.4, 0.5, 3.0)
    data = as_bytes(document)
    reading = read_dxf("a.dxf", data)
    shape = paths(reading)[0]
    last = len(shape.geometry) - 1
    left = shape.geometry.segments[last].split(0.4)[0]
    after = splice_dxf(
        reading.source, data, {0: edit(shape, lambda k, s: (left,) if k == last else (s,))}
    )
    (entity,) = audited(after).modelspace()
    assert entity.dxftype() == "ELLIPSE"
    assert entity.dxf.start_param == pytest.approx(0.5, abs=1e-6)
    end = entity.end_point
    assert left.end.distance(Point(end.x, -end.y)) < 1e-4


def test_ellipse_bent_into_something_else_becomes_a_spline() -> None:
    """Exact, where arcs would only be near."""
    document = ezdxf.new("R2000", units=4)
    document.modelspace().add_ellipse((0, 0), (90, 0), 0.4, 0.0, 1.0, dxfattribs={"layer": "hem"})
    data = as_bytes(document)
    reading = read_dxf("a.dxf", data)
    shape = paths(reading)[0]
    bend = Cubic(shape.geometry.start, Point(80, -60), Point(60, 10), shape.geometry.end)
    change = edit(shape, lambda k, s: (bend,) if k == 0 else ())
    after = splice_dxf(reading.source, data, {0: change})
    (entity,) = audited(after).modelspace()
    assert (entity.dxftype(), entity.dxf.layer) == ("SPLINE", "hem")
    (again,) = paths(reread(after))
    assert farthest(again.geometry, Chain((bend,))) < 1e-8


def test_curve_on_a_digitised_line_gets_vertices_as_dense_as_the_old_ones() -> None:
    document = ezdxf.new("R2010", units=4)
    digitised(document.modelspace())
    data = as_bytes(document)
    reading = read_dxf("a.dxf", data)
    shape = paths(reading)[0]
    side = len(shape.geometry) - 1
    old = shape.geometry.segments[side]
    bend = Cubic(
        old.start, old.at(0.3) + (old.end - old.start).square() * 0.05, old.at(0.6), old.end
    )
    after = splice_dxf(
        reading.source, data, {0: edit(shape, lambda k, s: (bend,) if k == side else (s,))}
    )
    (line,) = audited(after).modelspace()
    assert not line.has_arc, "wanted vertices only, as before"
    (again,) = paths(reread(after))
    new = again.geometry.segments[side:]
    longest = max(s.length() for s in new)
    assert longest <= 5.3 * 1.5, f"wanted steps like the old ones of 5 mm, got {longest}"
    off = farthest(Chain(new), Chain((bend,)))
    assert off <= WITHIN, f"wanted within {WITHIN} mm, got {off}"
    assert all(isinstance(s, Line) for s in new)
