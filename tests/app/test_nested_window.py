"""A pattern in several sizes in the window: a nest, read and drawn as one, altered size by size."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QTreeWidgetItem

from app.window.main import MainWindow
from app.window.outcome import outcome
from tests.app.hands import drag_hem, type_length

SAMPLES = Path(__file__).parent.parent.parent / "sample_pieces"
SIZES = ["36", "38", "40", "42", "44"]


@pytest.fixture(params=["rain_breeches.svg", "rain_breeches.dxf"])
def nest(window: MainWindow, request: pytest.FixtureRequest) -> MainWindow:
    window.opening.open([SAMPLES / request.param])
    return window


def rows(nest: MainWindow) -> list[QTreeWidgetItem]:
    tree = nest.page.pieces
    found = [tree.topLevelItem(k) for k in range(tree.topLevelItemCount())]
    return [row for row in found if row is not None]


def changed(nest: MainWindow) -> set[str]:
    """The sizes of which the pieces are altered."""
    done = outcome(nest.session.state).altered.values()
    return {a.piece.size for a in done if a.piece is not a.before}


def test_the_pieces_stand_under_their_size(nest: MainWindow) -> None:
    assert [row.text(0) for row in rows(nest)] == [f"Size {s}" for s in SIZES]
    for row, size in zip(rows(nest), SIZES, strict=True):
        names = {row.child(k).text(0).lower() for k in range(row.childCount())}
        assert names == {f"front {size}", f"back {size}"}
        assert row.checkState(0) is Qt.CheckState.Checked


def test_sizes_over_each_other_stay_so_and_have_one_grip(nest: MainWindow) -> None:
    sights = nest.table.sights
    spots = {s.before.title: s.spot for s in sights}
    assert all(s.spot == spots[s.before.title] for s in sights), "wanted the nest kept together"
    held = {s.before.size for s in sights if nest.table.grip(s.which) is not None}
    assert held == {"44"}, "wanted the largest to be held for all"
    assert {s.name.lower() for s in sights if s.over} == {"front 36–44", "back 36–44"}


def test_drawing_the_hem_of_the_nest_alters_every_size(nest: MainWindow) -> None:
    name = next(s.before.name for s in nest.table.sights if s.over)
    drag_hem(nest, name, 40.0)
    assert nest.session.settled.by_mm == 40.0
    assert changed(nest) == set(SIZES)


def test_a_size_whose_tick_is_taken_away_stays_as_it_is(nest: MainWindow) -> None:
    type_length(nest, "4 cm")
    rows(nest)[-1].setCheckState(0, Qt.CheckState.Unchecked)
    assert changed(nest) == set(SIZES) - {"44"}
    assert nest.session.stack.undoText() == "Leave size 44 as it is"
    held = {s.before.size for s in nest.table.sights if nest.table.grip(s.which) is not None}
    assert held == {"42"}, "wanted the largest that takes part to be held"
    nest.session.stack.undo()
    assert changed(nest) == set(SIZES)
    assert rows(nest)[-1].checkState(0) is Qt.CheckState.Checked


def test_one_piece_without_its_tick_leaves_its_size_half_ticked(nest: MainWindow) -> None:
    size = rows(nest)[0]
    piece = size.child(0)
    assert piece is not None
    piece.setCheckState(0, Qt.CheckState.Unchecked)
    assert size.checkState(0) is Qt.CheckState.PartiallyChecked
    size.setCheckState(0, Qt.CheckState.Checked)
    assert not nest.session.settled.off
