"""The list of what was changed: names that undo takes back, and lengths before and after."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.window.lengths import Shown, bare
from app.window.main import MainWindow
from app.window.outcome import outcome
from app.window.way.changed import rows_of
from app.window.way.stages import Stage
from tests.app.hands import Keys, type_length


def listed(window: MainWindow) -> list[str]:
    box = window.pages.paper.changed.list
    return [box.item(k).text() for k in range(box.count())]


def figures(window: MainWindow) -> dict[str, dict[str, tuple[str, str]]]:
    tree = window.pages.paper.changed.figures
    out = {}
    for k in range(tree.topLevelItemCount()):
        piece = tree.topLevelItem(k)
        assert piece is not None
        rows = [piece.child(n) for n in range(piece.childCount())]
        out[piece.text(0)] = {row.text(0): (row.text(1), row.text(2)) for row in rows}
    return out


def test_each_step_is_listed_and_the_last_is_what_undo_takes_back(both: MainWindow) -> None:
    both.session.stack.setClean()
    type_length(both, "6 cm")
    type_length(both, "8 cm")
    both.way.go(Stage.PAPER)
    assert listed(both)[-2:] == [f"{k}. Lengthen by {mm} cm" for k, mm in
                                 zip((len(listed(both)) - 1, len(listed(both))), ("6.0", "8.0"),
                                     strict=True)]  # fmt: skip
    assert "Lengthen by 8.0 cm" in both.pages.paper.changed.said.text()
    QTest.keyClick(both, Qt.Key.Key_Z, Keys.ControlModifier)
    assert listed(both)[-1].endswith("Lengthen by 6.0 cm")
    assert "Lengthen by 6.0 cm" in both.pages.paper.changed.said.text()


@pytest.mark.parametrize("shown", list(Shown))
def test_hem_width_and_seams_stand_before_and_after_in_the_unit_shown(
    both: MainWindow, shown: Shown
) -> None:
    type_length(both, "6 cm")
    both.session.show_in(shown)
    both.way.go(Stage.PAPER)
    tree = both.pages.paper.changed.figures
    assert tree.isVisible()
    assert tree.headerItem().text(0) == f"Lengths in {shown.word}"
    for altered in outcome(both.session.settled).altered.values():
        told, got = altered.figures, figures(both)[altered.piece.name]
        assert got["hem width"] == (
            bare(told.hem_width_before_mm, shown),
            bare(told.hem_width_after_mm, shown),
        )
        for edge in told.edges:
            changed = abs(edge.after_mm - edge.before_mm) >= 0.05
            assert (edge.role.value in got) is changed, edge.role.value


def test_nothing_changed_shows_nothing(both: MainWindow) -> None:
    both.way.go(Stage.PAPER)
    assert rows_of(both.session.settled, Shown.CM) == ()
    assert not both.pages.paper.changed.figures.isVisible()
    type_length_and_back(both)
    assert not both.pages.paper.changed.figures.isVisible()


def type_length_and_back(window: MainWindow) -> None:
    window.session.set_by(50.0)
    assert window.pages.paper.changed.figures.isVisible()
    window.session.stack.undo()
