"""Sewn-products interchange (ASTM D6673-10, clause 4.3): points, notches and dense copies
stay true when the line to which they belong is altered."""

from __future__ import annotations

import cmath
import math
from itertools import pairwise
from pathlib import Path

import ezdxf
import pytest
from dxf_made import as_bytes, audited, changed_lines
from ezdxf.document import Drawing
from hypothesis import given, settings
from hypothesis import strategies as st

from core.alter.model import Change, HemWay, SeamWay
from core.alter.together import alter_together
from core.files.dxf.smooth import sampled, tangents
from core.files.read import read_bytes
from core.files.write import render
from core.piece.model import Kind

PATH = Path("leg.dxf")
# The hem and the hip are arcs: centre, radius and angles are known, so that every point of
# the dense copy has a right place.
HEM_CENTRE, HEM_RADIUS = complex(100.0, 400.0), 412.31056256
WITHIN = 0.02


def arc(centre: complex, radius: float, a: complex, b: complex, count: int) -> list[complex]:
    """`count` points strictly between a and b on the circle."""
    first, turn = cmath.phase(a - centre), cmath.phase((b - centre) / (a - centre))
    return [
        centre + cmath.rect(radius, first + turn * k / (count + 1)) for k in range(1, count + 1)
    ]


CORNERS = [complex(0, 0), complex(200, 0), complex(220, 600), complex(-20, 600)]


def boundary(each: int) -> list[complex]:
    """Hem as an arc with `each` points in it; straight seams and waist."""
    a, b, c, d = CORNERS
    return [a, *arc(HEM_CENTRE, HEM_RADIUS, a, b, each), b, c, d]


def xy(points: list[complex], digits: int = 6) -> list[tuple[float, float]]:
    return [(round(p.real, digits), round(p.imag, digits)) for p in points]


def leg(*, version: str = "R12", words: str = "Units: METRIC", scale: float = 1.0) -> Drawing:
    document = ezdxf.new(version)
    for layer in ("1", "2", "3", "4", "7", "84"):
        document.layers.add(layer)
    block = document.blocks.new("FRONT")
    sparse = xy([p * scale for p in boundary(7)])
    dense = xy([p * scale for p in boundary(79)])
    for layer, points in (("1", sparse), ("84", dense)):
        add = block.add_polyline2d if version == "R12" else block.add_lwpolyline
        add(points, close=True, dxfattribs={"layer": layer})
    corners = xy([p * scale for p in CORNERS])
    for p in sparse:
        block.add_point(p, dxfattribs={"layer": "2" if p in corners else "3"})
    block.add_line((100 * scale, 100 * scale), (100 * scale, 500 * scale), {"layer": "7"})
    block.add_text(words, dxfattribs={"layer": "1", "insert": (90 * scale, 300 * scale)})
    block.add_text("Piece Name: Front", dxfattribs={"layer": "1", "insert": (90, 280)})
    document.modelspace().add_blockref("FRONT", (0, 0))
    return document


def altered(data: bytes, change: Change) -> bytes:
    drawing = read_bytes(PATH, data)
    done = alter_together(drawing.pieces, change)
    return render(drawing.with_pieces(a.piece for a in done))


def vertices(document: Drawing, layer: str, name: str = "FRONT") -> list[complex]:
    (line,) = document.blocks[name].query(f'POLYLINE LWPOLYLINE[layer=="{layer}"]')
    if line.dxftype() == "POLYLINE":
        return [complex(*v.dxf.location.vec2) for v in line.vertices]
    return [complex(x, y) for x, y in line.get_points("xy")]


def points(document: Drawing, layer: str) -> set[tuple[float, float]]:
    found = document.blocks["FRONT"].query(f'POINT[layer=="{layer}"]')
    return {(round(p.dxf.location.x, 3), round(p.dxf.location.y, 3)) for p in found}


@pytest.mark.parametrize("version", ["R12", "R2010"])
@pytest.mark.parametrize("by", [60.0, -60.0])
def test_every_vertex_keeps_its_turn_or_curve_point(version, by) -> None:
    after = audited(altered(as_bytes(leg(version=version)), Change(by)))
    on = {(round(p.real, 3), round(p.imag, 3)) for p in vertices(after, "1")}
    got = points(after, "2") | points(after, "3")
    assert got == on, f"wanted a point at each vertex and nowhere else, off by {got ^ on}"
    assert len(points(after, "2")) == 4, f"wanted 4 turn points, got {points(after, '2')}"


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_dense_copy_of_a_hem_that_only_moved_is_the_arc_moved(version) -> None:
    """Under plumb seams a slid hem is the same arc 60 mm lower, in closed form."""
    data = as_bytes(leg(version=version))
    after = audited(altered(data, Change(60.0, seams=SeamWay.PLUMB, hem=HemWay.TRIM)))
    hem = [p for p in vertices(after, "84") if p.imag < -1.0]
    assert len(hem) >= 79
    centre = HEM_CENTRE - 60j
    off = max(abs(abs(p - centre) - HEM_RADIUS) for p in hem)
    assert off <= WITHIN, f"wanted the arc within {WITHIN} mm, got {off}"
    assert {CORNERS[2], CORNERS[3]} <= set(vertices(after, "84"))


