"""The drawn DXF pieces, read with a general-purpose library and measured."""

from __future__ import annotations

import math
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from shapely.geometry import LinearRing, LineString, Point, Polygon

from sample_pieces import draw
from sample_pieces.drawing import interchange, shorts, shorts_dxf, trousers

FOLDER = Path(draw.__file__).resolve().parent
# Two decimals and chords within a hundredth of a millimetre.
WRITTEN = 0.02
Place = tuple[float, float]


@pytest.fixture(autouse=True)
def _own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The library writes a cache of fonts when it is first imported."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))


def _document(name: str) -> Any:
    from ezdxf.filemanagement import readfile

    return readfile(FOLDER / name)


def _on(entities: Any, layer: str, kind: str) -> list[Any]:
    return [e for e in entities if e.dxf.layer == layer and e.dxftype() == kind]


def _ring(entities: Any, layer: str) -> list[Place]:
    (line,) = _on(entities, layer, "POLYLINE")
    assert line.is_closed
    return [(v.dxf.location.x, v.dxf.location.y) for v in line.vertices]


@pytest.mark.parametrize("name", ["allotment_shorts.dxf", "digging_trousers.dxf"])
def test_a_strict_reader_finds_nothing_to_mend(name: str) -> None:
    audit = _document(name).audit()
    assert not audit.errors, [e.message for e in audit.errors]
    assert not audit.fixes, [e.message for e in audit.fixes]


@pytest.mark.parametrize("piece", ["FRONT", "BACK"])
def test_each_piece_is_a_block_on_the_layers_of_the_standard(piece: str) -> None:
    document = _document("allotment_shorts.dxf")
    assert [e.dxf.name for e in document.modelspace().query("INSERT")] == ["FRONT", "BACK"]
    layers = {e.dxf.layer for e in document.blocks[piece]}
    own = {"8"} if piece == "FRONT" else {"13"}
    assert layers == {"1", "2", "3", "4", "7", "14"} | own
    texts = [e.dxf.text for e in document.blocks[piece].query("TEXT")]
    assert f"Piece Name: {piece}" in texts
    sheet = [e.dxf.text for e in document.modelspace().query("TEXT")]
    assert "Units: METRIC" in sheet


@pytest.mark.parametrize("part", shorts.pieces(), ids=lambda p: str(p.name))
def test_the_stitching_line_is_the_outline_of_the_drawn_piece(part: Any) -> None:
    block = _document("allotment_shorts.dxf").blocks[part.name.upper()]
    got = LinearRing(_ring(block, "14"))
    exact = part.ring.flattened(tolerance=1e-4)
    wanted = LinearRing([(x, shorts.SHEET[1] - y) for x, y in exact])
    away = got.hausdorff_distance(wanted)
    assert away <= WRITTEN, f"{part.name}: {away} mm off (+-{WRITTEN})"


def _square_distance(chain: Any, share: float, cutting: LinearRing) -> float:
    """From a share of an edge's length, square to it on either side, to the cutting line."""
    place = chain.at_length(chain.length() * share)
    at, square = chain.at(place), chain.tangent(place).square()
    start, end = (at.moved(square, s) for s in (-40.0, 40.0))
    across = LineString([(p.x, shorts.SHEET[1] - p.y) for p in (start, end)])
    return float(across.intersection(cutting).distance(Point(at.x, shorts.SHEET[1] - at.y)))


@pytest.mark.parametrize("part", shorts.pieces(), ids=lambda p: str(p.name))
def test_the_cutting_line_keeps_the_allowance_of_each_edge(part: Any) -> None:
    block = _document("allotment_shorts.dxf").blocks[part.name.upper()]
    cutting = LinearRing(_ring(block, "1"))
    assert cutting.is_simple
    for edge in part.edges:
        if edge.name == "dart":
            continue
        wanted = shorts_dxf.ALLOWANCES[edge.name.split()[0]]
        for k in range(1, 60):
            got = _square_distance(edge.chain, k / 60, cutting)
            said = f"{part.name} {edge.name} {k}: wanted {wanted}, got {got} (+-{WRITTEN})"
            assert abs(got - wanted) <= WRITTEN, said


@pytest.mark.parametrize("piece", ["FRONT", "BACK"])
def test_the_cutting_line_lies_around_the_stitching_line(piece: str) -> None:
    block = _document("allotment_shorts.dxf").blocks[piece]
    assert Polygon(_ring(block, "1")).contains(Polygon(_ring(block, "14")))


@pytest.mark.parametrize(("piece", "turns"), [("FRONT", 6), ("BACK", 7)])
def test_turn_and_curve_points_are_the_boundary_points(piece: str, turns: int) -> None:
    block = _document("allotment_shorts.dxf").blocks[piece]
    spots = {
        layer: [tuple(e.dxf.location)[:2] for e in _on(block, layer, "POINT")]
        for layer in ("2", "3")
    }
    # Four corners and the step at the taper point; on the back the peak over the dart too.
    assert len(spots["2"]) == turns, f"{piece}: wanted {turns} turn points, got {spots['2']}"
    boundary = _ring(block, "1")
    assert sorted(spots["2"] + spots["3"]) == sorted(boundary)
    assert len(set(boundary)) == len(boundary), "a point of the boundary is written twice"


