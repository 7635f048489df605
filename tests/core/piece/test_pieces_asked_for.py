"""Pieces are recognised when they are first asked for, and come out the same as all at once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from core.alter.model import Change
from core.alter.together import alter_together
from core.errors import PieceError
from core.files.read import read
from core.files.write import render
from core.piece import recognise as room
from core.piece.gather import Gathered
from core.piece.model import Piece
from sample_pieces import draw

SAMPLES = Path(draw.__file__).parent
NESTS = ["rain_breeches.dxf", "rain_breeches.svg"]


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """The keys of the pieces that were recognised, in that order."""
    keys: list[int] = []
    real: Callable[[int, Gathered], Piece] = room._piece

    def piece(key: int, found: Gathered) -> Piece:
        keys.append(key)
        return real(key, found)

    monkeypatch.setattr(room, "_piece", piece)
    return keys


@pytest.mark.parametrize("name", NESTS)
def test_only_the_pieces_that_are_altered_are_recognised(made: list[int], name: str) -> None:
    drawing = read(SAMPLES / name)
    assert len(drawing.pieces) > 2, "wanted a nest"
    assert made == []
    (done,) = alter_together(drawing.pieces[1:2], Change(20.0))
    render(drawing.with_pieces((done.piece,)))
    assert made == [1]


def test_each_is_recognised_once(made: list[int]) -> None:
    drawing = read(SAMPLES / "rain_breeches.dxf")
    again = drawing.with_piece(replace(drawing.pieces[0], name="other"))
    assert list(drawing.pieces) == list(drawing.as_read)
    assert drawing.problems == again.problems
    assert all(a is b for a, b in zip(drawing.pieces, drawing.as_read, strict=True))
    assert again.pieces[1] is drawing.pieces[1]
    assert sorted(made) == list(range(len(drawing.pieces)))


@pytest.mark.parametrize("name", NESTS)
def test_what_is_drawn_does_not_depend_on_what_was_asked_for(name: str) -> None:
    """The same bytes when all pieces were looked at before, as when only one was."""
    one, all_seen = read(SAMPLES / name), read(SAMPLES / name).whole()
    got, wanted = (
        render(d.with_pieces(a.piece for a in alter_together(d.pieces[-2:], Change(20.0))))
        for d in (one, all_seen)
    )
    assert got == wanted


def test_pieces_are_a_sequence_like_any_other() -> None:
    drawing = read(SAMPLES / "allotment_shorts.svg")
    front, back = drawing.pieces
    assert drawing.pieces == (front, back) == drawing.pieces
    assert drawing.pieces[-1] is back
    assert drawing.pieces[::-1] == (back, front)
    assert hash(drawing.pieces) == hash((front, back))
    changed = drawing.with_piece(replace(front, name="other"))
    assert changed.pieces != drawing.pieces
    assert list(changed.changed()) == [(front, changed.pieces[0])]
    with pytest.raises(IndexError):
        drawing.pieces[2]
    with pytest.raises(PieceError):
        drawing.with_piece(replace(front, key=7))
