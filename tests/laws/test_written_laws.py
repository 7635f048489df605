"""What a writer is told: the altered outline, in the order in which it was drawn."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from hypothesis import given

from core.curve import Segment
from core.files.drawing import Drawing, Format, Unit
from core.files.edits import PathEdit, PointEdit, edits
from core.piece.model import Because, Origin, Outline, Piece
from tests.laws.compare import altered, result
from tests.laws.generate import Drawn, changes, drawn


def told(before: Piece, after: Piece) -> dict[int, PathEdit | PointEdit]:
    unit = Unit(1.0, Because(True, "millimetres"))
    return edits(
        Drawing(Path("a.svg"), Format.SVG, b"", unit, (), (before,), (after,), source=None)
    )


@given(drawn(with_marks=True, darts=False))
def test_no_change_tells_the_writer_nothing(case: Drawn) -> None:
    assert told(case.piece, altered(case.piece, 0.0).piece) == {}


@given(drawn(), changes)
def test_origins_are_segments_that_were_drawn(case: Drawn, by: float) -> None:
    """Every segment of the new outline belongs to an old one, and none out of turn."""
    before, after = case.piece, result(case.piece, by)
    assert set(after.outline.origins) <= set(before.outline.origins)
    numbers = [o.segment for o in after.outline.origins]
    assert numbers == sorted(numbers), f"wanted rising numbers, got {numbers}"


@given(drawn(), changes)
def test_edits_put_together_are_the_new_outline(case: Drawn, by: float) -> None:
    before, after = case.piece, result(case.piece, by)
    edit = told(before, after)[0]
    assert isinstance(edit, PathEdit)
    assert edit.old == before.outline.ring.segments
    written = [s for part in edit.new for s in part]
    assert written == list(after.outline.ring.segments)


@given(drawn(), changes)
def test_a_shape_drawn_backwards_is_written_backwards(case: Drawn, by: float) -> None:
    """An outline whose shape runs against it: the edit is in the shape's own direction."""
    before = _against(case.piece)
    after = result(before, by)
    edit = told(before, after)[0]
    assert isinstance(edit, PathEdit)
    written: list[Segment] = [s for part in edit.new for s in part]
    wanted = [s.reversed() for s in reversed(after.outline.ring.segments)]
    assert written == wanted


def _against(piece: Piece) -> Piece:
    size = len(piece.outline.ring)
    origins = tuple(Origin(0, size - 1 - k, reversed=True) for k in range(size))
    return replace(piece, outline=Outline(piece.outline.ring, origins))


@given(drawn(stitched=True, darts=False), changes)
def test_both_lines_of_a_piece_are_told(case: Drawn, by: float) -> None:
    before, after = case.piece, result(case.piece, by)
    found = told(before, after)
    assert set(found) == {0, 1}, f"wanted edits of both lines, got {set(found)}"


@given(drawn(with_marks=True, darts=False), changes)
def test_marks_are_told_only_where_they_changed(case: Drawn, by: float) -> None:
    before, after = case.piece, result(case.piece, by)
    old = {m.shape: m.geometry for m in before.marks}
    new = {m.shape: m.geometry for m in after.marks}
    wanted = {key for key in old if new.get(key) != old[key]}
    got = set(told(before, after)) - {0}
    assert got == wanted, f"wanted edits of {wanted}, got {got}"
