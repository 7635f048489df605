"""Nothing drawn makes recognition fail; doubled points and odd neighbours change no answer."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.curve import Affine, Chain, Cubic, Line, Point, Ring, Segment
from core.piece.model import Kind, Piece, Role, Shape
from core.piece.recognise import recognise
from tests.core.piece.hands import Sheet, as_drawn
from tests.core.piece.rows import case
from tests.core.piece.true_pieces import gore, shorts
from tests.core.piece.truth import Truth, with_corners, with_waist_dart

COORDINATES = st.floats(-1000.0, 1000.0).map(lambda v: round(v, 2))
POINTS = st.builds(Point, COORDINATES, COORDINATES)
RINGS = st.lists(POINTS, min_size=3, max_size=9).map(Ring.polygon)
CHAINS = st.lists(POINTS, min_size=2, max_size=5).map(Chain.through)
CURVES = st.builds(lambda a, b, c, d: Chain((Cubic(a, b, c, d),)), POINTS, POINTS, POINTS, POINTS)
WORDS = st.lists(
    st.sampled_from(["hem", "waist", "dart", "grain", "fold", "stitching", "sleeve", "", "front"]),
    max_size=2,
).map(tuple)


@settings(max_examples=120, deadline=None)
@given(drawn=st.lists(st.tuples(st.one_of(RINGS, CHAINS, CURVES, POINTS), WORDS), max_size=8))
def test_recognition_never_refuses(
    drawn: list[tuple[Ring | Chain | Point, tuple[str, ...]]],
) -> None:
    shapes = [Shape(k, geometry, words) for k, (geometry, words) in enumerate(drawn)]
    pieces, problems = recognise(shapes)
    for piece in pieces:
        for t in (piece.hem.first, piece.hem.last) if piece.hem else ():
            assert math.isclose(t.down.norm, 1.0), f"wanted a direction, got {t.down}"
        for edge in piece.edges:
            assert piece.edge_length(edge) >= 0.0
    assert all(problem.strip() for problem in problems)


def _only(shapes: tuple[Shape, ...]) -> Piece:
    (piece,), _ = recognise(shapes)
    return piece


def _facts(piece: Piece) -> tuple[list[tuple[float, float]], list[Role]]:
    assert piece.hem is not None
    ends = [piece.ring.at(t.place) for t in (piece.hem.first, piece.hem.last)]
    return [(p.x, p.y) for p in ends], [e.role for e in piece.edges]


def _doubled(ring: Ring) -> Ring:
    """Every point twice, as digitisers and careless exports write them."""
    parts: list[Segment] = []
    for s in ring:
        parts += [s, Line(s.end, s.end)]
    return Ring(tuple(parts))


@pytest.mark.parametrize(
    "truth",
    [
        shorts(),
        with_corners(shorts(), ("arc", 40.0, 0.0)),
        gore(),
        with_waist_dart(shorts(), notched=True),
    ],
    ids=["shorts", "rounded", "gore", "dart"],
)
def test_points_written_twice_change_no_answer(truth: Truth) -> None:
    shapes = case("", truth, as_drawn).shapes
    twice = (Shape(0, _doubled(truth.ring)), *shapes[1:])
    was, now = _only(shapes), _only(twice)
    assert _facts(now) == _facts(was)
    assert len(now.darts) == len(was.darts)
    assert was.hem is not None
    assert now.hem is not None
    for a, b in ((was.hem.first, now.hem.first), (was.hem.last, now.hem.last)):
        assert abs(a.down.angle_to(b.down)) < 1e-9
        assert a.because == b.because


def test_a_name_of_the_whole_piece_names_none_of_its_edges() -> None:
    shapes = case("", shorts(), as_drawn, name="Side panel, front").shapes
    roles = {e.role for e in _only(shapes).edges}
    assert roles == {Role.HEM, Role.INSEAM, Role.RISE, Role.WAIST, Role.SIDE}


def test_two_pieces_in_one_frame_keep_their_own_marks() -> None:
    sheet = Sheet([])
    sheet.rectangle(-200.0, -100.0, 1500.0, 900.0)
    for k, name in enumerate(("Front", "Back")):
        truth = shorts().mapped(Affine.move(600.0 * k, 0.0))
        sheet.add(truth.ring, name)
        sheet.add(Chain((truth.grain(),)), kind=Kind.GRAIN)
        sheet.add(truth.grain().at(0.2), kind=Kind.TEXT, text=f"{name}, cut 2")
    pieces, problems = recognise(sheet.shapes)
    assert [p.name for p in pieces] == ["Front", "Back"]
    assert [sorted(m.kind.value for m in p.marks) for p in pieces] == [
        ["grain line", "writing"]
    ] * 2
    assert any("edge of the sheet" in p for p in problems)


@pytest.mark.parametrize("side", [25.4, 50.0, 50.8, 100.0, 101.6])
def test_a_test_square_is_no_piece(side: float) -> None:
    sheet = Sheet([])
    sheet.add(shorts().ring)
    sheet.rectangle(500.0, 0.0, side, side)
    pieces, problems = recognise(sheet.shapes)
    assert len(pieces) == 1
    assert any("test square" in p for p in problems)


def test_an_outline_with_no_corner_at_all_is_a_piece_without_sure_answers() -> None:
    k = 0.5522847498 * 150.0
    a, b, c, d = Point(150, 0), Point(0, 150), Point(-150, 0), Point(0, -150)
    circle = Ring(
        (
            Cubic(a, Point(150, k), Point(k, 150), b),
            Cubic(b, Point(-k, 150), Point(-150, k), c),
            Cubic(c, Point(-150, -k), Point(-k, -150), d),
            Cubic(d, Point(k, -150), Point(150, -k), a),
        )
    )
    (piece,), _ = recognise([Shape(0, circle)])
    assert not any(e.because.sure for e in piece.edges)
    if piece.hem is not None:
        assert not piece.hem.first.because.sure
