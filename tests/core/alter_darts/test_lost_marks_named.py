"""Nothing is lost without a word: every kind of mark in a part that is taken away."""

from __future__ import annotations

import pytest
import shapely

from core.alter.lengthen import lengthen
from core.alter.model import Altered, Change
from core.curve import Chain, Cubic, Line, Point, Ring
from core.piece.model import Kind, Mark, Piece, Shape
from core.piece.recognise import recognise

HEM = 600.0
BY = -150.0
NEW_HEM = HEM + BY


def panel(*more: Shape, slope: float = 0.0) -> Piece:
    """A panel 300 wide, 600 high on its left; `slope` is how much lower its right is."""
    ring = Ring.polygon([Point(0, 0), Point(300, 0), Point(290, HEM + slope), Point(5, HEM)])
    grain = Chain((Line(Point(60, 80), Point(60, 400)),))
    shapes = [Shape(0, ring, ("Panel",), kind=Kind.OUTLINE), Shape(1, grain, kind=Kind.GRAIN)]
    (piece,), _ = recognise([*shapes, *more])
    return piece


def line(*points: tuple[float, float]) -> Chain:
    return Chain.through([Point(*p) for p in points])


def shorter(piece: Piece, by: float = BY) -> Altered:
    return lengthen(piece, Change(by))


def told(done: Altered, word: str) -> list[str]:
    return [f.sentence for f in done.findings if word in f.sentence]


def mark(piece: Piece, key: int) -> Mark | None:
    return next((m for m in piece.marks if m.shape == key), None)


LOW = 520.0
TRIANGLE = Ring.polygon([Point(100, 480), Point(160, 480), Point(130, LOW)])
# What lies in the part that is taken away, and by what word it is named.
LOST = {
    "notch": (Shape(9, line((6.6, LOW), (12, LOW)), kind=Kind.NOTCH), "a notch"),
    "notch point": (Shape(9, Point(4.33, LOW), kind=Kind.NOTCH), "a notch"),
    "drill hole": (Shape(9, Point(150, LOW), kind=Kind.DRILL), "a drill hole"),
    "drill cross": (Shape(9, line((148, LOW), (152, LOW)), kind=Kind.DRILL), "a drill hole"),
    "pocket": (
        Shape(9, line((100, 470), (200, 470), (200, LOW)), ("front pocket",)),
        "an inner line (pocket)",
    ),
    "placement": (
        Shape(9, line((100, 480), (200, 490)), ("placement",), kind=Kind.INNER),
        "an inner line (placement)",
    ),
    "nameless": (Shape(9, line((100, 480), (160, 500)), kind=Kind.INNER), "an inner line"),
    "fold line": (Shape(9, line((100, 480), (200, 490)), kind=Kind.FOLD), "a fold line"),
    "cutout": (Shape(9, TRIANGLE, kind=Kind.CUTOUT), "an inner cutout"),
    "closed pocket": (Shape(9, TRIANGLE, ("pocket",)), "an inner line (pocket)"),
    "turn point": (Shape(9, Point(298.0, LOW), kind=Kind.TURN_POINT), "a turn point"),
}  # fmt: skip


@pytest.mark.parametrize("which", list(LOST))
def test_what_lies_in_the_removed_part_is_named_by_what_it_is(which: str) -> None:
    shape, words = LOST[which]
    piece = panel(shape)
    assert mark(piece, 9) is not None, "it is not on the piece"
    done = shorter(piece)
    assert mark(done.piece, 9) is None
    assert len(told(done, words)) == 1, [f.sentence for f in done.findings]
    assert "gone" in told(done, words)[0]


@pytest.mark.parametrize("which", list(LOST))
def test_made_longer_none_of_them_is_lost(which: str) -> None:
    done = lengthen(panel(LOST[which][0]), Change(80.0))
    assert mark(done.piece, 9) is not None
    assert not told(done, "gone")


def test_many_vertex_points_are_named_together() -> None:
    points = [Shape(20 + k, Point(298 - k, 480 + 10 * k), kind=Kind.CURVE_POINT) for k in range(5)]
    done = shorter(panel(*points))
    lost = 5 - sum(m.kind is Kind.CURVE_POINT for m in done.piece.marks)
    assert lost > 1
    (sentence,) = told(done, "curve points")
    assert f"{lost} curve points" in sentence


def test_writing_comes_up_instead_of_being_lost() -> None:
    done = shorter(panel(Shape(9, Point(150, LOW), kind=Kind.TEXT, text="cut 2")))
    kept = mark(done.piece, 9)
    assert kept is not None
    assert isinstance(kept.geometry, Point)
    assert kept.geometry.y < NEW_HEM
    assert not told(done, "gone")


