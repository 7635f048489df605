"""Putting in and folding out on plain panels, against closed forms."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from core.alter.level.model import Truing
from core.alter.level.true_seams import smooth
from core.alter.model import StepKind
from core.curve import Cubic, Line, Point, Vector
from core.piece.model import Role
from tests.core.alter_level.panels import near, put_in, tapered, width_at, with_waist_dart

WHOLE = 1000.0


@pytest.mark.parametrize("share", [0.01, 0.25, 1.0, 3.0, -0.01, -0.3, -0.6])
@pytest.mark.parametrize(("top", "hem", "height"), [(34.0, 20.0, 24.0), (220.0, 180.0, 600.0)])
def test_trued_straight_over_the_whole_seam(
    top: float, hem: float, height: float, share: float
) -> None:
    """Insert a at a line, then true straight: seam sqrt((H + a)^2 + i^2), widths unchanged."""
    amount = share * height
    got = put_in(tapered(top, hem, height), height / 3, amount, blend=WHOLE)
    inset = (top - hem) / 2
    for role in (Role.SIDE, Role.INSEAM):
        edge = got.piece.edge(role)
        near(got.piece.edge_length(edge), math.hypot(height + amount, inset), f"{role.value}")
        assert len(got.piece.edge_chain(edge)) == 1, "the whole seam is one straight line"
    near(got.figures.hem_width_after_mm, hem, "hem width")
    near(got.piece.edge_length(got.piece.edge(Role.WAIST)), top, "width above")


def test_the_panel_of_the_seven_twenty_four_twenty_five_triangle() -> None:
    """34 wide above, 20 below, 24 high, seams 25; 12 more trued straight: sqrt(36^2 + 7^2)."""
    got = put_in(tapered(34.0, 20.0, 24.0), 8.0, 12.0, blend=WHOLE)
    assert [(e.role, round(e.before_mm, 12)) for e in got.figures.edges][1] == (Role.SIDE, 25.0)
    near(got.figures.edges[1].after_mm, math.sqrt(36.0**2 + 7.0**2), "seam")
    near(got.figures.added_first_mm, math.sqrt(1345.0) - 25.0, "added")


@pytest.mark.parametrize("blend", [20.0, 50.0, 100.0, 180.0])
@pytest.mark.parametrize("amount", [60.0, -60.0])
def test_the_blend_is_a_straight_line_between_its_two_points(blend: float, amount: float) -> None:
    top, hem, height, at = 220.0, 180.0, 600.0, 250.0
    slope = (top - hem) / 2 / height
    got = put_in(tapered(top, hem, height), at, amount, blend=blend)
    folded = max(0.0, -amount)
    drawn = math.hypot(2 * blend + folded + amount, slope * (2 * blend + folded))
    kept = (height - 2 * blend - folded) * math.hypot(1.0, slope)
    near(got.figures.edges[1].after_mm, drawn + kept, "seam", 1e-9)
    for level in (at - blend - 10.0, at - blend):
        near(width_at(got.piece, level), top - 2 * slope * level, f"width at {level}")
    for level in (at + folded + blend, at + folded + blend + 10.0):
        near(width_at(got.piece, level + amount), top - 2 * slope * level, f"width at {level}")


@pytest.mark.parametrize("amount", [30.0, 120.0, -60.0])
def test_smooth_is_one_cubic_with_the_tangents_of_the_seam(amount: float) -> None:
    piece = tapered(300.0, 180.0, 600.0)
    got = put_in(piece, 250.0, amount, Truing.SMOOTH, 90.0)
    for role in (Role.SIDE, Role.INSEAM):
        chain = got.piece.edge_chain(got.piece.edge(role))
        assert [type(s) for s in chain] == [Line, Cubic, Line]
        for a, b in pairwise(chain.segments):
            turn = a.tangent(1.0).angle_to(b.tangent(0.0))
            near(turn, 0.0, f"kink in the {role.value}")
        _, curve, _ = chain
        turns = [curve.curvature(t / 40) for t in range(41)]
        assert sum(x * y < 0.0 for x, y in pairwise(turns)) <= 1, "it waves"


def test_smooth_handles_draw_a_circle_where_the_ends_turn_alike() -> None:
    """J. D. Hobby (1986): a quarter circle within 0.1 % of its radius."""
    curve = smooth(Point(100.0, 0.0), Vector(0.0, 1.0), Point(0.0, 100.0), Vector(-1.0, 0.0))
    for k in range(21):
        p = curve.at(k / 20)
        near(math.hypot(p.x, p.y), 100.0, f"radius at {k / 20}", 0.1)


def test_a_smooth_curve_along_its_chord_is_a_straight_line() -> None:
    a, b = Point(3.0, 4.0), Point(33.0, 44.0)
    way = (b - a).unit()
    assert smooth(a, way, b, way) == Line(a, b)


def test_the_fold_is_half_as_deep_as_what_it_takes_out() -> None:
    """Fold at a line: fold depth a/2 takes a out."""
    got = put_in(tapered(220.0, 180.0, 600.0), 250.0, -50.0)
    (fold,) = (s for s in got.steps if s.kind is StepKind.FOLD)
    assert "2.50 cm deep" in fold.sentence
    assert "5.0 cm are taken out" in fold.sentence
    near(got.piece.ring.bounds().y1, 550.0, "height")


def test_the_default_takes_in_a_short_rest_up_to_a_corner() -> None:
    """Blend 100 below a line 120 above the hem: the rest of 20 is not left by itself."""
    got = put_in(tapered(220.0, 180.0, 600.0), 480.0, 40.0)
    chain = got.piece.edge_chain(got.piece.edge(Role.SIDE))
    assert len(chain) == 2, f"wanted the seam kept above and one line below, got {chain}"
    got = put_in(tapered(220.0, 180.0, 600.0), 460.0, 40.0)
    assert len(got.piece.edge_chain(got.piece.edge(Role.SIDE))) == 3


@pytest.mark.parametrize("amount", [37.3, -37.3])
def test_above_stays_bit_for_bit_and_below_moves_exactly(amount: float) -> None:
    hem, side, waist, inseam = tapered(220.0, 180.0, 600.0).ring.segments
    got = put_in(tapered(220.0, 180.0, 600.0), 250.0, amount, blend=50.0).piece.ring.segments
    assert got[0] == Line(*(Point(p.x, p.y + amount) for p in hem.controls))
    assert waist in got, "the waist is the very same value"
    ends = (side.end, inseam.start)
    assert {s.end for s in got} >= set(ends), "the seams end where they ended"


def test_nothing_changes_nothing() -> None:
    piece = with_waist_dart(0.05)
    got = put_in(piece, 60.0, 0.0)
    assert got.piece is piece
    assert got.steps == ()
    assert got.findings == ()


def test_a_hemless_piece_is_changed_too() -> None:
    piece = replace(tapered(220.0, 180.0, 600.0), hem=None)
    got = put_in(piece, 250.0, 40.0)
    near(got.piece.ring.bounds().y1, 640.0, "height")
    assert got.figures.added_first_mm == 0.0


def test_a_seam_trued_up_to_its_taper_point_goes_on_as_it_now_runs() -> None:
    got = put_in(tapered(220.0, 180.0, 600.0), 250.0, 60.0, blend=WHOLE).piece
    assert got.hem is not None
    for taper, x in ((got.hem.first, 20.0), (got.hem.last, -20.0)):
        wanted = Vector(x, 660.0).unit()
        near((taper.down - wanted).norm, 0.0, "direction at the taper point")
