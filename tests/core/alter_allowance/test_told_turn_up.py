"""A leg drawn by its cutting line, whose turn-up is mirrored at its fold, with allowances told."""

from __future__ import annotations

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change, Severity
from core.check import check_all
from core.piece.model import Piece
from tests.core.piece.as_svg import read_piece
from tests.laws.compare import assert_same_shape

KNEE, FOLD = 560.0, 1000.0


def leg(narrows: float, deep: float, *, mirrored: float = 1.0) -> Piece:
    """A front whose seams come in by `narrows` mm from the knee to the fold and go out again
    below it, as their mirror image, over the depth of the turn-up; or go on plumb (0), or as
    above (-1)."""
    out = mirrored * narrows * deep / (FOLD - KNEE)
    side, inner = 380.0 - narrows, 160.0 + narrows
    d = (
        f"M170 0L380 -8C398 90 402 170 400 230C396 400 385 480 380 {KNEE}L{side} {FOLD}"
        f"L{side + out} {FOLD + deep}L{inner - out} {FOLD + deep}L{inner} {FOLD}L160 {KNEE}"
        "C150 450 110 280 90 262C125 252 155 200 158 140Z"
    )
    return read_piece(d, "Trousers front", grain="M270 300V980")


def told(by: float, deep: float) -> Change:
    return Change(by, allowance_mm=15.0, hem_allowance_mm=deep)


@pytest.mark.parametrize("by", [60.0, -60.0, 1.0])
@pytest.mark.parametrize("deep", [30.0, 40.0])
@pytest.mark.parametrize("narrows", [10.0, 25.0, 40.0])
def test_a_mirrored_turn_up_comes_along_without_a_false_alarm(
    narrows: float, deep: float, by: float
) -> None:
    """The maker was stopped, for the outline above the corners at the turn-up's edge was not what
    it was; and the stitching line of the altered piece could not be drawn any more."""
    altered = lengthen(leg(narrows, deep), told(by, deep))
    found = [*altered.findings, *check_all([altered])]
    wrong = [f.sentence for f in found if f.severity in (Severity.STOP, Severity.LOOK)]
    assert not wrong
    across = [(p.x, p.y) for p in (s.start for s in altered.piece.outline.ring)]
    lean = narrows / (FOLD - KNEE)
    fold, edge = 380.0 - narrows - by * lean, 380.0 - narrows - by * lean + deep * lean
    for wanted in ((fold, FOLD + by), (edge, FOLD + deep + by)):
        off = min(abs(x - wanted[0]) + abs(y - wanted[1]) for x, y in across)
        assert off < 0.01, f"wanted a corner at {wanted}, got {across}"


@pytest.mark.parametrize("narrows", [10.0, 40.0])
def test_twice_the_half_is_the_whole_and_back_again(narrows: float) -> None:
    piece = leg(narrows, 40.0)
    half = lengthen(piece, told(30.0, 40.0)).piece
    twice, once = (lengthen(p, told(by, 40.0)).piece for p, by in ((half, 30.0), (piece, 60.0)))
    assert_same_shape(twice.ring, once.ring, "twice")
    assert_same_shape(lengthen(once, told(-60.0, 40.0)).piece.ring, piece.ring, "there and back")
