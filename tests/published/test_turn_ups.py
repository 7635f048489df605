"""Turn-ups on tapered panels: the edge of a turn-up must be as wide as the leg it folds up on.

Closed form for a panel of width w at the fold, inset i over a height H (both seams together),
turn-up of depth d: mirrored edge w + 2 d i' / H, carried-on edge w - 2 d i' / H, where i' is the
inset of one seam. Sewing columns (2012 and later) tell of a worked case: 9 5/8 in are needed
where carrying the seam on gives 9 3/8 in.
"""

from __future__ import annotations

import math

import pytest

from core.alter.lengthen import lengthen
from core.alter.model import Altered, Change, Severity, TurnUp
from core.check import check_all
from core.curve import Affine, Chain, Line, Point, Ring
from core.measure import MM_PER_INCH
from core.piece.model import Kind, Piece, Shape
from core.piece.recognise import recognise
from tests.laws.compare import close

SEAM = 10.0


def rings(
    above: float, below: float, high: float, depth: float, *, mirrored: bool, seam: float = SEAM
) -> tuple[Ring, Ring]:
    """Stitching and cutting line of a panel, from the hem's right end leftwards."""
    inset = (above - below) / 2
    slope = inset / high
    aside = seam * math.sqrt(1.0 + slope * slope)

    def side(y: float) -> float:
        """Half the width of the cutting line at height y."""
        return above / 2 - slope * y + aside

    edge = side(high - depth) if mirrored else side(high + depth)
    sewn = [(below / 2, high), (-below / 2, high), (-above / 2, 0.0), (above / 2, 0.0)]
    fold = [(side(high), high)] if mirrored else []
    right = [*fold, (edge, high + depth)]
    left = [(-x, y) for x, y in reversed(right)]
    cut = [*right, *left, (-side(-seam), -seam), (side(-seam), -seam)]
    return Ring.polygon(Point(*p) for p in sewn), Ring.polygon(Point(*p) for p in cut)


def recognised(sewn: Ring, cut: Ring, grain: Line) -> Piece:
    (piece,), _ = recognise(
        [
            Shape(0, cut, ("cutting line",)),
            Shape(1, sewn, ("stitching line",)),
            Shape(2, Chain((grain,)), kind=Kind.GRAIN),
            Shape(3, Chain((_lowest(sewn, grain),)), ("hem",)),
        ]
    )
    return piece


def _lowest(sewn: Ring, grain: Line) -> Line:
    """The hem: of the four sides the one that lies furthest along the grain."""
    way = grain.end - grain.start
    side = max(sewn, key=lambda s: (s.at(0.5) - grain.start).dot(way))
    return Line(side.start, side.end)


def panel(
    above: float, below: float, high: float, depth: float, *, mirrored: bool, seam: float = SEAM
) -> Piece:
    sewn, cut = rings(above, below, high, depth, mirrored=mirrored, seam=seam)
    return recognised(sewn, cut, Line(Point(0.0, 60.0), Point(0.0, high - 60.0)))


def edge_width(piece: Piece, seam: float, slope: float) -> float:
    """Width of the turn-up's edge between the seams, in mm."""
    lowest = max(s.start.y for s in piece.outline.ring)
    xs = [s.start.x for s in piece.outline.ring if abs(s.start.y - lowest) < 1e-6]
    return max(xs) - min(xs) - 2.0 * seam * math.sqrt(1.0 + slope * slope)


def looks(altered: Altered) -> list[str]:
    found = [f.sentence for f in altered.findings if f.severity is Severity.LOOK]
    return [sentence for sentence in found if "turn-up" in sentence]


# The panel 22 above, 18 below, 60 high (cm), reached from one that is 6 cm shorter or 3 cm longer.
REACHED = [(540.0, 60.0), (630.0, -30.0)]


def starting(high: float, *, mirrored: bool) -> Piece:
    return panel(220.0, 220.0 - 40.0 * high / 600.0, high, 30.0, mirrored=mirrored)


@pytest.mark.parametrize(("high", "by"), REACHED)
def test_a_mirrored_turn_up_stays_mirrored_for_the_new_taper(high: float, by: float) -> None:
    altered = lengthen(starting(high, mirrored=True), Change(by))
    close(altered.figures.hem_width_after_mm, 180.0, 1e-6, "the fold")
    close(edge_width(altered.piece, SEAM, 20.0 / 600.0), 182.0, 1e-6, "the mirrored edge")
    assert looks(altered) == []


