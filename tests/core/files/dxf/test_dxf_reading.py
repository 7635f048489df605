"""Reading DXF: bulges, units, layers and kinds, hidden things, writing."""

from __future__ import annotations

import math

import ezdxf
import pytest
from dxf_made import as_bytes, by_hand, line_text, paths

from core.curve import Chain, Point, Ring
from core.errors import FileError, UnitUnknownError
from core.files.dxf import read_dxf
from core.piece.model import Kind

# Chord, bulge; sagitta, radius, arc length. DXF reference, code 42: bulge = tan(angle / 4);
# the right-hand values follow in closed form.
BULGES = [
    (6.0, 1 / 3, 1.0, 5.0, 6.43501108793284),
    (8.0, 1 / 2, 2.0, 5.0, 9.27295218001612),
    (24.0, 2 / 3, 8.0, 13.0, 30.5761353844735),
    (10.0, 1.0, 5.0, 5.0, 5.0 * math.pi),
]


@pytest.mark.parametrize("numbers", BULGES)
@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_bulge_has_its_closed_form(numbers, sign) -> None:
    chord, bulge, sagitta, radius, length = numbers
    entity = f"0|LWPOLYLINE|8|0|90|2|70|0|10|0|20|0|42|{sign * bulge!r}|10|{chord}|20|0"
    (shape,) = read_dxf("a.dxf", by_hand(entity)).shapes
    chain = shape.geometry
    assert isinstance(chain, Chain)
    got = chain.length()
    assert got == pytest.approx(length, abs=1e-4), f"wanted {length}, got {got}, tol 1e-4"
    # Counter-clockwise with y up: a positive bulge sags below the chord, which is +y here.
    box = chain.bounds()
    low = box.y1 if sign > 0 else -box.y0
    assert low == pytest.approx(sagitta, abs=1e-4), f"wanted sagitta {sagitta}, got {low}"
    centre = Point(chord / 2, sign * (sagitta - radius))
    radii = [s.at(k / 8).distance(centre) for s in chain for k in range(9)]
    off = max(abs(r - radius) for r in radii)
    assert off <= 1.1e-5, f"wanted R {radius}, got {off} mm off, tol 1.1e-5"


def test_old_polyline_with_bulge_reads_like_the_light_one() -> None:
    vertices = "|0|VERTEX|8|0|10|0|20|0|42|0.5|0|VERTEX|8|0|10|8|20|0|0|VERTEX|8|0|10|8|20|9"
    heavy = by_hand(f"0|POLYLINE|8|0|66|1|70|1{vertices}|0|SEQEND|8|0")
    light = by_hand("0|LWPOLYLINE|8|0|90|3|70|1|10|0|20|0|42|0.5|10|8|20|0|10|8|20|9")
    a, b = (read_dxf("a.dxf", d).shapes[0].geometry for d in (heavy, light))
    assert isinstance(a, Ring)
    assert a == b


def test_y_points_down_and_inches_are_exact() -> None:
    data = by_hand(line_text(1, 2, 3, 4), header=("$INSUNITS", "70", "1"))
    reading = read_dxf("a.dxf", data)
    line = reading.shapes[0].geometry
    assert isinstance(line, Chain)
    assert (line.start, line.end) == (Point(25.4, -50.8), Point(3 * 25.4, -4 * 25.4))
    assert reading.unit.mm_per_unit == 25.4
    assert "inches" in reading.unit.because.why


UNITS = [
    ("Units: METRIC", None, 1.0, True),
    ("units:metric", None, 1.0, True),
    ("UNITS : English", None, 25.4, True),
    ("Units: ENGLISH", 1, 25.4, True),
    ("Units: METRIC", 1, 1.0, False),
    (None, 4, 1.0, True),
    (None, 5, 10.0, True),
    (None, 2, 304.8, True),
]


