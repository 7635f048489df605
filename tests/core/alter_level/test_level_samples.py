"""Putting in and folding out on the samples, through files: only altered elements differ."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from core.alter.frame import Frame
from core.alter.level.climb import lowest_and_highest
from core.alter.level.insert import insert_at
from core.alter.level.model import LevelChange, Truing
from core.alter.model import Altered, StepKind
from core.curve import Point
from core.files import Drawing, read, render, write
from core.piece.model import Kind, Piece, Role
from tests.laws.compare import assert_same_shape

SAMPLES = Path(__file__).parent.parent.parent.parent / "sample_pieces"
# Lines that are opened are not among these: through the back dart, at the knee, at the hip.
CASES = [
    ("allotment_shorts.svg", "Back", 60.0),
    ("allotment_shorts.dxf", "BACK", 60.0),
    ("allotment_shorts.svg", "Front", 290.0),
    ("digging_trousers.dxf", "Front", 600.0),
    ("digging_trousers.dxf", "Back", 600.0),
    ("potting_skirt.svg", "Front", 70.0),
    ("watering_sleeve.svg", "Sleeve", 300.0),
]
# An arc in the place of a curve may leave it by 0.01 mm, and two decimals by half of that.
WRITTEN = 0.016


def opened(name: str) -> Drawing:
    return read(SAMPLES / name)


def piece_of(drawing: Drawing, name: str) -> Piece:
    return next(p for p in drawing.pieces if p.name == name)


def changed(name: str, piece: str, at: float, by: float, true: Truing) -> tuple[Drawing, Altered]:
    drawing = opened(name)
    altered = insert_at(piece_of(drawing, piece), LevelChange(at, by, true))
    return drawing, altered


@pytest.mark.parametrize("true", list(Truing))
@pytest.mark.parametrize("by", [40.0, -20.0])
@pytest.mark.parametrize("case", CASES)
def test_saved_and_read_again_it_is_the_same(
    case: tuple[str, str, float], by: float, true: Truing, tmp_path: Path
) -> None:
    name, piece, at = case
    drawing, altered = changed(name, piece, at, by, true)
    path = write(drawing.with_piece(altered.piece), tmp_path / name)
    again = {p.name: p for p in read(path).pieces}
    got, frame = again[piece], Frame(altered.piece.grain.down)
    assert_same_shape(got.outline.ring, altered.piece.outline.ring, "outline read again", WRITTEN)
    if altered.piece.stitching is not None:
        assert got.stitching is not None
        assert_same_shape(got.stitching.ring, altered.piece.ring, "stitching read again", WRITTEN)
    low, high = lowest_and_highest(got.ring, frame)
    old_low, old_high = lowest_and_highest(altered.before.ring, frame)
    assert abs((high - low) - (old_high - old_low) - by) < WRITTEN
    for p in drawing.pieces:
        if p.name != piece:
            assert again[p.name].outline.ring == p.outline.ring, f"{p.name} was not asked for"


@pytest.mark.parametrize(("name", "piece", "at"), [c for c in CASES if c[0].endswith(".svg")])
def test_only_altered_elements_differ(name: str, piece: str, at: float) -> None:
    """Of the tags of the SVG, only those of shapes that changed are written anew."""
    drawing, altered = changed(name, piece, at, 40.0, Truing.SMOOTH)
    data = render(drawing.with_piece(altered.piece))
    old, new = (re.findall(rb"<[^>]*>", d) for d in (drawing.data, data))
    assert len(old) == len(new), f"wanted {len(old)} tags, got {len(new)}"
    differ = sum(a != b for a, b in zip(old, new, strict=True))
    was = {m.shape: m.geometry for m in altered.before.marks}
    marks = sum(m.geometry != was[m.shape] for m in altered.piece.marks)
    # The outline, the marks, and the page where it had to grow.
    assert 1 <= differ <= marks + 2, f"{differ} tags differ for {marks} changed marks"


@pytest.mark.parametrize(("name", "piece", "at"), CASES)
def test_smooth_seams_have_no_kink_and_no_bulge(name: str, piece: str, at: float) -> None:
    """The redrawn seam turns less than a degree at its ends and stays by the old seam."""
    _, altered = changed(name, piece, at, 40.0, Truing.SMOOTH)
    (true,) = (s for s in altered.steps if s.kind.name == "TRUE_SEAMS")
    ring, frame = altered.piece.ring, Frame(altered.piece.grain.down)
    for chain in true.lines:
        lean = max(
            abs(altered.before.ring.tangent(altered.before.ring.nearest(p).place).dot(frame.across))
            for p in (chain.start, chain.end)
        )
        (segment,) = chain
        ways = [segment.tangent(k / 50).dot(frame.across) for k in range(51)]
        widest = max(map(abs, ways))
        assert widest < lean + 0.15, f"it leans by up to {widest}, the seam by {lean}"
        turns = np.sign([segment.curvature(k / 50) for k in range(51)])
        assert sum(a * b < 0.0 for a, b in pairwise(turns)) <= 1, "it waves"
    for before, after in pairwise((*ring.segments, ring.segments[0])):
        if any(before.end in (c.start, c.end) for c in true.lines):
            turn = abs(before.tangent(1.0).angle_to(after.tangent(0.0)))
            corner = turn > np.radians(18.0)
            assert corner or turn < np.radians(1.0), f"a kink of {np.degrees(turn)} degrees"


@pytest.mark.parametrize("name", ["allotment_shorts.svg", "allotment_shorts.dxf"])
def test_the_back_dart_of_the_shorts_is_carried_across(name: str) -> None:
    back = "Back" if name.endswith("svg") else "BACK"
    _, altered = changed(name, back, 60.0, 40.0, Truing.SMOOTH)
    (old,), (new,) = altered.before.darts, altered.piece.darts
    assert new.intake == old.intake
    assert abs((new.apex - old.apex).dot(altered.piece.grain.down) - 40.0) < 1e-9
    assert abs(new.legs[0] - new.legs[1]) < 0.01
    hole = next(m for m in altered.piece.marks if m.kind is Kind.DRILL)
    before = next(m for m in altered.before.marks if m.kind is Kind.DRILL)
    if isinstance(hole.geometry, Point) and isinstance(before.geometry, Point):
        off = (hole.geometry - before.geometry) - (new.apex - old.apex)
        assert off.norm < 1e-9, "the hole goes with the apex"


@pytest.mark.parametrize(("true", "tolerance"), [(Truing.SMOOTH, 0.06), (Truing.STRAIGHT, 0.02)])
def test_the_allowance_of_the_shorts_stays(true: Truing, tolerance: float) -> None:
    """Seams 1 cm: the cutting line keeps it beside the redrawn seams."""
    for piece in ("FRONT", "BACK"):
        _, altered = changed("allotment_shorts.dxf", piece, 60.0, 40.0, true)
        for p in (altered.before, altered.piece):
            assert p.stitching is not None
            points = p.outline.ring.flattened(tolerance=0.05)
            far = [p.stitching.ring.nearest(Point(x, y)).distance for x, y in points]
            assert min(far) > 10.0 - tolerance, f"{piece}: an allowance of {min(far)} mm"


def test_the_trousers_gain_the_same_on_mated_seams() -> None:
    """At the knee, where front and back lean nearly alike: within 0.15 mm of each other."""
    drawing = opened("digging_trousers.dxf")
    gains: dict[Role, list[float]] = {Role.INSEAM: [], Role.SIDE: []}
    for piece in drawing.pieces:
        altered = insert_at(piece, LevelChange(600.0, 60.0))
        for e in altered.figures.edges:
            if e.role in gains:
                gains[e.role].append(e.after_mm - e.before_mm)
            elif e.role is not Role.OTHER:
                assert abs(e.after_mm - e.before_mm) < 1e-6, f"the {e.role.value} changed"
    for role, (front, back) in gains.items():
        assert abs(front - back) < 0.15, f"{role.value}: {front} and {back}"


def test_the_fold_line_and_the_knee_line_follow() -> None:
    """The skirt's bracket for the fold grows; the knee line ends on the redrawn seams."""
    _, skirt = changed("potting_skirt.svg", "Front", 300.0, 40.0, Truing.SMOOTH)
    (old,) = (m for m in skirt.before.marks if m.kind is Kind.FOLD and m.shape == 7)
    (new,) = (m for m in skirt.piece.marks if m.shape == 7)
    assert not isinstance(old.geometry, Point)
    assert not isinstance(new.geometry, Point)
    assert abs(new.geometry.length() - old.geometry.length() - 40.0) < 1e-9
    _, trousers = changed("digging_trousers.dxf", "Front", 600.0, 60.0, Truing.SMOOTH)
    (knee,) = (m.geometry for m in trousers.piece.marks if m.kind is Kind.INNER)
    assert not isinstance(knee, Point)
    for end in (knee.start, knee.end):
        assert trousers.piece.ring.nearest(end).distance < 1e-6


@pytest.mark.parametrize("by", [40.0, -20.0])
@pytest.mark.parametrize(("name", "piece", "at"), CASES)
def test_a_preview_is_the_same_piece(name: str, piece: str, at: float, by: float) -> None:
    one = piece_of(opened(name), piece)
    change = LevelChange(at, by)
    shown, told = insert_at(one, replace(change, preview=True)), insert_at(one, change)
    assert shown.piece == told.piece
    assert shown.figures.edges == told.figures.edges
    assert {s.kind for s in shown.steps} <= {StepKind.TRUE_SEAMS}
    lines = [s.lines for s in told.steps if s.kind is StepKind.TRUE_SEAMS]
    assert [s.lines for s in shown.steps] == lines
