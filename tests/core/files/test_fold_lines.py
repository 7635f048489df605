"""A half piece whose fold runs off the grain: altered, saved, opened again.

Once its fold line ended 2 mm beside the hem's new corner, and one that ended on the cutting line
was cut back to the stitching line.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from core.alter.allowance.measured import measure_allowances
from core.alter.lengthen import lengthen
from core.alter.level.insert import insert_at
from core.alter.level.model import LevelChange
from core.alter.model import Altered, Change, HemWay, Measure, SeamWay
from core.alter.together import alter_together
from core.curve import Affine, Chain, Point, Ring, Vector
from core.errors import AlterationError
from core.files.drawing import Drawing
from core.files.read import read_bytes
from core.files.write import render
from core.piece.model import Edge, Kind, Piece, Role

# The half of a skirt front, y down: on the fold at x = 0 both lines run along it; allowances 10
# at the waist, 14 at the side, 30 at the hem.
SEWN = ((0.0, 10.0), (170.0, 0.0), (230.0, 600.0), (0.0, 610.0))
CUT = ((0.0, 0.0), (182.9935, -10.7643), (246.9936, 629.2612), (0.0, 640.0))
TOP, HEM = {"sewn": 10.0, "cut": 0.0}, {"sewn": 610.0, "cut": 640.0}
# How far the fold leans from the grain, in degrees.
LEANS = (2.0, -8.0)
# The files' numbers have four decimals.
WRITTEN = 1e-4

Place = tuple[float, float]
Way = Change | LevelChange

WAYS: dict[str, Way] = {
    "longer": Change(60.0),
    "a little longer": Change(0.4),
    "shorter": Change(-60.0),
    "a little shorter": Change(-0.4),
    "trimmed": Change(60.0, hem=HemWay.TRIM),
    "trimmed shorter": Change(-60.0, hem=HemWay.TRIM),
    "square": Change(60.0, hem=HemWay.SQUARE),
    "square shorter": Change(-60.0, hem=HemWay.SQUARE),
    "along the seam": Change(60.0, measure=Measure.SEAM),
    "to a width": Change(60.0, to_width_mm=265.0),
    "plumb": Change(60.0, seams=SeamWay.PLUMB),
    "plumb below": Change(60.0, plumb_below_mm=630.0),
    "put in at a level": LevelChange(300.0, 60.0),
    "put in near the hem": LevelChange(570.0, 60.0),
    "folded out at a level": LevelChange(300.0, -60.0),
}


def laid(*, mirrored: bool = False, turned: float = 0.0) -> Affine:
    """How the half lies on the sheet."""
    flip = Affine.scale(-1.0, 1.0) if mirrored else Affine()
    turn = Affine.turn(math.radians(turned), Point(0.0, 300.0))
    return Affine.move(400.0, 100.0) @ turn @ flip


def drawn(lean: float, end: str, pose: Affine, *, upwards: bool = False) -> dict[str, list[Place]]:
    """Both lines, the fold line and the grain line, `lean` degrees off it, on the sheet."""
    fold = [(0.0, TOP[end]), (0.0, HEM[end])]
    along = Vector(0.0, 150.0).turned(math.radians(lean))
    grain = [Point(100.0, 300.0).moved(along, k) for k in (-1.0, 1.0)]
    return {
        "cut": [_on(pose, *p) for p in CUT],
        "sewn": [_on(pose, *p) for p in SEWN],
        "fold": [_on(pose, *p) for p in (reversed(fold) if upwards else fold)],
        "grain": [_on(pose, p.x, p.y) for p in grain],
    }


def _on(pose: Affine, x: float, y: float) -> Place:
    p = pose.point(Point(x, y))
    return p.x, p.y


def svg(lines: dict[str, list[Place]]) -> bytes:
    names = {"cut": "cutting line", "sewn": "stitching line", "fold": "fold line", "grain": "grain"}
    paths = []
    for line, points in lines.items():
        told = " L ".join(f"{x:.4f} {y:.4f}" for x, y in points)
        close = " Z" if len(points) > 2 else ""
        paths.append(f'<path id="{line}" class="{names[line]}" d="M {told}{close}"/>')
    body = "\n".join(paths)
    root = 'xmlns="http://www.w3.org/2000/svg" width="900mm" height="900mm" viewBox="0 0 900 900"'
    return f'<svg {root}>\n<g id="half">\n{body}\n</g>\n</svg>\n'.encode()


def dxf(lines: dict[str, list[Place]]) -> bytes:
    """In a block on the numbered layers of the standard (ASTM D6673), y up."""
    out = ["0", "SECTION", "2", "HEADER", "9", "$INSUNITS", "70", "4", "0", "ENDSEC"]
    out += ["0", "SECTION", "2", "BLOCKS", "0", "BLOCK", "8", "1", "2", "HALF", "70", "0"]
    out += ["10", "0.0", "20", "0.0"]
    for line, layer in (("cut", "1"), ("sewn", "14"), ("fold", "6"), ("grain", "7")):
        points = [(x, 900.0 - y) for x, y in lines[line]]
        out += _polyline(layer, points) if len(points) > 2 else _line(layer, points)
    out += ["0", "TEXT", "8", "1", "10", "450.0", "20", "500.0", "40", "5.0"]
    out += ["1", "Piece Name: HALF", "0", "ENDBLK", "8", "1", "0", "ENDSEC"]
    out += ["0", "SECTION", "2", "ENTITIES", "0", "INSERT", "8", "1", "2", "HALF"]
    return "\n".join([*out, "10", "0.0", "20", "0.0", "0", "ENDSEC", "0", "EOF", ""]).encode()


def _polyline(layer: str, points: list[Place]) -> list[str]:
    out = ["0", "POLYLINE", "8", layer, "66", "1", "70", "1"]
    for x, y in points:
        out += ["0", "VERTEX", "8", layer, "10", f"{x:.4f}", "20", f"{y:.4f}"]
    return [*out, "0", "SEQEND"]


def _line(layer: str, points: list[Place]) -> list[str]:
    (x0, y0), (x1, y1) = points
    ends = ["10", f"{x0:.4f}", "20", f"{y0:.4f}", "11", f"{x1:.4f}", "21", f"{y1:.4f}"]
    return ["0", "LINE", "8", layer, *ends]


KINDS: dict[str, Callable[[dict[str, list[Place]]], bytes]] = {"half.dxf": dxf, "half.svg": svg}


def opened(
    name: str,
    lean: float,
    end: str,
    *,
    mirrored: bool = False,
    turned: float = 0.0,
    upwards: bool = False,
) -> Drawing:
    lines = drawn(lean, end, laid(mirrored=mirrored, turned=turned), upwards=upwards)
    return read_bytes(Path(name), KINDS[name](lines))


def changed(piece: Piece, way: Way) -> Altered:
    return insert_at(piece, way) if isinstance(way, LevelChange) else lengthen(piece, way)


def saved(drawing: Drawing, way: Way) -> Piece:
    """The piece as it is read from the saved file."""
    (piece,) = drawing.pieces
    altered = changed(piece, way).piece
    (back,) = read_bytes(drawing.path, render(drawing.with_pieces((altered,)))).pieces
    return back


def fold_of(piece: Piece) -> Chain:
    """The fold line, from the top down."""
    (mark,) = (m for m in piece.marks if m.kind is Kind.FOLD)
    assert isinstance(mark.geometry, Chain)
    down = piece.grain.down
    run = mark.geometry.end - mark.geometry.start
    return mark.geometry if run.dot(down) > 0.0 else mark.geometry.reversed()


def hem_corner(ring: Ring, fold: Chain, down: Vector) -> Point:
    """The lowest corner of a line that lies on the line along which the fold line ends."""
    way = fold.segments[-1].tangent(1.0)
    on = [s.start for s in ring if abs(way.cross(s.start - fold.end)) < 0.01]
    return max(on, key=lambda p: down.dot(p - fold.end))


def check(piece: Piece, end: str, said: str) -> None:
    """The fold line ends exactly on its own outline's corner of the hem."""
    assert piece.stitching is not None
    ring = piece.outline.ring if end == "cut" else piece.stitching.ring
    fold = fold_of(piece)
    for p, what in ((fold.end, "hem"), (fold.start, "top")):
        near = min(p.distance(s.start) for s in ring)
        assert near <= WRITTEN, f"{said}: {near} mm from a corner at the {what} (+-{WRITTEN})"
    corner = hem_corner(ring, fold, piece.grain.down)
    off = corner.distance(fold.end)
    assert off <= WRITTEN, f"{said}: wanted the end on {corner}, got {fold.end}, {off} mm off"


