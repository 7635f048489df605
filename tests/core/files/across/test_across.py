"""SVG to DXF and back, DXF to SVG and back: nothing is lost that both can say."""

from __future__ import annotations

import io
import math
from dataclasses import replace
from pathlib import Path
from xml.sax.saxutils import escape

import ezdxf
import numpy as np
import pytest
from hypothesis import Phase, assume, given, settings
from hypothesis import strategies as st

from core.alter.model import Change
from core.alter.together import alter_together
from core.curve import Chain, Cubic, Line, Point, Ring, Vector
from core.files import Drawing, Format, read, read_bytes, render
from core.files.across import pattern_of_pieces
from core.files.svg import fresh_svg
from core.piece.model import Because, Grain, Kind, Mark, Origin, Outline, Piece, Role
from tests.core.files.across.said import differences

SAMPLES = Path(__file__).parents[4] / "sample_pieces"
NAMES = sorted(p.name for p in SAMPLES.iterdir() if p.suffix in (".svg", ".dxf"))
SVGS = [name for name in NAMES if name.endswith(".svg")]
OTHER = {Format.SVG: Format.DXF, Format.DXF: Format.SVG}
WITHIN = 1e-6
SURE = Because(True, "drawn so")


def across(drawing: Drawing) -> Drawing:
    form = OTHER[drawing.format]
    return read_bytes(Path(f"across{form.value}"), render(drawing, form))


def assert_same(before: Drawing, after: Drawing) -> None:
    told = differences(before, after, within=WITHIN)
    assert not told, f"wanted the same within {WITHIN} mm, got " + "; ".join(told[:8])


@pytest.mark.parametrize("name", NAMES)
def test_there_and_back_nothing_is_lost(name: str) -> None:
    drawing = read(SAMPLES / name)
    assert_same(drawing, across(across(drawing)))


@pytest.mark.parametrize("name", SVGS)
def test_twice_there_and_back_is_byte_for_byte_what_once_is(name: str) -> None:
    drawing = read(SAMPLES / name)
    there = render(drawing, Format.DXF)
    again = render(across(across(drawing)), Format.DXF)
    first, second = (b.splitlines() for b in (there, again))
    off = [k for k, (a, b) in enumerate(zip(first, second, strict=True)) if a != b]
    # A place turned and turned back may differ in its ninth decimal.
    assert all(abs(float(first[k]) - float(second[k])) < 1e-8 for k in off), first[off[0]]


@pytest.mark.parametrize("name", NAMES)
def test_an_altered_pattern_goes_across_as_it_stays(name: str) -> None:
    """Saved in its own kind and read, it says the same as saved in the other and read."""
    drawing = read(SAMPLES / name)
    hems = [p for p in drawing.pieces if p.hem is not None and not p.size]
    longer = drawing.with_pieces(a.piece for a in alter_together(hems, Change(60.0)))
    if drawing.format is Format.SVG:
        assert_same(longer, across(across(longer)))
    for was, now in zip(longer.pieces, across(longer).pieces, strict=True):
        length = was.outline.ring.length()
        assert now.outline.ring.length() == pytest.approx(length, abs=1e-5)
        assert now.name == was.name


def test_the_comparison_sees_what_is_lost() -> None:
    drawing = read(SAMPLES / "allotment_shorts.svg")
    first = drawing.pieces[0]
    for mark in first.marks:
        fewer = replace(first, marks=tuple(m for m in first.marks if m is not mark))
        told = differences(drawing, drawing.with_piece(fewer), within=WITHIN)
        lost = [d for d in told if "lost" in d or "gained" in d]
        assert len(lost) == 2, f"wanted {mark.kind} missed and found on the sheet, got {told}"
    other = replace(drawing, pieces=across(drawing).pieces[:1] + drawing.pieces[1:])
    assert any("notch" in d for d in differences(drawing, other, within=WITHIN))


# -- curves ---------------------------------------------------------------------------------