@pytest.mark.parametrize("piece", ["FRONT", "BACK"])
def test_notches_lie_on_the_cutting_line_and_point_inwards(piece: str) -> None:
    block = _document("allotment_shorts.dxf").blocks[piece]
    cutting = LinearRing(_ring(block, "1"))
    notches = _on(block, "4", "POINT")
    assert len(notches) == (2 if piece == "FRONT" else 3)
    for notch in notches:
        x, y, depth = notch.dxf.location
        assert cutting.distance(Point(x, y)) <= WRITTEN
        assert depth == interchange.NOTCH_DEPTH
        angle = math.radians(notch.dxf.angle)
        inside = Point(x + depth * math.cos(angle), y + depth * math.sin(angle))
        assert Polygon(cutting).contains(inside)
        assert abs(cutting.distance(inside) - depth) < 0.2, "the notch is not square to the edge"


def _outlines() -> dict[str, list[tuple[float, float, float]]]:
    """x, y, bulge of each step, by the name written inside the piece."""
    space = _document("digging_trousers.dxf").modelspace()
    names = {e.dxf.text: Point(e.dxf.insert.x, e.dxf.insert.y) for e in space.query("TEXT")}
    out = {}
    for line in space.query("LWPOLYLINE"):
        assert line.closed
        steps = list(line.get_points("xyb"))
        (name,) = (n for n, at in names.items() if Polygon([s[:2] for s in steps]).contains(at))
        out[name] = steps
    return out


def _arc(start: tuple[float, ...], end: tuple[float, ...]) -> tuple[float, float, float]:
    """Length, and directions at both ends: R = c (1 + b^2) / (4 b), angle 4 atan b."""
    chord = complex(end[0] - start[0], end[1] - start[1])
    b = start[2]
    sweep = 4.0 * math.atan(b)
    length = abs(chord) if b == 0.0 else abs(chord * (1 + b * b) / (4 * b) * sweep)
    along = math.atan2(chord.imag, chord.real)
    return length, along - sweep / 2, along + sweep / 2


def _steps(name: str) -> list[tuple[str, tuple[float, float, float]]]:
    """The edge and the measures of each step of a piece."""
    points = _outlines()[name]
    (block,) = (b for b in trousers.blocks() if b.part.name == name)
    ends = [*points[1:], points[0]]
    arcs = [_arc(a, b) for a, b in zip(points, ends, strict=True)]
    return [(s.edge, arc) for s, arc in zip(block.steps, arcs, strict=True)]


def _length(name: str, edge: str) -> float:
    return sum(arc[0] for e, arc in _steps(name) if e == edge)


def test_the_trousers_are_in_millimetres_and_long() -> None:
    assert _document("digging_trousers.dxf").header["$INSUNITS"] == 4
    for name, steps in _outlines().items():
        ys = [s[1] for s in steps]
        total = max(ys) - min(ys)
        assert 1040.0 < total < 1090.0, f"{name}: {total} mm"


@pytest.mark.parametrize("edge", ["side", "inseam"])
def test_the_seams_of_the_trousers_match(edge: str) -> None:
    front, back = _length("Front", edge), _length("Back", edge)
    assert abs(front - back) <= 0.001, f"{edge}: front {front}, back {back} (+-0.001)"


@pytest.mark.parametrize("name", ["Front", "Back"])
def test_within_an_edge_of_the_trousers_all_joints_are_smooth(name: str) -> None:
    steps = _steps(name)
    for (edge, before), (same, after) in pairwise(steps):
        turn = math.remainder(after[1] - before[2], math.tau)
        if edge == same:
            assert abs(turn) < 1e-5, f"{name} {edge}: a kink of {turn} rad"
        else:
            assert abs(turn) > 0.5, f"{name} {edge} to {same}: no plain corner, {turn} rad"


@pytest.mark.parametrize("name", ["Front", "Back"])
def test_the_bulges_are_those_of_gentle_arcs(name: str) -> None:
    for x, y, bulge in _outlines()[name]:
        # A quarter circle has tan(22.5 degrees) = 0.414.
        assert abs(bulge) < 0.42, f"{name} at {x}, {y}: bulge {bulge}"


@pytest.mark.parametrize("name", ["Front", "Back"])
def test_both_seams_run_straight_and_taper_below_the_knee(name: str) -> None:
    points = _outlines()[name]
    (block,) = (b for b in trousers.blocks() if b.part.name == name)
    hem = next(k for k, s in enumerate(block.steps) if s.edge == "hem")
    knee, side_hem, inner_hem, inner_knee = points[hem - 1 : hem + 3]
    assert knee[2] == side_hem[2] == inner_hem[2] == 0.0
    widths = abs(knee[0] - inner_knee[0]), abs(side_hem[0] - inner_hem[0])
    assert 10.0 < widths[0] - widths[1] < 40.0, f"{name}: knee {widths[0]}, hem {widths[1]}"


def test_grain_and_knee_lines_lie_in_their_pieces() -> None:
    space = _document("digging_trousers.dxf").modelspace()
    rings = [Polygon([s[:2] for s in steps]) for steps in _outlines().values()]
    for layer in ("GRAIN", "KNEE"):
        lines = _on(space, layer, "LINE")
        assert len(lines) == 2
        for e in lines:
            line = LineString([tuple(e.dxf.start)[:2], tuple(e.dxf.end)[:2]])
            assert sum(ring.buffer(0.001).contains(line) for ring in rings) == 1, layer
