"""Regression: of a pointed hem, what climbs steeply was taken for a seam, or for its rounding.

A wrap skirt whose hem ends at 51 degrees to the grain had its side seam carried on along the hem
(107 mm for 50), and of a hem that comes to a point at 45 degrees one half was called an inseam.
"""

from __future__ import annotations

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change, HemWay
from core.curve import Chain, Cubic, Line, Point, Segment
from core.piece.model import Piece, Role
from tests.core.piece.as_svg import read_piece
from tests.laws.compare import close

# The wrap skirt: from the waist's left end on.
LEFT, RIGHT, FOOT = Point(100.0, 60.0), Point(420.0, 60.0), Point(470.0, 640.0)
WRAP: tuple[Segment, ...] = (
    Cubic(LEFT, Point(200.0, 40.0), Point(350.0, 45.0), RIGHT),
    Line(RIGHT, FOOT),
    Cubic(FOOT, Point(430.0, 690.0), Point(330.0, 660.0), Point(260.0, 720.0)),
    Cubic(Point(260.0, 720.0), Point(200.0, 770.0), Point(160.0, 800.0), Point(120.0, 760.0)),
    Cubic(Point(120.0, 760.0), Point(100.0, 740.0), Point(100.0, 720.0), Point(100.0, 700.0)),
    Line(Point(100.0, 700.0), LEFT),
)


def skirt(path: str) -> Piece:
    return read_piece(f"{path}Z", "skirt", grain="M250 150v300")


def drawn() -> str:
    words = ["M100 60"]
    for s in WRAP:
        points = s.controls[1:]
        words.append("CL"[len(points) == 1] + " ".join(f"{p.x:g} {p.y:g}" for p in points))
    return "".join(words)


def digitised(step: float) -> str:
    chain = Chain(WRAP)
    points = []
    for s in chain:
        count = max(1, round(s.length() / step)) if isinstance(s, Cubic) else 1
        points += [s.at(k / count) for k in range(count)]
    return "M" + " ".join(f"{p.x:.3f},{p.y:.3f}" for p in points)


@pytest.mark.parametrize("path", [drawn(), digitised(5.0), digitised(9.0)])
@pytest.mark.parametrize("by", [50.0, -30.0])
@pytest.mark.parametrize("hem", [HemWay.REFIT, HemWay.TRIM])
def test_the_side_seam_above_a_steep_hem_goes_on_along_itself(
    path: str, by: float, hem: HemWay
) -> None:
    before = skirt(path)
    assert before.hem is not None
    tapers = (before.hem.first, before.hem.last)
    (taper,) = (t for t in tapers if before.ring.at(t.place).distance(FOOT) < 1e-6)
    assert not taper.because.sure
    assert "climbs steeply" in taper.because.why
    after = lengthen(before, Change(by, hem=hem)).piece
    side = next(e for e in after.edges if e.role is Role.SIDE)
    run = after.ring.run(side.start, side.end)
    end = max((run.start, run.end), key=lambda p: p.y)
    down = (FOOT - RIGHT).unit()
    close(abs((end - FOOT).cross(down)), 0.0, 1e-6, "how far the seam's end lies beside it")
    assert (end - FOOT).dot(down) * by > 0.0


@pytest.mark.parametrize("point", [560.0, 640.0, 665.0])
@pytest.mark.parametrize("aside", [0.0, 15.0, -15.0])
def test_a_hem_that_comes_to_a_point_is_one_hem(point: float, aside: float) -> None:
    piece = skirt(f"M100 60L400 60L430 500L{250.0 + aside} {point}L70 500")
    assert piece.hem is not None
    ends = {piece.ring.at(t.place) for t in (piece.hem.first, piece.hem.last)}
    assert ends == {Point(430.0, 500.0), Point(70.0, 500.0)}
    assert sorted(e.role.value for e in piece.edges) == sorted(
        r.value for r in (Role.HEM, Role.SIDE, Role.SIDE, Role.WAIST)
    )


@pytest.mark.parametrize("path", ["L330 350L70 721", "L330 500L200 735L70 500"])
def test_a_hem_too_steep_to_be_known_is_asked_for_and_not_taken_for_the_waist(path: str) -> None:
    piece = skirt(f"M100 60L300 60{path}")
    assert piece.grain.down.y == 1.0
    assert not any(e.because.sure for e in piece.edges)


def test_the_seams_of_a_circle_skirt_are_no_pointed_hem() -> None:
    piece = skirt("M372.2 97.8A110 110 0 0 0 527.8 97.8L945 515A700 700 0 0 1 -45 515")
    assert piece.hem is not None
    assert piece.hem.first.because.sure
    assert piece.hem.last.because.sure
