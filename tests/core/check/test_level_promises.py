"""The promises of a change at a level hold on sound changes, and each can be seen to fail."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import event, given
from hypothesis import strategies as st

from core.alter.level.insert import insert_at
from core.alter.level.model import LevelChange, Truing
from core.alter.level.together import insert_together
from core.alter.model import Altered, Finding, Severity
from core.check.promises import broken_between, broken_promises
from core.check.seams import joined, mates_of
from core.curve import Point, Ring, Segment, Vector
from core.curve.ends import with_ends
from core.errors import AlterationError
from core.files import read_bytes
from core.piece.mates import Mates
from core.piece.model import Because, ContourDart, Origin, Outline, Piece, Role
from tests.core.alter_level.panels import polygon, put_in, tapered, with_waist_dart
from tests.core.alter_level.where import Where, wheres
from tests.laws.generate import Drawn, changes, drawn
from tests.laws.sketch import Garment, SeamPlan, Sketch

PANEL = tapered(300.0, 220.0, 800.0)

WHERES = wheres(least_blend=20.0)
sound = st.one_of(
    drawn(rounded=False),
    drawn(darts=False),
    drawn(rounded=False, stitched=True),
    drawn(darts=False, stitched=True),
)


@given(sound, WHERES, changes)
def test_no_false_alarm_at_a_level(case: Drawn, where: Where, by: float) -> None:
    try:
        altered = insert_at(case.piece, where.change(case.piece, by))
    except AlterationError:
        event("refused")
        return
    stops = [f for f in broken_promises(altered) if f.severity is Severity.STOP]
    assert not stops, f"wanted no broken promise, got {stops}"


def sound_one(by: float = 30.0, at: float = 300.0, piece: Piece = PANEL) -> Altered:
    """The panel's segments: hem, side, waist, inseam; each seam in three parts afterwards."""
    altered = put_in(piece, at, by)
    assert broken_promises(altered) == ()
    return altered


def with_ring(altered: Altered, segments: Sequence[Segment]) -> Altered:
    outline = Outline(Ring(tuple(segments)), tuple(Origin(0, k) for k in range(len(segments))))
    return replace(altered, piece=replace(altered.piece, outline=outline))


def moved_joint(altered: Altered, near: Point, step: Vector) -> Altered:
    """The altered piece with the joint nearest to a point elsewhere."""
    segments = list(altered.piece.ring.segments)
    k = min(range(len(segments)), key=lambda k: segments[k].start.distance(near))
    p = segments[k].start + step
    segments[k - 1] = with_ends(segments[k - 1], segments[k - 1].start, p)
    segments[k] = with_ends(segments[k], p, segments[k].end)
    return with_ring(altered, segments)


def the_only(found: Sequence[Finding], words: str, severity: Severity = Severity.STOP) -> Finding:
    told = [f for f in found if words in f.sentence]
    assert len(told) == 1, f"wanted {words!r} once, got {[f.sentence for f in found]}"
    assert told[0].severity is severity, told[0]
    assert told[0].piece is not None
    assert told[0].piece.name == "Panel"
    return told[0]


WAIST, HEM = Point(150.0, 0.0), Point(110.0, 830.0)


def test_a_waist_corner_moved_by_a_hair_is_found_there() -> None:
    wrong = moved_joint(sound_one(), WAIST, Vector(0.0, 2e-5))
    told = the_only(broken_promises(wrong), "neither as it was nor moved")
    assert told.place is not None
    assert told.place.distance(WAIST) < 301.0, f"wanted a place at the waist, got {told.place}"


def test_a_hem_that_went_down_by_another_amount_is_found() -> None:
    """The whole hem 0.01 mm lower than asked for, as wide as it was."""
    wrong = moved_joint(sound_one(), HEM, Vector(0.0, 0.01))
    wrong = moved_joint(wrong, Point(-110.0, 830.0), Vector(0.0, 0.01))
    told = the_only(broken_promises(wrong), "neither as it was nor moved")
    assert told.place is not None
    assert told.place.y > 500.0, f"wanted a place below the line, got {told.place}"


def test_a_seam_that_left_its_line_beyond_the_truing_is_found() -> None:
    """The lower end of what was trued, 110 mm below the line, goes aside: so does the rest."""
    wrong = moved_joint(sound_one(), Point(125.0, 430.0), Vector(0.5, 0.0))
    the_only(broken_promises(wrong), "neither as it was nor moved")