@pytest.mark.parametrize("name", SVGS)
def test_curves_stay_curves_as_ezdxf_evaluates_them(name: str) -> None:
    drawing = read(SAMPLES / name)
    document = ezdxf.read(io.StringIO(render(drawing, Format.DXF).decode()))
    splines = [s for b in document.blocks for s in b.query('SPLINE[layer=="1"]')]
    assert splines, "wanted the outlines as SPLINEs"
    rings = [p.outline.ring for p in drawing.pieces]
    for spline in splines:
        tool = spline.construction_tool()
        for p in tool.points(np.linspace(0.0, tool.max_t, 101)):
            off = min(r.nearest(Point(p.x, -p.y)).distance for r in rings)
            assert off <= WITHIN, f"wanted at most {WITHIN} mm off the outline, got {off}"


def test_a_straight_stretch_between_curves_comes_back_straight() -> None:
    drawing = read(SAMPLES / "planting_skirt.svg")
    was, now = (d.pieces[0].outline.ring for d in (drawing, across(drawing)))
    assert [type(s) for s in now] == [type(s) for s in was]
    assert Line in {type(s) for s in now}
    assert Cubic in {type(s) for s in now}


POINTS = st.tuples(st.floats(-9e3, 9e3), st.floats(-9e3, 9e3))


# Each example is two files written and read.
@settings(max_examples=40)
@given(st.data())
def test_any_outline_goes_across_segment_by_segment(data: st.DataObject) -> None:
    """Whatever its lines and curves are; three corners far apart make it a piece."""
    x, y = data.draw(POINTS)
    corners = [Point(x, y), Point(x + 300, y + 20), Point(x + 140, y + 400)]
    reach = st.floats(-60.0, 60.0)
    segments = []
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        pull = [Vector(data.draw(reach), data.draw(reach)) for _ in range(2)]
        curved = Cubic(a, a.towards(b, 1 / 3) + pull[0], a.towards(b, 2 / 3) + pull[1], b)
        segments.append(curved if data.draw(st.booleans()) else Line(a, b))
    drawing = read_bytes(Path("a.svg"), fresh_svg(pattern_of_pieces([_piece(segments)])))
    assert_same(drawing, across(across(drawing)))


def _piece(segments: list[Line | Cubic], *marks: Mark) -> Piece:
    ring = Ring(tuple(segments))
    outline = Outline(ring, tuple(Origin(0, k) for k in range(len(ring))))
    return Piece(0, "Front", outline, Grain(Vector(0.0, 1.0), SURE), marks=marks)


# -- words ----------------------------------------------------------------------------------


def test_edges_that_the_file_names_keep_their_names() -> None:
    """Its outline is drawn line by line; so it is in the DXF, with the word of each beside it."""
    drawing = read(SAMPLES / "picking_bodice.svg")
    there = across(drawing)
    for was, now in zip(drawing.pieces, there.pieces, strict=True):
        assert [e.role for e in now.edges] == [e.role for e in was.edges]
        assert all(e.because.sure for e in now.edges if e.role is not Role.OTHER)
        assert now.grain.because == was.grain.because


def test_a_dart_that_the_file_calls_one_is_sure_in_the_dxf_too() -> None:
    drawing = read(SAMPLES / "potting_skirt.svg")
    (was,), (now,) = (d.pieces[0].darts for d in (drawing, across(drawing)))
    assert was.because.sure
    assert now.because == was.because


TEXTS = st.text(
    st.characters(blacklist_categories=("Cc", "Cs", "Zl", "Zp")), min_size=1, max_size=30
)