def test_dense_copy_of_a_hem_drawn_anew_is_as_dense_and_goes_through_its_points() -> None:
    before = leg()
    after = audited(altered(as_bytes(before), Change(60.0)))
    sparse, dense = vertices(after, "1"), vertices(after, "84")
    for p in sparse:
        off = min(abs(p - q) for q in dense)
        assert off <= 1e-6, f"wanted the copy through {p}, got {off} mm beside it"
    steps = [abs(b - a) for a, b in pairwise(dense) if b.imag < 20 > a.imag]
    was = 200.0 / 80.0 * 1.02
    assert max(steps) <= 1.5 * was, f"wanted steps of about {was} mm, got up to {max(steps)}"


def test_unaltered_part_of_the_copy_keeps_its_bytes_and_other_blocks_stay() -> None:
    document = leg()
    other = document.blocks.new("BACK")
    other.add_polyline2d(xy([p + 500 for p in boundary(9)]), close=True, dxfattribs={"layer": "1"})
    other.add_polyline2d(
        xy([p + 500 for p in boundary(99)]), close=True, dxfattribs={"layer": "84"}
    )
    data = as_bytes(document)
    drawing = read_bytes(PATH, data)
    front = next(p for p in drawing.pieces if p.name.startswith("Front"))
    (done,) = alter_together([front], Change(40.0))
    after = render(drawing.with_piece(done.piece))
    start = data.index(b"BACK\n", data.index(b"BLOCKS"))
    assert data[start : start + 9000] in after
    gone, _ = changed_lines(data, after)
    assert b"600.0\n" not in gone, "wanted the waist untouched"


@pytest.mark.parametrize("inserted", [True, False])
def test_pieces_that_lie_over_each_other_stay_three(inserted) -> None:
    """Blocks often all lie around the same origin: each is a piece, for it has its boundary."""
    document = ezdxf.new("R12")
    for name, size in (("FRONT", 1.0), ("BACK", 1.15), ("POCKET", 0.3)):
        block = document.blocks.new(name)
        ring = xy([p * size for p in boundary(9)])
        block.add_polyline2d(ring, close=True, dxfattribs={"layer": "1"})
        block.add_line((100 * size, 99 * size), (100 * size, 500 * size), {"layer": "7"})
        block.add_text("Units: METRIC", dxfattribs={"layer": "1"})
        if inserted:
            document.modelspace().add_blockref(name, (0, 0))
    pieces = read_bytes(PATH, as_bytes(document)).pieces
    assert {p.name for p in pieces} == {"FRONT", "BACK", "POCKET"}
    for p in pieces:
        assert [m.kind for m in p.marks].count(Kind.GRAIN) == 1, p.name


def test_copy_that_copies_nothing_is_told_and_left() -> None:
    document = leg()
    document.blocks["FRONT"].add_polyline2d([(0, 0), (50, 9), (90, 70)], dxfattribs={"layer": "87"})
    drawing = read_bytes(PATH, as_bytes(document))
    assert any("copies no line" in p and "FRONT" in p for p in drawing.problems)
    assert not any("copies no line" in p for p in read_bytes(PATH, as_bytes(leg())).problems)


def test_one_of_two_inserts_altered_gets_its_own_true_copy() -> None:
    document = leg()
    document.modelspace().add_blockref("FRONT", (500, 0))
    drawing = read_bytes(PATH, as_bytes(document))
    (done,) = alter_together(drawing.pieces[:1], Change(60.0))
    after = audited(render(drawing.with_piece(done.piece)))
    (name,) = {b.name for b in after.blocks if b.name.startswith("FRONT_")}
    low = [min(p.imag for p in vertices(after, layer, name)) for layer in ("1", "84")]
    assert abs(low[0] - low[1]) < 0.5, f"wanted boundary and copy equally low, got {low}"
    assert min(p.imag for p in vertices(after, "84")) > -13.0, "wanted the other as it was"


# -- notches -----------------------------------------------------------------------------


def notched() -> bytes:
    document = leg()
    block = document.blocks["FRONT"]
    at = boundary(7)[2]
    looks = {"layer": "4", "thickness": 3.0, "angle": 250.0}
    block.add_point((at.real, at.imag, 6.0), dxfattribs=looks)
    seam = 0.5 * (CORNERS[1] + CORNERS[2])
    block.add_point((seam.real, seam.imag, 6.0), dxfattribs=looks)
    return as_bytes(document)


