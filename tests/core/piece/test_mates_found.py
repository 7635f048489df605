"""Which edges are sewn together, and how sure that is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from core.curve import Affine, Chain
from core.piece.mates import find_mates
from core.piece.model import Kind, Piece, Role, Shape
from core.piece.recognise import recognise
from tests.core.piece.true_pieces import shorts, sleeve, straight_skirt, trousers
from tests.core.piece.truth import Truth

FRONT, BACK = "Front", "Back"


def _sheet(*named: tuple[str, Truth]) -> tuple[Piece, ...]:
    """The pieces side by side on one sheet, every other one mirrored."""
    shapes: list[Shape] = []
    for k, (name, truth) in enumerate(named):
        by = Affine.move(700.0 * k, 0.0) @ Affine.scale(-1.0 if k % 2 else 1.0, 1.0)
        true = truth.mapped(by)
        shapes.append(Shape(len(shapes), true.ring, (name,) if name else ()))
        shapes.append(Shape(len(shapes), Chain((true.grain(),)), kind=Kind.GRAIN))
    pieces, _ = recognise(shapes)
    assert len(pieces) == len(named)
    return pieces


def _roles(pieces: tuple[Piece, ...]) -> set[tuple[int, int, Role, bool]]:
    return {(m.first[0], m.second[0], m.first[1], m.because.sure) for m in find_mates(pieces)}


def test_front_and_back_by_name_are_surely_sewn_along_inseam_and_side() -> None:
    got = _roles(_sheet((FRONT, shorts()), (BACK, shorts())))
    assert got == {(0, 1, Role.INSEAM, True), (0, 1, Role.SIDE, True)}


def test_the_nameless_with_the_same_edges_are_mates_but_unsure() -> None:
    got = _roles(_sheet(("", shorts()), ("", shorts())))
    assert got == {(0, 1, Role.INSEAM, False), (0, 1, Role.SIDE, False)}


def test_two_fronts_are_no_mates() -> None:
    assert not find_mates(_sheet((FRONT, shorts()), ("Front facing", shorts())))


def test_each_front_goes_with_the_back_whose_seams_agree() -> None:
    long = trousers()
    got = _roles(
        _sheet(
            ("Shorts front", shorts()),
            ("Trousers front", long),
            ("Trousers back", long),
            ("Shorts back", shorts()),
        )
    )
    assert {(a, b) for a, b, _, _ in got} == {(0, 3), (1, 2)}


def test_seams_of_very_different_length_are_not_sewn_together() -> None:
    got = find_mates(_sheet((FRONT, trousers()), (BACK, shorts())))
    assert not got


@pytest.mark.parametrize(("length", "sure"), [(190.0, True), (194.0, True), (205.0, False)])
def test_a_usual_difference_in_length_is_still_sure(length: float, sure: bool) -> None:
    pieces = _sheet((FRONT, shorts(length=190.0)), (BACK, shorts(length=length)))
    by_role = {m.first[1]: m.because.sure for m in find_mates(pieces)}
    assert by_role[Role.INSEAM] is sure


def test_a_sleeve_is_no_mate_of_a_leg() -> None:
    assert not find_mates(_sheet(("", shorts()), ("", sleeve())))


def test_a_mate_tells_its_other_half() -> None:
    (first, *_) = find_mates(_sheet((FRONT, straight_skirt()), (BACK, straight_skirt())))
    assert first.of(0) == first.second
    assert first.of(1) == first.first
    assert first.of(2) is None


def test_mates_are_not_surer_than_the_edges_they_join() -> None:
    front, back = _sheet((FRONT, shorts()), (BACK, shorts()))
    guessed = tuple(replace(e, because=replace(e.because, sure=False)) for e in front.edges)
    assert not any(m.because.sure for m in find_mates([replace(front, edges=guessed), back]))
