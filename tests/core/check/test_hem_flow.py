"""The hem over a joined seam: closed forms of tapered panels."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.alter.model import Change, Severity
from core.alter.together import alter_together
from core.check.flow import BESIDE, Flow, HemCorner, flow, flow_finding, hem_corner
from core.check.seams import Seam, joined
from core.curve import Affine, Cubic, Line, Place, Point, Ring, Vector
from core.piece.model import Edge, Grain, HemRun, Origin, Outline, Piece, Role, Taper
from tests.core.check.panels import SURE, Panel, changed, mates
from tests.laws.pose import mapped
from tests.laws.sketch import Garment, SeamPlan, Sketch

SIDE = mates(Role.SIDE)
RIGHT = Vector(900.0, 0.0)
# The panel 22 above, 18 below, 60 high, in mm.
TAPERED = Panel("Front", 0, 220.0, 180.0, 600.0)


def seams(piece: Piece) -> tuple[Seam, Seam]:
    """Right, then left."""
    return Seam(piece, piece.edges[1]), Seam(piece, piece.edges[3])


def close(got: float | None, wanted: float, tolerance: float) -> None:
    assert got is not None
    assert abs(got - wanted) <= tolerance, f"wanted {wanted}, got {got}, tolerance {tolerance}"


def test_straight_hem_of_the_tapered_panel_meets_the_seam_at_88_degrees() -> None:
    """Closed form: 88.0908 degrees outside, so 91.9092 inside the panel; two make 176.18."""
    for seam in seams(TAPERED.piece()):
        corner = hem_corner(seam)
        assert corner is not None
        close(180.0 - math.degrees(corner.angle), 88.0908, 5e-5)
        assert corner.style_mm == 0.0
    right = seams(TAPERED.piece())[0]
    found = flow(right, right, "")
    assert found.sum is not None
    close(360.0 - math.degrees(found.sum), 176.1816, 1e-4)


def test_two_such_panels_joined_rise_to_a_peak() -> None:
    """Closed form: 20 mm along hems that lean by 2 in 60.0333: the seam stands 0.6663 above."""
    back = Panel("Back", 1, 220.0, 180.0, 600.0, at=RIGHT)
    (pair,), _ = joined(changed(TAPERED, back, by=120.0, joined=SIDE), SIDE)
    found = flow(pair.first.after, pair.second.after, pair.called)
    close(found.dip_mm, -20.0 * 2.0 / 60.0333240792, 1e-9)
    told = flow_finding(pair)
    assert told is not None
    assert told.severity is Severity.LOOK
    assert "rises to a peak of 0.7 mm at the seam. It was so before." in told.sentence
    corner = hem_corner(pair.first.after)
    assert corner is not None
    assert told.place == corner.at


def test_a_flared_panel_hangs_down_in_a_dip() -> None:
    flared = Panel("Front", 0, 180.0, 220.0, 600.0)
    back = Panel("Back", 1, 180.0, 220.0, 600.0, at=RIGHT)
    (pair,), _ = joined(changed(flared, back), SIDE)
    told = flow_finding(pair)
    assert told is not None
    assert "hangs down in a dip of 0.7 mm" in told.sentence, told.sentence


@given(st.floats(100.0, 500.0), st.floats(-0.2, 0.2), st.floats(100.0, 900.0))
def test_the_arc_square_to_both_seams_flows(bottom: float, lean: float, height: float) -> None:
    top = max(20.0, bottom + 2 * height * math.tan(lean))
    panel = Panel("Front", 0, top, bottom, height, square=True)
    right, left = seams(panel.piece())
    for pair in ((right, left), (right, right)):
        found = flow(*pair, "")
        close(found.sum, math.pi, 1e-9)
        close(found.dip_mm, 0.0, 1e-7)


@given(
    st.floats(-math.pi, math.pi), st.booleans(), st.floats(150.0, 400.0), st.floats(150.0, 400.0)
)
def test_the_page_does_not_matter(turn: float, mirror: bool, top: float, bottom: float) -> None:
    """Turned and mirrored: the same angles; and they add up with the seams' lean."""
    piece = Panel("Front", 0, top, bottom, 500.0).piece()
    flip = Affine.scale(-1.0, 1.0) if mirror else Affine.scale(1.0)
    posed = mapped(piece, Affine.turn(turn, Point(3.0, 7.0)) @ flip)
    wanted = math.pi / 2 + math.atan2((top - bottom) / 2, 500.0)
    for seam in (*seams(piece), *seams(posed)):
        corner = hem_corner(seam)
        assert corner is not None
        close(corner.angle, wanted, 1e-9)