@pytest.mark.parametrize("name", KINDS)
@pytest.mark.parametrize("end", HEM)
@pytest.mark.parametrize("way", WAYS)
def test_a_fold_line_off_the_grain_ended_beside_the_hem_corner(
    name: str, end: str, way: str
) -> None:
    for lean in LEANS:
        check(saved(opened(name, lean, end), WAYS[way]), end, f"{name} {way} {lean}")


@pytest.mark.parametrize("name", KINDS)
@pytest.mark.parametrize("end", HEM)
@pytest.mark.parametrize(
    ("mirrored", "turned", "upwards"),
    [(True, 0.0, False), (False, 90.0, True), (True, 37.0, True), (False, 180.0, False)],
)
def test_it_ends_there_however_the_piece_lies(
    name: str, end: str, mirrored: bool, turned: float, upwards: bool
) -> None:
    for way in ("longer", "shorter", "to a width", "put in at a level"):
        drawing = opened(name, 2.0, end, mirrored=mirrored, turned=turned, upwards=upwards)
        check(saved(drawing, WAYS[way]), end, f"{name} {way}")


@pytest.mark.parametrize("lean", LEANS)
@pytest.mark.parametrize("way", [w for w, c in WAYS.items() if isinstance(c, Change)])
def test_a_fold_goes_straight_on_whatever_is_asked(lean: float, way: str) -> None:
    (piece,) = opened("half.dxf", lean, "cut").pieces
    after = changed(piece, WAYS[way]).piece
    edge = after.edge_chain(after.edge(Role.FOLD))
    chord = Chain.through((edge.start, edge.end))
    off = max(chord.nearest(s.start).distance for s in edge)
    assert off <= 1e-3, f"{way}: the fold bends by {off} mm"


