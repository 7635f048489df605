"""Redrawn hems, marks and zones, steps, figures, pieces together; and what once went wrong."""

from __future__ import annotations

from dataclasses import replace

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Altered, Change, StepKind
from core.alter.redo import Reach
from core.alter.together import alter_together
from core.curve import Chain, Cubic, Line, Place, Point, Vector
from core.curve.merge import joined_at, leading_whole, split_at
from core.errors import AlterationError
from core.piece.mates import Mates
from core.piece.model import Because, Dart, HemRun, Kind, Mark, Piece, Role
from tests.laws.compare import ends, hem_angles, run
from tests.laws.marked import CREASE_KEY
from tests.laws.pose import listed_backwards, split
from tests.laws.sketch import (
    Garment,
    SeamPlan,
    SeamStyle,
    Sketch,
)

SURE = Because(True, "drawn so")
PLAIN = SeamPlan(0.0)
LEANING = SeamPlan(-0.1)
TAPERED = Sketch(Garment.SLEEVE, 400.0, 300.0, LEANING, LEANING)
PANEL = Sketch(Garment.SKIRT, 400.0, 300.0, PLAIN, SeamPlan(0.05), with_marks=False)


def altered(sketch: Sketch, by: float) -> Altered:
    return lengthen(sketch.piece(), Change(by))


def test_both_handles_of_a_hem_drawn_as_one_curve_keep_their_angle() -> None:
    """The second end's handle was turned back and the first one's forgotten."""
    sketch = replace(TAPERED, hem_angles=(0.25, 0.2))
    wanted, got = hem_angles(sketch.piece()), hem_angles(altered(sketch, 80.0).piece)
    for w, g in zip(wanted, got, strict=True):
        assert abs(g - w) < 1e-12, f"wanted {w}, got {g}"


def test_a_curved_hem_listed_backwards_is_the_same() -> None:
    """It differed by the handle that was forgotten."""
    piece = replace(TAPERED, hem_angles=(0.25, 0.2)).piece()
    one = lengthen(piece, Change(80.0)).piece.ring.area()
    other = lengthen(listed_backwards(piece), Change(80.0)).piece.ring.area()
    assert abs(one - other) < 1e-6, f"wanted {one}, got {other}"


def test_split_cubics_are_put_together_again() -> None:
    whole = Cubic(Point(0, 0), Point(30, 40), Point(70, -20), Point(100, 5))
    parts = split_at(whole, (0.2, 0.5, 0.9))
    found, splits = leading_whole(parts)
    assert max(p.distance(q) for p, q in zip(found.controls, whole.controls, strict=True)) < 1e-9
    assert all(abs(a - b) < 1e-9 for a, b in zip(splits, (0.2, 0.5, 0.9), strict=True))
    again = joined_at(parts, (0.2, 0.5, 0.9))
    assert max(p.distance(q) for p, q in zip(again.controls, whole.controls, strict=True)) < 1e-12


def test_a_handle_changes_by_scale_to_the_square_of_its_share_across() -> None:
    """Straight across it scales whole; along the grain it stays. Closed form."""
    sketch = replace(TAPERED, hem_angles=(0.0, 0.0))
    before, after = run(sketch.piece())[0], run(altered(sketch, 100.0).piece)[0]
    assert isinstance(before, Cubic)
    assert isinstance(after, Cubic)
    scale = (after.end - after.start).norm / (before.end - before.start).norm
    got = (after.c1 - after.start).norm / (before.c1 - before.start).norm
    assert abs(got - scale) < 1e-12, f"wanted {scale}, got {got}"


def test_seams_that_meet_were_refused_without_a_name_or_a_limit() -> None:
    piece = TAPERED.piece()
    with pytest.raises(AlterationError, match=r"^sleeve front: .*Lengthen by less than") as found:
        lengthen(piece, Change(2000.0))
    assert found.value.limit_mm is not None
    lengthen(piece, Change(found.value.limit_mm * 0.999))