@pytest.mark.parametrize(("text", "number", "mm", "sure"), UNITS)
def test_unit_by_text_then_by_header(text, number, mm, sure) -> None:
    entities = [line_text(0, 0, 30, 40)]
    if text:
        entities.append(f"0|TEXT|8|1|10|0|20|0|40|1|1|{text}")
    header = ("$INSUNITS", "70", str(number)) if number is not None else ()
    reading = read_dxf("a.dxf", by_hand(*entities, header=header))
    assert reading.unit.mm_per_unit == mm
    assert reading.unit.because.sure is sure, reading.unit.because.why
    assert bool(reading.problems) is not sure


def test_unit_text_counts_only_on_layer_1() -> None:
    text = "0|TEXT|8|5|10|0|20|0|40|1|1|Units: ENGLISH"
    assert read_dxf("a.dxf", by_hand(line_text(0, 0, 30, 40), text)).unit.mm_per_unit == 1.0


@pytest.mark.parametrize("header", [(), ("$INSUNITS", "70", "0"), ("$MEASUREMENT", "70", "1")])
def test_unknown_unit_asks_with_sizes(header) -> None:
    data = by_hand(line_text(0, 0, 340, 1020), header=header)
    with pytest.raises(UnitUnknownError) as caught:
        read_dxf("leg.dxf", data)
    said = str(caught.value)
    for part in ("leg.dxf", "--unit", "34.0 x 102.0 cm", "340.0 x 1020.0 cm", "863.6 x 2590.8"):
        assert part in said, f"wanted “{part}” in: {said}"
    assert read_dxf("leg.dxf", data, mm_per_unit=10.0).unit.mm_per_unit == 10.0


def test_what_the_person_says_wins() -> None:
    reading = read_dxf("a.dxf", by_hand(line_text(0, 0, 30, 40)), mm_per_unit=25.4)
    assert reading.unit.mm_per_unit == 25.4
    assert reading.unit.because.why == "you said so"


def test_metres_that_would_make_a_giant_are_doubted() -> None:
    data = by_hand(line_text(0, 0, 340, 1020), header=("$INSUNITS", "70", "6"))
    reading = read_dxf("a.dxf", data)
    assert not reading.unit.because.sure
    assert "--unit" in reading.problems[0]


KINDS = {
    "1": Kind.OUTLINE,
    "4": Kind.NOTCH,
    "80": Kind.NOTCH,
    "83": Kind.NOTCH,
    "6": Kind.FOLD,
    "7": Kind.GRAIN,
    "8": Kind.INNER,
    "11": Kind.CUTOUT,
    "13": Kind.DRILL,
    "14": Kind.STITCHING,
    "84": Kind.ASIDE,
    "87": Kind.ASIDE,
    "5": Kind.ASIDE,
    "9": Kind.ASIDE,
    "10": Kind.ASIDE,
}


def sewn_products(*, inserted: bool) -> bytes:
    document = ezdxf.new("R12")
    block = document.blocks.new("FRONT-1")
    for k, layer in enumerate(KINDS):
        block.add_line((k, 0), (k, 50), dxfattribs={"layer": layer})
    block.add_point((3, 4), dxfattribs={"layer": "2"})
    block.add_point((3, 5), dxfattribs={"layer": "3"})
    block.add_point((3, 6, 2.5), dxfattribs={"layer": "4", "angle": 30})
    block.add_text("piece name:Front leg", dxfattribs={"layer": "1"})
    block.add_text("cut two", dxfattribs={"layer": "15"})
    block.add_text("Units: METRIC", dxfattribs={"layer": "1"})
    if inserted:
        document.modelspace().add_blockref("FRONT-1", (100, 0))
    return as_bytes(document)


