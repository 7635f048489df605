"""What a person says of a piece holds, leaves the rest alone, and is found again."""

from __future__ import annotations

import json
import math
from functools import cache
from pathlib import Path

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change
from core.curve import Point, Vector
from core.errors import PieceError
from core.files import read
from core.piece.correct import SAID, with_role
from core.piece.kept import known_of, understood_by
from core.piece.model import Piece, Role
from core.piece.said import (
    called,
    join_edges,
    split_edge,
    with_dart,
    with_grain,
    with_taper,
    without_dart,
)

SAMPLES = Path(__file__).parents[3] / "sample_pieces"


@cache
def shorts() -> Piece:
    return read(SAMPLES / "allotment_shorts.svg").pieces[0]


@cache
def trousers() -> Piece:
    return read(SAMPLES / "digging_trousers.dxf").pieces[0]


def up_the_seam(piece: Piece, mm: float, *, last: bool) -> Point:
    assert piece.hem is not None
    seam = piece.edges[1] if last else piece.edges[-1]
    chain = piece.edge_chain(seam) if last else piece.edge_chain(seam).reversed()
    return chain.at(chain.at_length(mm))


@pytest.mark.parametrize("last", [False, True])
@pytest.mark.parametrize("mm", [20.0, 55.5])
def test_a_taper_point_slides_up_its_seam_and_the_seam_goes_on_from_there(
    last: bool, mm: float
) -> None:
    piece = shorts()
    at = up_the_seam(piece, mm, last=last)
    moved = with_taper(piece, at + Vector(3.0, 0.0), last=last)
    assert moved.hem is not None
    taper = moved.hem.last if last else moved.hem.first
    assert moved.ring.at(taper.place).distance(at) < 3.1
    assert taper.because == SAID
    assert moved.outline is piece.outline
    longer = lengthen(moved, Change(60.0))
    assert longer.piece.hem is not None
    new = longer.piece.hem.last if last else longer.piece.hem.first
    step = longer.piece.ring.at(new.place) - moved.ring.at(taper.place)
    turn = abs(step.unit().cross(taper.down))
    assert turn < 1e-6, f"the seam goes on {turn} off its direction at the taper point"


def test_a_taper_point_slides_into_the_style_line_below_it() -> None:
    """Lower on the rounded corner the direction is that of the rounding."""
    piece = shorts()
    assert piece.hem is not None
    chain = piece.ring.run(piece.hem.first.place, piece.hem.last.place)
    inside = chain.at(chain.at_length(6.0))
    moved = with_taper(piece, inside, last=False)
    assert moved.hem is not None
    assert moved.ring.at(moved.hem.first.place).distance(inside) < 1e-6


@pytest.mark.parametrize("last", [False, True])
def test_a_taper_point_stays_between_the_top_of_its_seam_and_the_hem(last: bool) -> None:
    piece = shorts()
    top = piece.ring.at(piece.edges[1].end if last else piece.edges[-1].start)
    with pytest.raises(PieceError, match="between the top"):
        with_taper(piece, top, last=last)


def test_an_edge_split_and_joined_again_is_the_edge_as_long_as_it_was() -> None:
    piece = shorts()
    number = next(k for k, e in enumerate(piece.edges) if e.role is Role.SIDE)
    edge = piece.edges[number]
    chain = piece.edge_chain(edge)
    parted = split_edge(piece, number, chain.at(chain.at_length(chain.length() / 3.0)))
    lengths = [parted.edge_length(e) for e in parted.edges[number : number + 2]]
    assert sum(lengths) == pytest.approx(piece.edge_length(edge), abs=1e-6)
    assert lengths[0] == pytest.approx(chain.length() / 3.0, abs=1e-6)
    whole = join_edges(parted, number)
    assert [(e.role, e.start, e.end) for e in whole.edges] == [
        (e.role, e.start, e.end) for e in piece.edges
    ]


def test_the_hem_is_neither_split_nor_joined() -> None:
    piece = shorts()
    with pytest.raises(PieceError, match="taper points"):
        split_edge(piece, 0, piece.ring.at(piece.edges[0].start))
    with pytest.raises(PieceError, match="stays for itself"):
        join_edges(piece, len(piece.edges) - 1)


def test_a_grain_that_is_said_upside_down_makes_the_other_end_the_hem() -> None:
    piece = trousers()
    turned = with_grain(piece, -piece.grain.down)
    assert turned.hem is not None
    assert turned.grain.because == SAID
    run = turned.edge_chain(turned.edges[0]).bounds().centre
    was = piece.edge_chain(piece.edges[0]).bounds().centre
    assert (run - was).dot(piece.grain.down) < -100.0, "wanted the hem at the other end"


APRON = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="600mm" height="1100mm" viewBox="0 0 600 1100">'
    '<g id="apron-front"><path d="M50,120 C90,140 130,140 160,100 L280,130 C260,200 270,260 320,300'
    ' L300,480 C300,600 360,900 400,1020 C280,1055 160,1060 50,1060 Z"/>'
    '<path class="fold" d="M50,200 L50,1000"/><path class="grain" d="M120,400 V800"/></g></svg>'
)


