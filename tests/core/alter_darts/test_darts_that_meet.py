"""Shortened, a dart in the lower edge comes up to one from the side seam."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change
from core.errors import AlterationError
from core.files import read_bytes

BODICE = (
    "M100 80C130 78 165 45 170 0L290 35C270 110 280 180 340 210L336 260L180 255L335 285L324 412"
    "L202 420L190 290L178 420L100 424Z"
)


def test_a_refusal_names_the_dart_of_the_hem() -> None:
    """The one from the side seam was said to reach below the new hem, 10 cm above it."""
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="500mm" height="500mm"'
        f' viewBox="0 0 500 500"><g id="Bodice front"><path d="{BODICE}"/>'
        '<path class="grain" d="M140 140V390"/></g></svg>'
    )
    (piece,) = read_bytes(Path("bodice.svg"), text.encode()).pieces
    with pytest.raises(AlterationError, match="a dart of the hem would run into another dart"):
        lengthen(piece, Change(-60.0))
    assert lengthen(piece, Change(-30.0)).piece.hem is not None
