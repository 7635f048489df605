"""Regression: a dart in the hem whose mouth stands upright left the hem's map a part short.

A file damaged in one figure has its hem run there and back; the spike was taken for a dart, and
the change ended in an error of the program's own.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change
from core.errors import AlterationError
from core.files.read import read_bytes
from core.piece.model import Piece, Role


def spiked() -> Piece:
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="700mm"'
        ' viewBox="0 0 300 700"><g id="back">'
        '<path d="M60 630L240 640L60 630L240 630L260 50L40 50Z"/></g></svg>'
    )
    (piece,) = read_bytes(Path("back.svg"), text.encode()).pieces
    return piece


@pytest.mark.parametrize("by", [30.0, -20.0])
def test_a_spike_along_the_hem_is_carried_or_refused(by: float) -> None:
    piece = spiked()
    (dart,) = piece.darts
    assert dart.on is Role.HEM
    assert dart.mouth[0].x == dart.mouth[1].x, "wanted a mouth that stands upright"
    try:
        altered = lengthen(piece, Change(by))
    except AlterationError:
        return
    (now,) = altered.piece.darts
    assert abs(now.mouth[0].distance(now.mouth[1]) - 10.0) < 1e-6, "wanted its intake"
