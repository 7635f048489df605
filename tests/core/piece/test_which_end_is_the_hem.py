"""A pointed or slanting hem is not mistaken for the waist, nor a cap for the hem."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.curve import Affine, Chain, Cubic, Line, Point, Ring, Segment, Vector
from core.files.read import read_bytes
from core.piece.model import Piece, Role, Shape
from core.piece.recognise import recognise
from tests.core.piece.as_svg import read_piece
from tests.core.piece.rows import case
from tests.core.piece.true_pieces import sleeve
from tests.core.piece.truth import curved_hem

UPSIDE_DOWN = Affine(-1.0, 0.0, 0.0, -1.0, 600.0, 600.0)
GRAIN = Chain((Line(Point(225.0, 120.0), Point(225.0, 360.0)),))


def _outline(*rows: tuple[float, ...]) -> Ring:
    """Points, and cubics as six numbers, from the first row on and back to it."""
    at = start = Point(rows[0][0], rows[0][1])
    segments: list[Segment] = []
    for row in (*rows[1:], rows[0]):
        end = Point(row[-2], row[-1])
        if len(row) == 6:
            segments.append(Cubic(at, Point(row[0], row[1]), Point(row[2], row[3]), end))
        else:
            segments.append(Line(at, end))
        at = end
    assert at == start
    return Ring(tuple(segments))


# Neck, shoulder and armhole; a bodice is widest beneath the arm.
ABOVE_THE_ARM = (
    (100.0, 30.0),
    (120.0, 40.0, 150.0, 40.0, 170.0, 20.0),
    (300.0, 60.0),
    (280.0, 120.0, 290.0, 200.0, 340.0, 240.0),
)
WAIST = (200.0, 15.0, 260.0, 15.0, 300.0, 20.0)
PIECES = {
    "a deep point": (
        "skirt front",
        ((150.0, 20.0), WAIST, (340.0, 400.0), (225.0, 480.0), (110.0, 400.0)),
        (110.0, 340.0),
    ),
    "a slanting hem": (
        "skirt front",
        ((150.0, 20.0), WAIST, (340.0, 400.0), (300.0, 420.0, 180.0, 500.0, 112.0, 505.0)),
        (112.0, 340.0),
    ),
    "darts in the hem of a sleeve": (
        "sleeve",
        (
            (100.0, 150.0),
            (150.0, 60.0, 250.0, 20.0, 300.0, 20.0),
            (350.0, 20.0, 450.0, 60.0, 480.0, 150.0),
            (430.0, 560.0),
            *((350.0, 560.0), (340.0, 460.0), (330.0, 560.0)),
            *((220.0, 560.0), (210.0, 470.0), (200.0, 560.0)),
            (140.0, 560.0),
        ),
        (140.0, 430.0),
    ),
    "darts in the lower edge of a bodice": (
        "bodice back",
        (
            *ABOVE_THE_ARM,
            (312.0, 520.0),
            *((266.0, 520.0), (258.0, 380.0), (250.0, 520.0)),
            *((210.0, 520.0), (200.0, 380.0), (190.0, 520.0)),
            (100.0, 520.0),
        ),
        (100.0, 312.0),
    ),
}


def _piece(called: str, upside_down: bool) -> Piece:
    name, rows, _ = PIECES[called]
    turn = UPSIDE_DOWN if upside_down else Affine()
    shapes = [
        Shape(0, _outline(*rows).mapped(turn), (name,)),
        Shape(1, GRAIN.mapped(turn), ("grain",)),
    ]
    (piece,), _ = recognise(shapes)
    return piece


@pytest.mark.parametrize("upside_down", [False, True], ids=["upright", "upside down"])
@pytest.mark.parametrize("called", PIECES)
def test_a_shaped_hem_is_the_hem(called: str, upside_down: bool) -> None:
    piece = _piece(called, upside_down)
    assert piece.hem is not None
    wanted = sorted(600.0 - x if upside_down else x for x in PIECES[called][2])
    ends = (piece.hem.first.place, piece.hem.last.place)
    got = sorted(piece.ring.at(p).x for p in ends)
    assert got == pytest.approx(wanted, abs=0.01), f"the hem ends at {got}, wanted {wanted}"


def test_a_skirt_has_no_cap() -> None:
    roles = {e.role for e in _piece("a deep point", False).edges}
    assert roles == {Role.HEM, Role.SIDE, Role.WAIST}, f"got {roles}"


def test_darts_between_the_hem_corners_are_the_hems() -> None:
    piece = _piece("darts in the hem of a sleeve", False)
    assert [e.role for e in piece.edges] == [Role.HEM, Role.UNDERARM, Role.CAP, Role.UNDERARM]
    assert len(piece.darts) == 2


def test_darts_of_a_bodice_leave_no_doubt() -> None:
    assert _piece("darts in the lower edge of a bodice", False).grain.because.sure


def tunic(by: float) -> Piece:
    """Flared, with a pointed hem, and `by` mm longer by seams that fall plumb below their taper."""
    low = 560.0 + by
    d = f"M100 60H360L410 560V{low}L235 {low + 120.0}L60 {low}V560Z"
    return read_piece(d, "tunic front", grain="M235 150V500")


@pytest.mark.parametrize("by", [30.0, 60.0, 150.0])
def test_a_bend_low_down_and_widening_do_not_turn_an_upright_piece_for_sure(by: float) -> None:
    """Made longer plumb and saved, a pointed tunic was a sleeve on its head, and that was sure."""
    piece = tunic(by)
    assert not piece.grain.because.sure
    assert piece.hem is not None
    assert not piece.hem.first.because.sure


@pytest.mark.parametrize("name", ["kimono front", "front", "Piece 1"])
@pytest.mark.parametrize("turned", [0, 90, 180])
def test_a_sleeve_cut_in_one_does_not_turn_the_piece_for_sure(name: str, turned: int) -> None:
    """The hollow from its opening down the side was taken for a rise: the piece stood on its
    head, and that was sure."""
    d = "M100 60C130 58 165 30 170 0L500 40L505 190L330 200C300 205 290 220 290 260L292 700H100Z"
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="2000mm" height="2000mm"'
        f' viewBox="-1000 -1000 2000 2000"><g id="{name}" transform="rotate({turned})">'
        f'<path d="{d}"/><path class="grain" d="M160 200V600"/></g></svg>'
    )
    (piece,) = read_bytes(Path("kimono.svg"), text.encode()).pieces
    hem = {0: Vector(0.0, 1.0), 90: Vector(-1.0, 0.0), 180: Vector(0.0, -1.0)}[turned]
    right = piece.grain.down.dot(hem) > 0.99
    assert right or not piece.grain.because.sure


@pytest.mark.parametrize("upside_down", [False, True])
@pytest.mark.parametrize("cap", [30.0, 70.0, 130.0, 180.0])
@pytest.mark.parametrize("taper", [-12.0, 0.0, 8.0])
@pytest.mark.parametrize("name", ["Sleeve", ""])
def test_a_cap_over_a_hollow_hem_is_not_the_hem(
    name: str, taper: float, cap: float, upside_down: bool
) -> None:
    """Regression: it was taken for a flared hem below a hollow waist, surely: a bell sleeve stood
    on its head, and one that narrows did when it had no name."""
    true = curved_hem(sleeve(cap=cap, taper=taper), -20.0)
    row = case("bell", true, name=name, by=UPSIDE_DOWN if upside_down else None)
    (piece,), _ = recognise(row.shapes)
    right = piece.grain.down.dot(row.truth.down) > 0.0
    if name:
        assert right
    assert right or not piece.grain.because.sure, piece.grain.because.why
