"""The whole list, on panels and on the sample shorts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from core.alter.frame import Frame
from core.alter.level.climb import lowest_and_highest
from core.alter.level.model import LevelChange
from core.alter.level.together import insert_together
from core.alter.model import Altered, Change, Severity
from core.alter.together import alter_together
from core.check import Wearer, check_all
from core.check.flow import flow
from core.check.girth import hem_girths
from core.check.seams import joined, mates_of
from core.check.walk import walk
from core.curve import Vector
from core.errors import AlterationError
from core.files.read import read
from core.measure import Unit, told_in
from core.piece.model import Kind, Piece, Role
from tests.core.check.panels import Panel, changed, mates, tampered

SAMPLES = Path(__file__).parents[3] / "sample_pieces"
RANK = (Severity.STOP, Severity.LOOK, Severity.WELL, Severity.NOTE)
ALL = sorted(p.name for p in SAMPLES.glob("*") if p.suffix in {".svg", ".dxf"})


def sample(name: str, by: float) -> tuple[Altered, ...]:
    return alter_together(read(SAMPLES / name).pieces, Change(by))


@pytest.mark.parametrize("by", [0.0, 120.0, -30.0])
@pytest.mark.parametrize("name", ALL)
def test_no_promise_is_broken_on_the_samples(name: str, by: float) -> None:
    found = check_all(sample(name, by))
    stops = [f.sentence for f in found if f.severity is Severity.STOP]
    assert not stops, f"wanted no stop, got {stops}"
    assert found, "wanted at least the hem's girth to be told"


@pytest.mark.parametrize("by", [0.0, 120.0])
def test_the_sample_shorts_walk_and_flow(by: float) -> None:
    """Mates within 0.05 mm, the hem at the inseam 180 degrees within 2, before and after."""
    altered = sample("allotment_shorts.svg", by)
    pairs, unclear = joined(altered, mates_of(altered))
    assert not unclear
    assert {p.first.after.edge.role for p in pairs} == {Role.INSEAM, Role.SIDE}
    for pair in pairs:
        off = walk(pair).difference_mm
        assert abs(off) <= 0.05, f"{pair.called}: wanted equal seams, got {off} mm"
        assert all(n.matches for n in walk(pair).notches)
        assert not walk(pair).lone
        whole = flow(pair.first.after, pair.second.after, pair.called).sum
        if pair.first.after.edge.role is Role.SIDE:
            assert whole is None, "the side seam ends in a rounded corner"
            assert len(walk(pair).notches) == 1
        else:
            assert whole is not None
            degrees = math.degrees(whole)
            assert abs(degrees - 180.0) <= 2.0, f"wanted 180, got {degrees}, tolerance 2"


def test_the_sample_shorts_get_narrower_by_what_their_hems_do() -> None:
    """Straight across from taper point to hem corner, front and back."""
    altered = sample("allotment_shorts.svg", 120.0)
    pairs, _ = joined(altered, mates_of(altered))
    (leg,) = hem_girths(altered, pairs)
    wanted = 0.0
    for a in altered:
        hem = a.piece.hem
        assert hem is not None
        across = a.piece.ring.at(hem.first.place) - a.piece.ring.at(hem.last.place)
        wanted += abs(across.x)
    got = leg.after.width_mm
    assert abs(got - wanted) <= 1e-9, f"wanted {wanted}, got {got}"
    assert leg.whole
    assert leg.after.edge_mm > got, "the rounding wants binding too"


def test_a_deliberately_broken_pair_is_named_first() -> None:
    """The back was made 11.5 cm longer where the front got 12."""
    pieces = read(SAMPLES / "allotment_shorts.svg").pieces
    front, back = (
        alter_together([p], Change(by)) for p, by in zip(pieces, (120.0, 115.0), strict=True)
    )
    found = check_all((*front, *back))
    stops = [f.sentence for f in found if f.severity is Severity.STOP]
    assert [s.split(":")[0] for s in stops] == [
        "Front and Back, inseam",
        "Front and Back, side seam",
    ]
    assert found[0].sentence == stops[0], "wanted what stops the maker first"
    assert any(f.severity is Severity.LOOK and "longer" in f.sentence for f in found)


def test_a_lost_notch_of_the_shorts_is_named() -> None:
    front, back = sample("allotment_shorts.svg", 120.0)
    other = [m for m in front.piece.marks if m.kind is not Kind.NOTCH]
    found = check_all((tampered(front, marks=tuple(other)), back))
    (told,) = [f for f in found if f.severity is Severity.LOOK]
    assert "the notch of Back at 30.3 cm from the hem has no partner" in told.sentence


def test_stops_come_before_looks_and_notes_and_pieces_stay_in_order() -> None:
    one = Panel("Front", 0, 340.0, 200.0, 240.0)
    two = replace(one, name="Back", key=1, at=Vector(900.0, 0.0))
    altered = changed(one, two, by=60.0, joined=mates(Role.INSEAM, Role.SIDE))
    broken = tuple(tampered(a, hem=None) for a in altered)
    found = check_all(broken, mates=mates(Role.INSEAM, Role.SIDE), wearer=Wearer(leg_mm=500.0))
    ranks = [RANK.index(f.severity) for f in found]
    assert ranks == sorted(ranks), f"wanted STOP, LOOK, WELL, NOTE, got {ranks}"
    assert [f.sentence[:5] for f in found[:2]] == ["Front", "Back:"]


def test_nothing_altered_is_nothing_to_check() -> None:
    assert check_all(()) == ()


def test_a_piece_by_itself_is_checked_as_far_as_it_goes() -> None:
    (altered,) = changed(Panel("Front", 0, 340.0, 200.0, 240.0), by=60.0)
    found = check_all((altered,), wearer=Wearer(leg_mm=900.0))
    assert [f.severity for f in found] == [Severity.NOTE, Severity.NOTE]


@pytest.mark.parametrize("by", [30.0, 60.0, -15.0])
@pytest.mark.parametrize("share", [0.15, 0.5, 0.7])
@pytest.mark.parametrize("name", ALL)
def test_no_promise_is_broken_at_a_level_of_the_samples(name: str, share: float, by: float) -> None:
    pieces = read(SAMPLES / name).pieces
    low, high = lowest_and_highest(pieces[0].ring, Frame(pieces[0].grain.down))
    found = check_all(_at_level(pieces, share * (high - low), by))
    stops = [f.sentence for f in found if f.severity is Severity.STOP]
    assert not stops, f"wanted no stop, got {stops}"
    placeless = [f.sentence for f in found if f.severity is Severity.LOOK and f.place is None]
    assert not placeless, f"wanted a place with each, got {placeless}"


def _at_level(pieces: Sequence[Piece], at: float, by: float) -> tuple[Altered, ...]:
    """Changed by that much, or by what is stated as possible where a corner is in the way."""
    try:
        return insert_together(pieces, LevelChange(at, by))
    except AlterationError as error:
        limit = error.limit_mm or 0.0
    assert 0.0 < limit < -by, f"wanted a limit below {-by}, got {limit}"
    return insert_together(pieces, LevelChange(at, -0.9 * limit))


def test_a_sentence_tells_its_lengths_in_inches_from_the_lengths_themselves() -> None:
    """250 mm is 9 13/16 in to the nearest sixteenth (9.8425 in)."""
    one = Panel("Front", 0, 340.0, 200.0, 240.0)
    found = check_all(changed(one, replace(one, name="Back", key=1), joined=mates(Role.INSEAM)),
                      mates=mates(Role.INSEAM))  # fmt: skip
    (told,) = [f.sentence for f in found if "they match" in f.sentence]
    assert "25.0 cm and 25.0 cm" in told
    assert "9 13/16 in and 9 13/16 in" in told_in(told, Unit.INCH)
