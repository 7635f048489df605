"""Arrow keys move every grip by its number: 1 mm or 1/16 in, with Shift 10 mm or 1/2 in."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.window.document import EdgeId, State
from app.window.lengths import Shown
from app.window.main import MainWindow
from app.window.segments import LengthEdit
from app.window.way.stage import Stage
from app.window.ways import Seams, Where
from core.measure import MM_PER_INCH
from core.piece.model import Role
from tests.app.hands import Keys, click, type_length

Key = Qt.Key
STEPS = {
    (Shown.CM, Keys.NoModifier): 1.0,
    (Shown.CM, Keys.ShiftModifier): 10.0,
    (Shown.INCH, Keys.NoModifier): MM_PER_INCH / 16,
    (Shown.INCH, Keys.ShiftModifier): MM_PER_INCH / 2,
}
Told = Callable[[State], float]


def width(window: MainWindow) -> tuple[LengthEdit, Told]:
    click(window.page.ways.seams.buttons[Seams.WIDTH])
    return window.page.ways.hem_width, lambda s: s.change.to_width_mm or 0.0


def level(window: MainWindow) -> tuple[LengthEdit, Told]:
    click(window.page.where.where.buttons[Where.LEVEL])
    return window.page.level.at, lambda s: s.level.at_mm if s.level else 0.0


def taper(window: MainWindow) -> tuple[LengthEdit, Told]:
    """The seam at the first taper point, down to which it is measured."""
    window.way.go(Stage.EDGES)
    which, piece = next(iter(window.session.settled.sheets.pieces.items()))
    window.session.select(EdgeId(which, piece.edges.index(piece.edge(Role.HEM))))

    def told(state: State) -> float:
        now = state.piece(which)
        return now.edge_chain(now.edges[-1]).length()

    return window.pages.edges.tools.tapers[0], told


@pytest.mark.parametrize("twin", [width, level, taper])
@pytest.mark.parametrize(("shown", "keys"), list(STEPS))
def test_up_is_more_and_down_is_less(
    shorts: MainWindow,
    twin: Callable[[MainWindow], tuple[LengthEdit, Told]],
    shown: Shown,
    keys: Keys,
) -> None:
    type_length(shorts, "6 cm")
    shorts.session.show_in(shown)
    box, told = twin(shorts)
    assert box.isVisible()
    box.setFocus()
    before, step = told(shorts.session.settled), STEPS[shown, keys]
    entries = shorts.session.stack.count()
    # A taper point slides up first: below it lies the rounded corner.
    ups = [-1, -1, 1] if twin is taper else [1, 1, -1]
    for n, sign in enumerate(ups):
        QTest.keyClick(box, Key.Key_Up if sign > 0 else Key.Key_Down, keys)
        wanted = before + sum(ups[: n + 1]) * step
        assert told(shorts.session.settled) == pytest.approx(wanted, abs=0.02)
    assert shorts.session.stack.count() == entries + 3, "each is one entry"
    for _ in ups:
        shorts.session.stack.undo()
    assert told(shorts.session.settled) == before


def test_what_was_typed_is_taken_before_it_is_nudged(shorts: MainWindow) -> None:
    type_length(shorts, "6 cm")
    box, told = level(shorts)
    box.setFocus()
    box.selectAll()
    QTest.keyClicks(box, "25 cm")
    QTest.keyClick(box, Key.Key_Up)
    assert told(shorts.session.settled) == pytest.approx(251.0, abs=1e-9)


def test_an_empty_box_stays_empty(shorts: MainWindow) -> None:
    type_length(shorts, "6 cm")
    click(shorts.page.ways.more)
    box = shorts.page.ways.rare.plumb
    box.setFocus()
    state = shorts.session.settled
    QTest.keyClick(box, Key.Key_Up)
    assert box.text() == ""
    assert shorts.session.settled is state
