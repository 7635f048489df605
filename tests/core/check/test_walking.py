"""Walking the mates from the hem: lengths, notches, what is said of them."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.alter.model import Altered, Severity
from core.check.notches import Notch, notches_on, paired
from core.check.seams import Seam, joined, mates_of
from core.check.walk import Walk, walk, walk_findings
from core.curve import Chain, Line, Point, Vector
from core.piece.mates import Mates
from core.piece.model import Kind, Mark, Piece, Role
from tests.core.check.panels import SURE, Panel, changed, mates, tampered

INSEAM = mates(Role.INSEAM)
RIGHT = Vector(500.0, 0.0)


def walked(altered: tuple[Altered, ...]) -> Walk:
    (pair,), unclear = joined(altered, INSEAM)
    assert not unclear
    return walk(pair)


def two(
    front: tuple[float, ...] = (), back: tuple[float, ...] = (), *, taller: float = 0.0
) -> tuple[Panel, Panel]:
    return (
        Panel("Front", 0, 340.0, 200.0, 240.0, notches=(front, ())),
        Panel("Back", 1, 340.0, 200.0, 240.0 + taller, notches=(back, ()), at=RIGHT),
    )


def test_the_7_24_25_panel_walks_its_seams() -> None:
    """Closed form: seams of 250, +120 along the grain makes them 375."""
    found = walked(changed(*two(), by=120.0, joined=INSEAM))
    for seam in (found.first, found.second):
        assert abs(seam.before_mm - 250.0) <= 1e-9, f"wanted 250, got {seam.before_mm}"
        assert abs(seam.after_mm - 375.0) <= 1e-9, f"wanted 375, got {seam.after_mm}"
    assert abs(found.difference_mm) <= 1e-9
    (note,) = walk_findings(found)
    assert note.severity is Severity.WELL
    assert note.sentence.endswith("they match, 37.5 cm and 37.5 cm (25.0 cm and 25.0 cm before).")


@pytest.mark.parametrize(
    ("off", "severity"),
    [(1.5, Severity.WELL), (1.7, Severity.LOOK), (3.1, Severity.LOOK), (3.3, Severity.LOOK)],
)
def test_seams_are_trued_to_a_sixteenth_of_an_inch(off: float, severity: Severity) -> None:
    """Threads no. 200: true to 1/16 in (1.5875 mm), workable to 1/8 in (3.175 mm)."""
    found = walked(changed(*two(taller=math.sqrt((250.0 + off) ** 2 - 70.0**2) - 240.0)))
    told = walk_findings(found)[0]
    assert abs(found.difference_mm - off) <= 1e-9, f"wanted {off}, got {found.difference_mm}"
    assert told.severity is severity, told.sentence
    assert ("ease" in told.sentence) is (off > 3.175), told.sentence
    if severity is Severity.LOOK:
        assert "was there before the change" in told.sentence
        assert told.place == Point(500.0 - 170.0, 0.0), "wanted the top of the longer seam"


def test_a_difference_that_is_new_is_called_new() -> None:
    """The back changed by itself by 5 mm less."""
    front, back = two()
    altered = (*changed(front, by=60.0), *changed(back, by=55.0))
    told = walk_findings(walked(altered))[0]
    assert "Front is 5.2 mm longer" in told.sentence, told.sentence
    assert "Before the change they were equal." in told.sentence, told.sentence


def test_a_difference_of_which_the_figures_stay_was_there_before() -> None:
    """They differed by 14.0 mm, it said, and before the change by 14.0 mm."""
    front, back = two(taller=math.sqrt(263.96**2 - 70.0**2) - 240.0)
    altered = (*changed(front, by=60.0), *changed(back, by=60.2))
    told = walk_findings(walked(altered))[0]
    assert "was there before the change" in told.sentence, told.sentence


@given(st.floats(-40.0, 150.0).filter(lambda by: abs(by) > 0.1))
def test_notches_that_met_before_meet_after(by: float) -> None:
    front, back = two((60.0, 150.0), (60.0, 150.0))
    found = walked(changed(front, back, by=by, joined=INSEAM))
    assert len(found.notches) == 2
    assert not found.lone
    for pair, was in zip(found.notches, (60.0, 150.0), strict=True):
        wanted = was + by * 25 / 24
        assert abs(pair.first_mm - wanted) <= 1e-9, f"wanted {wanted}, got {pair.first_mm}"
        assert abs(pair.off_mm) <= 1e-9
        assert pair.matches


def test_a_notch_that_misses_is_named_with_its_place() -> None:
    front, back = two((60.0, 150.0), (60.0, 153.0))
    found = walked(changed(front, back, by=120.0, joined=INSEAM))
    assert [p.matches for p in found.notches] == [True, False]
    (missed,) = [f for f in walk_findings(found) if f.severity is Severity.LOOK]
    assert "miss each other by 3.0 mm. It was so before." in missed.sentence, missed.sentence
    wanted = front.hem_ends()[0].moved(front.downs()[0], -150.0)
    assert missed.place is not None
    assert missed.place.distance(wanted) <= 1e-9, f"wanted {wanted}, got {missed.place}"


def test_a_notch_moved_by_the_change_is_told_from_an_old_fault() -> None:
    front, back = changed(*two((60.0,), (60.0,)), by=120.0, joined=INSEAM)
    (notch,) = back.piece.marks
    assert isinstance(notch.geometry, Point)
    slipped = Mark(Kind.NOTCH, notch.shape, notch.geometry.moved(Vector(7 / 25, 24 / 25), 2.0))
    found = walked((front, tampered(back, marks=(slipped,))))
    (missed,) = [f for f in walk_findings(found) if f.severity is Severity.LOOK]
    assert "Before: 0.0 mm." in missed.sentence, missed.sentence


def test_a_notch_without_a_partner_is_named() -> None:
    found = walked(changed(*two((60.0,), (61.0, 150.0))))
    assert [p.matches for p in found.notches] == [True]
    (lone,) = found.lone
    assert (lone.piece.name, round(lone.from_hem_mm, 9)) == ("Back", 150.0)
    assert "the notch of Back at 15.0 cm from the hem has no partner" in (
        walk_findings(found)[-1].sentence
    )


def test_a_notch_counts_by_its_foot_however_it_is_drawn() -> None:
    """A point, a slit drawn inwards or outwards, a V with its mouth on the seam."""
    panel = Panel("Front", 0, 340.0, 200.0, 240.0)
    piece = panel.piece()
    end, down = panel.hem_ends()[0], panel.downs()[0]
    foot, inwards = end.moved(down, -100.0), -down.square()
    slit = Line(foot, foot.moved(inwards, 6.0))
    v = Chain.through((foot.moved(down, 2.0), foot.moved(inwards, 5.0), foot.moved(down, -2.0)))
    for drawn in (foot, Chain((slit,)), Chain((slit.reversed(),)), v):
        seam = Seam(notched(piece, drawn), piece.edges[3])
        (found,) = notches_on(seam)
        assert abs(found.from_hem_mm - 100.0) <= 1e-9, f"wanted 100, got {found.from_hem_mm}"


def notched(piece: Piece, drawn: Point | Chain) -> Piece:
    return replace(piece, marks=(Mark(Kind.NOTCH, 9, drawn),))


def test_a_notch_off_the_outline_or_at_its_end_is_on_no_seam() -> None:
    panel = Panel("Front", 0, 340.0, 200.0, 240.0)
    piece = panel.piece()
    end, down = panel.hem_ends()[0], panel.downs()[0]
    for p in (end.moved(down, -100.0).moved(down.square(), -3.0), end):
        assert notches_on(Seam(notched(piece, p), piece.edges[3])) == ()


def at(*heights: float) -> tuple[Notch, ...]:
    return tuple(Notch(k, h, Point(0.0, h)) for k, h in enumerate(sorted(heights)))


places = st.lists(st.floats(0.0, 500.0), max_size=5)


@given(places, places)
def test_pairing_is_in_order_and_no_other_is_better(a: list[float], b: list[float]) -> None:
    """Held against every pairing in order there is."""
    first, second = at(*a), at(*b)
    found = paired(first, second)
    assert len(found) == min(len(a), len(b))
    for (p, q), (r, s) in itertools.pairwise(found):
        assert p.from_hem_mm <= r.from_hem_mm
        assert q.from_hem_mm <= s.from_hem_mm
    fewer, more = sorted((first, second), key=len)
    every = [
        sum(abs(x.from_hem_mm - y.from_hem_mm) for x, y in zip(fewer, some, strict=True))
        for some in itertools.combinations(more, len(fewer))
    ]
    got = sum(abs(p.from_hem_mm - q.from_hem_mm) for p, q in found)
    assert abs(got - min(every)) <= 1e-6, f"wanted {min(every)}, got {got}"


def test_a_sleeve_is_sewn_to_itself() -> None:
    sleeve = Panel("Sleeve", 0, 340.0, 200.0, 240.0, left=Role.UNDERARM, right=Role.UNDERARM)
    altered = changed(sleeve, by=60.0)
    (pair,), unclear = joined(altered, mates_of(altered))
    assert not unclear
    assert abs(walk(pair).difference_mm) <= 1e-9
    assert walk(pair).called == "Sleeve, seam to seam (underarm)"


def test_mates_that_cannot_be_told_are_said_to_be_so() -> None:
    front = Panel("Front", 0, 340.0, 200.0, 240.0, left=Role.SIDE, right=Role.SIDE)
    back = Panel("Back", 1, 340.0, 200.0, 240.0, at=RIGHT)
    pairs, unclear = joined(changed(front, back), mates(Role.SIDE))
    assert not pairs
    assert [f.severity for f in unclear] == [Severity.LOOK]
    assert "Give each edge its own role" in unclear[0].sentence


def test_mates_with_a_piece_that_was_not_altered_are_left_out() -> None:
    pairs, unclear = joined(changed(two()[0]), (Mates((0, Role.SIDE), (7, Role.SIDE), SURE),))
    assert not pairs
    assert not unclear