def test_the_other_seam_gives_the_hem_its_width() -> None:
    (piece,) = opened("half.dxf", 2.0, "cut").pieces
    for wanted in (235.0, 265.0):
        got = lengthen(piece, Change(60.0, to_width_mm=wanted)).figures.hem_width_after_mm
        assert abs(got - wanted) <= 1e-6, f"wanted {wanted} mm, got {got} (+-1e-6)"


def test_a_hem_from_fold_to_fold_gets_no_other_width() -> None:
    (piece,) = opened("half.dxf", 2.0, "cut").pieces

    def folded(edge: Edge) -> Edge:
        return replace(edge, role=Role.FOLD) if edge.role is Role.SIDE else edge

    both = replace(piece, edges=tuple(map(folded, piece.edges)))
    with pytest.raises(AlterationError, match="from fold to fold"):
        lengthen(both, Change(60.0, to_width_mm=265.0))


@pytest.mark.parametrize("name", KINDS)
def test_a_fold_line_that_lay_below_the_new_hem_is_named(name: str) -> None:
    lines = drawn(2.0, "cut", laid())
    lines["fold"] = [_on(laid(), 0.0, 600.0), lines["fold"][1]]
    drawing = read_bytes(Path(name), KINDS[name](lines))
    (altered,) = alter_together(drawing.pieces, Change(-60.0))
    assert not [m for m in altered.piece.marks if m.kind is Kind.FOLD]
    assert any("fold line lay in the part" in str(f.sentence) for f in altered.findings)


@pytest.mark.parametrize("way", [w for w, c in WAYS.items() if isinstance(c, Change)])
def test_both_lines_on_the_fold_were_taken_for_lines_that_do_not_match(way: str) -> None:
    """There is no allowance on a fold, so nothing of it lay "beside" the stitching line."""
    (piece,) = opened("half.dxf", 2.0, "cut").pieces
    altered = changed(piece, WAYS[way])
    told = [str(f.sentence) for f in altered.findings if "allowance" in str(f.sentence)]
    assert not told, told


def test_the_hem_allowance_stays_on_a_half_piece() -> None:
    (piece,) = opened("half.dxf", 2.0, "cut").pieces
    for by in (60.0, -60.0):
        after = measure_allowances(changed(piece, Change(by)).piece)
        assert after is not None
        for edge, wanted in zip(after.edges, _allowances(piece), strict=True):
            got = (edge.start_mm, edge.end_mm)
            assert got == pytest.approx(wanted, abs=1e-3), f"{edge.role}: {wanted}, got {got}"


def _allowances(piece: Piece) -> list[tuple[float | None, float | None]]:
    before = measure_allowances(piece)
    assert before is not None
    return [(e.start_mm, e.end_mm) for e in before.edges]


@pytest.mark.parametrize("by", [60.0, -60.0])
def test_a_level_broke_a_leaning_fold_line_in_three(by: float) -> None:
    (piece,) = opened("half.dxf", 2.0, "cut").pieces
    altered = insert_at(piece, LevelChange(300.0, by))
    assert len(fold_of(altered.piece)) == 1
    aside = f"{abs(by) * math.sin(math.radians(2.0)) / 10.0:.2f} cm aside"
    told = [str(f.sentence) for f in altered.findings]
    assert any(aside in sentence for sentence in told), f"wanted {aside}, got {told}"