def test_a_dart_beside_a_narrowing_seam_was_refused_at_any_amount() -> None:
    """Straight down from its apex lies the seam, not the hem."""
    sketch = replace(PANEL, right=SeamPlan(-0.2), hem_width=240.0)
    piece = sketch.piece()
    waist = piece.ring.at(piece.edge(Role.WAIST).start)
    feet = waist + Vector(-30.0, 0.0), waist + Vector(-12.0, 0.0)
    dart = Dart(feet, waist + Vector(-21.0, 90.0), SURE, on=Role.WAIST, shapes=(7, 8))
    assert not [
        p
        for p in map(piece.ring.at, piece.ring.meets(dart.apex, Vector(0.0, 1.0)))
        if abs(p.y - 400.0) < 1e-6
    ], "the hem lies below the apex"
    after = lengthen(replace(piece, darts=(dart,)), Change(-50.0)).piece
    assert after.darts[0].apex == dart.apex


def test_an_edge_that_was_cut_away_was_as_long_as_the_whole_outline() -> None:
    """A seam of two edges, shortened past the joint between them."""
    piece = split(PANEL.piece(), 1, 0.3)
    hem, side, *rest = piece.edges
    middle = Place(2, 0.0)
    two = (replace(side, end=middle), replace(side, start=middle))
    done = lengthen(replace(piece, edges=(hem, *two, *rest)), Change(-200.0))
    assert [e.role for e in done.piece.edges].count(Role.SIDE) == 1
    lower, upper = (f for f in done.figures.edges if f.role is Role.SIDE)
    assert lower.after_mm == 0.0
    assert abs(upper.after_mm - 200.0 * (1 + 0.05**2 / 2)) < 0.01, upper
    assert (
        abs(lower.before_mm + upper.before_mm + done.figures.added_last_mm - upper.after_mm) < 1e-9
    )


def test_a_line_that_begins_where_a_hem_dart_comes_to_lie_tripped_the_cut() -> None:
    """Its start lies in the dart, its end below the hem: what is between the two is left."""
    piece = replace(PANEL, right=PLAIN, hem_darts=1).piece()
    line = Chain((Line(Point(6.0, 340.0), Point(40.0, 390.0)),))
    done = lengthen(replace(piece, marks=(Mark(Kind.INNER, 9, line),)), Change(-24.0))
    (left,) = done.piece.marks
    assert isinstance(left.geometry, Chain)
    (whole,) = line.segments
    for p in (left.geometry.start, left.geometry.end):
        assert done.piece.ring.nearest(p).distance < 0.01
        assert whole.nearest(p).distance < 1e-9


def test_a_crease_on_a_hem_that_arches_up_was_left_behind() -> None:
    """Its end lay above the line between the taper points, but on the hem."""
    sketch = replace(PANEL, hem_angles=(-0.25, -0.25), with_marks=True)
    after = altered(sketch, 40.0).piece
    crease = next(m.geometry for m in after.marks if m.shape == CREASE_KEY)
    assert isinstance(crease, Chain)
    off = Chain(run(after)).nearest(crease.end).distance
    assert off < 1e-6, f"the crease ends {off} mm off the hem"


def test_a_taper_that_runs_across_was_divided_by_nothing() -> None:
    piece = PANEL.piece()
    assert piece.hem is not None
    across = replace(piece.hem.first, down=Vector(1.0, 0.0))
    with pytest.raises(AlterationError, match="does not run down"):
        lengthen(replace(piece, hem=HemRun(across, piece.hem.last)), Change(20.0))


def test_a_hole_at_the_apex_of_a_hem_dart_goes_with_it() -> None:
    piece = replace(PANEL, hem_darts=1, hem_angles=(0.1, 0.1)).piece()
    hole = Mark(Kind.DRILL, 9, piece.darts[0].apex + Vector(0.0, -8.0))
    done = lengthen(replace(piece, marks=(hole,)), Change(60.0)).piece
    assert done.marks[0].geometry == hole.geometry + (done.darts[0].apex - piece.darts[0].apex)


@pytest.mark.parametrize("by", [60.0, -40.0])
def test_steps_come_in_the_maker_s_order_with_something_to_see(by: float) -> None:
    sketch = replace(PANEL, hem_darts=1, waist_darts=1, with_marks=True)
    steps = altered(sketch, by).steps
    order = list(StepKind)
    numbers = [order.index(s.kind) for s in steps]
    assert numbers == sorted(numbers), f"wanted rising steps, got {[s.kind for s in steps]}"
    assert steps[-1].kind is StepKind.CHECK
    wanted = StepKind.CARRY_SEAMS if by > 0.0 else StepKind.CUT_SEAMS
    assert wanted in {s.kind for s in steps}
    for step in steps:
        assert step.lines or step.points, f"nothing to see in {step.kind}"
        assert step.sentence.endswith("."), f"no sentence: {step.sentence!r}"