# Not shrunk: that would try hundreds more.
@settings(max_examples=40, phases=[Phase.explicit, Phase.generate])
@given(
    st.lists(TEXTS, min_size=1, max_size=3),
    st.sampled_from(["start", "middle", "end"]),
    st.floats(2.0, 40.0),
    st.integers(-179, 180),
)
def test_any_writing_keeps_its_letters_lines_size_and_direction(lines, anchor, size, angle) -> None:
    rows = [" ".join(line.split()) for line in lines]
    # An escape of the format itself, typed by hand, is one when it is read.
    assume(all(rows) and "\\U+" not in "".join(rows) and "size" not in rows[0].lower())
    spans = "".join(f'<tspan x="90" dy="7">{escape(r)}</tspan>' for r in rows[1:])
    data = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="500mm" height="500mm"'
        ' viewBox="0 0 500 500">'
        '<g><title>Front</title><path class="outline" d="M10,10H300V400H10Z"/>'
        f'<text x="90" y="120" transform="rotate({angle} 90 120)"'
        f' style="font-size:{size}px;text-anchor:{anchor}">{escape(rows[0])}{spans}</text>'
        "</g></svg>"
    ).encode()
    drawing = read_bytes(Path("a.svg"), data)
    there, back = across(drawing), across(across(drawing))
    writing = [m for m in drawing.pieces[0].marks if m.kind is Kind.TEXT]
    assert len(writing) == 1
    texts = [m.text for m in there.pieces[0].marks if m.kind is Kind.TEXT]
    assert writing[0].text in [t.removeprefix("Piece Name: ") for t in texts]
    assert_same(drawing, back)
    look, again = (_look(d) for d in (drawing, back))
    assert again.anchor is look.anchor is not None
    assert look.anchor.value == anchor
    assert again.height == pytest.approx(look.height, abs=1e-6)
    assert math.cos(again.turn - look.turn) == pytest.approx(1.0, abs=1e-9)


def _look(drawing: Drawing):
    from core.files.across import pattern_of

    return next(i.look for i in pattern_of(drawing).parts[0].items if i.kind is Kind.TEXT)


def test_the_writing_that_is_the_name_stays_where_it_stands() -> None:
    drawing = read(SAMPLES / "allotment_shorts.svg")
    (name,) = (m for m in across(drawing).pieces[0].marks if m.text == "Piece Name: Front")
    assert name.geometry == Point(290.0, 296.0)


def test_what_belongs_to_the_sheet_goes_along() -> None:
    """Test square, title and notes lie on no piece; hidden lines stay hidden."""
    data = (SAMPLES / "allotment_shorts.svg").read_bytes()
    extra = b'<path display="none" d="M5,5L9,9"/><path class="frame" d="M1,1L2,700"/></svg>'
    drawing = read_bytes(Path("a.svg"), data.replace(b"</svg>", extra))
    there = across(drawing)
    assert any(s.hidden for s in there.shapes)
    assert_same(drawing, across(there))


def test_what_all_sizes_share_is_drawn_once_in_the_dxf_too() -> None:
    drawing = read(SAMPLES / "rain_breeches.svg")
    there = across(drawing)
    texts = [s.text for s in there.shapes if s.text and "Name" not in s.text]
    shared = [t for t in texts if t == "cut 2"]
    assert len(shared) == 2, f"wanted it once a piece, got {len(shared)}"
    assert [p.name for p in there.pieces] == [p.name for p in drawing.pieces]
    assert len(there.pieces[0].marks) >= len(drawing.pieces[0].marks)


# -- notches --------------------------------------------------------------------------------


def _notched(*, depth: float, width: float, angle: float | None, layer: str = "4") -> Drawing:
    document = ezdxf.new("R2010", units=4)
    block = document.blocks.new("FRONT")
    ring = [(0, 0), (200, 0), (180, -600), (20, -600)]
    block.add_lwpolyline(ring, close=True, dxfattribs={"layer": "1"})
    looks = {"layer": layer, "thickness": width} | ({} if angle is None else {"angle": angle})
    block.add_point((190, -300, depth), dxfattribs=looks)
    block.add_line((100, -100), (100, -500), dxfattribs={"layer": "7"})
    document.modelspace().add_blockref("FRONT", (0, 0))
    out = io.StringIO()
    document.write(out)
    return read_bytes(Path("n.dxf"), out.getvalue().encode())


