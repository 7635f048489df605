"""Whole pieces through the door and back, in every version and container: a sewn-products front
and back with all that the standard draws, and the ways of drawing that other programs have."""

from __future__ import annotations

import io
import math
import re
from pathlib import Path

import ezdxf
import pytest
from dxf_made import as_bytes, audited, by_hand, line_text
from ezdxf.document import Drawing as Document
from ezdxf.lldxf.tagger import binary_tags_loader

from core.alter.model import Change
from core.alter.together import alter_together
from core.curve import Point
from core.files import Drawing, read_bytes, render
from core.piece.model import Kind, Role

VERSIONS = ["R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"]
CONTAINERS = ["text", "text with CR LF", "binary"]
# The trapezoid of the cutting line, and 10 mm inside it that of the sew line.
CUT = [(0.0, 0.0), (200.0, 0.0), (220.0, 600.0), (-20.0, 600.0)]
SEW = [(10 - 1 / 3, 10.0), (190 + 1 / 3, 10.0), (210 - 1 / 3, 590.0), (1 / 3 - 10, 590.0)]
HEM_NOTCH, SIDE_NOTCH, HOLE = (100.0, 0.0), (210.0, 300.0), (100.0, 550.0)


def garment(version: str, words: str = "Piece Name: {}") -> Document:
    """FRONT and BACK, 400 mm apart, hem at the lower end."""
    document = ezdxf.new(version, units=4)
    for layer in ("1", "2", "4", "6", "7", "8", "13", "14", "15"):
        document.layers.add(layer)
    for name, x in (("FRONT", 0.0), ("BACK", 400.0)):
        block = document.blocks.new(name)
        add = block.add_polyline2d if version == "R12" else block.add_lwpolyline
        for layer, ring in (("1", CUT), ("14", SEW)):
            add([(px + x, py) for px, py in ring], close=True, dxfattribs={"layer": layer})
        for px, py in CUT:
            block.add_point((px + x, py), dxfattribs={"layer": "2"})
        block.add_line((100 + x, 150), (100 + x, 450), dxfattribs={"layer": "7"})
        block.add_line((40 + x, 500), (160 + x, 500), dxfattribs={"layer": "8"})
        for (px, py), angle in ((HEM_NOTCH, 90.0), (SIDE_NOTCH, 181.9)):
            place = (px + x, py, 6.0)
            block.add_point(place, dxfattribs={"layer": "4", "thickness": 2.0, "angle": angle})
        block.add_point((HOLE[0] + x, HOLE[1]), dxfattribs={"layer": "13"})
        said = (words.format(name), "Units: METRIC")
        for k, text in enumerate(said):
            looks = {"layer": "1", "insert": (60 + x, 300 - 12 * k), "height": 5}
            block.add_text(text, dxfattribs=looks)
        document.modelspace().add_blockref(name, (0, 0))
    return document


def contained(document: Document, container: str) -> bytes:
    if container == "binary":
        out = io.BytesIO()
        document.write(out, fmt="bin")
        return out.getvalue()
    return as_bytes(document, crlf=container.endswith("LF"))


def loaded(data: bytes) -> Document:
    """As ezdxf reads it; its audit finds nothing."""
    if not data.startswith(b"AutoCAD Binary DXF"):
        return audited(data)
    document = Document.load(binary_tags_loader(data))
    auditor = document.audit()
    assert not [*auditor.errors, *auditor.fixes]
    return document


def lengthened(data: bytes, by: float = 60.0, name: str = "g.dxf") -> tuple[Drawing, bytes]:
    drawing = read_bytes(Path(name), data)
    done = alter_together([p for p in drawing.pieces if p.hem], Change(by))
    return drawing, render(drawing.with_pieces(a.piece for a in done))


def ring_of(document: Document, name: str, layer: str) -> list[tuple[float, float]]:
    (line,) = document.blocks[name].query(f'POLYLINE LWPOLYLINE[layer=="{layer}"]')
    if line.dxftype() == "POLYLINE":
        return [(v.dxf.location.x, v.dxf.location.y) for v in line.vertices]
    return [(x, y) for x, y in line.get_points("xy")]


