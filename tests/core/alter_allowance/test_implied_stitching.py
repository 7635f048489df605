"""Pieces with a cutting line and a stated allowance: lengths where they are sewn."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import event, given, reject

from core.alter.allowance.implied import sewn_lengths
from core.alter.lengthen import lengthen
from core.alter.model import Change
from core.alter.together import alter_together
from core.curve import Cubic, Line, Place, Point, Ring, Vector
from core.errors import AlterationError
from core.piece.corners import corners
from core.piece.mates import Mates
from core.piece.model import (
    Because,
    Edge,
    Grain,
    Origin,
    Outline,
    Piece,
    Role,
)
from tests.core.alter_level.panels import polygon
from tests.laws.compare import close
from tests.laws.generate import Drawn, changes, drawn
from tests.laws.sketch import SeamStyle

SURE = Because(True, "drawn so")
DOWN = Vector(0.0, 1.0)
COMMON = (15.875, 10.0, 9.525)
"""5/8 in, 1 cm, 3/8 in: several sources."""


def panel(above: float, below: float, high: float, *, key: int = 0, hem_drop: float = 0.0) -> Piece:
    """A four-sided panel; its hem lies `hem_drop` lower at the last corner."""
    corners = [
        Point(below / 2, high),
        Point(-below / 2, high + hem_drop),
        Point(-above / 2, 0.0),
        Point(above / 2, 0.0),
    ]
    drawn_so = polygon(corners, (Role.HEM, Role.INSEAM, Role.WAIST, Role.SIDE))
    return replace(drawn_so, key=key, name=("front", "back")[key])


@pytest.mark.parametrize("seam", COMMON)
@pytest.mark.parametrize("hem", [None, 0.0, 31.75])
def test_a_rectangle_in_closed_form(seam: float, hem: float | None) -> None:
    change = Change(1.0, allowance_mm=seam, hem_allowance_mm=hem)
    sewn = sewn_lengths(panel(200.0, 200.0, 500.0), change)
    at_hem = seam if hem is None else hem
    wanted = (200.0 - 2 * seam, 500.0 - seam - at_hem, 200.0 - 2 * seam, 500.0 - seam - at_hem)
    for got, w in zip(sewn.lengths, wanted, strict=True):
        close(got, w, 1e-9, "sewn edge")
    close(sewn.hem_width, 200.0 - 2 * seam, 1e-9, "sewn hem")


@pytest.mark.parametrize("seam", COMMON)
def test_a_tapered_seam_in_closed_form(seam: float) -> None:
    """220 above, 180 below, 600 high: each mitre takes (a_other + a cos) / sin off the seam."""
    sewn = sewn_lengths(panel(220.0, 180.0, 600.0), Change(1.0, allowance_mm=seam))
    length = math.hypot(600.0, 20.0)
    cos, sin = 20.0 / length, 600.0 / length
    wanted = length - seam * (1.0 + cos) / sin - seam * (1.0 - cos) / sin
    close(sewn.lengths[1], wanted, 1e-9, "sewn seam")


def test_a_quarter_circle_moved_in_keeps_its_angle() -> None:
    """A curved edge of radius 300, moved in by 10, is an arc of radius 290 between two edges
    that run to its centre: it ends 10 inside both, asin(10 / 290) short at each end."""
    k, r = 4.0 / 3.0 * math.tan(math.pi / 8.0) * 300.0, 300.0
    ring = Ring(
        (
            Cubic(Point(r, 0.0), Point(r, k), Point(k, r), Point(0.0, r)),
            Line(Point(0.0, r), Point(0.0, 0.0)),
            Line(Point(0.0, 0.0), Point(r, 0.0)),
        )
    )
    places = [Place(n, 0.0) for n in range(3)]
    roles = (Role.HEM, Role.SIDE, Role.CENTRE_FRONT)
    edges = tuple(Edge(x, places[n], places[(n + 1) % 3], SURE) for n, x in enumerate(roles))
    outline = Outline(ring, tuple(Origin(0, n) for n in range(3)))
    piece = Piece(0, "skirt", outline, Grain(DOWN, SURE), edges)
    sewn = sewn_lengths(piece, Change(1.0, allowance_mm=10.0))
    wanted = 290.0 * (math.pi / 2 - 2 * math.asin(10.0 / 290.0))
    # The usual cubic leaves the circle by 2.7e-4 of the radius.
    close(sewn.lengths[0], wanted, 0.1, "arc")


def test_figures_are_told_where_the_piece_is_sewn() -> None:
    piece = panel(220.0, 180.0, 600.0)
    told = lengthen(piece, Change(60.0, allowance_mm=10.0, hem_allowance_mm=30.0)).figures
    cut = lengthen(piece, Change(60.0)).figures
    by_role = {e.role: e for e in told.edges}
    close(by_role[Role.WAIST].after_mm, by_role[Role.WAIST].before_mm, 1e-9, "waist")
    assert told.hem_width_after_mm < cut.hem_width_after_mm - 15.0
    close(told.added_first_mm, cut.added_first_mm, 1e-6, "a straight seam gains the same")


def test_mates_get_equal_lengths_where_they_are_sewn() -> None:
    """Sloping hems change their angle, so the lines gain unequally inside and out."""
    front, back = panel(260.0, 200.0, 500.0, hem_drop=40.0), panel(300.0, 190.0, 480.0, key=1)
    pair = (Mates((0, Role.SIDE), (1, Role.SIDE), SURE),)
    change = Change(90.0, allowance_mm=15.875, hem_allowance_mm=31.75)
    told = [a.figures for a in alter_together((front, back), change, mates=pair)]
    gains = [next(e.after_mm - e.before_mm for e in f.edges if e.role is Role.SIDE) for f in told]
    close(gains[1], gains[0], 1e-3, "the led seam's gain where it is sewn")


def test_a_negative_allowance_is_refused() -> None:
    with pytest.raises(AlterationError, match="less than nothing"):
        lengthen(panel(220.0, 180.0, 600.0), Change(60.0, allowance_mm=-1.0))


def test_a_drawn_stitching_line_goes_before_what_is_told() -> None:
    piece = panel(220.0, 180.0, 600.0)
    both = replace(piece, stitching=piece.outline, cutting_hem=piece.hem)
    told = lengthen(both, Change(60.0, allowance_mm=20.0)).figures
    close(told.hem_width_before_mm, 180.0, 1e-9, "the drawn line's hem")


PARALLEL = drawn(
    stitched=True,
    digitised=False,
    darts=False,
    rounded=False,
    curved_hem=False,
    styles=(SeamStyle.STRAIGHT,),
)


@given(PARALLEL, changes)
def test_implied_lengths_are_those_of_a_drawn_stitching_line(case: Drawn, by: float) -> None:
    """Take the stitching line away, state the allowances: its lengths come out all the same."""
    piece, sketch = case.piece, case.sketch
    try:
        after = lengthen(piece, Change(by)).piece
    except AlterationError:
        event("refused")
        reject()
    change = Change(by, allowance_mm=sketch.allowance, hem_allowance_mm=sketch.hem_allowance)
    for p in (piece, after):
        got = sewn_lengths(_cut_only(p), change).lengths
        for edge, length in zip(p.edges, got, strict=True):
            if edge.role in (Role.HEM, Role.INSEAM, Role.SIDE, Role.UNDERARM):
                close(length, p.edge_length(edge), 0.02, edge.role.value)


def _cut_only(piece: Piece) -> Piece:
    """The piece without its stitching line, its edges between the cutting line's corners."""
    ring = piece.outline.ring
    found = corners(ring)

    def place(at: Place) -> Place:
        p = piece.ring.at(at)
        return Place(min(found, key=lambda k: ring.segments[k].start.distance(p)), 0.0)

    edges = tuple(replace(e, start=place(e.start), end=place(e.end)) for e in piece.edges)
    return replace(piece, stitching=None, cutting_hem=None, edges=edges)