def test_a_hem_in_other_segments_is_found() -> None:
    """The hem stands in one line where it was drawn in three."""
    altered = sound_one()
    segments = list(altered.piece.ring.segments)
    k = next(k for k, s in enumerate(segments) if s.start.y == s.end.y == 830.0)
    segments[k : k + 1] = segments[k].split(0.5)
    the_only(broken_promises(with_ring(altered, segments)), "neither as it was nor moved")


def test_a_hem_of_another_width_is_found_at_the_hem() -> None:
    wrong = moved_joint(sound_one(), HEM, Vector(1.0, 0.0))
    told = the_only(broken_promises(wrong), "the hem was 22.00 cm wide and is 22.10 cm")
    assert told.place is not None
    assert told.place.y == 830.0


def test_a_line_near_the_hem_tells_that_the_hem_angle_changed() -> None:
    """Trued straight down to the hem corner: a look, not a stop; from further up nothing."""
    found = broken_promises(put_in(PANEL, 700.0, 60.0))
    told = [f for f in found if "the angle between the hem" in f.sentence]
    assert [f.severity for f in told] == [Severity.LOOK, Severity.LOOK]
    assert all(f.place is not None and f.place.y == 860.0 for f in told)


@pytest.mark.parametrize("by", [30.0, -30.0])
def test_a_dart_carried_across_keeps_what_it_takes_in(by: float) -> None:
    altered = sound_one(by, 60.0, with_waist_dart(0.0))
    (dart,) = altered.piece.darts
    wide = replace(dart, mouth=(dart.mouth[0] + Vector(0.02, 0.0), dart.mouth[1]))
    wrong = replace(altered, piece=replace(altered.piece, darts=(wide,)))
    told = the_only(broken_promises(wrong), "a dart takes in")
    assert told.place == dart.apex
    lean = replace(dart, apex=dart.apex + Vector(1.0, 0.0))
    wrong = replace(altered, piece=replace(altered.piece, darts=(lean,)))
    the_only(broken_promises(wrong), "the legs of a dart differ")


def test_a_contour_dart_keeps_what_it_takes_in() -> None:
    dart = ContourDart(
        (Point(0.0, 100.0), Point(0.0, 260.0)),
        (Point(-10.0, 180.0), Point(10.0, 180.0)),
        Because(True, "drawn so"),
        (7,),
    )
    altered = sound_one(30.0, 220.0, replace(PANEL, contours=(dart,)))
    (now,) = altered.piece.contours
    wide = replace(now, sides=(now.sides[0] + Vector(-0.5, 0.0), now.sides[1]))
    wrong = replace(altered, piece=replace(altered.piece, contours=(wide,)))
    told = the_only(broken_promises(wrong), "a contour dart takes in 20.5 mm instead of 20.0 mm")
    assert told.place == now.centre
    lost = replace(altered, piece=replace(altered.piece, contours=()))
    assert the_only(broken_promises(lost), "contour darts was 1 and is 0").place == dart.centre


def test_an_outline_that_crosses_itself_is_found() -> None:
    wrong = moved_joint(sound_one(), HEM, Vector(-400.0, -300.0))
    told = the_only(broken_promises(wrong), "crosses itself")
    assert "choose another line" in told.sentence


def test_a_lost_corner_is_found() -> None:
    """The waist's middle stood up in a corner and was flattened."""
    peak = Point(0.0, -70.0)
    corners = [Point(-110.0, 800.0), Point(110.0, 800.0), WAIST, peak, Point(-150.0, 0.0)]
    roles = (Role.HEM, Role.SIDE, Role.WAIST, Role.WAIST, Role.INSEAM)
    altered = sound_one(30.0, 400.0, polygon(corners, roles))
    wrong = moved_joint(altered, peak, Vector(0.0, 70.0))
    told = the_only(broken_promises(wrong), "a corner was lost: it had 5 and has 4")
    assert told.place == peak


def test_a_corner_that_comes_of_truing_over_nothing_is_looked_at() -> None:
    found = broken_promises(put_in(tapered(600.0, 200.0, 400.0), 200.0, 80.0, blend=10.0))
    told = the_only(found, "a corner came up", Severity.LOOK)
    assert "over more of their length" in told.sentence
    assert told.place is not None


