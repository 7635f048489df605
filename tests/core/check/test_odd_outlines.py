"""Regression: outlines that no maker draws ended in an error of the program's own."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from core.alter.model import Change
from core.alter.together import alter_together
from core.check.careful import check_all
from core.errors import AlterationError
from core.files.read import read_bytes
from core.piece.model import Role

HEAD = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="700mm" height="900mm"'
    ' viewBox="-50 -50 700 900">'
)
# One of its lines runs there and back; of the other an edge is gone after the change.
THERE_AND_BACK = (
    '<g id="front"><path d="M250 60L300 60L280 627.15L300 60L120 500L250 500L400 300L300 600'
    'L400 600L400 600Z"/></g>'
)
GONE = (
    '<g id="sleeve"><path d="M250 226.38L280 235.9A50 100 0 0 1 120 600C244.92 300 150 500 250 40Z"'
    "/></g>"
)


@pytest.mark.parametrize("drawn", [THERE_AND_BACK, GONE])
@pytest.mark.parametrize("by", [30.0, -20.0, 80.0])
@pytest.mark.parametrize("allowance", [None, 10.0])
def test_an_odd_outline_is_altered_and_checked_or_refused(
    drawn: str, by: float, allowance: float | None
) -> None:
    pieces = read_bytes(Path("odd.svg"), f"{HEAD}{drawn}</svg>".encode()).pieces
    try:
        altered = alter_together(pieces, Change(by, allowance_mm=allowance))
    except AlterationError:
        return
    assert all(f.sentence.strip() for f in check_all(altered))


def test_mates_of_which_one_is_gone_are_told() -> None:
    """Of such an outline an edge may be gone after the change; here it is taken away."""
    sample = Path(__file__).resolve().parents[3] / "sample_pieces" / "allotment_shorts.svg"
    altered = alter_together(read_bytes(sample, sample.read_bytes()).pieces, Change(30.0))
    first = altered[0]
    left = tuple(e for e in first.piece.edges if e.role is not Role.INSEAM)
    assert len(left) < len(first.piece.edges)
    gone = replace(first, piece=replace(first.piece, edges=left))
    told = check_all([gone, *altered[1:]])
    assert [f for f in told if "is gone" in f.sentence]