@pytest.mark.parametrize("inserted", [True, False])
def test_numbered_layers_tell_what_things_are(inserted) -> None:
    """ASTM D6673-10 clause 4.3 names the layers; a block nobody inserts is read all the same."""
    reading = read_dxf("a.dxf", sewn_products(inserted=inserted))
    for shape, (layer, kind) in zip(paths(reading), KINDS.items(), strict=True):
        assert shape.kind is kind, f"layer {layer}: wanted {kind}, got {shape.kind}"
        assert shape.words == (layer, "FRONT-1")
        assert (shape.group, shape.group_name) == (0, "Front leg")
    points = [s for s in reading.shapes if isinstance(s.geometry, Point)]
    assert [s.kind for s in points[:3]] == [Kind.TURN_POINT, Kind.CURVE_POINT, Kind.NOTCH]
    assert all(s.kind is Kind.TEXT for s in points[3:])
    assert any("84 to 87" in p for p in reading.problems)


def test_plain_drawing_says_only_its_layers() -> None:
    reading = read_dxf("a.dxf", by_hand(line_text(0, 0, 30, 40, "0"), line_text(0, 0, 3, 40, "1")))
    assert [(s.kind, s.words, s.group) for s in reading.shapes] == [
        (None, ("0",), None),
        (None, ("1",), None),
    ]


def test_switched_off_frozen_and_invisible_are_hidden() -> None:
    document = ezdxf.new("R2010", units=4)
    document.layers.add("off").off()
    document.layers.add("cold").freeze()
    msp = document.modelspace()
    for layer in ("0", "off", "cold"):
        msp.add_line((0, 0), (30, 40), dxfattribs={"layer": layer})
    msp.add_line((0, 0), (30, 41), dxfattribs={"invisible": 1})
    hidden = [s.hidden for s in read_dxf("a.dxf", as_bytes(document)).shapes]
    assert hidden == [False, True, True, True]


def test_writing_in_several_lines_loses_its_codes() -> None:
    document = ezdxf.new("R2010", units=4)
    document.modelspace().add_line((0, 0), (30, 40))
    document.modelspace().add_mtext(
        r"{\fArial;Cut \H2x;two}\Pon fold", dxfattribs={"insert": (7, 8)}
    )
    shape = read_dxf("a.dxf", as_bytes(document)).shapes[1]
    assert (shape.text, shape.geometry, shape.kind) == ("Cut two\non fold", Point(7, -8), Kind.TEXT)


def test_text_in_an_old_code_page() -> None:
    data = (
        by_hand(line_text(0, 0, 30, 40), "0|TEXT|8|1|10|0|20|0|40|1|1|Ärmel \\U+00E9")
        .decode()
        .encode("cp1252")
    )
    assert read_dxf("a.dxf", data).shapes[1].text == "Ärmel é"


def test_unread_entities_are_named() -> None:
    data = by_hand(line_text(0, 0, 30, 40), "0|DIMENSION|8|0", "0|DIMENSION|8|0", "0|HATCH|8|0")
    (said,) = read_dxf("a.dxf", data).problems
    assert "2 x DIMENSION" in said
    assert "1 x HATCH" in said


def test_mirrored_own_plane_is_mirrored_back() -> None:
    """Extrusion along -z flips x (DXF reference, arbitrary axis algorithm); ezdxf agrees."""
    document = ezdxf.new("R2010", units=4)
    line = document.modelspace().add_lwpolyline(
        [(5, 0, 1.0), (15, 0, 0)], format="xyb", dxfattribs={"extrusion": (0, 0, -1)}
    )
    chain = read_dxf("a.dxf", as_bytes(document)).shapes[0].geometry
    assert isinstance(chain, Chain)
    assert (chain.start, chain.end) == (Point(-5, 0), Point(-15, 0))
    (arc,) = line.virtual_entities()
    wanted = [(p.x, -p.y) for p in arc.flattening(1e-4)]
    off = max(chain.nearest(Point(*p)).distance for p in wanted)
    assert off < 1e-4, f"wanted ezdxf's arc, got {off} mm beside it, tol 1e-4"


def test_file_without_anything_drawn_is_refused() -> None:
    with pytest.raises(FileError, match="no lines or curves"):
        read_dxf("a.dxf", by_hand())