def test_notch_keeps_depth_and_width_and_turns_with_the_hem() -> None:
    """Z is the depth, 39 the width, 50 the angle; the hem under the notch turns (its
    seams go plumb, and it keeps its angle to them), and so does it."""
    data = notched()
    before, after = audited(data), audited(altered(data, Change(120.0, seams=SeamWay.PLUMB)))
    was, now = (d.blocks["FRONT"].query('POINT[layer=="4"]') for d in (before, after))
    for a, b in zip(was, now, strict=True):
        assert (b.dxf.location.z, b.dxf.thickness) == (6.0, 3.0)
        assert a.dxf.handle == b.dxf.handle
    assert now[1].dxf.angle == 250.0, "wanted the notch above the hem untouched"
    turned = _hem_direction(vertices(after, "1"), now[0]) / _hem_direction(
        vertices(before, "1"), was[0]
    )
    wanted = (250.0 + math.degrees(cmath.phase(turned))) % 360.0
    got = now[0].dxf.angle
    assert abs(got - wanted) < 0.01, f"wanted {wanted} degrees, got {got}, tol 0.01"
    assert abs(got - 250.0) > 0.1


def _hem_direction(line: list[complex], notch) -> complex:
    """At the vertex on which the notch stands: half way between those of its two steps."""
    at = complex(notch.dxf.location.x, notch.dxf.location.y)
    k = min(range(len(line)), key=lambda j: abs(line[j] - at))
    before, after = line[k] - line[k - 1], line[k + 1] - line[k]
    return before / abs(before) + after / abs(after)


@pytest.mark.parametrize(
    ("words", "mm"),
    [
        ("Units: METRIC", 1.0),
        ("UNITS:METRIC", 1.0),
        ("units: english", 25.4),
        ("Units:ENGLISH", 25.4),
    ],
)
def test_words_in_either_case_with_or_without_the_space(words, mm) -> None:
    drawing = read_bytes(PATH, as_bytes(leg(words=words, scale=1.0 / mm)))
    (piece,) = drawing.pieces
    box = piece.outline.ring.bounds()
    assert drawing.unit.mm_per_unit == mm
    assert box.height == pytest.approx(612.31, abs=0.01)
    assert piece.name == "Front"


def test_half_piece_on_the_fold_keeps_its_mirror_line() -> None:
    """Layer 6: the fold lengthens with the piece and the piece does not widen over it."""
    document = ezdxf.new("R12")
    block = document.blocks.new("SKIRT")
    ring = [(0, 0), (300, 0), (240, 600), (0, 600)]
    block.add_polyline2d(ring, close=True, dxfattribs={"layer": "1"})
    block.add_line((0, 0), (0, 600), dxfattribs={"layer": "6"})
    block.add_line((100, 100), (100, 500), dxfattribs={"layer": "7"})
    block.add_text("Units: METRIC", dxfattribs={"layer": "1"})
    document.modelspace().add_blockref("SKIRT", (0, 0))
    after = audited(altered(as_bytes(document), Change(60.0)))
    (fold,) = after.blocks["SKIRT"].query('LINE[layer=="6"]')
    ends = sorted((fold.dxf.start.vec2.round(6), fold.dxf.end.vec2.round(6)), key=lambda p: p.y)
    assert ends[0].isclose((0, -60)), f"wanted the fold down to the hem, got {ends[0]}"
    assert ends[1].isclose((0, 600))
    (line,) = after.blocks["SKIRT"].query('POLYLINE[layer=="1"]')
    corners = {(round(v.dxf.location.x, 6), round(v.dxf.location.y, 6)) for v in line.vertices}
    # Side seam 60 wider over 600: 6 more over 60.
    assert corners == {(0, -60), (306, -60), (240, 600), (0, 600)}


# -- the smooth curve --------------------------------------------------------------------


@settings(max_examples=50, deadline=None)
@given(
    st.lists(st.floats(0.02, 0.25), min_size=4, max_size=12),
    st.floats(20.0, 2000.0),
    st.floats(-3.0, 3.0),
)
def test_points_on_a_circle_give_the_circle(gaps, radius, start) -> None:
    """However unevenly they lie, both directions are the circle's; closed form."""
    angles = [start + sum(gaps[:k]) for k in range(len(gaps) + 1)]
    on = [cmath.rect(radius, a) for a in angles]
    for a, t in zip(angles, tangents(on), strict=True):
        assert abs(t - cmath.rect(1.0, a + math.pi / 2)) < 1e-6
    ways = tangents(on)
    for k in range(len(on) - 1):
        for p in sampled(on[k], on[k + 1], ways[k], ways[k + 1], 5):
            assert abs(abs(p) - radius) <= 1e-6 * radius


def test_points_on_an_ellipse_keep_the_written_tolerance() -> None:
    """Half axes 400 and 300, a point every 12 degrees: within 0.05 mm, measured in closed form."""
    on = [complex(400 * math.cos(t), 300 * math.sin(t)) for t in
          (math.radians(12 * k) for k in range(16))]  # fmt: skip
    ways, worst = tangents(on), 0.0
    for k in range(1, len(on) - 2):
        for p in sampled(on[k], on[k + 1], ways[k], ways[k + 1], 9):
            q = complex(p.real / 400, p.imag / 300)
            worst = max(worst, abs(abs(q) - 1.0) * 300)
    assert worst <= 0.05, f"wanted within 0.05 mm, got {worst}"