def _notch(drawing: Drawing) -> tuple[object, ...]:
    document = ezdxf.read(io.StringIO(render(drawing, Format.DXF).decode()))
    (point,) = (p for b in document.blocks for p in b.query("POINT") if p.dxf.location.z)
    at = point.dxf.location
    return (point.dxf.layer, *(round(x, 6) for x in (at.x, at.y, at.z, point.dxf.thickness)))


@pytest.mark.parametrize("layer", ["4", "80", "83"])
@pytest.mark.parametrize("width", [0.0, 3.0])
@pytest.mark.parametrize("angle", [181.9, 178.0, 1.25])
def test_a_notch_keeps_depth_width_angle_and_layer(layer: str, width: float, angle: float) -> None:
    """ASTM D6673: a POINT whose Z is the depth, 39 the width and 50 the angle."""
    drawing = _notched(depth=6.0, width=width, angle=angle, layer=layer)
    there = across(drawing)
    (tick,) = (m for m in there.pieces[0].marks if m.kind is Kind.NOTCH)
    assert isinstance(tick.geometry, Chain)
    assert len(tick.geometry) == (2 if width else 1)
    back = across(there)
    kind, x, y, depth, wide = _notch(back)
    boxes = (d.pieces[0].outline.ring.bounds() for d in (drawing, back))
    shift = next(boxes).centre - next(boxes).centre
    assert (kind, depth, wide) == (layer, 6.0, width)
    assert (x + shift.x, y - shift.y) == pytest.approx((190.0, -300.0), abs=WITHIN)
    document = ezdxf.read(io.StringIO(back.data.decode()))
    (point,) = (p for b in document.blocks for p in b.query("POINT") if p.dxf.location.z)
    assert point.dxf.angle == pytest.approx(angle, abs=1e-6)


def test_a_notch_without_angle_goes_in_square_to_its_line() -> None:
    tick = next(
        m
        for m in across(_notched(depth=6.0, width=0.0, angle=None)).pieces[0].marks
        if m.kind is Kind.NOTCH
    )
    assert isinstance(tick.geometry, Chain)
    along = Vector(-20.0, 600.0).unit()
    into = tick.geometry.end - tick.geometry.start
    assert abs(into.dot(along)) < 1e-9
    assert into.x < 0.0
    assert into.norm == pytest.approx(6.0)


def test_a_notch_goes_across_turned_as_its_seam_was() -> None:
    """The same angle in the SVG as in the DXF that stays a DXF."""
    drawing = read(SAMPLES / "barrow_trousers.dxf")
    hems = [p for p in drawing.pieces if p.hem is not None]
    longer = drawing.with_pieces(a.piece for a in alter_together(hems, Change(80.0)))
    straight = across(read_bytes(Path("s.dxf"), render(longer)))
    for was, now in zip(straight.pieces, across(longer).pieces, strict=True):
        ticks = ([m.geometry for m in p.marks if m.kind is Kind.NOTCH] for p in (was, now))
        for a, b in zip(*ticks, strict=True):
            assert isinstance(a, Chain)
            assert isinstance(b, Chain)
            turn = (a.end - a.start).angle_to(b.end - b.start)
            assert abs(turn) < 1e-4, f"wanted the notch turned alike, got {turn} rad off"


@pytest.mark.parametrize("name", SVGS)
def test_turn_points_stay_true_when_a_clean_dxf_is_altered_again(name: str) -> None:
    there = across(read(SAMPLES / name))
    hems = [p for p in there.pieces if p.hem is not None and not p.size]
    longer = there.with_pieces(a.piece for a in alter_together(hems, Change(40.0)))
    for piece in read_bytes(Path("again.dxf"), render(longer)).pieces:
        joints = [s.start for s in piece.outline.ring]
        for mark in piece.marks:
            if mark.kind in (Kind.TURN_POINT, Kind.CURVE_POINT):
                off = min(mark.geometry.distance(p) for p in joints)
                assert off < 0.1, f"{piece.name}: {mark.kind.value} {off} mm off any joint"
