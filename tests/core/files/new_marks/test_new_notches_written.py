"""New notches go out in the file's own manner, come back where they stand, disturb nothing."""

from __future__ import annotations

import difflib
import io
from collections.abc import Callable
from pathlib import Path

import ezdxf
import pytest

from core.alter.model import Change
from core.alter.together import alter_together
from core.curve import Chain, Point
from core.files import Drawing, Format, read, read_bytes, render
from core.piece.model import Kind, Mark, Piece

SAMPLES = Path(__file__).parents[4] / "sample_pieces"
FILES = sorted(p.name for p in SAMPLES.iterdir() if p.suffix in (".svg", ".dxf"))
ASKED = Change(60.0, balance_notch=True)
# Half of the last decimal of a sewn-products file in mm with two of them.
PLACE = {".svg": 1e-6, ".dxf": 0.011}


def lengthened(drawing: Drawing) -> Drawing:
    """All pieces with a hem, made longer together, with balance notches."""
    with_hem = [p for p in drawing.pieces if p.hem is not None]
    return drawing.with_pieces(a.piece for a in alter_together(with_hem, ASKED))


def foot(mark: Mark) -> Point:
    return mark.geometry if isinstance(mark.geometry, Point) else mark.geometry.start


def notches(piece: Piece) -> list[Mark]:
    return [m for m in piece.marks if m.kind is Kind.NOTCH]


def assert_there(wanted: Drawing, data: bytes, name: str, tolerance: float) -> None:
    """Every notch of the drawing is found again on the piece on which it stands."""
    found = {p.outline.ring.bounds().centre: p for p in read_bytes(Path(name), data).pieces}
    assert len(found) == len(wanted.pieces), f"wanted as many pieces, got {list(found)}"
    for piece in wanted.pieces:
        at = piece.outline.ring.bounds().centre
        again = [foot(m) for m in notches(found[min(found, key=at.distance)])]
        assert len(again) == len(notches(piece)), f"{piece.name}: {again}"
        for m in notches(piece):
            off = min(foot(m).distance(p) for p in again)
            assert off <= tolerance, f"{piece.name}: wanted {foot(m)}, {off} mm off, {tolerance}"


@pytest.mark.parametrize("name", FILES)
def test_spliced_into_the_sample_they_come_back(name: str) -> None:
    drawing = lengthened(read(SAMPLES / name))
    assert any(m.is_added for p in drawing.pieces for m in p.marks)
    assert_there(drawing, render(drawing), name, PLACE[Path(name).suffix])


@pytest.mark.parametrize("form", list(Format))
@pytest.mark.parametrize("name", FILES)
def test_in_a_fresh_file_they_come_back(name: str, form: Format) -> None:
    drawing = lengthened(read(SAMPLES / name))
    pieces = {p.name for p in drawing.pieces}
    out = render(Drawing(**{**vars(drawing), "format": _other(form)}), form)
    found = {p.name: p for p in read_bytes(Path(f"again{form.value}"), out).pieces}
    assert set(found) == pieces
    for piece in drawing.pieces:
        assert len(notches(found[piece.name])) == len(notches(piece))


def _other(form: Format) -> Format:
    return next(f for f in Format if f is not form)


@pytest.mark.parametrize("name", FILES)
def test_only_the_new_notches_differ_from_the_file_without(name: str) -> None:
    """The same change with and without: one is the other with some bytes put in."""
    drawing = read(SAMPLES / name)
    with_hem = [p for p in drawing.pieces if p.hem is not None]
    plain = drawing.with_pieces(a.piece for a in alter_together(with_hem, Change(60.0)))
    before, after = (render(d).splitlines() for d in (plain, lengthened(drawing)))
    matcher = difflib.SequenceMatcher(a=before, b=after, autojunk=False)
    gone = [
        line for tag, i, j, _, _ in matcher.get_opcodes() if tag != "equal" for line in before[i:j]
    ]
    assert len(gone) <= 1, f"only the next free handle may differ, got {gone}"


SVG_HEAD = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    ' width="500mm" height="900mm" viewBox="0 0 {w} {h}">'
)
LEG = '<path id="front" {more} d="M{a} 0 L{b} 0 L{c} {h} L{d} {h} Z"/>'


def svg(inside: Callable[[float], str], *, unit: float = 1.0) -> bytes:
    head = SVG_HEAD.format(w=500 / unit, h=900 / unit)
    return f"{head}\n  {inside(unit)}\n</svg>\n".encode()


def leg(unit: float, more: str = "") -> str:
    a, b, c, d, h = (v / unit for v in (20, 260, 240, 40, 700))
    return LEG.format(a=a, b=b, c=c, d=d, h=h, more=more)


def grain(unit: float) -> str:
    x, y, z = (v / unit for v in (120, 100, 500))
    return f'<path class="grain" d="M{x} {y} L{x} {z}"/>'


