"""Whatever the keys can reach has a name that a screen reader can say."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAction
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QLineEdit,
    QMenu,
    QScrollBar,
    QWidget,
)

from app.window.document import AtLevel, EdgeId
from app.window.main import MainWindow
from app.window.unit_question import UnitQuestion
from app.window.way.stages import Stage
from app.window.work_out import WorkOut
from core.curve import Box

SAMPLES = Path(__file__).parents[2] / "sample_pieces"


def reachable(top: QWidget) -> Iterator[QWidget]:
    """Everything that can have the focus, seen or not, but for parts of a widget of Qt."""
    for widget in (top, *top.findChildren(QWidget)):
        own = not widget.objectName().startswith("qt_") and not isinstance(widget, QScrollBar)
        if own and widget.focusPolicy() is not Qt.FocusPolicy.NoFocus:
            yield widget


def nameless(top: QWidget) -> list[str]:
    return [
        f"{type(w).__name__} in {type(w.parent()).__name__}"
        for w in reachable(top)
        if not (w.accessibleName() or (w.text() if isinstance(w, QAbstractButton) else ""))
    ]


def test_the_walk_finds_what_has_no_name(both: MainWindow) -> None:
    box = QLineEdit(both.foot)
    assert nameless(both) == ["QLineEdit in Foot"]
    box.setAccessibleName("Something")
    assert nameless(both) == []


@pytest.mark.parametrize(
    "sample", ["allotment_shorts.svg", "rain_breeches.svg", "barrow_trousers.dxf"]
)
@pytest.mark.parametrize("at_level", [False, True])
def test_every_control_of_every_stage_has_a_name(
    make_window: Callable[[], MainWindow], sample: str, at_level: bool
) -> None:
    window = make_window()
    window.opening.open([SAMPLES / sample])
    if at_level:
        window.session.set_level(AtLevel(300.0))
    for more in (window.page.ways.more, window.page.level.more):
        more.setChecked(True)
    for stage in Stage:
        window.way.go(stage)
        assert nameless(window) == [], stage.value
        reached = [w for w in reachable(window) if w.isVisible()]
        assert len(reached) > 12, f"{stage.value}: the walk saw {len(reached)} controls"


def test_the_empty_window_has_names(window: MainWindow) -> None:
    assert nameless(window) == []


def test_the_questions_and_the_lesson_have_names(both: MainWindow, tmp_path: Path) -> None:
    question = UnitQuestion(tmp_path / "x.svg", Box(0, 0, 1, 1), both.session.shown, both)
    assert nameless(question) == []
    assert nameless(WorkOut(both.session, both)) == []
    both.session.set_by(60.0)
    both.lesson.open()
    assert both.lesson.window is not None
    assert nameless(both.lesson.window) == []
    both.lesson.window.close()


def test_a_screen_reader_is_told_the_same_names(both: MainWindow) -> None:
    for stage in Stage:
        both.way.go(stage)
        for widget in reachable(both):
            told = QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name)
            assert told.strip(), f"{type(widget).__name__} says nothing"


def test_every_action_of_every_menu_has_words(both: MainWindow) -> None:
    actions = [a for m in both.findChildren(QMenu) for a in m.actions()] + both.actions()
    assert len(actions) > 8
    assert all(a.text() for a in actions if isinstance(a, QAction) and not a.isSeparator())


@pytest.mark.parametrize("stage", list(Stage))
def test_the_keys_alone_come_by_every_control_that_is_seen(both: MainWindow, stage: Stage) -> None:
    both.activateWindow()
    both.way.go(stage)
    wanted = {
        w
        for w in reachable(both)
        if w.isVisible() and w.isEnabled() and w.focusPolicy() & Qt.FocusPolicy.TabFocus
    }
    both.table.setFocus()
    seen: set[QWidget] = set()
    for _ in range(4 * len(wanted) + 20):
        now = both.focusWidget()
        if now is not None:
            seen.add(now)
        both.focusNextChild()
    left = {f"{type(w).__name__} {w.accessibleName()}" for w in wanted - seen}
    assert left <= {f"{type(w).__name__} {w.accessibleName()}" for w in exclusive(wanted)}


def exclusive(widgets: set[QWidget]) -> set[QWidget]:
    """Of such buttons Tab comes to the one that is chosen; arrows do the rest."""
    return {w for w in widgets if isinstance(w, QAbstractButton) and w.group() is not None}


def test_every_control_of_every_page_says_why(both: MainWindow) -> None:
    """Lists and trees say it row by row."""
    both.session.select(EdgeId(next(iter(both.session.state.sheets.pieces)), 0))
    for stage in Stage:
        both.way.go(stage)
        controls = [
            w
            for w in reachable(both.pages.currentWidget())
            if w.isVisible() and not isinstance(w, QAbstractItemView)
        ]
        assert controls or stage is Stage.CHECK, stage.value
        silent = [
            w.accessibleName() or (w.text() if isinstance(w, QAbstractButton) else "")
            for w in controls
            if not w.toolTip() or (isinstance(w, QAbstractButton) and w.toolTip() == w.text())
        ]
        assert silent == [], f"{stage.value}: no reason is given for {silent}"
