"""A leg cut in one piece, as leggings are: both its seams are inseams, sewn to each other."""

from __future__ import annotations

import math

import pytest

from core.alter.model import Change
from core.alter.together import alter_together
from core.check import check_all
from core.piece.model import Piece, Role
from tests.core.piece.as_svg import read_piece

# Waist and rises from the left crotch point on, then the right seam; a front rise and a back one.
TOP = (
    "C215 240 240 150 250 60L560 50C580 150 600 230 650 290",
    "C200 270 225 200 230 90L560 40C575 180 620 260 680 310",
)
WHOLE = [Role.HEM, Role.INSEAM, Role.RISE, Role.WAIST, Role.RISE, Role.INSEAM]


def read(d: str, name: str, *, turned: float = 0.0) -> Piece:
    return read_piece(d, name, grain="M400 350V850", turned=turned)


def leg(top: str) -> str:
    return f"M160 300{top}C590 500 560 700 530 980H290C260 700 230 500 160 300Z"


@pytest.mark.parametrize("turned", [0.0, 37.0, 180.0, -90.0])
@pytest.mark.parametrize("top", TOP)
@pytest.mark.parametrize("name", ["leggings", "trouser leg", "Tights"])
def test_both_seams_of_a_whole_leg_are_inseams(name: str, top: str, turned: float) -> None:
    """They were side seams, unsure, and nobody walked the one against the other."""
    piece = read(leg(top), name, turned=turned)
    assert [e.role for e in piece.edges] == WHOLE
    assert all(e.because.sure for e in piece.edges)


@pytest.mark.parametrize("name", ["top", "Piece 1", "bodice front"])
def test_armholes_are_no_rises(name: str) -> None:
    roles = {e.role for e in read(leg(TOP[0]), name).edges}
    assert not roles & {Role.INSEAM, Role.RISE}


def test_seams_of_a_whole_leg_get_the_same_length_and_are_walked() -> None:
    (altered,) = alter_together((read(leg(TOP[1]), "leggings"),), Change(80.0))
    off = altered.figures.added_first_mm - altered.figures.added_last_mm
    assert math.isclose(off, 0.0, abs_tol=1e-6), f"wanted the same length, got {off} mm more"
    found = [f.sentence for f in check_all([altered])]
    assert any("seam to seam (inseam)" in s and "longer" not in s for s in found)
    assert any("around for each leg" in s for s in found)
