"""A stitching line that breaks off above the hem is refused, and not altered by itself."""

from __future__ import annotations

from dataclasses import replace

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change
from core.curve import Place, Point, Ring
from core.errors import AlterationError
from core.piece.cutting import cutting_hem
from core.piece.model import HemRun, Origin, Outline, Piece, Role
from tests.core.alter_level.panels import polygon

ROLES = (Role.HEM, Role.INSEAM, Role.WAIST, Role.SIDE)


def with_a_scrap_of_stitching() -> Piece:
    """Both ends of the sewn hem lie nearest to one and the same corner of the cutting line."""
    cut = polygon([Point(300, 600), Point(0, 600), Point(0, 0), Point(300, 0)], ROLES)
    scrap = Ring.polygon([Point(20, 590), Point(10, 590), Point(10, 560), Point(20, 560)])
    assert cut.hem is not None
    first, last = (
        replace(cut.hem.first, place=Place(0, 0.0)),
        replace(cut.hem.last, place=Place(1, 0.0)),
    )
    stitching = Outline(scrap, tuple(Origin(1, k) for k in range(4)))
    piece = replace(cut, stitching=stitching, hem=HemRun(first, last))
    return replace(piece, cutting_hem=cutting_hem(piece))


def test_it_is_refused_in_a_sentence() -> None:
    """Found by damaging a file of digitised shorts: it ended in an unforeseen failure."""
    piece = with_a_scrap_of_stitching()
    assert piece.cutting_hem is None
    with pytest.raises(AlterationError, match="does not run beside the cutting line"):
        lengthen(piece, Change(20.0))