def test_a_grain_set_a_little_askew_forgets_no_edge_that_the_file_names(tmp_path: Path) -> None:
    """Two clicks on a small screen are soon a few degrees off; the fold stays the fold, and the
    bodice does not become a leg."""
    path = tmp_path / "apron.svg"
    path.write_text(APRON)
    piece = read(path).pieces[0]
    was = [(e.role, e.because.sure) for e in piece.edges]
    assert (Role.FOLD, True) in was
    for degrees in (-4.0, 1.5, 4.0):
        askew = with_grain(piece, piece.grain.down.turned(math.radians(degrees)))
        got = [(e.role, e.because.sure) for e in askew.edges]
        assert got == was, f"{degrees} degrees askew: wanted {was}, got {got}"


def test_a_dart_of_three_points_lies_on_its_edge_and_can_be_taken_away() -> None:
    piece = trousers()
    waist = next(e for e in piece.edges if e.role is Role.WAIST)
    chain = piece.edge_chain(waist)
    half = chain.length() / 2.0
    mouth = (chain.at(chain.at_length(half - 10.0)), chain.at(chain.at_length(half + 10.0)))
    apex = mouth[0].towards(mouth[1], 0.5).moved(piece.grain.down, 90.0)
    darted = with_dart(piece, mouth, apex)
    (dart,) = darted.darts[len(piece.darts) :]
    assert dart.on is Role.WAIST
    assert dart.intake == pytest.approx(mouth[0].distance(mouth[1]), abs=1e-6)
    assert without_dart(darted, len(darted.darts) - 1).darts == piece.darts
    longer = lengthen(darted, Change(50.0)).piece
    assert longer.darts[-1].apex == dart.apex, "a waist dart stays where it is"


def test_a_dart_that_is_cut_into_the_outline_is_one_again_when_it_is_shown() -> None:
    back = read(SAMPLES / "allotment_shorts.svg").pieces[1]
    (dart,) = back.darts
    assert dart.mouth_places is not None
    again = with_dart(without_dart(back, 0), dart.mouth[::-1], dart.apex + Vector(0.3, 0.0))
    (shown,) = again.darts
    assert (shown.mouth, shown.apex, shown.mouth_places) == (
        dart.mouth, dart.apex, dart.mouth_places
    )  # fmt: skip
    assert shown.on is dart.on
    assert again.edge_lengths == pytest.approx(back.edge_lengths, abs=1e-9), "its legs not counted"


def test_a_dart_without_width_or_off_the_edge_is_refused() -> None:
    piece = trousers()
    p = piece.ring.at(piece.edges[1].start)
    with pytest.raises(PieceError, match="no width"):
        with_dart(piece, (p, p), p + Vector(0.0, 50.0))
    with pytest.raises(PieceError, match="lies on an edge"):
        with_dart(piece, (p + Vector(400.0, 0.0), p), p)


def test_a_piece_takes_the_name_it_is_given_and_no_empty_one() -> None:
    assert called(shorts(), "  Left   front ").name == "Left front"
    with pytest.raises(PieceError, match="needs a name"):
        called(shorts(), "  ")


def corrected() -> Piece:
    piece = with_role(shorts(), 2, Role.OTHER)
    piece = with_taper(piece, up_the_seam(piece, 30.0, last=True), last=True)
    number = next(k for k, e in enumerate(piece.edges) if e.role is Role.SIDE)
    chain = piece.edge_chain(piece.edges[number])
    return called(split_edge(piece, number, chain.at(chain.at_length(100.0))), "Left front")


def test_what_is_kept_comes_back_through_json() -> None:
    piece = corrected()
    kept = json.loads(json.dumps(known_of(piece)))
    again = understood_by(shorts(), kept)
    assert again.name == piece.name
    assert [e.role for e in again.edges] == [e.role for e in piece.edges]
    assert [e.because for e in again.edges] == [e.because for e in piece.edges]
    for old, new in zip(piece.edges, again.edges, strict=True):
        for a, b in ((old.start, new.start), (old.end, new.end)):
            off = piece.ring.at(a).distance(again.ring.at(b))
            assert off < 1e-5, f"an edge came back {off} mm off"
    assert again.hem is not None
    longer, other = (lengthen(p, Change(60.0)).piece for p in (piece, again))
    assert longer.ring.length() == pytest.approx(other.ring.length(), abs=1e-4)


@pytest.mark.parametrize("spoil", ["edges", "grain", "darts", "taper points"])
@pytest.mark.parametrize("wrong", [7, None, [[1, 2]], "x"])
def test_what_was_spoiled_is_refused_in_a_sentence(spoil: str, wrong: object) -> None:
    with pytest.raises(PieceError, match="does not fit"):
        understood_by(shorts(), {**known_of(corrected()), spoil: wrong})


def test_what_was_kept_of_another_outline_does_not_fit() -> None:
    with pytest.raises(PieceError, match="does not fit"):
        understood_by(trousers(), known_of(corrected()))


def test_what_was_kept_by_an_earlier_version_is_still_known_as_said() -> None:
    """Its notes do not tell of each answer whether it was said or recognised."""
    side = next(k for k, e in enumerate(shorts().edges) if e.role is Role.SIDE)
    said = with_role(shorts(), side, Role.INSEAM)
    kept = known_of(said)
    for edge in kept["edges"]:
        del edge["told"]
    again = understood_by(shorts(), kept)
    assert again.edges[side].because == SAID
    assert [e.because.told for e in again.edges].count(True) == 1
