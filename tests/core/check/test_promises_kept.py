"""The promises hold on sound alterations, and each of them can be seen to fail."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import event, given
from hypothesis import strategies as st

from core.alter.lengthen import lengthen
from core.alter.model import Altered, Change, Finding, HemWay, Severity, TurnUp
from core.check.crossing import crossing
from core.check.promises import broken_between, broken_promises
from core.check.seams import joined
from core.curve import Line, Point, Ring, Segment, Vector
from core.curve.ends import with_ends
from core.errors import AlterationError
from core.piece.model import HemRun, Origin, Outline, Role
from tests.core.check.panels import Panel, changed, mates, tampered
from tests.laws.generate import Drawn, changes, drawn
from tests.laws.sketch import Garment, SeamPlan, SeamStyle, Sketch

DARTED = Panel("Front", 0, 340.0, 200.0, 240.0, dart=20.0)


def longer(by: float = 60.0) -> Altered:
    (altered,) = changed(DARTED, by=by)
    return altered


def outlined(segments: Sequence[Segment]) -> Outline:
    return Outline(Ring(tuple(segments)), tuple(Origin(0, k) for k in range(len(segments))))


def moved_joint(altered: Altered, k: int, step: Vector) -> Altered:
    """The altered piece with the start of its segment k elsewhere."""
    segments = list(altered.piece.ring.segments)
    p = segments[k].start + step
    segments[k - 1] = with_ends(segments[k - 1], segments[k - 1].start, p)
    segments[k] = with_ends(segments[k], p, segments[k].end)
    return tampered(altered, outline=outlined(segments))


def the_only(found: Sequence[Finding], words: str) -> Finding:
    assert [words in f.sentence for f in found] == [True], f"wanted {words!r}, got {found}"
    assert found[0].severity is Severity.STOP
    return found[0]


# A dart and two wide roundings may not find room in one hem, so they come one at a time.
sound = st.one_of(
    drawn(rounded=False),
    drawn(darts=False),
    drawn(rounded=False, stitched=True),
    drawn(darts=False, stitched=True),
)


@given(sound, changes)
def test_no_false_alarm_on_drawn_pieces(case: Drawn, by: float) -> None:
    try:
        altered = lengthen(case.piece, Change(by))
    except AlterationError:
        event("refused")
        return
    found = broken_promises(altered)
    assert not found, f"wanted no broken promise, got {found}"


@pytest.mark.parametrize("by", [0.0, 60.0, -60.0])
def test_a_sound_panel_keeps_all(by: float) -> None:
    assert broken_promises(longer(by)) == ()


@pytest.mark.parametrize("by", [60.0, -60.0])
def test_a_waist_moved_by_the_last_bit_is_found(by: float) -> None:
    """Segments of the panel: 0-3 hem with dart, 4 right seam, 5 waist, 6 left seam."""
    sound_one = longer(by)
    corner = sound_one.piece.ring.segments[5].start
    wrong = moved_joint(sound_one, 5, Vector(2e-12 * corner.x, 0.0))
    told = the_only(broken_promises(wrong), "above the taper points")
    assert told.place is not None
    assert told.place.distance(corner) < 300.0, f"wanted a place near {corner}, got {told.place}"


def test_a_seam_that_left_its_line_is_found() -> None:
    """The left seam was carried on, but not straight: its free end is 0.1 mm aside."""
    told = broken_promises(moved_joint(longer(), 0, Vector(0.1, 0.0)))
    the_only(told, "above the taper points")


def test_segments_in_another_order_are_found() -> None:
    altered = longer()
    segments = altered.piece.ring.segments
    halves = segments[5].split(0.5)
    wrong = tampered(altered, outline=outlined((*segments[:5], *halves, *segments[6:])))
    the_only(broken_promises(wrong), "above the taper points")


def test_an_outline_that_crosses_itself_is_found_with_the_place() -> None:
    """The apex of the hem's dart pulled out through the right seam."""
    altered = longer()
    apex = altered.piece.ring.segments[2].start
    wrong = moved_joint(altered, 2, Vector(400.0, 0.0))
    found = broken_promises(wrong)
    (told,) = [f for f in found if "crosses itself" in f.sentence]
    assert told.severity is Severity.STOP
    assert told.place is not None
    assert apex.x < told.place.x < apex.x + 400.0
    off = wrong.piece.ring.segments[4].nearest(told.place).distance
    assert off <= 1e-9, f"wanted a place on the right seam, got {told.place}, {off} off"


