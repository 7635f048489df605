"""The view, the rulers' marks and the places of labels, without a screen."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.window.laying import BETWEEN, Laid, lay_out
from app.window.lengths import Shown
from app.window.table.labels import Polyline, Wish, beside, crosses, place
from app.window.table.rect import Rect
from app.window.table.ticks import BETWEEN_NUMBERS, ticks
from app.window.table.view import LARGEST, SMALLEST, Margins, View
from core.curve import Box, Point

pixels = st.floats(-3000.0, 3000.0)
scales = st.floats(0.05, 20.0)
views = st.builds(View, scales, st.floats(-2000.0, 2000.0), st.floats(-2000.0, 2000.0))
NO_LINES = np.empty((0, 4))


@given(views, st.floats(0.2, 5.0), pixels, pixels)
def test_what_lies_under_the_pointer_stays_there_when_zooming(
    view: View, factor: float, px: float, py: float
) -> None:
    before, after = view.to_mm(px, py), view.zoomed(factor, px, py).to_mm(px, py)
    off = before.distance(after)
    assert off <= 1e-9, f"wanted the same place, got {off} mm off, tolerance 1e-9"


@given(views, pixels, pixels)
def test_pixels_and_millimetres_are_each_other_undone(view: View, px: float, py: float) -> None:
    x, y = view.to_px(view.to_mm(px, py))
    assert math.hypot(x - px, y - py) <= 1e-8, f"wanted {(px, py)}, got {(x, y)}"


@given(views, st.floats(1e-4, 1e4))
def test_zooming_ends_at_what_can_still_be_read(view: View, factor: float) -> None:
    assert SMALLEST <= view.zoomed(factor, 0.0, 0.0).scale <= LARGEST


@given(views, st.floats(-500.0, 500.0), st.floats(-500.0, 500.0))
def test_panning_moves_everything_by_as_many_pixels(view: View, dx: float, dy: float) -> None:
    x, y = view.panned(dx, dy).to_px(view.to_mm(100.0, 50.0))
    assert (x, y) == pytest.approx((100.0 + dx, 50.0 + dy), abs=1e-7)


@given(
    st.floats(-900.0, 900.0), st.floats(-900.0, 900.0),
    st.floats(20.0, 1500.0), st.floats(20.0, 1500.0),
)  # fmt: skip
def test_a_fitted_box_lies_within_its_margins_and_touches_two(
    x: float, y: float, width: float, height: float
) -> None:
    margins = Margins(40.0, 30.0, 20.0, 10.0)
    view = View.fitted(Box(x, y, x + width, y + height), 900.0, 700.0, margins)
    x0, y0 = view.to_px(Point(x, y))
    x1, y1 = view.to_px(Point(x + width, y + height))
    slack = 1e-6
    assert x0 >= 40.0 - slack
    assert y0 >= 30.0 - slack
    assert x1 <= 880.0 + slack
    assert y1 <= 690.0 + slack
    gap = min(abs((x1 - x0) - 840.0), abs((y1 - y0) - 660.0))
    assert gap <= 1e-6, f"wanted one side filled, got {gap} px short"


@given(scales, st.sampled_from(Shown), st.floats(-2000.0, 2000.0))
def test_numbers_of_a_ruler_stand_apart_and_say_where_they_are(
    scale: float, shown: Shown, start: float
) -> None:
    found = [t for t in ticks(start, start + 1200.0 / scale, scale, shown) if t.number]
    unit = 10.0 if shown is Shown.CM else 25.4
    for tick in found:
        assert "-" not in tick.number, "a minus is as wide as a plus, as on the tape"
        count = float(tick.number.replace("−", "-"))
        assert count * unit == pytest.approx(tick.mm, abs=1e-6)
    gaps = [(b.mm - a.mm) * scale for a, b in itertools.pairwise(found)]
    assert all(g >= BETWEEN_NUMBERS - 1e-6 for g in gaps), f"got numbers {gaps} px apart"


def test_a_label_keeps_off_lines_and_other_labels_or_is_left_out() -> None:
    room = Rect(0.0, 0.0, 200.0, 100.0)
    lines = np.array([[0.0, 50.0, 200.0, 50.0]])
    wishes = [
        Wish("on the line, then above", 40.0, 10.0, [(50.0, 50.0), (50.0, 30.0)]),
        Wish("on the first, then below", 40.0, 10.0, [(52.0, 30.0), (50.0, 70.0)]),
        Wish("nowhere", 40.0, 10.0, [(50.0, 50.0), (195.0, 20.0)]),
    ]
    got = place(wishes, room=room, taken=[], lines=lines)
    want = {
        "on the line, then above": Rect.about(50.0, 30.0, 40.0, 10.0),
        "on the first, then below": Rect.about(50.0, 70.0, 40.0, 10.0),
    }
    assert got == want


@given(st.lists(st.floats(-20.0, 20.0), min_size=4, max_size=4))
def test_a_line_crosses_a_rectangle_when_a_point_of_it_lies_inside(ends: list[float]) -> None:
    rect = Rect(-5.0, -3.0, 5.0, 3.0)
    x0, y0, x1, y1 = ends
    inside = any(
        rect.holds(x0 + t * (x1 - x0), y0 + t * (y1 - y0)) for t in np.linspace(0.0, 1.0, 401)
    )
    if inside:
        assert crosses(rect, np.array([ends])), f"wanted {ends} to cross {rect}"
    elif crosses(rect.grown(-0.5), np.array([ends])):
        pytest.fail(f"wanted {ends} to miss {rect}")


def test_no_lines_cross_nothing() -> None:
    assert not crosses(Rect(0.0, 0.0, 1.0, 1.0), NO_LINES)


@given(st.floats(0.0, 6.28), st.floats(10.0, 90.0), st.floats(5.0, 30.0))
def test_labels_beside_a_straight_edge_keep_their_gap(
    turn: float, width: float, height: float
) -> None:
    end = 400.0 * np.array([math.cos(turn), math.sin(turn)])
    line = Polyline(np.array([[0.0, 0.0], end]))
    for x, y in beside(line, outward=1.0, width=width, height=height, gap=8.0):
        corners = [(x + sx * width / 2, y + sy * height / 2) for sx in (-1, 1) for sy in (-1, 1)]
        off = min(abs(-math.sin(turn) * cx + math.cos(turn) * cy) for cx, cy in corners)
        assert off == pytest.approx(8.0, abs=1e-9)


def test_points_at_a_share_of_a_polyline_skip_doubled_joints() -> None:
    line = Polyline(np.array([[0.0, 0.0], [3.0, 0.0], [3.0, 0.0], [3.0, 1.0]]))
    assert line.length == pytest.approx(4.0)
    assert line.at(0.75) == (pytest.approx((3.0, 0.0)), pytest.approx((0.0, 1.0)))
    assert line.at(1.0)[0] == pytest.approx((3.0, 1.0))


def test_files_are_laid_side_by_side_and_keep_their_own_order() -> None:
    first = [Box(0, 0, 100, 300), Box(150, 20, 250, 300)]
    second = [Box(-40, -50, 60, 250)]
    a, b, c = lay_out([[Laid(box) for box in boxes] for boxes in (first, second)])
    assert a == b, "wanted the pieces of one file to keep their places"
    assert -40 + c.x == 250 + BETWEEN, "wanted the second file to the right of the first"
    assert -50 + c.y == 0.0, "wanted the tops level"


def test_pieces_drawn_on_top_of_each_other_are_laid_apart() -> None:
    a, b = lay_out([[Laid(Box(0, 0, 100, 300)), Laid(Box(10, 0, 120, 300))]])
    assert 100 + a.x + BETWEEN == 10 + b.x
