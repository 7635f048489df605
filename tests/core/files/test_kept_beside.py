"""What a person said of a drawing is kept in a small file beside it, and found again."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from pathlib import Path

import pytest

from core.errors import PieceError
from core.files import read, write
from core.files.beside import as_kept, beside, keep_beside
from core.files.drawing import Drawing
from core.piece.correct import with_role
from core.piece.kept import known_of, understood_by
from core.piece.model import Role
from core.piece.said import with_taper

SAMPLE = Path(__file__).parents[3] / "sample_pieces" / "allotment_shorts.svg"


@pytest.fixture
def drawing(tmp_path: Path) -> Drawing:
    path = tmp_path / "shorts für 6.svg"
    path.write_bytes(SAMPLE.read_bytes())
    return read(path)


def said(drawing: Drawing) -> Drawing:
    return drawing.with_piece(with_role(drawing.pieces[1], 2, Role.OTHER))


def test_what_was_said_is_found_again_and_the_drawing_untouched(drawing: Drawing) -> None:
    before = drawing.path.read_bytes()
    where = keep_beside(said(drawing), drawing.path)
    assert where == beside(drawing.path)
    again = as_kept(read(drawing.path))
    assert again.pieces[1].edges[2].role is Role.OTHER
    assert again.pieces[0] == drawing.pieces[0]
    assert drawing.path.read_bytes() == before
    out = drawing.path.with_name("again.svg")
    write(again, out)
    assert out.read_bytes() == before, "what was said of a piece changes no byte of its drawing"


def test_nothing_said_leaves_no_file(drawing: Drawing) -> None:
    keep_beside(said(drawing), drawing.path)
    assert keep_beside(drawing, drawing.path) is None
    assert not beside(drawing.path).exists()


def test_a_file_of_that_name_that_is_none_of_ours_stays(drawing: Drawing) -> None:
    beside(drawing.path).write_text('{"other": 1}')
    assert keep_beside(drawing, drawing.path) is None
    assert beside(drawing.path).read_text() == '{"other": 1}'


@pytest.mark.parametrize(
    "text",
    ["", "nonsense", "[]", "{}", '{"version": 1}', '{"version": 1, "pieces": 3}', "[" * 100_000],
)
def test_a_spoiled_file_is_as_none(drawing: Drawing, text: str) -> None:
    beside(drawing.path).write_text(text)
    assert as_kept(drawing) == drawing


@pytest.mark.parametrize("piece", ["{}", "7", '{"number": 99, "piece": {}}', "null"])
def test_what_no_longer_fits_is_told_and_left_as_recognised(drawing: Drawing, piece: str) -> None:
    beside(drawing.path).write_text('{"version": 1, "pieces": [' + piece + "]}")
    kept = as_kept(drawing)
    assert kept.pieces == drawing.pieces
    assert any("no longer fits" in p for p in kept.problems)


@pytest.mark.parametrize("down", [[0, 0], [math.nan, 1], [math.inf, 0]])
def test_a_direction_that_is_none_is_told_and_left_as_recognised(
    drawing: Drawing, down: list[float]
) -> None:
    keep_beside(said(drawing), drawing.path)
    kept = json.loads(beside(drawing.path).read_text())
    kept["pieces"][0]["piece"]["grain"]["down"] = down
    beside(drawing.path).write_text(json.dumps(kept))
    again = as_kept(drawing)
    assert again.pieces == drawing.pieces
    assert any("no longer fits" in p for p in again.problems)


@pytest.mark.parametrize("last", [True, False])
def test_what_is_kept_exactly_comes_back_to_the_last_bit(drawing: Drawing, last: bool) -> None:
    piece = drawing.pieces[0]
    seam = piece.edge_chain(piece.edges[1 if last else -1])
    slid = with_taper(piece, seam.at(seam.at_length(seam.length() * 0.617)), last=last)
    plain = json.loads(json.dumps(known_of(slid, exactly=True)))
    again = understood_by(piece, plain)
    assert (again.edges, again.hem, again.grain) == (slid.edges, slid.hem, slid.grain)
    assert (again.darts, again.cutting_hem) == (slid.darts, slid.cutting_hem)


@pytest.mark.parametrize("place", [{"segment": 999, "along": 0.0}, {"segment": 0, "along": 1.5}])
def test_an_exact_place_that_is_not_there_is_refused(
    drawing: Drawing, place: dict[str, float]
) -> None:
    plain = known_of(drawing.pieces[0], exactly=True)
    plain["edges"][0]["from"] = place
    with pytest.raises(PieceError, match="does not fit"):
        understood_by(drawing.pieces[0], plain)


def test_an_outline_that_was_changed_since_is_not_forced_into_what_was_said(
    drawing: Drawing,
) -> None:
    keep_beside(said(drawing), drawing.path)
    other = replace(drawing, pieces=(drawing.pieces[1], drawing.pieces[0]))
    kept = as_kept(other)
    assert kept.pieces == other.pieces
    assert any("no longer fits" in p for p in kept.problems)