@pytest.mark.parametrize(("high", "by"), REACHED)
def test_a_carried_on_turn_up_is_kept_and_told_with_both_widths(high: float, by: float) -> None:
    altered = lengthen(starting(high, mirrored=False), Change(by))
    close(edge_width(altered.piece, SEAM, 20.0 / 600.0), 178.0, 1e-6, "the carried-on edge")
    (told,) = looks(altered)
    assert "17.80 cm" in told
    assert "18.20 cm" in told
    assert "pucker" in told


@pytest.mark.parametrize("mirrored", [True, False])
@pytest.mark.parametrize(("high", "by"), REACHED)
def test_a_turn_up_is_redrawn_mirrored_when_asked(high: float, by: float, mirrored: bool) -> None:
    change = Change(by, turn_up=TurnUp.MIRROR)
    altered = lengthen(starting(high, mirrored=mirrored), change)
    close(edge_width(altered.piece, SEAM, 20.0 / 600.0), 182.0, 1e-6, "the mirrored edge")
    assert looks(altered) == []


@pytest.mark.parametrize("mirrored", [True, False])
@pytest.mark.parametrize("above", [260.0, 220.0, 180.0, 150.0])
@pytest.mark.parametrize("depth", [16.0, 1.25 * MM_PER_INCH, 1.5 * MM_PER_INCH, 76.2])
def test_both_widths_in_closed_form(above: float, depth: float, mirrored: bool) -> None:
    """Depths of trouser turn-ups (1 1/4 and 1 1/2 in) and of a deep hem (3 in): handbooks."""
    below, high, by = 180.0, 600.0, 75.0
    slope = (above - below) / 2 / high
    altered = lengthen(panel(above, below, high, depth, mirrored=mirrored), Change(by))
    fold = below - 2.0 * slope * by
    wanted = fold + (2.0 if mirrored else -2.0) * depth * slope
    close(edge_width(altered.piece, SEAM, slope), wanted, 1e-6, "the turn-up's edge")


@pytest.mark.parametrize("depth", [39.0, 50.0, 76.2])
@pytest.mark.parametrize("seam", [6.0, SEAM, 15.0])
def test_a_turn_up_many_times_as_deep_as_its_seam_allowance_is_one(
    depth: float, seam: float
) -> None:
    """Its corner lay further from the stitching line's than four seam allowances (40 mm of them
    beside 10 mm), and was not known: nothing was told, and to mirror it was refused."""
    piece = panel(220.0, 180.0, 600.0, depth, mirrored=False, seam=seam)
    (told,) = looks(lengthen(piece, Change(60.0)))
    assert "pucker" in told
    mirrored = lengthen(piece, Change(60.0, turn_up=TurnUp.MIRROR))
    assert looks(mirrored) == []
    slope = 20.0 / 600.0
    close(edge_width(mirrored.piece, seam, slope), 176.0 + 2.0 * depth * slope, 1e-6, "its edge")


def test_a_plain_narrow_hem_is_no_turn_up() -> None:
    altered = lengthen(panel(220.0, 180.0, 600.0, 12.0, mirrored=False), Change(60.0))
    assert looks(altered) == []
    asked = Change(60.0, turn_up=TurnUp.MIRROR)
    (told,) = looks(lengthen(panel(220.0, 180.0, 600.0, 12.0, mirrored=False), asked))
    assert "no turn-up" in told


def test_a_turn_up_on_a_straight_leg_has_nothing_to_tell() -> None:
    altered = lengthen(panel(180.0, 180.0, 600.0, 30.0, mirrored=False), Change(60.0))
    assert looks(altered) == []


@pytest.mark.parametrize("mirrored", [True, False])
def test_above_the_fold_the_cutting_line_stays_bit_for_bit(mirrored: bool) -> None:
    piece = panel(220.0, 180.0, 600.0, 30.0, mirrored=mirrored)
    after = lengthen(piece, Change(60.0)).piece
    kept = [s.start for s in piece.outline.ring if s.start.y < 500.0]
    assert all(any(s.start == p for s in after.outline.ring) for p in kept), "wanted every joint"
    assert len(after.outline.ring) == len(piece.outline.ring), "wanted no joint more or less"
    first = min(s.start.y for s in after.outline.ring if s.start.y > 500.0)
    assert first >= 659.0, f"wanted no joint left beside the longer seam, got one at {first}"


