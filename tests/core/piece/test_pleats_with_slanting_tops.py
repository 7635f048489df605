"""A pleat at the middle of a skirt's back whose top slants: the seam may end above it."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.files import read_bytes
from core.piece.model import Taper


def taper_at_pleat(top: float, *, wide: float = 40.0) -> Taper:
    """Of a half back with a pleat of so much (mm), whose top rises by `top` mm over that."""
    d = (
        f"M100 0C160 -2 220 -6 270 -10C305 60 330 130 335 210L320 640H{100 - wide}V450"
        f"L100 {450 - top}Z"
    )
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="500mm" height="800mm"'
        f' viewBox="0 -50 500 800"><g id="Skirt back"><path d="{d}"/>'
        '<path class="grain" d="M200 150V600"/></g></svg>'
    )
    (piece,) = read_bytes(Path("skirt.svg"), text.encode()).pieces
    assert piece.hem is not None
    tapers = (piece.hem.first, piece.hem.last)
    return min(tapers, key=lambda t: piece.ring.at(t.place).x)


@pytest.mark.parametrize("top", [36.0, 40.0, 60.0])
def test_a_pleat_with_a_slanting_top_is_asked_about(top: float) -> None:
    """Its edge was taken for the middle seam, and that was sure: lengthened the pleat got longer,
    while one with a level top goes down whole."""
    assert not taper_at_pleat(top).because.sure


def test_a_vent_with_a_level_top_stays_sure() -> None:
    assert taper_at_pleat(0.0).because.sure
