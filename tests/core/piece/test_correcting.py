"""What a person says of an edge, and what follows from it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from core.curve import Place, Point
from core.errors import PieceError
from core.piece.correct import with_role
from core.piece.model import Piece, Role
from core.piece.recognise import recognise
from tests.core.piece.hands import as_drawn
from tests.core.piece.rows import case, turned
from tests.core.piece.true_pieces import gore, shorts, trapezoid
from tests.core.piece.truth import Truth, with_corners


def _only(truth: Truth, **how: object) -> Piece:
    (piece,), _ = recognise(case("", truth, as_drawn, **how).shapes)  # type: ignore[arg-type]
    return piece


def _number(piece: Piece, p: Point) -> int:
    """The edge nearest to a point."""
    away = [piece.edge_chain(e).nearest(p).distance for e in piece.edges]
    return away.index(min(away))


def test_a_role_that_a_person_gives_is_sure() -> None:
    piece = _only(trapezoid())
    number = next(k for k, e in enumerate(piece.edges) if e.role is Role.SIDE)
    got = with_role(piece, number, Role.INSEAM)
    assert got.edges[number].role is Role.INSEAM
    assert got.edges[number].because.sure
    assert got.hem == piece.hem


def test_confirming_a_role_makes_it_sure_and_changes_nothing_else() -> None:
    piece = _only(trapezoid())
    got = with_role(piece, 1, piece.edges[1].role)
    assert got.edges[1].because.sure
    assert [e.role for e in got.edges] == [e.role for e in piece.edges]
    assert [(e.start, e.end) for e in got.edges] == [(e.start, e.end) for e in piece.edges]


def test_a_new_hem_at_the_other_end_turns_the_piece_round() -> None:
    truth = gore().mapped(turned(180.0))
    piece = _only(truth)
    hem_run = truth.edges[0].chain
    middle = hem_run.at(hem_run.at_length(hem_run.length() / 2))
    number = _number(piece, middle)
    assert piece.edges[number].role is not Role.HEM, "the wrong end was to be taken at first"
    got = with_role(piece, number, Role.HEM)
    assert got.grain.down.dot(truth.down) == pytest.approx(1.0)
    assert got.edges[0].role is Role.HEM
    assert got.edges[0].because.sure
    assert got.hem is not None
    ends = [got.ring.at(t.place) for t in (got.hem.first, got.hem.last)]
    for point, down in truth.tapers:
        taper, end = min(
            zip((got.hem.first, got.hem.last), ends, strict=True),
            key=lambda pair: pair[1].distance(point),
        )
        assert end.distance(point) <= 1e-9
        assert abs(taper.down.angle_to(down)) <= 1e-9


def test_what_a_person_says_of_the_hem_makes_the_taper_points_sure() -> None:
    piece = _only(trapezoid())
    assert piece.hem is not None
    assert not piece.hem.first.because.sure
    got = with_role(piece, 0, Role.HEM)
    assert got.hem is not None
    assert got.hem.first.because.sure
    assert got.hem.last.because.sure
    assert got.grain.because.sure
    assert not any("which end" in p for p in got.problems)


def test_a_seam_up_the_side_is_refused_as_hem_with_a_sentence() -> None:
    piece = _only(shorts())
    number = next(k for k, e in enumerate(piece.edges) if e.role is Role.SIDE)
    with pytest.raises(PieceError, match=r"cannot be the hem"):
        with_role(piece, number, Role.HEM)


def test_an_edge_that_is_not_there_is_refused() -> None:
    with pytest.raises(PieceError, match=r"no edge number 10"):
        with_role(_only(shorts()), 9, Role.WAIST)


def test_a_hem_that_is_none_leaves_the_piece_without_one() -> None:
    piece = _only(shorts())
    got = with_role(piece, 0, Role.OTHER)
    assert got.hem is None
    assert got.cutting_hem is None
    assert any("no hem" in p for p in got.problems)


def test_a_new_hem_keeps_what_a_person_said_before() -> None:
    piece = _only(with_corners(trapezoid(), ("arc", 40.0, 0.0)))
    number = next(k for k, e in enumerate(piece.edges) if e.role is Role.SIDE)
    said = with_role(piece, number, Role.INSEAM)
    got = with_role(said, 0, Role.HEM)
    assert got.edges[number].role is Role.INSEAM
    assert got.edges[number].because.sure
    assert got.edges[0].because.sure


def test_confirming_the_hem_leaves_a_moved_taper_point_where_it_is() -> None:
    piece = _only(with_corners(shorts(), ("arc", 40.0, 0.0)))
    assert piece.hem is not None
    place = piece.hem.first.place
    moved = Place((place.index - 1) % len(piece.ring), 0.5)
    taper = replace(piece.hem.first, place=moved)
    hem = replace(piece.edges[0], start=moved)
    dragged = replace(piece, hem=replace(piece.hem, first=taper), edges=(hem, *piece.edges[1:]))
    got = with_role(dragged, 0, Role.HEM)
    assert got.hem is not None
    assert got.hem.first.place == moved
    assert got.edges[0].because.sure
