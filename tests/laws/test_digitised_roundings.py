"""Regression: what of a digitised rounding goes by the seam was measured otherwise each time.

Darts keep their width while the hem scales, so the measure of the hem's fall changed with the
length, a chord of the rounding was taken for hem once and for rounding the other time, and
lengthening twice, or there and back, was 0.0100 mm off. On a leg that narrows to half its hem
it was 0.013 mm off, because the rounding itself did not scale as the hem does.
"""

from __future__ import annotations

import pytest

from core.piece.model import Piece
from tests.laws.compare import assert_same_shape, result
from tests.laws.pose import dragged
from tests.laws.sketch import Garment, SeamPlan, Sketch

NEAR = 1e-6


def leg() -> Piece:
    seams = SeamPlan(-0.125), SeamPlan(-0.21875, radius=30.0)
    return Sketch(Garment.LEG, 320.0, 502.0, *seams, hem_darts=1, step=14.0).piece()


def sleeve() -> Piece:
    seams = SeamPlan(0.2421875, radius=57.0), SeamPlan(0.0)
    sketch = Sketch(
        Garment.SLEEVE, 320.0, 488.0, *seams, hem_slope=-0.0390625, hem_darts=2, step=5.0
    )
    return dragged(sketch.piece(), 34.0, 32.5)


def narrowing() -> Piece:
    seams = SeamPlan(-0.21875, radius=30.0), SeamPlan(-0.1875, radius=10.0)
    return Sketch(Garment.LEG, 320.0, 200.0, *seams, step=11.0).piece()


PIECES = pytest.mark.parametrize(
    "piece", [leg(), sleeve(), narrowing()], ids=["leg", "sleeve", "narrowing"]
)


@PIECES
@pytest.mark.parametrize(("a", "b"), [(2.0, 35.0), (30.0, 11.0), (112.0, 118.0)])
def test_lengthening_twice_with_a_digitised_rounding(piece: Piece, a: float, b: float) -> None:
    """Law 1."""
    twice = result(result(piece, a), b)
    assert_same_shape(twice.ring, result(piece, a + b).ring, "lengthened twice", NEAR)


@PIECES
@pytest.mark.parametrize("by", [2.0, 41.0, 112.0])
def test_there_and_back_with_a_digitised_rounding(piece: Piece, by: float) -> None:
    """Law 2."""
    back = result(result(piece, by), -by)
    assert_same_shape(back.ring, piece.ring, "there and back", NEAR)