@pytest.mark.parametrize("unit", [1.0, 25.4 / 72, 10.0])
@pytest.mark.parametrize(
    "body",
    [
        lambda u: leg(u) + grain(u),
        lambda u: leg(u, 'class="outline st0"') + grain(u),
        lambda u: leg(u, "style='stroke:#f00;fill:none' transform='translate(3,4)'") + grain(u),
        lambda u: f'<g transform="rotate(-4 {130 / u} {350 / u})">{leg(u)}{grain(u)}</g>',
        lambda u: f'<defs>{leg(u)}</defs><use xlink:href="#front" x="2"/>{grain(u)}',
        lambda u: (
            leg(u)
            + grain(u)
            + f'<line class="notch" stroke="red" x1="{22.86 / u}" y1="{100 / u}"'
            + f' x2="{28 / u}" y2="{100 / u}"/>'
        ),
    ],
)
def test_in_any_units_under_any_transform(body: Callable[[float], str], unit: float) -> None:
    data = svg(body, unit=unit)
    drawing = lengthened(read_bytes(Path("a.svg"), data))
    out = render(drawing)
    assert_there(drawing, out, "a.svg", 1e-6)
    new = [m for p in drawing.pieces for m in p.marks if m.is_added]
    assert len(new) == 2
    assert all(isinstance(m.geometry, Chain) for m in new)
    if b"<line" in data:
        assert out.count(b'<line class="notch" stroke="red"') + out.count(b"<line x1") == 3


def test_a_notch_beside_its_like_has_its_looks() -> None:
    tick = '<line class="n7" stroke="red" x1="22.86" y1="100" x2="28" y2="100"/>'
    drawing = lengthened(read_bytes(Path("a.svg"), svg(lambda u: leg(u) + grain(u) + tick)))
    out = render(drawing).decode()
    assert out.count('class="n7 notch" stroke="red"') == 2
    assert tick in out


def dxf(version: str, *, standard: bool, blocks: int = 1, notch: bool = False) -> bytes:
    """A leg by ezdxf: as sewn-products layers or on a layer of another name."""
    document = ezdxf.new(version, units=4)
    for name in ("1", "7", "seam"):
        document.layers.add(name)
    outline, line = ("1", "7") if standard else ("seam", "seam")
    block = document.blocks.new("FRONT")
    points = [(20, 700), (260, 700), (240, 0), (40, 0)]
    if version == "R12":
        block.add_polyline2d(points, close=True, dxfattribs={"layer": outline})
    else:
        block.add_lwpolyline(points, close=True, dxfattribs={"layer": outline})
    block.add_line((120, 600), (120, 200), dxfattribs={"layer": line})
    if standard:
        block.add_text("Piece Name: Front", dxfattribs={"layer": "1", "insert": (150, 300)})
    if notch and standard:
        block.add_point((22.857, 600, 5.0), dxfattribs={"layer": "4", "angle": 10})
    for k in range(blocks):
        document.modelspace().add_blockref("FRONT", (600 * k, 0))
    out = io.StringIO()
    document.write(out)
    text = out.getvalue()
    if version == "R12":
        text = text.replace("AC1009\n", f"AC1009\n  9\n$INSUNITS\n 70\n{document.units}\n", 1)
    return text.encode(document.output_encoding)


def audited(data: bytes) -> ezdxf.document.Drawing:
    document = ezdxf.read(io.StringIO(data.decode("utf-8").replace("\r\n", "\n")))
    auditor = document.audit()
    said = [e.message for e in (*auditor.errors, *auditor.fixes)]
    assert not said, f"wanted a file without errors, got {said}"
    return document


@pytest.mark.parametrize("notch", [False, True])
@pytest.mark.parametrize("blocks", [1, 2])
@pytest.mark.parametrize("standard", [False, True])
@pytest.mark.parametrize("version", ["R12", "R2000", "R2010"])
def test_dxf_of_any_kind(version: str, standard: bool, blocks: int, notch: bool) -> None:
    data = dxf(version, standard=standard, blocks=blocks, notch=notch)
    drawing = read_bytes(Path("a.dxf"), data)
    assert len(drawing.pieces) == blocks
    drawing = lengthened(drawing)
    out = render(drawing)
    audited(out)
    assert_there(drawing, out, "a.dxf", 1e-6)


def test_in_sewn_products_layers_a_notch_is_a_point_on_layer_4() -> None:
    out = render(lengthened(read_bytes(Path("a.dxf"), dxf("R2000", standard=True))))
    document = audited(out)
    points = [e for e in document.blocks.get("FRONT") if e.dxftype() == "POINT"]
    assert [e.dxf.layer for e in points] == ["4", "4"]
    assert [round(e.dxf.location.z, 6) for e in points] == [6.0, 6.0], "Z is the depth"
    assert "4" in document.layers, "the layer is in the table"


def test_elsewhere_a_notch_is_a_short_line_on_the_layer_of_the_outline() -> None:
    out = render(lengthened(read_bytes(Path("a.dxf"), dxf("R2000", standard=False))))
    lines = [e for e in audited(out).blocks.get("FRONT") if e.dxftype() == "LINE"]
    assert [e.dxf.layer for e in lines].count("seam") == 3, "the grain line and two notches"
