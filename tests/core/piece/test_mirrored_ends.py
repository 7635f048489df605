"""A seam whose end is mirrored, as at the fold of a turn-up, is not surely carried on along it."""

from __future__ import annotations

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change, Severity
from core.piece.model import Piece
from core.piece.said import with_taper
from tests.core.alter_allowance.test_told_turn_up import FOLD, leg


def doubted(piece: Piece) -> list[bool]:
    assert piece.hem is not None
    return [not t.because.sure for t in (piece.hem.first, piece.hem.last)]


@pytest.mark.parametrize("deep", [15.0, 40.0, 80.0])
@pytest.mark.parametrize("narrows", [5.0, 10.0, 40.0, -30.0])
def test_a_turn_up_in_the_cutting_line_is_asked_about(narrows: float, deep: float) -> None:
    """A leg that narrows to the fold was carried on outwards below it, and nothing was said."""
    piece = leg(narrows, deep)
    assert doubted(piece) == [True, True]
    found = lengthen(piece, Change(60.0)).findings
    asked = [f for f in found if f.severity is Severity.LOOK and "fold of a turn-up" in f.sentence]
    assert len(asked) == 2


def test_with_the_taper_points_at_the_fold_it_narrows_on() -> None:
    piece = leg(25.0, 40.0)
    assert piece.hem is not None
    folds = [s.start for s in piece.ring if abs(s.start.y - FOLD) < 1e-6]
    first = piece.ring.at(piece.hem.first.place)
    near, far = sorted(folds, key=first.distance)
    said = with_taper(with_taper(piece, near, last=False), far, last=True)
    longer = lengthen(said, Change(60.0))
    width = 220.0 - 2.0 * 25.0 * (FOLD + 60.0 - 560.0) / (FOLD - 560.0)
    assert abs(longer.figures.hem_width_after_mm - width) < 0.01


@pytest.mark.parametrize("mirrored", [0.0, -1.0])
@pytest.mark.parametrize("deep", [20.0, 60.0, 100.0])
@pytest.mark.parametrize("narrows", [10.0, 40.0, -30.0])
def test_an_end_that_is_not_mirrored_stays_sure(
    narrows: float, deep: float, mirrored: float
) -> None:
    """Made longer plumb a seam turns too, but by half as much."""
    assert doubted(leg(narrows, deep, mirrored=mirrored)) == [False, False]