@given(st.floats(2.0, 4.2), st.floats(0.0, 1.0))
def test_the_dip_is_the_height_over_the_joined_chord(whole: float, share: float) -> None:
    """Against a drawing: two lines of 20 mm from the seam, and their chord."""
    angles = whole * share, whole * (1.0 - share)
    found = Flow("", *(HemCorner(Point(0.0, 0.0), a) for a in angles))
    up = Vector(0.0, -1.0)
    ends = [Point(0.0, 0.0) + up.turned(a) * BESIDE for a in (angles[0], -angles[1])]
    middle = ends[0].towards(ends[1], 0.5)
    # Seen along the line that halves the angle, which need not be the seam itself.
    dip = Point(0.0, 0.0).distance(middle) * (1.0 if whole <= math.pi else -1.0)
    close(found.dip_mm, dip, 1e-9)


def styled(*, corner: bool) -> Piece:
    """A side seam that swings out below its taper point, to a corner or round into the hem."""
    taper = Point(100.0, 400.0)
    low = Point(130.0, 500.0) if corner else Point(60.0, 500.0)
    swing = (
        Cubic(low, Point(120.0, 470.0), Point(100.0, 440.0), taper)
        if corner
        else Cubic(low, Point(85.0, 500.0), Point(100.0, 450.0), taper)
    )
    first = Point(-100.0, 500.0)
    ring = Ring(
        (
            Line(first, low),
            swing,
            Line(taper, Point(100.0, 0.0)),
            Line(Point(100.0, 0.0), Point(-100.0, 0.0)),
            Line(Point(-100.0, 0.0), first),
        )
    )
    down = Vector(0.0, 1.0)
    stops = [Place(0, 0.0), *(Place(k, 0.0) for k in (2, 3, 4)), Place(0, 0.0)]
    roles = (Role.HEM, Role.SIDE, Role.WAIST, Role.INSEAM)
    return Piece(
        0,
        "Front",
        Outline(ring, tuple(Origin(0, k) for k in range(5))),
        Grain(down, SURE),
        tuple(Edge(r, stops[k], stops[k + 1], SURE) for k, r in enumerate(roles)),
        HemRun(Taper(stops[0], down, SURE), Taper(stops[1], down, SURE)),
    )


def test_a_rounded_corner_has_no_angle() -> None:
    right, left = seams(styled(corner=False))
    assert hem_corner(right) is None
    plain = hem_corner(left)
    assert plain is not None
    close(plain.angle, math.pi / 2, 1e-12)
    assert flow(right, left, "").sum is None
    assert flow(right, left, "").dip_mm is None


def test_the_angle_is_taken_at_the_true_corner_below_the_style_line() -> None:
    """The style line comes to (130, 500) with the slope of its handle, 10 across in 30."""
    piece = styled(corner=True)
    found = hem_corner(seams(piece)[0])
    assert found is not None
    assert found.at == Point(130.0, 500.0)
    close(found.angle, math.pi / 2 - math.atan2(10.0, 30.0), 1e-12)
    close(found.style_mm, piece.ring.segments[1].length(), 1e-9)


@pytest.mark.parametrize("by", [0.0, 60.0])
def test_a_corner_sewn_to_a_rounding_is_named(by: float) -> None:
    back = Panel("Back", 1, 200.0, 200.0, 500.0, at=RIGHT).piece()
    altered = alter_together([styled(corner=False), back], Change(by), mates=SIDE)
    (pair,), _ = joined(altered, SIDE)
    told = flow_finding(pair)
    assert told is not None
    assert told.severity is Severity.LOOK
    assert "only Front is rounded into the hem" in told.sentence, told.sentence


def vented_skirts(*vents: tuple[float, float] | None) -> list[Piece]:
    found = []
    for key, vent in enumerate(vents):
        plans = SeamPlan(0.0), SeamPlan(0.07, vent=vent)
        piece = Sketch(Garment.SKIRT, 600.0, 260.0, *plans).piece()
        found.append(replace(piece, key=key, name=("Front", "Back")[key]))
    return found


@pytest.mark.parametrize("by", [0.0, 60.0, -40.0])
@pytest.mark.parametrize("vent", [(25.0, 100.0), (-25.0, 100.0)])
def test_the_edges_of_vents_are_not_sewn_together_and_need_not_flow(
    vent: tuple[float, float], by: float
) -> None:
    """The top of the vent was taken for the hem there: its angles added up to 531.7 degrees, and
    the hem was to be made square."""
    for vents, severity, words in (
        ((vent, vent), Severity.WELL, "both seams end above a vent"),
        ((vent, None), Severity.LOOK, "only Front has a vent there"),
        ((None, vent), Severity.LOOK, "only Back has a vent there"),
    ):
        altered = alter_together(vented_skirts(*vents), Change(by), mates=SIDE)
        (pair,), _ = joined(altered, SIDE)
        told = flow_finding(pair)
        assert told is not None
        assert (told.severity, words in told.sentence) == (severity, True), told.sentence
