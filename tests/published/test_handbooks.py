"""What handbooks and sewing columns state of lengthening, each on panels with known sizes."""

from __future__ import annotations

import math

import pytest

from core.alter.lengthen import lengthen
from core.alter.level.insert import insert_at
from core.alter.level.model import LevelChange, Truing
from core.alter.model import Change, HemWay, StepKind
from core.measure import MM_PER_INCH, in_cm
from core.piece.model import Piece, Role
from tests.laws.compare import close, hem_angles
from tests.published.test_tapers import hem_width, seam, trapezoid
from tests.published.test_turn_ups import edge_width
from tests.published.test_turn_ups import panel as panel_with_turn_up

INCH = MM_PER_INCH
WHOLE = 2000.0


def put_in(piece: Piece, at: float, by: float) -> Piece:
    """Inserted at a line and the seams trued straight over their whole length."""
    return insert_at(piece, LevelChange(at, by, Truing.STRAIGHT, WHOLE)).piece


@pytest.mark.parametrize("by", [120.0, -60.0, 7.5])
@pytest.mark.parametrize(("above", "below", "high"), [(340.0, 200.0, 240.0), (220.0, 180.0, 600.0)])
def test_at_a_line_and_then_trued(above: float, below: float, high: float, by: float) -> None:
    """Lengthen at a line by cutting and spreading, shorten by folding; then true the seams:
    costume textbook, Central Washington University, ch. 17. Closed form: the seam becomes
    sqrt((H + a)^2 + i^2), both widths stay."""
    after = put_in(trapezoid(above, below, high), high / 3, by)
    wanted = math.hypot(high + by, (above - below) / 2)
    close(seam(after, Role.SIDE), wanted, 1e-9, "seam")
    close(hem_width(after), below, 1e-9, "hem")
    close(seam(after, Role.WAIST), above, 1e-9, "width above")


@pytest.mark.parametrize("out", [20.0, 50.0, 75.0])
def test_the_fold_takes_half_the_amount(out: float) -> None:
    """Shorten at a line by folding half the amount: the same textbook. Closed form: a fold a/2
    deep takes a out."""
    got = insert_at(trapezoid(220.0, 180.0, 600.0), LevelChange(250.0, -out, Truing.STRAIGHT))
    (fold,) = (s for s in got.steps if s.kind is StepKind.FOLD)
    assert f"{in_cm(out / 2, decimals=2)} deep" in str(fold.sentence)
    close(got.piece.ring.bounds().y1, 600.0 - out, 1e-9, "height")


@pytest.mark.parametrize("by", [4 * INCH, 5 * INCH])
@pytest.mark.parametrize("half_at_the_line", [False, True])
def test_a_gored_skirt_half_at_the_line_and_half_at_the_edge(
    by: float, half_at_the_line: bool
) -> None:
    """Gored skirts are changed about 6 in below the hip line, and for 4 to 5 in half there and
    half at the lower edge: The New Dressmaker (1921), ch. 3. Closed form: what is put in at the
    line leaves the hem's width, what is added at the edge carries the trued seam on."""
    high, above, below, line = 800.0, 200.0, 360.0, 200.0 + 6 * INCH
    share = by / 2 if half_at_the_line else 0.0
    piece = trapezoid(above, below, high)
    if share:
        piece = put_in(piece, line, share)
    after = lengthen(piece, Change(by - share)).piece
    flare = (below - above) / (high + share)
    close(hem_width(after), below + flare * (by - share), 1e-9, "hem")
    close(after.ring.bounds().y1, high + by, 1e-9, "height")


@pytest.mark.parametrize("by", [5 * INCH, -2 * INCH])
def test_a_straight_skirt_is_the_same_either_way(by: float) -> None:
    """Straight skirts are changed at the lower edge: the same chapter. Closed form: where no seam
    leans, the line and the edge give one and the same panel."""
    piece = trapezoid(450.0, 450.0, 600.0)
    edge, line = lengthen(piece, Change(by)).piece, put_in(piece, 300.0, by)
    for role in (Role.SIDE, Role.CENTRE_FRONT, Role.HEM, Role.WAIST):
        close(seam(line, role), seam(edge, role), 1e-9, role.value)


@pytest.mark.parametrize("by", [60.0, 150.0])
def test_a_hem_that_is_square_to_both_seams_runs_smooth_over_them(by: float) -> None:
    """Common practice: the hem meets the seam at a right angle, or the two joined angles add up
    to 180 degrees."""
    for above, below in ((220.0, 180.0), (340.0, 300.0), (200.0, 260.0)):
        after = lengthen(trapezoid(above, below, 600.0), Change(by, hem=HemWay.SQUARE)).piece
        for angle in hem_angles(after):
            close(math.degrees(abs(angle)), 90.0, 1e-6, "angle of the hem to its seam")


@pytest.mark.parametrize(("mirrored", "wanted"), [(True, 9 + 5 / 8), (False, 9 + 3 / 8)])
def test_the_turn_up_of_nine_and_five_eighths(mirrored: bool, wanted: float) -> None:
    """Sewing columns, 2012 and later: 9 5/8 in are needed where carrying the seam on gives 9 3/8.
    Closed form w +- 2 d i / H at a fold of 9 1/2 in, turn-up 1 1/4 in deep: 1/20 in a seam."""
    slope, depth, high, by = 1 / 20, 1.25 * INCH, 600.0, 75.0
    fold = 9.5 * INCH
    below, above = fold + 2 * slope * by, fold + 2 * slope * (by + high)
    piece = panel_with_turn_up(above, below, high, depth, mirrored=mirrored)
    after = lengthen(piece, Change(by)).piece
    close(hem_width(after), fold, 1e-9, "the fold")
    close(edge_width(after, 10.0, slope) / INCH, wanted, 1e-9, "the turn-up's edge, in inches")