def test_longer_but_not_larger_is_found() -> None:
    altered = longer(-60.0)
    wrong = replace(longer(60.0), piece=altered.piece)
    assert any("longer but not larger" in f.sentence for f in broken_promises(wrong))
    grown = replace(altered, piece=longer(60.0).piece)
    assert any("shorter but larger" in f.sentence for f in broken_promises(grown))


def test_a_dart_that_takes_in_more_is_found_at_its_apex() -> None:
    altered = longer()
    (dart,) = altered.piece.darts
    wide = replace(dart, mouth=(dart.mouth[0].moved(Vector(-0.02, 0.0)), dart.mouth[1]))
    told = the_only(broken_promises(tampered(altered, darts=(wide,))), "a dart takes in 20.0 mm")
    assert told.place == dart.apex


def test_uneven_dart_legs_are_found() -> None:
    altered = longer()
    (dart,) = altered.piece.darts
    leaning = replace(dart, apex=dart.apex + Vector(1.0, 0.0))
    the_only(broken_promises(tampered(altered, darts=(leaning,))), "legs of a dart differ by 0.3")


def test_a_lost_dart_is_found() -> None:
    told = the_only(broken_promises(tampered(longer(), darts=())), "darts was 1 and is 0")
    assert told.place == DARTED.piece().darts[0].apex


def test_legs_that_were_not_equal_before_do_not_stop_the_maker() -> None:
    """Folded out through the dart they differ by 1.3 mm where it was 1.2."""
    altered = longer()
    (was,), (now,) = altered.before.darts, altered.piece.darts
    before = replace(was, apex=was.apex + Vector(0.6, 0.0))
    for aside, severity, advice in (
        (0.7, Severity.LOOK, "Make them equal."),
        (9.0, Severity.STOP, "Undo the change."),
    ):
        leaning = replace(now, apex=now.apex + Vector(aside, 0.0))
        wrong = tampered(altered, darts=(leaning,))
        wrong = replace(wrong, before=replace(wrong.before, darts=(before,)))
        (told,) = [f for f in broken_promises(wrong) if "legs of a dart" in f.sentence]
        assert (told.severity, told.sentence.endswith(advice)) == (severity, True), told


def test_a_corner_that_came_up_in_the_hem_is_found() -> None:
    altered = longer()
    first, rest = altered.piece.ring.segments[0], altered.piece.ring.segments[1:]
    kink = first.at(0.5) + Vector(0.0, 20.0)
    split = (Line(first.start, kink), Line(kink, first.end))
    wrong = tampered(
        altered, outline=outlined((*split, *rest)), hem=_one_further(altered), darts=()
    )
    wrong = replace(wrong, before=replace(wrong.before, darts=()))
    told = the_only(broken_promises(wrong), "a corner came up")
    assert told.place == kink, f"wanted {kink}, got {told.place}"


def test_a_slid_hem_that_was_cut_within_its_rounding_says_so() -> None:
    """It stopped the maker without a word of what to do."""
    plans = SeamPlan(-0.05, radius=60.0), SeamPlan(-0.12, radius=50.0)
    drawn = Sketch(Garment.LEG, 300.0, 260.0, *plans, step=6.0, noise=0.2)
    found = broken_promises(lengthen(drawn.piece(), Change(60.0, hem=HemWay.TRIM)))
    (told,) = found
    assert told.severity is Severity.LOOK
    assert "cut within its rounding. Refit it" in told.sentence


def test_a_corner_that_was_lost_is_found() -> None:
    """The dart's notch gone from the outline, the corner of its apex with it."""
    altered = longer()
    segments = altered.piece.ring.segments
    flat = (Line(segments[0].start, segments[3].end), *segments[4:])
    wrong = tampered(altered, outline=outlined(flat), hem=_one_further(altered, -3), darts=())
    wrong = replace(wrong, before=replace(wrong.before, darts=()))
    told = the_only(broken_promises(wrong), "a corner was lost: it had 7 and has 4")
    assert told.place in [s.start for s in altered.before.ring.segments[1:4]]


def _one_further(altered: Altered, by: int = 1) -> HemRun:
    hem = altered.piece.hem
    assert hem is not None
    place = replace(hem.last.place, index=hem.last.place.index + by)
    return replace(hem, last=replace(hem.last, place=place))


def test_a_lost_hem_is_found() -> None:
    the_only(broken_promises(tampered(longer(), hem=None)), "the hem was lost")


def test_a_change_by_nothing_that_changed_something_is_found() -> None:
    the_only(broken_promises(tampered(longer(0.0), name="Other")), "a change by nothing")


