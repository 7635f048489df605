"""Which edges a person said are sewn together is kept beside the drawing, and found again."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from core.curve import Point
from core.files import read
from core.files.beside import as_kept, beside, keep_beside
from core.files.drawing import Drawing
from core.files.ties import End, Tie, edge_at, point_on
from core.piece.model import Role
from core.piece.said import split_edge

SAMPLE = Path(__file__).parents[3] / "sample_pieces" / "allotment_shorts.svg"


@pytest.fixture
def drawing(tmp_path: Path) -> Drawing:
    path = tmp_path / "shorts.svg"
    path.write_bytes(SAMPLE.read_bytes())
    return read(path)


def end(drawing: Drawing, piece: int, role: Role, name: str = "") -> End:
    of = drawing.pieces[piece]
    return End(piece, point_on(of, of.edge(role)), name)


def near(a: End, b: End) -> bool:
    return (a.piece, a.drawing) == (b.piece, b.drawing) and a.at.distance(b.at) <= 1e-5


def test_ties_and_pieces_left_alone_are_found_again(drawing: Drawing) -> None:
    ties = (
        Tie(end(drawing, 0, Role.RISE), end(drawing, 1, Role.RISE), sewn=True),
        Tie(end(drawing, 0, Role.SIDE), End(3, Point(1.0, 2.0), "yoke für 6.svg"), sewn=False),
    )
    keep_beside(replace(drawing, ties=ties, alone=(1,)), drawing.path)
    again = as_kept(read(drawing.path))
    assert again.alone == (1,)
    assert not again.problems
    for got, wanted in zip(again.ties, ties, strict=True):
        assert got.sewn is wanted.sewn
        assert near(got.first, wanted.first)
        assert near(got.second, wanted.second)


def test_what_no_longer_fits_is_told_and_left_out(drawing: Drawing) -> None:
    far = Tie(End(0, Point(-500.0, 0.0)), end(drawing, 1, Role.RISE), sewn=True)
    good = Tie(end(drawing, 0, Role.RISE), end(drawing, 1, Role.RISE), sewn=True)
    keep_beside(replace(drawing, ties=(far, good)), drawing.path)
    again = as_kept(read(drawing.path))
    assert len(again.ties) == 1
    assert any("sewn together no longer fits" in p for p in again.problems)


@pytest.mark.parametrize(
    "spoiled",
    [
        "3", "{}", "null", "[3]", "[null]", '[{"sewn": true}]', '[{"sewn": 1, "edges": []}]',
        '[{"sewn": true, "edges": [{"piece": 0, "at": [1]}, {"piece": 1, "at": [1, 2]}]}]',
        '[{"sewn": true, "edges": [{"piece": -1, "at": [1, 2]}, {"piece": 1, "at": [1, 2]}]}]',
        '[{"sewn": true, "edges": [{"piece": 0, "at": [1e999, 2]}, {"piece": 1, "at": [1, 2]}]}]',
    ],
)  # fmt: skip
def test_a_spoiled_tie_is_as_none(drawing: Drawing, spoiled: str) -> None:
    text = (
        '{"version": 1, "pieces": [], "sewn together": ' + spoiled + ', "left as they are": '
        '[true, -1, 99, "x"]}'
    )
    assert json.loads(text)
    beside(drawing.path).write_text(text)
    again = as_kept(drawing)
    assert again.ties == ()
    assert again.alone == ()
    assert again.pieces == drawing.pieces


def test_an_edge_is_found_by_its_point_after_a_split(drawing: Drawing) -> None:
    piece = drawing.pieces[0]
    edge = piece.edge(Role.RISE)
    at = point_on(piece, edge)
    number = piece.edges.index(edge)
    chain = piece.edge_chain(edge)
    parted = split_edge(piece, number, chain.at(chain.at_length(chain.length() / 2.0)))
    assert edge_at(parted, at) == number
    assert edge_at(piece, Point(at.x + 1.0, at.y)) is None