def to_a_file(ring: Ring) -> Ring:
    """The corners as a file with two decimals gives them."""
    return Ring.polygon(Point(round(s.start.x, 2), round(s.start.y, 2)) for s in ring)


@pytest.mark.parametrize("mirrored", [True, False])
@pytest.mark.parametrize("above", [220.0, 213.7, 262.3])
@pytest.mark.parametrize("by", [7.3, 60.0])
def test_a_turn_up_that_is_mirrored_leaves_no_joint_where_it_folded_before(
    above: float, by: float, mirrored: bool
) -> None:
    """In a file the cutting line leaves its seam by a hundredth of a mm on its way. Where the
    longer one met the fold was taken square to the seam: off that line by a millionth of a mm, so
    it stayed in two parts, and that was told as something above the taper points that changed."""
    lines = [to_a_file(r) for r in rings(above, 180.0, 600.0, 40.0, mirrored=mirrored)]
    piece = recognised(*lines, Line(Point(0.0, 60.0), Point(0.0, 540.0)))
    altered = lengthen(piece, Change(by, turn_up=TurnUp.MIRROR))
    stops = [f.sentence for f in check_all([altered]) if f.severity is Severity.STOP]
    assert stops == []
    sides = [s for s in altered.piece.outline.ring if s.start.y < 500.0 <= s.end.y]
    close(max(s.end.y for s in sides), 600.0 + by, 0.2, "the seam's cutting line, in one, ends at")


@pytest.mark.parametrize("by", [20.0, 60.0, 150.0])
@pytest.mark.parametrize("aside", [0.1, -0.1])
def test_a_turn_up_is_mirrored_at_the_new_fold_where_its_corner_would_have_fitted(
    aside: float, by: float
) -> None:
    """Of a line that leaves its seam by 0.1 mm down to the corner that corner was kept, 60 mm
    above the new one, and the side of the turn-up was drawn from there."""
    sewn, cut = rings(220.0, 180.0, 600.0, 40.0, mirrored=False)
    low = max(s.start.y for s in cut)

    def drawn(p: Point) -> Point:
        return Point(p.x + math.copysign(aside, p.x), p.y) if p.y == low else p

    line = Ring.polygon(drawn(s.start) for s in cut)
    piece = recognised(sewn, line, Line(Point(0.0, 60.0), Point(0.0, 540.0)))
    altered = lengthen(piece, Change(by, turn_up=TurnUp.MIRROR))
    assert looks(altered) == []
    slope = 20.0 / 600.0
    wanted = 180.0 - 2.0 * slope * by + 2.0 * 40.0 * slope
    close(edge_width(altered.piece, SEAM, slope), wanted, 0.3, "the mirrored edge")
    joints = {s.start.y for s in altered.piece.outline.ring}
    assert 640.0 not in joints, "wanted nothing left of the old corner"


def test_the_fold_is_where_a_mirrored_turn_up_begins() -> None:
    piece = panel(220.0, 180.0, 600.0, 30.0, mirrored=True)
    assert piece.cutting_hem is not None
    for taper in (piece.cutting_hem.first, piece.cutting_hem.last):
        at = piece.outline.ring.at(taper.place)
        close(at.y, 600.0, 1e-9, "the joint on the fold")


@pytest.mark.parametrize("angle", [0.4, -2.0])
@pytest.mark.parametrize("flip", [1.0, -1.0])
@pytest.mark.parametrize("backwards", [(False, True), (True, False), (True, True)])
def test_the_page_and_the_direction_of_drawing_do_not_matter(
    angle: float, flip: float, backwards: tuple[bool, bool]
) -> None:
    sewn, cut = rings(220.0, 180.0, 600.0, 30.0, mirrored=True)
    pose = Affine.turn(angle) @ Affine.scale(flip, 1.0)
    grain = Line(Point(0.0, 60.0), Point(0.0, 540.0))
    wanted = lengthen(recognised(sewn, cut, grain), Change(60.0)).piece.outline.ring
    laid = [r.mapped(pose) for r in (sewn, cut)]
    laid = [r.reversed() if back else r for r, back in zip(laid, backwards, strict=True)]
    got = lengthen(recognised(laid[0], laid[1], grain.mapped(pose)), Change(60.0)).piece
    for p in (pose.point(s.start) for s in wanted):
        off = min(s.start.distance(p) for s in got.outline.ring)
        assert off <= 1e-6, f"wanted a joint at {p}, got one {off} mm off (+-1e-6)"