def test_the_cutting_line_is_looked_after_too() -> None:
    """The sewn line is sound, the cutting line was moved."""
    inner, outer = DARTED, replace(DARTED, top=360.0, bottom=220.0, height=250.0)
    piece = replace(
        inner.piece(),
        stitching=inner.piece().outline,
        outline=outer.piece().outline,
        cutting_hem=outer.piece().hem,
    )
    altered = lengthen(piece, Change(60.0))
    assert broken_promises(altered) == ()
    segments = altered.piece.outline.ring.segments
    top = segments[5].end + Vector(0.0, -3.0)
    wrong = (*segments[:5], Line(segments[5].start, top), Line(top, segments[6].end))
    the_only(broken_promises(tampered(altered, outline=outlined(wrong))), "above the taper points")


def test_all_broken_promises_are_told_at_once() -> None:
    altered = moved_joint(longer(), 2, Vector(400.0, 0.0))
    altered = moved_joint(altered, 5, Vector(1.0, 0.0))
    found = [f.sentence for f in broken_promises(altered)]
    assert len(found) >= 2, found
    assert all(s.startswith("Front: ") for s in found)


def test_mates_changed_apart_are_found_and_together_they_are_sound() -> None:
    front, back = (
        Panel("Front", 0, 340.0, 200.0, 240.0),
        Panel("Back", 1, 340.0, 200.0, 260.0, at=Vector(500.0, 0.0)),
    )
    pairs, _ = joined(changed(front, back, by=60.0, joined=mates(Role.INSEAM)), mates(Role.INSEAM))
    assert broken_between(pairs) == ()
    apart = (*changed(front, by=60.0), *changed(back, by=59.9))
    pairs, _ = joined(apart, mates(Role.INSEAM))
    told = the_only(broken_between(pairs), "Change both pieces together")
    assert told.place == pairs[0].first.after.hem_end


@given(st.floats(5.0, 95.0), st.floats(5.0, 95.0))
def test_a_bow_tie_crosses_where_its_diagonals_meet(x: float, y: float) -> None:
    cross, reach = Point(x, y), 300.0
    a, b = Vector(0.6, 0.8), Vector(0.8, -0.6)
    ring = Ring.polygon(
        [
            cross.moved(a, -reach),
            cross.moved(a, reach),
            cross.moved(b, reach),
            cross.moved(b, -reach),
        ]
    )
    found = crossing(ring)
    assert found is not None
    assert found.distance(cross) <= 1e-9, f"wanted {cross}, got {found}"


def test_a_plain_outline_crosses_nowhere() -> None:
    assert crossing(DARTED.piece().ring) is None


@pytest.mark.parametrize(("by", "width"), [(50.0, 240.0), (80.0, 220.0), (80.0, 280.0)])
def test_a_cutting_line_that_turns_beside_its_taper_point_is_no_false_alarm(
    by: float, width: float
) -> None:
    """Beside a seam that turns to a width the cutting line turns above its own hem corner."""
    inner = Panel("Skirt", 0, 148.0, 240.0, 440.0)
    outer = Panel("Skirt", 0, 178.0, 280.0, 490.0)
    both = replace(
        inner.piece(),
        stitching=inner.piece().outline,
        outline=outer.piece().outline,
        cutting_hem=outer.piece().hem,
    )
    altered = lengthen(both, Change(by, to_width_mm=width))
    assert broken_promises(altered) == ()


def test_a_sharp_turn_to_a_width_is_to_be_looked_at_but_keeps_the_promises() -> None:
    altered = lengthen(
        Panel("Skirt", 0, 148.0, 240.0, 440.0).piece(), Change(80.0, to_width_mm=150.0)
    )
    (told,) = broken_promises(altered)
    assert told.severity is Severity.LOOK
    assert "choose a width nearer" in told.sentence


@pytest.mark.parametrize("turn_up", list(TurnUp))
@pytest.mark.parametrize("step", [5.0, 7.0])
def test_a_cutting_line_beside_a_digitised_seam_is_as_it_was_above_it(
    step: float, turn_up: TurnUp
) -> None:
    """Square to the seam its end lay some millionths of a mm higher than nearest to it, and that
    stopped the maker at each change; along the fold of a turn-up by a millimetre."""
    plan = SeamPlan(-0.11, SeamStyle.CURVED, 0.0004)
    drawn = Sketch(Garment.LEG, 600.0, 240.0, plan, plan, step=step)
    piece = replace(drawn, allowance=7.0, hem_allowance=25.0).piece()
    for by in (60.0, -40.0):
        found = broken_promises(lengthen(piece, Change(by, turn_up=turn_up)))
        assert found == (), found
