"""Regression: a mitre that lies straight across from the end of the hem, or of the seam, was lost.

Where the one allowance is the other's tangent or cosine, the corner of the cutting line lies within
0.1 mm of the line across. It was taken for the place across: of a hem made square the corner was
cut off, 5.9 mm of an allowance of 6 mm and 31 mm.
"""

from __future__ import annotations

import math

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change, HemWay
from tests.laws.compare import apart, wanted_line
from tests.laws.sketch import Garment, SeamPlan, Sketch

KEEPS = 0.02


def off_after(lean: float, allowances: tuple[float, float], change: Change) -> float:
    """How far the cutting line is from the one that is drawn anew, in mm."""
    seam, hem = allowances
    plans = SeamPlan(lean), SeamPlan(0.0)
    drawn = Sketch(Garment.LEG, 400.0, 300.0, *plans, allowance=seam, hem_allowance=hem)
    altered = lengthen(drawn.piece(), change)
    assert not [f for f in altered.findings if "by itself" in f.sentence]
    return apart(altered.piece.outline.ring, wanted_line(altered.piece, drawn))


@pytest.mark.parametrize("hem", list(HemWay))
@pytest.mark.parametrize("by", [-20.0, -4.0, 40.0])
@pytest.mark.parametrize("aside", [-0.3, -0.05, 0.0, 1e-9, 0.05, 0.3])
@pytest.mark.parametrize(("lean", "seam"), [(-0.203125, 6.0), (-0.15, 7.0), (-0.22, 10.0)])
def test_a_mitre_straight_across_from_the_hem_stays_a_mitre(
    lean: float, seam: float, aside: float, by: float, hem: HemWay
) -> None:
    allowances = seam, (seam + aside) / math.tan(-lean)
    off = off_after(lean, allowances, Change(by, hem=hem))
    assert off <= KEEPS, f"wanted the cutting line within {KEEPS} mm, got {off} mm off"


@pytest.mark.parametrize("hem", list(HemWay))
@pytest.mark.parametrize("by", [-20.0, -4.0, 40.0])
@pytest.mark.parametrize("aside", [-0.3, -0.05, 0.0, 1e-9, 0.05, 0.3])
@pytest.mark.parametrize(("lean", "seam"), [(0.3, 20.0), (0.25, 30.0)])
def test_a_mitre_straight_across_from_the_seam_stays_a_mitre(
    lean: float, seam: float, aside: float, by: float, hem: HemWay
) -> None:
    allowances = seam, (seam + aside) * math.sin(lean)
    off = off_after(lean, allowances, Change(by, hem=hem))
    assert off <= KEEPS, f"wanted the cutting line within {KEEPS} mm, got {off} mm off"
