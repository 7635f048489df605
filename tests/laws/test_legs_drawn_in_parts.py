"""Regression: a leg drawn in two parts was bent when its dart kept the apex.

Each point went by its distance from the apex as a share of the dart's middle, which is shorter
than a leg: the joint in the middle of a leg was 0.0104 mm off the straight line.
"""

from __future__ import annotations

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change, HemDarts
from core.curve import Line
from core.piece.model import Role
from tests.core.alter_darts.garments import GARMENTS
from tests.laws.compare import assert_same_shape
from tests.laws.pose import split


@pytest.mark.parametrize("name", ["trousers", "shorts", "skirt", "sleeve", "bodice"])
@pytest.mark.parametrize("by", [60.0, -25.0])
@pytest.mark.parametrize("t", [0.2, 0.5])
def test_a_leg_in_two_parts_stays_straight(name: str, by: float, t: float) -> None:
    """Law 9, within 1e-9 mm."""
    piece = GARMENTS[name](cut=True)
    dart = next(d for d in piece.darts if d.on is Role.HEM)
    k = next(k for k, s in enumerate(piece.ring) if s.end == dart.apex)
    assert isinstance(piece.ring.segments[k], Line)
    change = Change(by, hem_darts=HemDarts.APEX)
    got = lengthen(split(piece, k, t), change).piece
    assert_same_shape(got.ring, lengthen(piece, change).piece.ring, "a leg in two parts", 1e-9)
