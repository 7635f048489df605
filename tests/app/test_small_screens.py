"""Nothing overlaps or is cut off where the window is small: a screen of 1920 x 1080 at 200 % has
960 x 540 pixels to lay out and at 300 % 640 x 360, one of 1280 x 800 at 200 % 640 x 400."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtWidgets import QApplication, QLabel, QToolButton, QWidget

from app.window.document import EdgeId
from app.window.main import MainWindow
from app.window.table.notes import Notes, notes_for
from app.window.table.rect import Rect
from app.window.tied import with_tie
from app.window.way.stage import Stage
from core.curve import Point
from core.piece.model import Role

SAMPLES = Path(__file__).parents[2] / "sample_pieces"
SIZES = [(1280, 800), (960, 540), (640, 400)]
PATTERNS = ["allotment_shorts.svg", "rain_breeches.svg", "picking_bodice.svg", "planting_skirt.svg"]


@pytest.fixture(params=SIZES, ids=lambda s: f"{s[0]}x{s[1]}")
def small(window: MainWindow, request: pytest.FixtureRequest) -> MainWindow:
    window.resize(*request.param)
    settle(window, "allotment_shorts.svg")
    assert (window.width(), window.height()) == request.param, "it would not become so small"
    return window


def settle(window: MainWindow, name: str) -> None:
    if not window.session.settled.empty:
        window.session.stack.setClean()
        window.clear()
    window.opening.open([SAMPLES / name])
    window.session.set_by(40.0)
    pump()


def pump() -> None:
    for _ in range(6):
        QApplication.processEvents()


def within(widget: QWidget, outer: QWidget) -> QRect:
    return QRect(widget.mapTo(outer, widget.rect().topLeft()), widget.size())


def test_it_fits_a_screen_of_1920_x_1080_at_300_per_cent(window: MainWindow) -> None:
    """There the table is so low that not every piece can be named any more."""
    window.resize(640, 360)
    settle(window, "allotment_shorts.svg")
    for stage in Stage:
        window.way.go(stage)
        pump()
        assert (window.width(), window.height()) == (640, 360), stage


def test_every_stage_has_its_place_and_can_be_rolled_to_its_end(small: MainWindow) -> None:
    for stage in Stage:
        small.way.go(stage)
        pump()
        area = small.pages.currentWidget()
        page = area.widget()
        hidden = page.height() - area.viewport().height()
        assert area.verticalScrollBar().maximum() == max(hidden, 0), stage
        least = page.layout().minimumHeightForWidth(page.width())
        assert page.height() >= least, f"{stage}: {page.height()} px for {least} px of controls"
        assert small.foot.onward.isVisible()
        assert within(small.foot.onward, small).bottom() < small.height()
        for part in (small.rail, small.table, small.pages):
            assert part.width() >= 56, f"{stage}: {part.accessibleName()} has no room"


def test_the_stages_lie_below_each_other_and_in_sight(small: MainWindow) -> None:
    places = [within(b, small.rail) for b in small.rail.buttons.values()]
    for above, below in itertools.pairwise(places):
        assert above.bottom() < below.top() + 1
    assert places[-1].bottom() <= small.rail.height()
    assert min(p.height() for p in places) >= 30


def test_what_finds_no_room_on_the_bar_is_in_its_menu(small: MainWindow) -> None:
    buttons = [b for b in small.bar.findChildren(QToolButton) if b.isVisible()]
    places = sorted((within(b, small.bar) for b in buttons), key=lambda r: r.left())
    assert within(small.bar.name, small.bar).right() < places[0].left()
    for left, right in itertools.pairwise(places):
        assert left.right() < right.left(), "two buttons overlap"
    assert places[-1].right() < small.bar.width()
    away = (
        {a.text() for a in small.bar.rest.menu().actions()} if small.bar.rest.isVisible() else set()
    )
    seen = {text for text, b in small.bar.buttons.items() if b.isVisible()}
    assert seen | away == set(small.bar.buttons)
    assert not seen & away


@pytest.mark.parametrize("tool", [None, "dart"])
def test_the_sentence_above_the_table_is_seen_whole(small: MainWindow, tool: str | None) -> None:
    if tool:
        small.way.go(Stage.EDGES)
        small.pages.edges.mouse.dart.click()
    pump()
    assert fits(small.strip.said), small.strip.said.text()
    strip = small.strip
    for button in strip.buttons.values():
        assert button.width() >= button.fontMetrics().horizontalAdvance(button.text())
        assert not within(button, strip).intersects(within(strip.said, strip))
        assert within(button, strip).right() < strip.width()


def fits(label: QLabel) -> bool:
    if label.wordWrap():
        return label.heightForWidth(label.width()) <= label.height()
    return label.fontMetrics().horizontalAdvance(label.text()) <= label.width()


def notes(window: MainWindow) -> Notes:
    table = window.table
    room = Rect(24.0, 24.0, float(table.width()), float(table.height()))
    return notes_for(table.sights, table.view, room, window.session.shown)


@pytest.mark.parametrize("name", PATTERNS)
def test_every_piece_has_its_name_beside_no_other_one(small: MainWindow, name: str) -> None:
    settle(small, name)
    found = notes(small)
    named = {note.which: rect for note, rect in found.labels.items() if note.bold}
    for sight in (s for s in small.table.sights if not s.led):
        assert sight.which in named, f"{sight.name} has no name at {small.width()} px"
        x = named[sight.which].middle[0]
        xs = sight.outline_line[:, 0] + sight.spot.x
        left, right = (small.table.view.to_px(Point(float(v), 0.0))[0] for v in (min(xs), max(xs)))
        assert left <= x <= right, f"{sight.name}: its name stands beside it"
    places = [*found.labels.values(), *found.grips.values()]
    for a, b in itertools.combinations(places, 2):
        assert not a.overlaps(b), f"{name}: two of its labels or grips overlap"


@pytest.mark.parametrize("stage", [Stage.EDGES, Stage.LENGTH])
def test_what_is_said_of_a_chosen_edge_comes_in_sight(small: MainWindow, stage: Stage) -> None:
    """At 960 x 540 it lay below the window, and a click on an edge seemed to do nothing."""
    small.way.go(stage)
    pump()
    which, piece = next(iter(small.session.settled.sheets.pieces.items()))
    small.session.select(EdgeId(which, piece.edges.index(piece.edge(Role.INSEAM))))
    pump()
    box = small.pages.edges.edge if stage is Stage.EDGES else small.page.edge
    seen = box.role.visibleRegion().boundingRect()
    assert seen.height() == box.role.height(), f"{seen.height()} px of {box.role.height()}"


def test_the_empty_window_can_be_rolled(window: MainWindow) -> None:
    window.resize(640, 400)
    pump()
    assert (window.width(), window.height()) == (640, 400)
    for sample in window.welcome.samples:
        assert sample.width() >= sample.fontMetrics().horizontalAdvance(sample.text())
    area = window.welcome
    assert area.verticalScrollBar().maximum() > 0
    assert area.horizontalScrollBar().maximum() == 0
    assert window.welcome.open.focusPolicy() & Qt.FocusPolicy.TabFocus


@pytest.mark.parametrize("name", PATTERNS)
def test_every_piece_has_its_name_and_its_whole_grip_in_the_lowest_window(
    window: MainWindow, name: str
) -> None:
    """At 640 x 360 names were left out, or stood across lines, and the tape cut off the grips."""
    window.resize(640, 360)
    settle(window, name)
    found, room = notes(window), window.table.rect()
    named = {note.which: rect for note, rect in found.labels.items() if note.bold}
    for sight in (s for s in window.table.sights if not s.led):
        assert sight.which in named, f"{sight.name} has no name"
        grip = found.grips[sight.which]
        assert grip.y1 < room.height(), f"{sight.name}: its grip is cut off at {grip.y1}"
    for a, b in itertools.combinations([*found.labels.values(), *found.grips.values()], 2):
        assert not a.overlaps(b), f"{name}: two of its labels or grips overlap"


def test_the_sentence_above_the_table_comes_back_with_a_tool_in_the_lowest_window(
    window: MainWindow,
) -> None:
    window.resize(640, 360)
    settle(window, "allotment_shorts.svg")
    assert not window.strip.said.isVisible()
    window.way.go(Stage.EDGES)
    window.pages.edges.mouse.dart.click()
    pump()
    assert window.strip.said.isVisible()
    assert fits(window.strip.said), window.strip.said.text()
    window.table.tools.put_away()
    pump()
    assert not window.strip.said.isVisible()


@pytest.mark.parametrize("size", [(1280, 800), (1920, 1080)])
@pytest.mark.parametrize("name", ["allotment_shorts.svg", "rain_breeches.svg"])
def test_what_is_said_of_two_facing_seams_that_are_sewn_together_is_said_once(
    window: MainWindow, name: str, size: tuple[int, int]
) -> None:
    """``side seam 38.8 → 42.8`` stood twice between front and back, a finger's breadth apart."""
    window.resize(*size)
    settle(window, name)
    found = [
        (note, rect) for note, rect in notes(window).labels.items() if "side seam" in note.lines[0]
    ]
    assert len(found) == 1, [note.lines for note, _ in found]
    between = found[0][1].middle[0]
    boxes = [s.box for s in window.table.sights if not s.led]
    left, right = sorted(boxes, key=lambda b: b.x0)
    assert window.table.view.to_px(Point(left.x1, 0.0))[0] < between
    assert between < window.table.view.to_px(Point(right.x0, 0.0))[0]


def test_seams_with_no_room_between_them_are_each_told(window: MainWindow) -> None:
    """The cutting lines leave none: what was to stand there stood on the front alone."""
    window.resize(1280, 800)
    settle(window, "allotment_shorts.dxf")
    found = [n for n in notes(window).labels if "side seam" in n.lines[0]]
    assert {n.which for n in found} == {s.which for s in window.table.sights}


def test_seams_that_are_not_sewn_together_are_each_told(window: MainWindow) -> None:
    window.resize(1920, 1080)
    settle(window, "allotment_shorts.svg")
    session = window.session
    a, b = (
        EdgeId(k, next(n for n, e in enumerate(p.edges) if e.role is Role.SIDE))
        for k, p in session.settled.sheets.pieces.items()
    )
    session.commit("apart", with_tie(session.settled, a, b, sewn=False))
    found = [n for n in notes(window).labels if "side seam" in n.lines[0]]
    assert len(found) == 2, [n.lines for n in found]