@pytest.mark.parametrize("container", CONTAINERS)
@pytest.mark.parametrize("version", VERSIONS)
def test_a_standard_garment_is_altered_in_every_version_and_container(version, container) -> None:
    """Seams of slope 20 in 600, 60 longer: each corner of the hem goes 2 mm inwards."""
    data = contained(garment(version), container)
    drawing, after = lengthened(data)
    assert [p.name for p in drawing.pieces] == ["FRONT", "BACK"]
    assert render(drawing) == data
    assert after.startswith(data[:22])
    document = loaded(after)
    for name, x in (("FRONT", 0.0), ("BACK", 400.0)):
        wanted = [(2.0 + x, -60.0), (198.0 + x, -60.0), (220.0 + x, 600.0), (x - 20.0, 600.0)]
        for (gx, gy), (wx, wy) in zip(ring_of(document, name, "1"), wanted, strict=True):
            assert math.hypot(gx - wx, gy - wy) < 0.02, f"wanted {wx, wy}, got {gx, gy}"
        sew = ring_of(document, name, "14")
        assert sew[0][1] == pytest.approx(-50.0, abs=0.02)
        block = document.blocks[name]
        turns = {
            (round(p.dxf.location.x, 2), round(p.dxf.location.y, 2))
            for p in block.query('POINT[layer=="2"]')
        }
        cut = {(round(px, 2), round(py, 2)) for px, py in ring_of(document, name, "1")}
        assert turns == cut, f"wanted the turn points at the corners {cut}, got {turns}"
        notches = {
            (round(p.dxf.location.x - x, 2), round(p.dxf.location.y, 2)): p
            for p in block.query('POINT[layer=="4"]')
        }
        assert set(notches) == {(100.0, -60.0), SIDE_NOTCH}
        for notch in notches.values():
            assert (notch.dxf.location.z, notch.dxf.thickness) == (6.0, 2.0)
        (hole,) = block.query('POINT[layer=="13"]')
        assert (hole.dxf.location.x, hole.dxf.location.y) == (HOLE[0] + x, HOLE[1])


@pytest.mark.parametrize("words", ["PIECE NAME: {}", "piece name:{}", "Piece  Name : {} "])
def test_words_in_any_letter_case_name_the_pieces(words) -> None:
    drawing = read_bytes(Path("g.dxf"), as_bytes(garment("R2010", words)))
    assert [p.name for p in drawing.pieces] == ["FRONT", "BACK"]


@pytest.mark.parametrize("number", ["AC1012", "AC1014"])
def test_the_versions_between_that_are_rarely_seen(number) -> None:
    """R13 and R14 say so in the header and are else drawn as R2000 is."""
    data = as_bytes(garment("R2000")).replace(b"AC1015", number.encode(), 1)
    drawing, after = lengthened(data)
    assert len(drawing.pieces) == 2
    assert number.encode() in after
    assert len(read_bytes(Path("g.dxf"), after).pieces) == 2


@pytest.mark.parametrize("unit", [4, 5, 1, 6])
def test_by_its_header_alone_a_unit_is_kept(unit) -> None:
    """mm, cm, inches and metres; the same 60 mm in each, written in the file's own unit."""
    mm = {4: 1.0, 5: 10.0, 1: 25.4, 6: 1000.0}[unit]
    document = ezdxf.new("R2010", units=unit)
    ring = [(x / mm, y / mm) for x, y in CUT]
    document.modelspace().add_lwpolyline(ring, close=True)
    document.modelspace().add_line((100 / mm, 150 / mm), (100 / mm, 450 / mm), {"layer": "grain"})
    drawing, after = lengthened(as_bytes(document))
    assert drawing.unit.mm_per_unit == mm
    (line,) = audited(after).modelspace().query("LWPOLYLINE")
    lowest = min(y for _, y in line.get_points("xy"))
    assert lowest * mm == pytest.approx(-60.0, abs=1e-6)


def test_lines_whose_ends_nearly_meet_make_one_outline() -> None:
    """Five hundredths apart, in any order and direction, some drawn twice."""
    corners = [(0, 0), (200.05, 0), (220, 600), (-20, 600.05)]
    around = list(zip(CUT, [*corners[1:], corners[0]], strict=True))
    texts = [line_text(*a, *b) for a, b in (around[2], around[0], around[2])]
    texts += [line_text(*b, *a) for a, b in (around[3], around[1])]
    drawing, after = lengthened(by_hand(*texts, line_text(100, 150, 100, 450, "grain")))
    (piece,) = drawing.pieces
    assert len(piece.outline.ring) == 4
    (again,) = read_bytes(Path("g.dxf"), after).pieces
    assert again.outline.ring.bounds().height == pytest.approx(660.0, abs=0.1)


def test_attributes_heights_and_widths_of_a_polyline_stay() -> None:
    document = ezdxf.new("R2010", units=4)
    space = document.modelspace()
    line = space.add_lwpolyline([(*p, 0.5, 0.5) for p in CUT], format="xyse", close=True)
    line.dxf.elevation = 12.5
    line.dxf.color = 3
    space.add_line((100, 150), (100, 450), {"layer": "grain"})
    _, after = lengthened(as_bytes(document))
    (line,) = audited(after).modelspace().query("LWPOLYLINE")
    assert (line.dxf.elevation, line.dxf.color) == (12.5, 3)
    assert {(s, e) for _, _, s, e in line.get_points("xyse")} == {(0.5, 0.5)}


def test_a_polyline_in_space_is_a_piece_too() -> None:
    document = ezdxf.new("R12", units=4)
    space = document.modelspace()
    space.add_polyline3d([(*p, 5.0) for p in CUT], close=True)
    space.add_line((100, 150), (100, 450), {"layer": "grain"})
    _, after = lengthened(as_bytes(document))
    (line,) = audited(after).modelspace().query("POLYLINE")
    assert {v.dxf.location.z for v in line.vertices} == {5.0}
    assert min(v.dxf.location.y for v in line.vertices) == pytest.approx(-60.0, abs=1e-6)


