"""Measuring on the table: between points, along a seam, a ruler at an edge; mouse and keys."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest

from app.window import theme
from app.window.lengths import Shown, with_unit
from app.window.main import MainWindow
from app.window.table.sights import Sight
from app.window.table.tools.measuring import Measuring
from app.window.table.tools.readings import Measure, marks_of, traced
from app.window.table.tools.spots import Stop, stops_of
from core.curve import Point
from core.piece.model import Role
from tests.app.hands import Keys, click, click_at, hover, px, sight, type_length

Key = Qt.Key
SAMPLES = Path(__file__).parents[2] / "sample_pieces"


def on_edge(of: Sight, role: Role, share: float) -> Point:
    chain = of.now.edge_chain(of.now.edge(role))
    return chain.at(chain.at_length(chain.length() * share))


def pick(window: MainWindow, measure: Measure) -> Measuring:
    click(window.strip.buttons[measure])
    return tool(window)


def tool(window: MainWindow) -> Measuring:
    found = window.table.tools.tool
    assert isinstance(found, Measuring)
    return found


def read(window: MainWindow) -> list[float]:
    """The readings in mm."""
    return [traced(r, window.table.sights).mm for r in tool(window).readings]


def key(window: MainWindow, which: Key, keys: Keys = Keys.NoModifier) -> None:
    QTest.keyClick(window.table, which, keys)


def test_between_two_corners_it_is_their_distance(shorts: MainWindow) -> None:
    pick(shorts, Measure.BETWEEN)
    front = sight(shorts, "Front")
    waist = front.now.edge_chain(front.now.edge(Role.WAIST))
    for p in (waist.start, waist.end):
        click_at(shorts.table, px(shorts, front, p) + QPointF(4.0, -4.0))
    wanted = waist.start.distance(waist.end)
    assert read(shorts) == pytest.approx([wanted], abs=1e-9), "6 px off, a corner takes hold"
    assert f"{wanted / 10:.1f} cm" in shorts.strip.said.text()


def test_a_corner_takes_hold_within_8_pixels_and_shows_it(shorts: MainWindow) -> None:
    measuring = pick(shorts, Measure.BETWEEN)
    front = sight(shorts, "Front")
    corner = px(shorts, front, front.now.edge_chain(front.now.edge(Role.WAIST)).end)
    for off, held in ((7.5, True), (8.5, False)):
        hover(shorts.table, corner + QPointF(0.0, -off))
        assert measuring.cursor is not None
        assert measuring.cursor.marked is held, f"wanted held {held} at {off} px"
    hover(shorts.table, corner)
    assert "corner" in shorts.table.hover.text()
    picture = shorts.table.grab().toImage()
    ratio = picture.devicePixelRatio()
    side = picture.pixelColor(round((corner.x() - 6) * ratio), round(corner.y() * ratio))
    purple = QColor(theme.look().purple)
    assert abs(side.red() - purple.red()) < 40, f"wanted a mark about the corner, got {side.name()}"


@pytest.mark.parametrize(
    "stop", [Stop.CORNER, Stop.TAPER, Stop.NOTCH, Stop.MIDDLE, Stop.APEX, Stop.MOUTH]
)
def test_what_is_marked_takes_hold(shorts: MainWindow, stop: Stop) -> None:
    measuring = pick(shorts, Measure.BETWEEN)
    # The back's dart stands in the very middle of its waist, and goes before it.
    of = sight(shorts, "Front" if stop is Stop.MIDDLE else "Back")
    marks = [s for s in stops_of(of) if s.stop is stop]
    assert marks, f"wanted a {stop.value} on the {of.name}"
    for mark in marks:
        hover(shorts.table, QPointF(*shorts.table.view.to_px(mark.at)) + QPointF(1.0, 1.0))
        got = measuring.cursor
        assert got is not None
        assert got.at.distance(mark.at) <= 1e-3, f"wanted {mark}, got {got}"


def test_along_a_seam_it_is_the_shorter_way_with_darts_closed(shorts: MainWindow) -> None:
    pick(shorts, Measure.ALONG)
    back = sight(shorts, "Back")
    waist = back.now.edge(Role.WAIST)
    chain = back.now.edge_chain(waist)
    for p in (chain.start, chain.end):
        click_at(shorts.table, px(shorts, back, p))
    wanted = back.now.edge_length(waist)
    assert wanted < chain.length() - 100.0, "the dart's legs are longer than that"
    assert read(shorts) == pytest.approx([wanted], abs=1e-6)


def test_along_a_seam_from_hem_to_notch_as_far_on_both_mates(shorts: MainWindow) -> None:
    pick(shorts, Measure.ALONG)
    for name in ("Front", "Back"):
        of = sight(shorts, name)
        seam = of.now.edge_chain(of.now.edge(Role.SIDE))
        top = max((seam.start, seam.end), key=lambda p: -p.y)
        notch = next(
            s
            for s in stops_of(of)
            if s.stop is Stop.NOTCH and seam.nearest(s.at.moved(of.spot, -1.0)).distance < 1.0
        )
        click_at(shorts.table, px(shorts, of, top))
        click_at(shorts.table, QPointF(*shorts.table.view.to_px(notch.at)))
        along = seam.length_to(seam.nearest(notch.at.moved(of.spot, -1.0)).place)
        wanted = min(along, seam.length() - along)
        other = max(along, seam.length() - along)
        got = read(shorts)[-1]
        assert min(abs(got - wanted), abs(got - other)) <= 1e-6
    assert len(read(shorts)) == 2, "both readings are kept"


def test_along_a_seam_both_places_are_of_one_outline(shorts: MainWindow) -> None:
    pick(shorts, Measure.ALONG)
    front, back = sight(shorts, "Front"), sight(shorts, "Back")
    click_at(shorts.table, px(shorts, front, on_edge(front, Role.SIDE, 0.3)))
    click_at(shorts.table, px(shorts, back, on_edge(back, Role.SIDE, 0.3)))
    assert read(shorts) == []
    first = px(shorts, front, on_edge(front, Role.SIDE, 0.3))
    click_at(shorts.table, first)
    assert "same one" in shorts.strip.said.text()
    click_at(shorts.table, px(shorts, front, on_edge(front, Role.SIDE, 0.6)))
    assert len(read(shorts)) == 1


@pytest.mark.parametrize("shown", list(Shown))
def test_a_ruler_lies_along_an_edge_from_the_end_that_was_clicked(
    shorts: MainWindow, shown: Shown
) -> None:
    shorts.session.show_in(shown)
    pick(shorts, Measure.RULER)
    front = sight(shorts, "Front")
    seam = front.now.edge(Role.SIDE)
    chain = front.now.edge_chain(seam)
    for share, end in ((0.15, chain.start), (0.85, chain.end)):
        click_at(shorts.table, px(shorts, front, on_edge(front, Role.SIDE, share)))
        (reading,) = tool(shorts).readings
        marks = list(marks_of(traced(reading, shorts.table.sights), shorts.table.view.scale, shown))
        assert marks[0].at.distance(end + front.spot) <= 1e-6, "the ruler begins at its end"
        unit = 10.0 if shown is Shown.CM else 25.4
        way = chain if share < 0.5 else chain.reversed()
        for mark in marks:
            if mark.number:
                on = way.at(way.at_length(float(mark.number) * unit))
                off = mark.at.distance(on + front.spot)
                assert off <= 1e-4, f"mark {mark.number} is {off} mm off its place"
    assert read(shorts) == pytest.approx([front.now.edge_length(seam)], abs=1e-6)


def test_a_reading_goes_along_with_a_change_and_with_the_unit(shorts: MainWindow) -> None:
    pick(shorts, Measure.BETWEEN)
    front = sight(shorts, "Front")
    chain = front.now.edge_chain(front.now.edge(Role.HEM))
    for p in (chain.start, chain.end):
        click_at(shorts.table, px(shorts, front, p))
    before = read(shorts)
    type_length(shorts, "10 cm")
    now = sight(shorts, "Front").now
    hem = now.edge_chain(now.edge(Role.HEM))
    got = read(shorts)
    taper = before == got
    ends = hem.start.distance(hem.end)
    assert taper or got == pytest.approx([ends], abs=1e-6)
    shorts.session.show_in(Shown.INCH)
    assert " in. " in shorts.strip.said.text()
    shorts.session.stack.undo()
    assert read(shorts) == pytest.approx(before, abs=1e-9)


def test_esc_leaves_the_tool_and_takes_its_readings_along(shorts: MainWindow) -> None:
    pick(shorts, Measure.BETWEEN)
    front = sight(shorts, "Front")
    for share in (0.1, 0.9):
        click_at(shorts.table, px(shorts, front, on_edge(front, Role.WAIST, share)))
    assert len(read(shorts)) == 1
    pick(shorts, Measure.ALONG)
    assert len(read(shorts)) == 1, "another way of measuring keeps what was read"
    key(shorts, Key.Key_Escape)
    assert shorts.table.tools.tool is None
    assert not any(b.isChecked() for b in shorts.strip.buttons.values())
    pick(shorts, Measure.BETWEEN)
    assert read(shorts) == []


@pytest.mark.parametrize(("letter", "measure"), [*zip("MNR", Measure, strict=True)])
def test_each_way_has_its_key(shorts: MainWindow, letter: str, measure: Measure) -> None:
    shorts.activateWindow()
    shorts.table.setFocus()
    QTest.keyClick(shorts.table, getattr(Key, f"Key_{letter}"))
    assert tool(shorts).measure is measure
    QTest.keyClick(shorts.table, getattr(Key, f"Key_{letter}"))
    assert shorts.table.tools.tool is None


def test_the_keys_alone_measure_along_an_outline(shorts: MainWindow) -> None:
    shorts.activateWindow()
    shorts.table.setFocus()
    QTest.keyClick(shorts.table, Key.Key_N)
    key(shorts, Key.Key_Right)
    start = tool(shorts).cursor
    assert start is not None
    assert start.marked
    key(shorts, Key.Key_Return)
    for _ in range(3):
        key(shorts, Key.Key_Right)
    key(shorts, Key.Key_Right, Keys.ShiftModifier)
    key(shorts, Key.Key_Left)
    key(shorts, Key.Key_Return)
    assert read(shorts) == pytest.approx([12.0], abs=1e-5), "three, ten, and one back"
    key(shorts, Key.Key_Right)
    assert read(shorts) == pytest.approx([13.0], abs=1e-5), "the last place is the chosen one"
    key(shorts, Key.Key_Backspace)
    assert read(shorts) == []


def test_the_keys_leap_from_mark_to_mark_and_from_piece_to_piece(shorts: MainWindow) -> None:
    shorts.table.setFocus()
    measuring = pick(shorts, Measure.BETWEEN)
    seen = []
    key(shorts, Key.Key_PageDown)
    for _ in range(40):
        assert measuring.cursor is not None
        seen.append(measuring.cursor)
        key(shorts, Key.Key_Down)
    of = next(s for s in shorts.table.sights if s.which == seen[0].which)
    on_line = {s for s in stops_of(of) if s.stop is not Stop.APEX} - {
        s for s in stops_of(of) if s.stop in (Stop.HOLE, Stop.LINE_END)
    }
    assert on_line <= set(seen), f"never came by {on_line - set(seen)}"
    key(shorts, Key.Key_Up)
    assert measuring.cursor == seen[-1]
    key(shorts, Key.Key_PageDown)
    assert measuring.cursor is not None
    assert measuring.cursor.which != seen[0].which


def test_in_inches_the_keys_go_by_sixteenths(shorts: MainWindow) -> None:
    shorts.session.show_in(Shown.INCH)
    pick(shorts, Measure.ALONG)
    key(shorts, Key.Key_Right)
    key(shorts, Key.Key_Return)
    key(shorts, Key.Key_Right)
    key(shorts, Key.Key_Right, Keys.ShiftModifier)
    key(shorts, Key.Key_Return)
    assert with_unit(read(shorts)[0], Shown.INCH) == "9/16 in"


def test_hems_are_not_drawn_while_a_tool_is_in_hand(shorts: MainWindow) -> None:
    pick(shorts, Measure.BETWEEN)
    state = shorts.session.settled
    rect = shorts.table.grip(sight(shorts, "Front").which)
    assert rect is not None
    click_at(shorts.table, QPointF(*rect.middle))
    assert shorts.session.settled is state
    assert not shorts.session.previewing
