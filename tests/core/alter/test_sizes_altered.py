"""Nested sizes altered: each keeps its own taper, and knows nothing of the others."""

from __future__ import annotations

from dataclasses import replace

import pytest

from core.alter.model import Change, Severity
from core.alter.sizes import alter_sizes
from core.alter.together import alter_together
from core.curve import Chain, Line, Point
from core.errors import PieceError
from core.piece.model import Kind, Shape
from tests.core.piece.nests import found, nest

SIZES = ("36", "38", "40")
NEST = nest(SIZES, lambda name, size: (name, f"size {size}"))


def test_each_size_goes_on_along_its_own_taper() -> None:
    """Closed form: each side goes in by taper / height for each millimetre down."""
    pieces = found(NEST)
    for k, done in enumerate(
        a for a in alter_sizes(pieces, Change(60.0)) if "Front" in a.piece.name
    ):
        height, taper, width = 500.0 + 12.0 * k, 20.0 + 3.0 * k, 300.0 + 24.0 * k
        corners = {(round(s.start.x, 6), round(s.start.y, 6)) for s in done.piece.ring}
        left = taper * (height + 60.0) / height
        wanted = {(0.0, 0.0), (width, 0.0), (left, height + 60.0), (width - left, height + 60.0)}
        assert corners == {(round(x, 6), round(y, 6)) for x, y in wanted}


def test_a_size_altered_in_the_nest_is_the_same_as_altered_alone() -> None:
    pieces = found(NEST)
    together = alter_sizes(pieces, Change(45.0))
    for size in SIZES:
        mine = [p for p in pieces if p.size == size]
        alone = alter_together(mine, Change(45.0))
        nested = [a for a in together if a.before.size == size]
        assert [a.piece for a in nested] == [a.piece for a in alone], f"size {size}"


def test_each_size_gets_its_own_amount_and_the_others_none() -> None:
    pieces = found(NEST)
    amounts = {"36": 50.0, "40": -30.0}
    done = alter_sizes(pieces, {size: Change(mm) for size, mm in amounts.items()})
    for altered in done:
        grown = altered.piece.ring.bounds().height - altered.before.ring.bounds().height
        wanted = amounts.get(altered.before.size, 0.0)
        assert grown == pytest.approx(wanted, abs=1e-9), altered.before.name
        assert (altered.piece is altered.before) == (wanted == 0.0)


def test_a_size_that_is_not_there_is_answered_with_those_that_are() -> None:
    with pytest.raises(PieceError, match=r"no size “39”\. The sizes are 36, 38 and 40"):
        alter_sizes(found(NEST), {"39": Change(10.0)})


def _with_common(shapes: list[Shape]) -> list[Shape]:
    crease = Chain((Line(Point(60.0, 480.0), Point(240.0, 480.0)),))
    text = Shape(91, Point(150.0, 495.0), kind=Kind.TEXT, text="leave open")
    return [*shapes, Shape(90, crease, ("knee line",)), text]


def test_what_is_drawn_once_goes_with_the_largest_and_that_is_said() -> None:
    pieces = found(_with_common(NEST))
    fronts = [p for p in pieces if p.title == "Front"]
    assert all({90, 91} <= {m.shape for m in p.marks} for p in fronts)
    amounts = {"36": Change(-60.0), "38": Change(-60.0), "40": Change(-10.0)}
    done = {a.before.size: a for a in alter_sizes(fronts, amounts)}
    largest = alter_together([fronts[-1]], amounts["40"])[0].piece
    for altered in done.values():
        kept = {m.shape: m.geometry for m in altered.piece.marks}
        assert kept == {m.shape: m.geometry for m in largest.marks}, altered.before.name
    told = [f for f in done["40"].findings if "drawn once" in f.sentence]
    assert told
    assert {f.severity for f in told} == {Severity.NOTE}


def test_what_is_drawn_once_stays_with_the_largest_that_is_not_changed() -> None:
    fronts = [p for p in found(_with_common(NEST)) if p.title == "Front"]
    (done,) = alter_sizes(fronts[:1], Change(-60.0), beside=fronts[1:])
    before = {m.shape: m.geometry for m in fronts[0].marks}
    assert {m.shape: m.geometry for m in done.piece.marks} == before
    assert any("It stays with size 40" in f.sentence for f in done.findings)


def test_marks_of_two_files_that_bear_the_same_number_are_not_one() -> None:
    """Two patterns on the table: shape 90 of one has nothing to do with shape 90 of the other."""
    first, second = (found(_with_common(NEST)) for _ in range(2))
    moved = [replace(p, key=p.key + 100) for p in second]
    changes = {size: Change(-60.0) for size in SIZES}
    both = alter_sizes([*first, *moved], changes, mates=())
    alone = alter_sizes(first, changes, mates=())
    assert [a.piece for a in both[: len(first)]] == [a.piece for a in alone]