def test_a_half_piece_on_the_fold_knows_its_edge() -> None:
    """The mirror line of layer 6 lies on the edge that is the fold, which has no allowance."""
    document = garment("R2010")
    block = document.blocks["FRONT"]
    cut, sew = block.query("LWPOLYLINE")
    cut.set_points([(0, 0), *CUT[1:3], (0, 600)], format="xy")
    sew.set_points([(0, 10), *SEW[1:3], (0, 590)], format="xy")
    block.add_line((0, 600), (0, 0), dxfattribs={"layer": "6"})
    drawing, after = lengthened(as_bytes(document))
    front = drawing.pieces[0]
    assert Role.FOLD in {e.role for e in front.edges}
    assert any(m.kind is Kind.FOLD for m in front.marks)
    (mirror,) = audited(after).blocks["FRONT"].query('LINE[layer=="6"]')
    lower = min((mirror.dxf.start, mirror.dxf.end), key=lambda p: p.y)
    assert lower.isclose((0, -60), abs_tol=0.02), f"wanted it to the new hem, got {lower}"


@pytest.mark.parametrize(
    ("break_it", "told"),
    [
        (lambda d: d[: d.rindex(b"  0\nEOF")], "breaks off"),
        (lambda d: d.replace(b"LWPOLYLINE\n", b"LWPOLYLINE\n\n", 1), "blank line"),
    ],
)
def test_a_damaged_file_is_read_with_a_list_of_what_was_repaired(break_it, told) -> None:
    data = break_it(as_bytes(garment("R2010")))
    drawing, after = lengthened(data)
    said = " ".join(drawing.problems)
    assert drawing.cleaned
    assert "damaged and was repaired" in said
    assert told in said, said
    assert len(read_bytes(Path("g.dxf"), after).pieces) == len(drawing.pieces) == 2


def test_a_notch_on_a_mirrored_copy_points_into_that() -> None:
    """The right leg as the left one mirrored: depth and angle are seen as they are there."""
    document = garment("R2010")
    space = document.modelspace()
    space.add_blockref("FRONT", (-100, 0), dxfattribs={"xscale": -1.0})
    drawing = read_bytes(Path("g.dxf"), as_bytes(document))
    assert len(drawing.pieces) == 3
    from core.files.across import pattern_of

    (mirrored,) = (p for p in pattern_of(drawing).parts if p.outline.bounds().x1 < -79.0)
    notches = [i for i in mirrored.items if i.kind is Kind.NOTCH]
    (side,) = (i for i in notches if i.geometry == Point(-310.0, -300.0))
    assert side.notch is not None
    assert side.notch.depth == 6.0
    assert side.notch.inward is not None
    assert side.notch.inward.x == pytest.approx(math.cos(math.radians(1.9)))


@pytest.mark.parametrize(
    ("said", "mm"),
    [
        ("Units: MM", 1.0),
        ("UNITS:METRIC", 1.0),
        ("Unit: Millimeters", 1.0),
        ("units: cm", 10.0),
        ("Units: Centimetre", 10.0),
        ("Units: INCH", 25.4),
        ("Units : Imperial", 25.4),
        ("units: in", 25.4),
    ],
)
def test_a_unit_said_in_other_words_was_asked_for(said, mm) -> None:
    document = garment("R12")
    for text in [t for block in document.blocks for t in block.query("TEXT")]:
        text.dxf.text = text.dxf.text.replace("Units: METRIC", said)
    data = as_bytes(document).replace(b"$INSUNITS", b"$UNUSED")
    assert read_bytes(Path("g.dxf"), data).unit.mm_per_unit == mm


@pytest.mark.parametrize(
    ("gone", "told"),
    [
        (b"  0\nENDSEC\n  0\nSECTION\n  2\nENTITIES\n", "the section BLOCKS does not end"),
        (b"  0\nENDSEC\n  0\nEOF\n", "the section ENTITIES does not end"),
        (b"  0\nENDBLK\n  8\n0\n  0\nBLOCK\n  8\n0\n  2\nBACK", "a block does not end"),
    ],
)
def test_a_part_that_does_not_end_was_lost_without_a_word(gone, told) -> None:
    """With it all its pieces; what stood in it is read, and stays as it is in the file."""
    data = as_bytes(garment("R12"))
    handles = rb"(?:  5\n[0-9A-F]+\n)?"
    pattern = handles.join(re.escape(line + b"\n") for line in gone.rstrip(b"\n").split(b"\n"))
    found = re.search(pattern.removesuffix(re.escape(b"\n")), data)
    assert found, data[-300:]
    kept = found[0][found[0].index(b"  0\n", 3) :]
    drawing, after = lengthened(data.replace(found[0], kept, 1))
    assert [p.name for p in drawing.pieces] == ["FRONT", "BACK"]
    assert any(told in p for p in drawing.problems), drawing.problems
    assert kept in after
    assert found[0] not in after