def test_figures_of_a_straight_panel() -> None:
    """Closed form: a plumb seam gains 60, one that leans by tan a gains 60 / cos a."""
    import math

    told = altered(PANEL, 60.0).figures
    gained = {round(f.after_mm - f.before_mm, 9) for f in told.edges if f.role is Role.SIDE}
    assert gained == {round(60.0 / math.cos(0.05), 9)}
    assert abs(told.hem_width_before_mm - 300.0) < 1e-9
    assert abs(told.hem_width_after_mm - (300.0 + 60.0 * math.tan(0.05))) < 1e-9


def leg(key: int, name: str, right: SeamPlan) -> Piece:
    sketch = Sketch(Garment.LEG, 500.0, 320.0, LEANING, right, with_marks=False)
    return replace(sketch.piece(), key=key, name=name)


def test_the_front_leads_whichever_comes_first() -> None:
    front, back = leg(0, "leg front", PLAIN), leg(1, "leg back", SeamPlan(0.2))
    mates = (Mates((0, Role.SIDE), (1, Role.SIDE), SURE),)
    for pieces in ((front, back), (back, front)):
        done = {a.piece.key: a for a in alter_together(pieces, Change(100.0), mates=mates)}
        assert abs(ends(done[0].piece)[1].y - 600.0) < 1e-9, "the front goes by the grain"
        gained = [f.after_mm - f.before_mm for f in done[1].figures.edges if f.role is Role.SIDE]
        assert abs(gained[0] - 100.0) < 1e-9, f"the back's side gained {gained}"


def test_a_refusal_of_one_piece_changes_none() -> None:
    front, back = leg(0, "leg front", PLAIN), replace(leg(1, "leg back", PLAIN), hem=None)
    with pytest.raises(AlterationError, match="leg back"):
        alter_together((front, back), Change(50.0))


def test_one_seam_may_stay_where_it_is() -> None:
    piece = PANEL.piece()
    after = lengthen(piece, Change(30.0), first=Reach(0.0)).piece
    assert ends(after)[0] == ends(piece)[0]
    assert abs(ends(after)[1].y - 430.0) < 1e-9


def test_the_curved_seam_is_cut_on_the_curve_itself() -> None:
    bent = SeamPlan(-0.05, SeamStyle.CURVED, 0.1)
    piece = replace(PANEL, right=bent).piece()
    old = piece.edge_chain(piece.edge(Role.SIDE))
    end = ends(lengthen(piece, Change(-123.0)).piece)[1]
    assert abs(end.y - (400.0 - 123.0)) < 1e-9
    assert old.nearest(end).distance < 1e-9


def test_a_hem_that_arched_over_the_waist_turned_the_piece_inside_out() -> None:
    """Shortened to nothing: the hem lay above the waist, and nothing crossed."""
    sketch = replace(PANEL, right=PLAIN, hem_angles=(0.0, -0.25), waist_darts=1, step=5.0)
    with pytest.raises(AlterationError) as found:
        altered(sketch, -400.0 * (1.0 - 1e-16))
    assert found.value.limit_mm is not None
    altered(sketch, -found.value.limit_mm * 0.999)


def test_a_grain_line_ran_out_of_a_hem_that_arches_up() -> None:
    """It was kept clear of the line between the taper points, not of the hem itself."""
    sketch = replace(PANEL, hem_width=417.0, hem_angles=(-0.28, 0.0), with_marks=True)
    after = altered(sketch, -28.0).piece
    grain = next(m.geometry for m in after.marks if m.kind is Kind.GRAIN)
    assert isinstance(grain, Chain)
    met = Chain(run(after)).meets(grain.end, Vector(0.0, 1.0))
    hem = Chain(run(after)).at(met[0])
    assert hem.y - grain.end.y > 14.9, f"the grain line ends at {grain.end}, the hem at {hem}"