def test_a_corner_that_truing_took_is_looked_at() -> None:
    """A hollow rise that is trued straight down to the crotch point, 14 mm below the line."""
    sketch = Sketch(Garment.LEG, 482.0, 230.0, SeamPlan(0.0), SeamPlan(0.0), with_marks=False)
    piece = sketch.piece()
    found = broken_promises(put_in(piece, 482.0 * 0.25, 27.0))
    (told,) = [f for f in found if "a corner was lost" in f.sentence]
    assert told.severity is Severity.LOOK
    assert "over less of their length" in told.sentence


def test_longer_but_not_larger_is_looked_at() -> None:
    longer, shorter = sound_one(30.0), sound_one(-30.0)
    wrong = replace(longer, piece=shorter.piece)
    the_only(broken_promises(wrong), "longer but not larger", Severity.LOOK)


def test_a_lost_hem_is_found() -> None:
    altered = sound_one()
    wrong = replace(altered, piece=replace(altered.piece, hem=None))
    the_only(broken_promises(wrong), "the hem was lost")


def changed_at(
    ats: tuple[float, float], bys: tuple[float, float], hems: tuple[float, float]
) -> tuple[Finding, ...]:
    """What is found between a front and a back of these hem widths, changed at these levels."""
    altered = [
        put_in(replace(tapered(300.0, hems[k], 800.0), key=k, name=name), ats[k], bys[k])
        for k, name in enumerate(("Front", "Back"))
    ]
    joint = Mates((0, Role.SIDE), (1, Role.SIDE), Because(True, "drawn so"))
    return broken_between(joined(altered, (joint,))[0])


def test_mates_changed_alike_at_a_level_are_parted_by_the_truing_only() -> None:
    assert changed_at((300.0, 300.0), (30.0, 30.0), (220.0, 220.0)) == ()
    (told,) = changed_at((300.0, 300.0), (60.0, 60.0), (220.0, 100.0))
    assert told.severity is Severity.NOTE
    assert "truing seams that lean differently" in told.sentence
    assert told.place is not None


def test_mates_changed_by_different_amounts_at_a_level_are_a_stop() -> None:
    (told,) = changed_at((300.0, 300.0), (30.0, 31.0), (220.0, 220.0))
    assert told.severity is Severity.STOP
    assert "Change both pieces together" in told.sentence
    (told,) = changed_at((300.0, 300.0), (30.0, 0.0), (220.0, 220.0))
    assert told.severity is Severity.STOP


def bent_skirt() -> Sequence[Piece]:
    """Two halves of a skirt, the back's side seam bent far more over the hip."""
    groups = (
        f'<g id="Skirt {name}"><path d="M{x} 0H{x + 200}C{x + 200 + bend} 80 {x + 240 + bend} 160'
        f' {x + 230} 300C{x + 225} 360 {x + 215} 420 {x + 210} 700H{x}Z"/>'
        f'<path class="grain" d="M{x + 60} 100V600"/></g>'
        for name, x, bend in (("front", 50, 10), ("back", 500, 45))
    )
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="1000mm" height="1000mm"'
        f' viewBox="0 0 1000 1000">{"".join(groups)}</svg>'
    )
    return read_bytes(Path("skirt.svg"), text.encode()).pieces


@pytest.mark.parametrize("by", [1.0, -1.0, 2.0])
def test_a_bent_seam_trued_over_a_small_amount_is_no_stop(by: float) -> None:
    """Both were changed together, and truing took more than half of the amount: the maker was
    stopped, and told to change them together."""
    change = LevelChange(150.0, by, true=Truing.STRAIGHT)
    altered = insert_together(bent_skirt(), change)
    (told,) = broken_between(joined(altered, mates_of(altered))[0])
    assert told.severity is not Severity.STOP
    assert "truing seams that lean differently" in told.sentence


def test_a_line_that_only_one_of_the_seams_crosses_is_a_stop() -> None:
    """Told that both were changed by as much; but of one the seam is as long as it was."""
    altered = insert_together(bent_skirt(), LevelChange(150.0, 30.0))
    pair, *_ = joined(altered, mates_of(altered))[0]
    still = replace(pair.second, after=pair.second.before)
    (told,) = broken_between((replace(pair, second=still),))
    assert told.severity is Severity.STOP
