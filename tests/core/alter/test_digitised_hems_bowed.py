"""Regression: a curved hem drawn by points came out as another one than the curve itself.

It was scaled and sheared like any line, so that its ends no longer met the seams as they had, while
a curve's handles were turned back: a bell sleeve's hem lay 1.4 mm (6 cm longer), 5.9 mm (25 cm) and
19.7 mm (plumb) beside that of the same sleeve drawn in curves.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Change, HemDarts, SeamWay
from core.curve import Line
from core.piece.model import Piece
from tests.laws.compare import apart, hem_angles
from tests.laws.sketch import Garment, SeamPlan, Sketch

BELL = Sketch(Garment.SLEEVE, 600.0, 420.0, SeamPlan(0.2), SeamPlan(0.2), hem_angles=(-0.25, -0.25))
STEP = 8.0


@pytest.mark.parametrize(
    ("change", "within"),
    [
        (Change(60.0), 0.25),
        (Change(-60.0), 0.25),
        (Change(250.0), 0.7),
        (Change(60.0, seams=SeamWay.PLUMB), 4.7),
    ],
)
def test_points_come_out_as_the_curve_does(change: Change, within: float) -> None:
    """The chords of the points themselves lie up to 0.2 mm beside the curve. Turned by much, as
    under a plumb seam, a handle goes aside as well, which heights do not."""
    drawn = lengthen(BELL.piece(), change).piece
    digitised = lengthen(replace(BELL, step=STEP).piece(), change).piece
    off = apart(drawn.ring, digitised.ring)
    assert off <= within, f"wanted within {within} mm of the curve, got {off}"


@pytest.mark.parametrize("darts", [0, 1])
@pytest.mark.parametrize("way", list(HemDarts))
def test_each_end_beside_hem_darts_keeps_its_angle(way: HemDarts, darts: int) -> None:
    piece = replace(BELL, step=STEP, hem_darts=darts).piece()
    done = lengthen(piece, Change(120.0, hem_darts=way)).piece
    assert hem_angles(done) == pytest.approx(hem_angles(piece), abs=1e-9)


def test_a_straight_digitised_hem_stays_straight() -> None:
    """Also where it slopes otherwise than before, because one seam got longer than the other."""
    piece = replace(BELL, hem_angles=None, step=STEP, left=SeamPlan(-0.1), hem_slope=0.05).piece()
    done = lengthen(piece, Change(120.0)).piece
    assert done.hem is not None
    hem = done.ring.run(done.hem.first.place, done.hem.last.place)
    chord = Line(hem.start, hem.end)
    assert max(abs(chord.tangent(0.0).cross(s.end - hem.start)) for s in hem) < 1e-9


def test_the_end_of_a_rounding_is_no_bend_of_a_straight_hem() -> None:
    """Regression: its steps climb by more than scatter does, and the straight half of the hem was
    bowed by 4.8 mm under a plumb seam."""
    lean = SeamPlan(0.1)
    sketch = Sketch(
        Garment.LEG, 420.0, 514.0, lean, replace(lean, radius=90.0), step=6.0, noise=0.2
    )
    piece = sketch.piece()
    done = lengthen(piece, Change(120.0, seams=SeamWay.PLUMB)).piece
    assert [strays(p) for p in (piece, done)] == pytest.approx([0.4, 0.4], abs=0.4)


def strays(piece: Piece) -> float:
    """By how much (mm) the half of the hem beside its plain corner lies out of its chord."""
    assert piece.hem is not None
    joints = [s.start for s in piece.ring.run(piece.hem.first.place, piece.hem.last.place)]
    half = sorted(joints, key=lambda p: p.x)[: len(joints) // 2]
    chord = Line(half[0], half[-1])
    return max(abs(chord.tangent(0.0).cross(p - half[0])) for p in half)
