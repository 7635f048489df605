"""Notches, holes, inner lines, grain line and writing at a line, on a panel of plain numbers.

The panel is 220 wide above, 180 below, 600 high; the line lies 250 below its top.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from core.alter.level.model import Truing
from core.alter.model import Altered, Severity
from core.curve import Chain, Cubic, Line, Place, Point, Ring
from core.piece.model import Kind, Mark
from tests.core.alter_level.panels import line, near, put_in, tapered, width_at

AT = 250.0


def changed(amount: float, *marks: Mark, blend: float | None = 60.0) -> Altered:
    return put_in(tapered(220.0, 180.0, 600.0, *marks), AT, amount, Truing.STRAIGHT, blend)


def only(altered: Altered) -> Mark:
    (mark,) = altered.piece.marks
    return mark


def chain(mark: Mark) -> Chain:
    assert isinstance(mark.geometry, Chain)
    return mark.geometry


def told(altered: Altered) -> list[str]:
    return [f.sentence for f in altered.findings]


@pytest.mark.parametrize("kind", [Kind.INNER, Kind.FOLD])
@pytest.mark.parametrize("amount", [40.0, -40.0])
def test_a_line_along_the_grain_grows(kind: Kind, amount: float) -> None:
    got = chain(only(changed(amount, line(kind, 1, Point(5.0, 100.0), Point(5.0, 500.0)))))
    assert got.segments == (Line(Point(5.0, 100.0), Point(5.0, 500.0 + amount)),)


def test_a_slanting_line_is_opened_with_a_stretch_along_the_grain() -> None:
    mark = line(Kind.INNER, 1, Point(0.0, 200.0), Point(50.0, 300.0))
    got = only(changed(40.0, mark))
    wanted = [Point(0.0, 200.0), Point(25.0, 250.0), Point(25.0, 290.0), Point(50.0, 340.0)]
    assert chain(got) == Chain.through(wanted)
    assert got.numbers == (0, 0, 0), "all three stand in the place of the one drawn line"


def test_a_curve_is_opened_and_its_halves_stay_curves() -> None:
    curve = Cubic(Point(-20.0, 200.0), Point(0.0, 260.0), Point(30.0, 270.0), Point(60.0, 300.0))
    got = chain(only(changed(40.0, Mark(Kind.INNER, 1, Chain((curve,))))))
    assert [type(s) for s in got] == [Cubic, Line, Cubic]
    upper, put, lower = got
    (t,) = curve.meets(Point(0.0, AT), Point(1.0, 0.0) - Point(0.0, 0.0))
    assert upper == curve.split(t)[0]
    near(put.length(), 40.0, "stretch put in")
    near(put.tangent(0.0).y, 1.0, "along the grain")
    near(lower.length(), curve.split(t)[1].length(), "lower half")


def test_folding_undoes_the_opening_of_a_line() -> None:
    mark = line(Kind.INNER, 1, Point(0.0, 200.0), Point(50.0, 300.0))
    opened = changed(40.0, mark).piece
    back = put_in(opened, AT, -40.0, blend=60.0).piece.marks[0]
    assert chain(back) == chain(mark)


def test_a_slanting_line_is_cut_and_joined_where_length_is_folded_out() -> None:
    mark = line(Kind.INNER, 1, Point(0.0, 200.0), Point(100.0, 400.0))
    got = chain(only(changed(-40.0, mark)))
    wanted = [Point(0.0, 200.0), Point(25.0, 250.0), Point(45.0, 250.0), Point(100.0, 360.0)]
    assert got == Chain.through(wanted)


def test_a_line_that_ends_in_the_folded_part_is_cut_and_named() -> None:
    altered = changed(-40.0, line(Kind.INNER, 1, Point(0.0, 200.0), Point(35.0, 270.0)))
    assert chain(only(altered)) == Chain.through([Point(0.0, 200.0), Point(25.0, 250.0)])
    assert told(altered) == [
        "Panel: an inner line ended in the part that is folded out and was cut."
    ]


def test_lines_on_one_side_stay_the_same_or_move() -> None:
    high = line(Kind.INNER, 1, Point(0.0, 100.0), Point(30.0, 200.0))
    low = line(Kind.INNER, 2, Point(0.0, 400.0), Point(30.0, 450.0))
    got = changed(40.0, high, low).piece.marks
    assert got[0] is high
    assert chain(got[1]) == Chain.through([Point(0.0, 440.0), Point(30.0, 490.0)])


def test_a_line_from_seam_to_seam_ends_on_the_redrawn_seams() -> None:
    """A knee line 30 below the line, inside the blend."""
    half = width_at(tapered(220.0, 180.0, 600.0), 280.0) / 2
    altered = changed(40.0, line(Kind.INNER, 1, Point(-half, 280.0), Point(half, 280.0)))
    got = chain(only(altered))
    for end in (got.start, got.end):
        near(altered.piece.ring.nearest(end).distance, 0.0, "end on the seam")
        near(end.y, 320.0, "height")
    near(got.length(), width_at(altered.piece, 320.0), "from seam to seam")


def square(key: int, top: float, size: float, kind: Kind = Kind.INNER) -> Mark:
    corners = [Point(0, top), Point(size, top), Point(size, top + size), Point(0, top + size)]
    return Mark(kind, key, Ring.polygon(corners))


@pytest.mark.parametrize(
    ("top", "amount", "step"),
    [(100.0, 40.0, 0.0), (300.0, 40.0, 40.0), (200.0, 40.0, 40.0), (180.0, 40.0, 0.0),
     (300.0, -40.0, -40.0), (240.0, -40.0, -40.0), (170.0, -40.0, 0.0)],
)  # fmt: skip
def test_a_pocket_goes_whole_with_its_larger_part(top: float, amount: float, step: float) -> None:
    pocket = square(1, top, 110.0)
    altered = changed(amount, pocket)
    got = chain(only(altered))
    near(got.bounds().y0, top + step, "top")
    near(got.length(), 440.0, "still the same square")
    crosses = top < AT + max(0.0, -amount) and top + 110.0 > AT
    assert any("crosses the line" in sentence for sentence in told(altered)) == crosses


def test_what_lies_in_the_folded_part_is_gone_and_named() -> None:
    marks = (
        Mark(Kind.DRILL, 1, Point(0.0, 270.0)),
        line(Kind.NOTCH, 2, Point(-100.9, 273.0), Point(-94.9, 273.0)),
        line(Kind.INNER, 3, Point(0.0, 255.0), Point(30.0, 285.0)),
        square(4, 255.0, 20.0),
        Mark(Kind.TEXT, 5, Point(10.0, 270.0), "cut two"),
        Mark(Kind.DRILL, 6, Point(0.0, 290.5)),
    )
    altered = changed(-40.0, *marks)
    assert [m.shape for m in altered.piece.marks] == [5, 6], "writing comes up, the rest is gone"
    for kind in (Kind.DRILL, Kind.NOTCH, Kind.INNER):
        assert any(kind.value in s and "is gone" in s for s in told(altered)), kind
    writing, hole = (m.geometry for m in altered.piece.marks)
    assert writing == Point(10.0, AT)
    assert hole == Point(0.0, 250.5)


def test_the_grain_line_grows_and_keeps_its_direction() -> None:
    shaft = line(Kind.GRAIN, 1, Point(12.0, 150.0), Point(12.0, 450.0))
    head = line(Kind.GRAIN, 2, Point(8.0, 160.0), Point(12.0, 150.0), Point(16.0, 160.0))
    for amount in (40.0, -40.0):
        grown, arrow = (chain(m) for m in changed(amount, shaft, head).piece.marks)
        assert grown == Chain.through([Point(12.0, 150.0), Point(12.0, 450.0 + amount)])
        assert arrow == chain(head), "the arrow stays as it is"


@pytest.mark.parametrize(
    ("top", "low", "wanted"),
    [(20.0, 200.0, (20.0, 200.0)), (300.0, 500.0, (260.0, 460.0)), (270.0, 500.0, (250.0, 460.0)),
     (100.0, 270.0, (100.0, 250.0)), (255.0, 285.0, (220.0, 250.0))],
)  # fmt: skip
def test_the_grain_line_is_never_lost(top: float, low: float, wanted: tuple[float, float]) -> None:
    got = chain(only(changed(-40.0, line(Kind.GRAIN, 1, Point(3.0, top), Point(3.0, low)))))
    near(got.start.y, wanted[0], "upper end")
    near(got.end.y, wanted[1], "lower end")
    assert got.start.x == got.end.x == 3.0


@pytest.mark.parametrize("height", [100.0, 220.0, 249.0, 251.0, 280.0, 400.0])
def test_a_notch_stays_on_the_seam_at_its_height(height: float) -> None:
    foot = Point(width_at(tapered(220.0, 180.0, 600.0), height) / 2, height)
    mark = line(Kind.NOTCH, 1, foot, Point(foot.x - 6.0, height))
    altered = changed(40.0, mark)
    got = chain(only(altered))
    near(altered.piece.ring.nearest(got.start).distance, 0.0, "foot on the seam")
    near(got.start.y, height + (40.0 if height > AT else 0.0), "height of the foot")
    near(got.length(), 6.0, "length of the notch")


def test_turn_points_go_with_their_corners_and_points_of_redrawn_seams_are_counted() -> None:
    piece = tapered(220.0, 180.0, 600.0)
    segments = list(piece.ring.segments)
    low, high = segments[1].split(0.55)
    ring = Ring((segments[0], low, high, *segments[2:]))
    places = [0, 1, 3, 4]
    edges = tuple(
        replace(e, start=Place(a, 0.0), end=Place(b, 0.0))
        for e, a, b in zip(piece.edges, places, [*places[1:], 0], strict=True)
    )
    marks = (
        Mark(Kind.TURN_POINT, 1, segments[0].start),
        Mark(Kind.TURN_POINT, 2, segments[2].start),
        Mark(Kind.CURVE_POINT, 3, high.start),
    )
    outline = replace(
        piece.outline, ring=ring, origins=(*piece.outline.origins, piece.outline.origins[0])
    )
    altered = put_in(
        replace(piece, outline=outline, edges=edges, marks=marks), AT, 40.0, blend=60.0
    )
    corner, top = altered.piece.marks
    assert corner.geometry == Point(-90.0, 640.0)
    assert top.geometry == segments[2].start
    (finding,) = altered.findings
    assert finding.severity is Severity.NOTE
    assert "a point that marked a vertex" in finding.sentence
