"""What hangs from the shoulder is no leg: an armhole is as hollow as a rise."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.files import read as read_path
from core.piece.model import Piece, Role
from tests.core.piece.as_svg import read_piece

SAMPLES = Path(__file__).parents[3] / "sample_pieces"
# From the hem's end at the side up: side, armhole, shoulder, neck, centre. Sides along the grain.
BOXY = "M100 60C130 58 165 30 170 0L290 35C270 110 280 180 370 210V700H100Z"
# A bib: its top edge, and a hollow from there to the side.
BIB = "M100 0H170C180 90 250 160 300 200L310 700H100Z"
# Shoulder, armhole, side; on the other side the seam over the bust.
SIDE_PANEL = (
    "M200 0L260 20C262 90 285 160 330 190C322 260 300 330 302 380C305 450 345 550 370 900"
    "H180C190 600 205 450 210 380C212 300 190 200 185 150C186 90 192 40 200 0Z"
)
# The neck runs on from the centre without a corner; the side lies along the grain.
WAISTCOAT = "M100 330L190 0L290 35C270 110 285 180 340 220L335 520L230 560L100 500Z"
ROUND_SKIRT = "M160 0C160 33 133 60 100 60V700C486 700 800 386 800 0Z"
LEG_OF_TROUSERS = Role.INSEAM, Role.RISE


def read(d: str, name: str, *, marks: str = "") -> Piece:
    return read_piece(d, name, grain="M230 260V500", marks=marks)


FOLD = '<path class="fold" d="M100 680V80"/>'


@pytest.mark.parametrize("name", ["Shirt front", "Blouse back", "Dress front", "Tunic front"])
def test_a_top_whose_side_lies_along_the_grain_has_a_side_seam_and_a_centre(name: str) -> None:
    """It had an inseam and a rise, and that was sure."""
    piece = read(BOXY, name)
    centre = Role.CENTRE_BACK if "back" in name else Role.CENTRE_FRONT
    rest = [Role.OTHER] * 3
    assert [e.role for e in piece.edges] == [Role.HEM, centre, *rest, Role.SIDE]
    assert all(e.because.sure for e in piece.edges)


def test_a_fold_tells_a_top_without_a_name_from_a_leg() -> None:
    piece = read(BOXY, "Piece", marks=FOLD)
    assert [e.role for e in piece.edges] == [
        *(Role.HEM, Role.FOLD),
        *[Role.OTHER] * 3,
        Role.SIDE,
    ]


@pytest.mark.parametrize("d", [BOXY, BIB, SIDE_PANEL, WAISTCOAT, ROUND_SKIRT])
@pytest.mark.parametrize("name", ["Piece", "Panel", "Front", "Side front"])
def test_what_may_be_no_leg_is_not_surely_one(d: str, name: str) -> None:
    told = {e.role for e in read(d, name).edges if e.because.sure}
    assert not told & set(LEG_OF_TROUSERS)


@pytest.mark.parametrize(
    ("d", "name"),
    [
        (BIB, "Apron half"),
        (SIDE_PANEL, "Dress side front"),
        (WAISTCOAT, "Waistcoat front"),
        (ROUND_SKIRT, "Round skirt"),
    ],
)
def test_a_piece_whose_name_speaks_of_no_leg_has_no_inseam(d: str, name: str) -> None:
    assert not {e.role for e in read(d, name).edges} & set(LEG_OF_TROUSERS)


def test_the_side_of_a_waistcoat_along_the_grain_is_not_its_centre() -> None:
    piece = read(WAISTCOAT, "Waistcoat front")
    assert not [e for e in piece.edges if e.role is Role.CENTRE_FRONT and e.because.sure]


def test_a_side_panel_has_no_sure_centre() -> None:
    """Its seam along the grain lies beside the front, not down its middle."""
    piece = read("M100 0H200C210 90 215 160 216 200L240 700H100Z", "Skirt side front")
    assert not [e for e in piece.edges if e.role is Role.CENTRE_FRONT and e.because.sure]


@pytest.mark.parametrize("name", ["Piece", "Front", "Trousers front", "Culottes front"])
def test_a_leg_with_plumb_seams_is_still_one(name: str) -> None:
    leg = "M170 0H360V1000H100V290C135 285 158 220 160 150Z"
    piece = read(leg.replace("1000", "900"), name)
    roles = [e.role for e in piece.edges]
    assert roles == [Role.HEM, Role.INSEAM, Role.RISE, Role.WAIST, Role.SIDE]
    assert all(e.because.sure for e in piece.edges)


def test_a_dart_cut_into_the_waist_leaves_no_doubt_of_a_leg() -> None:
    """Its legs lie far inside the waist's chord, which is no hollow of the waist: a plain "Back"
    of shorts had six questions."""
    back = read_path(SAMPLES / "allotment_shorts.svg").pieces[1]
    assert any(d.mouth_places for d in back.darts)
    assert [e.role for e in back.edges if not e.because.sure] == []
