"""Each sample is read, recognised with everything sure, altered, walked and written back."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.alter.lengthen import lengthen
from core.alter.level.insert import insert_at
from core.alter.level.model import LevelChange
from core.alter.model import Change, HemWay
from core.alter.simple import is_simple
from core.alter.together import alter_together
from core.curve import Point
from core.files import read
from core.files.write import write
from core.piece.mates import find_mates
from core.piece.model import Piece, Role
from sample_pieces import draw
from sample_pieces.drawing import (
    barrow_trousers,
    bodice,
    planting_skirt,
    pruning_sleeve,
    raking_skirt,
)
from sample_pieces.drawing.part import Part

FOLDER = Path(draw.__file__).resolve().parent
# Written with three decimals in SVG, with two in the DXF, whose curves are chopped to 0.01 mm.
WRITTEN = {".svg": 0.002, ".dxf": 0.05}
AMOUNTS = (50.0, -30.0)

ROLES: dict[str, dict[str, list[Role]]] = {
    "barrow_trousers.dxf": {
        n: [Role.HEM, Role.INSEAM, Role.RISE, Role.WAIST, Role.SIDE] for n in ("FRONT", "BACK")
    },
    "picking_bodice.svg": {
        "Front": [Role.HEM, Role.SIDE, *[Role.OTHER] * 3, Role.FOLD],
        "Back": [Role.HEM, Role.CENTRE_BACK, *[Role.OTHER] * 3, Role.SIDE],
    },
    "planting_skirt.svg": {"Front": [Role.HEM, Role.SIDE, Role.WAIST, Role.SIDE]},
    "pruning_sleeve.svg": {"Sleeve": [Role.HEM, Role.UNDERARM, Role.CAP, Role.UNDERARM]},
    "raking_skirt.svg": {"Back": [Role.HEM, Role.CENTRE_BACK, Role.WAIST, Role.SIDE]},
}
PARTS: dict[str, tuple[Part, ...]] = {
    "barrow_trousers.dxf": barrow_trousers.pieces(),
    "picking_bodice.svg": bodice.pieces(),
    "planting_skirt.svg": (planting_skirt.front(),),
    "pruning_sleeve.svg": (pruning_sleeve.sleeve(),),
    "raking_skirt.svg": (raking_skirt.back(),),
}
DARTS = {"picking_bodice.svg": 2, "pruning_sleeve.svg": 1, "raking_skirt.svg": 1}
NAMES = sorted(ROLES)


def pieces_of(name: str) -> tuple[Piece, ...]:
    return read(FOLDER / name).pieces


@pytest.mark.parametrize("name", NAMES)
def test_all_roles_are_found_and_sure(name: str) -> None:
    for piece in pieces_of(name):
        roles = [e.role for e in piece.edges]
        wanted = ROLES[name][piece.name]
        # Either way round the piece, from the hem on.
        either = (wanted, [wanted[0], *wanted[:0:-1]])
        assert roles in either, f"{piece.name}: wanted {wanted}, got {roles}"
        unsure = [e.because.why for e in piece.edges if not e.because.sure]
        assert not unsure, f"{piece.name}: {unsure}"
        assert not piece.problems, f"{piece.name}: {piece.problems}"
        assert piece.grain.because.sure, piece.grain.because.why
        assert len(piece.darts) == DARTS.get(name, 0), f"{piece.name}: {piece.darts}"


def _hem_ends(part: Part) -> tuple[Point, Point]:
    hems = [e.chain for e in part.edges if e.name.startswith("hem")]
    return hems[0].start, hems[-1].end


@pytest.mark.parametrize("name", NAMES)
def test_the_taper_points_are_the_corners_of_the_hem(name: str) -> None:
    height = barrow_trousers.SHEET[1]
    for piece, part in zip(pieces_of(name), PARTS[name], strict=True):
        assert piece.hem is not None
        for taper in (piece.hem.first, piece.hem.last):
            assert taper.because.sure, taper.because.why
            at = piece.ring.at(taper.place)
            if name.endswith(".dxf"):
                at = Point(at.x, at.y + height) if at.y < 0.0 else at
            off = min(at.distance(p) for p in _hem_ends(part))
            limit = WRITTEN[Path(name).suffix]
            assert off <= limit, f"{piece.name}: {off} mm off a hem corner (+-{limit})"


@pytest.mark.parametrize("by", AMOUNTS)
@pytest.mark.parametrize("name", NAMES)
def test_altered_and_written_back_they_are_what_was_altered(
    name: str, by: float, tmp_path: Path
) -> None:
    drawing = read(FOLDER / name)
    altered = alter_together(drawing.pieces, Change(by))
    out = tmp_path / name
    write(drawing.with_pieces(a.piece for a in altered), out)
    again = {p.name: p for p in read(out).pieces}
    for a in altered:
        assert is_simple(a.piece.ring), f"{a.piece.name} crosses itself"
        assert not [f.sentence for f in a.findings], a.findings
        got, limit = again[a.piece.name], WRITTEN[out.suffix]
        for mine, theirs in zip(a.piece.edges, got.edges, strict=True):
            off = abs(a.piece.edge_length(mine) - got.edge_length(theirs))
            assert off <= 10 * limit, f"{a.piece.name} {mine.role.value}: {off} mm off"
        assert not got.problems, got.problems


@pytest.mark.parametrize("by", [0.0, *AMOUNTS])
@pytest.mark.parametrize("name", ["barrow_trousers.dxf", "picking_bodice.svg"])
def test_the_mates_are_found_sure_and_equal(name: str, by: float) -> None:
    pieces = [a.piece for a in alter_together(pieces_of(name), Change(by))]
    mates = find_mates(pieces)
    assert len(mates) == (2 if name.startswith("barrow") else 1), mates
    for pair in mates:
        assert pair.because.sure, pair.because.why
        a, b = (
            next(p for p in pieces if p.key == key).edge_length(
                next(p for p in pieces if p.key == key).edge(role)
            )
            for key, role in (pair.first, pair.second)
        )
        assert abs(a - b) <= 0.05, f"{pair}: {a} and {b} mm"


def test_the_sleeve_seams_are_equal_once_the_elbow_dart_is_sewn() -> None:
    (piece,) = pieces_of("pruning_sleeve.svg")
    for by in (0.0, *AMOUNTS):
        after = alter_together([piece], Change(by))[0].piece
        front, back = (after.edge_length(e) for e in after.edges if e.role is Role.UNDERARM)
        assert abs(front - back) <= 0.05, f"by {by}: front {front}, back {back}"


def test_the_dart_of_the_raking_skirt_is_carried_across_the_level() -> None:
    """Above stays the mouth, below moves the point; both legs stay equal, and the intake."""
    (piece,) = pieces_of("raking_skirt.svg")
    (was,) = piece.darts
    for by in (50.0, -30.0):
        (dart,) = insert_at(piece, LevelChange(raking_skirt.LEVEL, by)).piece.darts
        assert dart.mouth == was.mouth
        down = (dart.apex - was.apex).dot(piece.grain.down)
        assert abs(down - by) <= 1e-6, f"wanted the point {by} mm lower, got {down}"
        assert abs(dart.intake - raking_skirt.DART_INTAKE) <= 0.002
        assert abs(dart.legs[0] - dart.legs[1]) <= 0.01


@pytest.mark.parametrize("hem", tuple(HemWay))
@pytest.mark.parametrize("by", AMOUNTS)
def test_the_scoop_keeps_its_depth_and_flows(by: float, hem: HemWay) -> None:
    (piece,) = pieces_of("planting_skirt.svg")
    after = lengthen(piece, Change(by, hem=hem)).piece
    for p in (piece, after):
        assert p.hem is not None
        chain = p.ring.run(p.hem.first.place, p.hem.last.place)
        flat = chain.flattened(tolerance=0.001)
        deep = float(flat[:, 1].max() - flat[:, 1].min())
        wanted = 84.0 if p is piece else _depth(piece)
        assert abs(deep - wanted) <= 6.0, f"{hem.value}: wanted about {wanted}, got {deep}"
        kinks = [
            abs(a.tangent(1.0).angle_to(b.tangent(0.0)))
            for a, b in zip(chain.segments, chain.segments[1:], strict=False)
        ]
        assert max(kinks) <= 1e-3, f"{hem.value}: a kink of {max(kinks)} rad in the hem"


def _depth(piece: Piece) -> float:
    assert piece.hem is not None
    flat = piece.ring.run(piece.hem.first.place, piece.hem.last.place).flattened(tolerance=0.001)
    return float(flat[:, 1].max() - flat[:, 1].min())


def test_the_turn_up_is_the_mirror_of_the_leg_above_the_fold() -> None:
    """Depth d, narrowing i a side over H: the edge is 2 d i / H wider than the fold."""
    for part in barrow_trousers.pieces():
        hem = part.edge("hem")
        dots = [d.at for d in barrow_trousers.cut_around(part)]
        low = [p for p in dots if p.y > hem.start.y + 1.0]
        assert len(low) == 2, f"wanted two corners below the fold, got {low}"
        fold = [p for p in dots if abs(p.y - hem.start.y) < 1e-6]
        cut = barrow_trousers.FRONT if part.name == "Front" else barrow_trousers.BACK
        narrowing = (cut.knee_half - cut.hem_half) / (
            barrow_trousers.trousers.LENGTH - barrow_trousers.trousers.KNEE
        )
        width, edge = (abs(a.x - b.x) for a, b in (fold, low))
        wanted = width + 2.0 * barrow_trousers.TURN_UP * narrowing
        assert abs(edge - wanted) <= 1e-6, f"{part.name}: wanted {wanted}, got {edge}"