@pytest.mark.parametrize(
    ("top", "low"), [(80.0, 400.0), (80.0, 590.0), (300.0, 590.0), (470.0, 590.0)]
)
def test_the_grain_line_is_never_lost(top: float, low: float) -> None:
    ring = Ring.polygon([Point(0, 0), Point(300, 0), Point(290, HEM), Point(5, HEM)])
    grain = Shape(1, line((60, top), (60, low)), kind=Kind.GRAIN)
    (piece,), _ = recognise([Shape(0, ring, ("Panel",), kind=Kind.OUTLINE), grain])
    done = lengthen(piece, Change(BY))
    kept = mark(done.piece, 1)
    assert kept is not None
    assert isinstance(kept.geometry, Chain)
    ends = sorted(p.y for p in (kept.geometry.start, kept.geometry.end))
    assert ends[1] <= NEW_HEM - min(15.0, HEM - low) + 1e-9, f"too near to the hem: {ends}"
    assert ends[1] - ends[0] >= 0.3 * (low - top) - 1e-9, f"too little is left of it: {ends}"


@pytest.mark.parametrize("kind", [Kind.INNER, Kind.FOLD])
@pytest.mark.parametrize("downwards", [True, False])
def test_a_line_across_the_new_hem_is_cut_back_to_it(kind: Kind, downwards: bool) -> None:
    ends = ((120.0, 100.0), (130.0, 560.0))
    shape = Shape(9, line(*(ends if downwards else ends[::-1])), kind=kind)
    done = shorter(panel(shape))
    kept = mark(done.piece, 9)
    assert kept is not None
    assert isinstance(kept.geometry, Chain)
    low = max((kept.geometry.start, kept.geometry.end), key=lambda p: p.y)
    off = done.piece.ring.nearest(low).distance
    assert off <= 0.01, f"its end lies {off} mm off the new hem"
    assert not told(done, "gone")


@pytest.mark.parametrize("slope", [0.0, 20.0, -20.0])
def test_a_fold_line_along_the_edge_is_cut_back_to_the_end_of_the_edge(slope: float) -> None:
    """Also on the lower side of a hem that slopes."""
    piece = panel(slope=slope)
    edge = line((300.0, 0.0), (290.0, HEM + slope))
    with_fold = panel(Shape(9, edge, kind=Kind.FOLD), slope=slope)
    done = shorter(with_fold)
    kept = mark(done.piece, 9)
    assert kept is not None
    assert isinstance(kept.geometry, Chain)
    wanted = shorter(piece).piece
    assert wanted.hem is not None
    corner = max(
        (wanted.ring.at(t.place) for t in (wanted.hem.first, wanted.hem.last)), key=lambda p: p.x
    )
    off = min(p.distance(corner) for p in (kept.geometry.start, kept.geometry.end))
    assert off <= 0.05, f"wanted its end on the new corner, got {off} mm off"


def test_of_a_line_that_crosses_twice_the_longest_part_stays_and_the_rest_is_named() -> None:
    pocket = line((100, 300), (100, 500), (200, 500), (200, 350))
    done = shorter(panel(Shape(9, pocket, ("pocket",))))
    kept = mark(done.piece, 9)
    assert kept is not None
    assert isinstance(kept.geometry, Chain)
    assert kept.geometry.start == Point(100, 300)
    assert abs(kept.geometry.length() - (NEW_HEM - 300.0)) < 0.01
    (sentence,) = told(done, "several times")
    assert "pocket" in sentence


def test_of_a_line_with_both_ends_taken_away_the_middle_stays() -> None:
    arch = Chain((Cubic(Point(80, 540), Point(90, 300), Point(210, 300), Point(220, 540)),))
    done = shorter(panel(Shape(9, arch, ("pocket",))))
    kept = mark(done.piece, 9)
    assert kept is not None, "its middle lies above the new hem"
    assert isinstance(kept.geometry, Chain)
    assert not told(done, "gone")
    for p in (kept.geometry.start, kept.geometry.end):
        assert abs(p.y - NEW_HEM) < 0.01
    cloth = shapely.Polygon(done.piece.ring.flattened(tolerance=0.002)).buffer(0.02)
    assert cloth.contains(shapely.LineString(kept.geometry.flattened(tolerance=0.01)))


@pytest.mark.parametrize("kind", [Kind.CUTOUT, Kind.INNER, Kind.DART])
def test_a_shape_that_is_kept_whole_but_reaches_below_is_named(kind: Kind) -> None:
    ring = Ring.polygon([Point(100, 300), Point(160, 300), Point(130, 480)])
    done = shorter(panel(Shape(9, ring, kind=kind)))
    kept = mark(done.piece, 9)
    assert kept is not None
    assert kept.geometry == ring
    assert len(told(done, "reaches into")) == 1, [f.sentence for f in done.findings]


def test_a_closed_line_in_the_hem_that_goes_along_is_not_complained_of() -> None:
    ring = Ring.polygon([Point(100, 604), Point(160, 604), Point(130, 612)])
    low = Ring.polygon(
        [Point(0, 0), Point(300, 0), Point(290, HEM), Point(150, 640), Point(5, HEM)]
    )
    grain = Shape(1, line((60, 80), (60, 400)), kind=Kind.GRAIN)
    shapes = [Shape(0, low, ("Panel",), kind=Kind.OUTLINE), grain, Shape(9, ring, kind=Kind.INNER)]
    (piece,), _ = recognise(shapes)
    done = shorter(piece)
    assert not told(done, "reaches into")
