"""Balance notches: on both mates equally far from the hem, where the seams ended before."""

from __future__ import annotations

from dataclasses import replace

import shapely
from hypothesis import assume, event, given, reject
from hypothesis import strategies as st

from core.alter.lengthen import lengthen
from core.alter.model import Altered, Change, HemWay, Measure, SeamWay
from core.alter.simple import is_simple
from core.alter.together import alter_together
from core.curve import Chain, Line, Point, Ring
from core.errors import AlterationError
from core.piece.mates import Mates
from core.piece.model import Because, Kind, Mark, Piece, Role, Shape
from core.piece.recognise import recognise
from tests.laws.generate import poses, sketches
from tests.laws.sketch import Garment

SAME = 1e-6


def leg(name: str, x: float, *, wide: float, key: int) -> list[Shape]:
    """A plain leg, waist up: name, left edge, hem width, first key."""
    ring = Ring.polygon(
        [
            Point(x, 0), Point(x + wide, 0), Point(x + wide + 30, 260),
            Point(x + wide, 900), Point(x + 40, 900),
        ]
    )  # fmt: skip
    grain = Chain((Line(Point(x + 90, 100), Point(x + 90, 700)),))
    return [
        Shape(key, ring, (name,), group=key, group_name=name, kind=Kind.OUTLINE),
        Shape(key + 1, grain, group=key, kind=Kind.GRAIN),
    ]


def pair(front: float, back: float) -> tuple[Piece, ...]:
    pieces, _ = recognise(
        [*leg("Front", 0, wide=front, key=0), *leg("Back", 700, wide=back, key=10)]
    )
    return pieces


def new_ones(altered: Altered) -> list[Mark]:
    return [m for m in altered.piece.marks if m.is_added]


def up_from_hem(altered: Altered, role: Role) -> float:
    """Length along the seam from its new end to the new notch on it."""
    piece = altered.piece
    assert piece.hem is not None
    edge = piece.edge(role)
    chain = piece.edge_chain(edge)
    feet = [m.geometry.start for m in new_ones(altered) if isinstance(m.geometry, Chain)]
    (at,) = (n for p in feet if (n := chain.nearest(p)).distance < SAME)
    length = chain.length_to(at.place)
    return chain.length() - length if edge.end == piece.hem.first.place else length


longer = st.floats(5.0, 200.0)
ways = st.builds(
    Change,
    longer,
    seams=st.sampled_from(list(SeamWay)),
    hem=st.sampled_from([HemWay.REFIT, HemWay.SQUARE]),
    measure=st.sampled_from(list(Measure)),
    balance_notch=st.just(True),
)


@st.composite
def legs(draw: st.DrawFn) -> tuple[Piece, ...]:
    """A front and a back leg with seams of their own, in poses of their own."""
    found = []
    for key, name in enumerate(("leg front", "leg back")):
        piece = draw(poses).of(draw(sketches(garments=(Garment.LEG,))).piece())
        assume(is_simple(piece.ring))
        found.append(replace(piece, key=key, name=name))
    return tuple(found)


@given(legs(), ways)
def test_mates_carry_it_equally_far_from_the_hem(pieces: tuple[Piece, ...], change: Change) -> None:
    sewn = (Role.INSEAM, Role.SIDE)
    mates = tuple(Mates((0, role), (1, role), Because(True, "drawn so")) for role in sewn)
    try:
        front, back = alter_together(pieces, change, mates=mates)
    except AlterationError:
        event("refused")
        reject()
    for role in sewn:
        away = [up_from_hem(a, role) for a in (front, back)]
        assert abs(away[0] - away[1]) < SAME, f"{role.value}: {away}"
    for altered in (front, back):
        assert len({m.shape for m in altered.piece.marks}) == len(altered.piece.marks)
        for m in new_ones(altered):
            assert isinstance(m.geometry, Chain)
            middle = m.geometry.start.towards(m.geometry.end, 0.5)
            assert inside(altered.piece, middle), "it goes into the piece"


def inside(piece: Piece, p: Point) -> bool:
    polygon = shapely.Polygon(piece.outline.ring.flattened(tolerance=0.01))
    return bool(polygon.contains(shapely.Point(p.x, p.y)))


@given(longer)
def test_it_stands_at_the_old_seam_end(by: float) -> None:
    (piece, _) = pair(220.0, 240.0)
    assert piece.hem is not None
    ends = {piece.ring.at(t.place) for t in (piece.hem.first, piece.hem.last)}
    found = new_ones(lengthen(piece, Change(by, balance_notch=True)))
    assert len(found) == 2
    for m in found:
        assert min(m.geometry.start.distance(e) for e in ends) < SAME


def test_none_unless_asked_for_and_none_when_shortened() -> None:
    (piece, _) = pair(220.0, 240.0)
    assert not new_ones(lengthen(piece, Change(40.0)))
    done = lengthen(piece, Change(-40.0, balance_notch=True))
    assert not new_ones(done)
    assert any("no balance notches" in f.sentence for f in done.findings)
    assert lengthen(piece, Change(0.0, balance_notch=True)).piece is piece


def test_lengthened_twice_the_notches_are_told_apart() -> None:
    (piece, _) = pair(220.0, 240.0)
    once = lengthen(piece, Change(40.0, balance_notch=True)).piece
    twice = lengthen(once, Change(40.0, balance_notch=True)).piece
    keys = [m.shape for m in twice.marks if m.is_added]
    assert len(keys) == len(set(keys)) == 4


def test_a_fold_is_not_sewn_and_gets_none() -> None:
    ring = Ring.polygon([Point(0, 0), Point(200, 0), Point(240, 600), Point(0, 600)])
    fold = Chain((Line(Point(0, 0), Point(0, 600)),))
    shapes = [
        Shape(0, ring, ("Skirt front",), kind=Kind.OUTLINE),
        Shape(1, fold, ("fold",), kind=Kind.FOLD),
        Shape(2, Chain((Line(Point(80, 80), Point(80, 400)),)), kind=Kind.GRAIN),
    ]
    (piece,), _ = recognise(shapes)
    assert any(e.role is Role.FOLD for e in piece.edges)
    (only,) = new_ones(lengthen(piece, Change(50.0, balance_notch=True)))
    assert only.geometry.start.distance(Point(240, 600)) < SAME


def test_on_a_piece_with_two_lines_it_is_cut_into_the_cutting_line() -> None:
    sewn = Ring.polygon([Point(10, 10), Point(210, 10), Point(190, 600), Point(30, 600)])
    cut = Ring.polygon([Point(-1, 0), Point(221, 0), Point(200, 630), Point(20, 630)])
    shapes = [
        Shape(0, cut, ("Front",), kind=Kind.OUTLINE),
        Shape(1, sewn, kind=Kind.STITCHING),
        Shape(2, Chain((Line(Point(100, 100), Point(100, 500)),)), kind=Kind.GRAIN),
    ]
    (piece,), _ = recognise(shapes)
    done = lengthen(piece, Change(50.0, balance_notch=True))
    for m in new_ones(done):
        assert done.piece.outline.ring.nearest(m.geometry.start).distance < SAME
        assert abs(m.geometry.start.y - 600.0) < 2.0, "straight across from the old seam end"
