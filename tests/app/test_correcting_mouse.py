"""Corrections made with the mouse on the edges page: darts, grain, what is sewn to what."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from app.window.document import EdgeId
from app.window.main import MainWindow
from app.window.outcome import outcome
from app.window.table.sights import Sight
from app.window.table.tools.marking import MarkDart, SewEdges
from app.window.table.tools.spots import Stop, Want
from app.window.tied import with_tie
from app.window.way.partners import pairs_of, together_words
from app.window.way.stage import Stage
from core.curve import Point, Vector
from core.piece.correct import SAID
from core.piece.model import Piece, Role
from tests.app.hands import Answers, Keys, click, click_at, px, sight, type_length

Key = Qt.Key
SAMPLES = Path(__file__).parents[2] / "sample_pieces"


@pytest.fixture
def shorts(shorts: MainWindow) -> MainWindow:
    """On the page of the edges."""
    shorts.way.go(Stage.EDGES)
    return shorts


def piece(window: MainWindow, name: str) -> Piece:
    return next(p for p in window.session.settled.sheets.pieces.values() if p.name == name)


def on_edge(of: Sight, role: Role, share: float) -> Point:
    chain = of.now.edge_chain(of.now.edge(role))
    return chain.at(chain.at_length(chain.length() * share))


def take(window: MainWindow, button: QPushButton) -> None:
    click(button)
    assert window.table.tools.tool is not None


def at(window: MainWindow, name: str, p: Point) -> None:
    click_at(window.table, px(window, sight(window, name), p))


def told(window: MainWindow) -> str:
    return window.strip.said.text()


def mates(window: MainWindow) -> set[frozenset[EdgeId]]:
    return {frozenset((p.first, p.second)) for p in pairs_of(window.session.settled)}


def edge(window: MainWindow, name: str, role: Role) -> EdgeId:
    found = window.session.settled.sheets.pieces.items()
    which, one = next((w, p) for w, p in found if p.name == name)
    return EdgeId(which, one.edges.index(one.edge(role)))


def show_dart(window: MainWindow) -> tuple[Point, Point, Point]:
    """Marks a dart of the front's waist by three clicks."""
    front = sight(window, "Front")
    a, b = on_edge(front, Role.WAIST, 0.3), on_edge(front, Role.WAIST, 0.4)
    apex = a.towards(b, 0.5) + Vector(0.0, 80.0)
    take(window, window.pages.edges.mouse.dart)
    for p in (a, b, apex):
        at(window, "Front", p)
    return a, b, apex


def test_a_dart_is_marked_by_three_clicks_and_undone_by_its_name(shorts: MainWindow) -> None:
    take(shorts, shorts.pages.edges.mouse.dart)
    front = sight(shorts, "Front")
    a, b = on_edge(front, Role.WAIST, 0.3), on_edge(front, Role.WAIST, 0.4)
    apex = a.towards(b, 0.5) + Vector(0.0, 80.0)
    for p, words in ((a, "first point"), (b, "other point"), (apex, "apex")):
        assert words in told(shorts), f"wanted to be asked for the {words}, got {told(shorts)}"
        at(shorts, "Front", p)
    assert shorts.table.tools.tool is None, "the tool is put away"
    (dart,) = piece(shorts, "Front").darts
    pixel = 1.0 / shorts.table.view.scale
    assert dart.apex.distance(apex) <= pixel
    assert dart.because == SAID
    assert max(p.distance(q) for p, q in zip(sorted(dart.mouth, key=lambda q: q.x),
               sorted((a, b), key=lambda q: q.x), strict=True)) <= pixel  # fmt: skip
    assert shorts.session.stack.undoText() == "Front: dart marked"
    shorts.session.stack.undo()
    assert piece(shorts, "Front").darts == ()
    shorts.session.stack.redo()
    assert piece(shorts, "Front").darts == (dart,)


def test_a_dart_marked_while_a_change_is_shown_lies_on_the_pieces_as_they_were(
    shorts: MainWindow,
) -> None:
    type_length_on_its_page(shorts, "12 cm")
    shorts.way.go(Stage.EDGES)
    hems = sight(shorts, "Front").now.outline.ring.bounds().y1
    take(shorts, shorts.pages.edges.mouse.dart)
    was = sight(shorts, "Front").now.outline.ring.bounds().y1
    assert was < hems - 100.0, "a correction is made on the pieces as they were"
    QTest.keyClick(shorts.table, Key.Key_Escape)
    assert sight(shorts, "Front").now.outline.ring.bounds().y1 == pytest.approx(hems, abs=1e-9)
    show_dart(shorts)
    assert len(piece(shorts, "Front").darts) == 1
    assert sight(shorts, "Front").now.outline.ring.bounds().y1 == pytest.approx(hems, abs=1e-9)


def type_length_on_its_page(window: MainWindow, text: str) -> None:
    window.way.go(Stage.LENGTH)
    type_length(window, text)


def test_the_apex_of_a_dart_that_is_none_takes_it_away(shorts: MainWindow) -> None:
    show_dart(shorts)
    take(shorts, shorts.pages.edges.mouse.dart)
    (dart,) = piece(shorts, "Front").darts
    at(shorts, "Front", dart.apex)
    assert piece(shorts, "Front").darts == ()
    assert shorts.session.stack.undoText() == "Front: no dart there"


def test_the_same_dart_by_keys_alone(shorts: MainWindow) -> None:
    shorts.session.select(edge(shorts, "Front", Role.WAIST))
    QTest.keyClick(shorts.pages.edges.mouse.dart, Key.Key_Space)
    tool = shorts.table.tools.tool
    assert isinstance(tool, MarkDart)
    assert shorts.table.hasFocus(), "the keys go to the table"
    front = sight(shorts, "Front")
    waist = front.now.edge_chain(front.now.edge(Role.WAIST))
    while not (
        tool.cursor
        and tool.cursor.stop is Stop.MIDDLE
        and waist.nearest(tool.cursor.at.moved(front.spot, -1.0)).distance < 1e-6
    ):
        QTest.keyClick(shorts.table, Key.Key_Down)
    QTest.keyClick(shorts.table, Key.Key_Return)
    for _ in range(2):
        QTest.keyClick(shorts.table, Key.Key_Right, Keys.ShiftModifier)
    QTest.keyClick(shorts.table, Key.Key_Return)
    assert tool.wants is Want.ANYWHERE
    for _ in range(5):
        QTest.keyClick(shorts.table, Key.Key_Down, Keys.ShiftModifier)
    QTest.keyClick(shorts.table, Key.Key_Return)
    (dart,) = piece(shorts, "Front").darts
    assert dart.intake == pytest.approx(20.0, abs=0.1)
    assert min(dart.legs) > 80.0, "inside, and 5 cm further down"


def test_what_is_no_dart_is_said_and_the_tool_begins_again(shorts: MainWindow) -> None:
    state = shorts.session.settled
    take(shorts, shorts.pages.edges.mouse.dart)
    front = sight(shorts, "Front")
    same = on_edge(front, Role.WAIST, 0.3)
    at(shorts, "Front", same)
    at(shorts, "Front", same)
    at(shorts, "Front", same + Vector(0.0, 60.0))
    assert "no width" in told(shorts)
    assert shorts.session.settled is state
    assert shorts.table.tools.tool is not None


def test_an_apex_outside_the_piece_is_asked_for_again(shorts: MainWindow) -> None:
    take(shorts, shorts.pages.edges.mouse.dart)
    front = sight(shorts, "Front")
    a, b = on_edge(front, Role.WAIST, 0.3), on_edge(front, Role.WAIST, 0.4)
    for p in (a, b, a + Vector(0.0, -60.0)):
        at(shorts, "Front", p)
    assert "inside its piece" in told(shorts)
    at(shorts, "Front", a + Vector(10.0, 60.0))
    assert len(piece(shorts, "Front").darts) == 1


def test_the_grain_is_set_by_two_clicks(shorts: MainWindow) -> None:
    take(shorts, shorts.pages.edges.mouse.grain)
    front = sight(shorts, "Front")
    top = front.now.outline.ring.bounds().centre + Vector(50.0, -100.0)
    at(shorts, "Front", top)
    assert "hem" in told(shorts)
    at(shorts, "Front", top + Vector(10.0, 200.0))
    down = piece(shorts, "Front").grain.down
    wanted = Vector(10.0, 200.0).unit()
    assert abs(down.angle_to(wanted)) < 0.01, f"wanted {wanted}, got {down}"
    assert piece(shorts, "Front").grain.because == SAID
    assert shorts.session.stack.undoText() == "Front: grain set"


def test_two_edges_are_sewn_together_and_then_go_together(shorts: MainWindow) -> None:
    rises = frozenset((edge(shorts, "Front", Role.RISE), edge(shorts, "Back", Role.RISE)))
    assert rises not in mates(shorts)
    take(shorts, shorts.pages.edges.mouse.sew)
    at(shorts, "Front", on_edge(sight(shorts, "Front"), Role.RISE, 0.4))
    assert "rise of Front" in told(shorts)
    at(shorts, "Front", on_edge(sight(shorts, "Front"), Role.WAIST, 0.2))
    assert "same piece" in told(shorts)
    at(shorts, "Back", on_edge(sight(shorts, "Back"), Role.RISE, 0.4))
    assert rises in mates(shorts)
    assert shorts.session.stack.undoText() == "Front rise sewn to Back rise"
    shorts.session.stack.undo()
    assert rises not in mates(shorts)


def test_an_edge_is_split_where_it_is_clicked(shorts: MainWindow) -> None:
    whole = piece(shorts, "Front").edge(Role.RISE)
    length = piece(shorts, "Front").edge_length(whole)
    take(shorts, shorts.pages.edges.mouse.split)
    assert "one seam ends" in told(shorts)
    at(shorts, "Front", on_edge(sight(shorts, "Front"), Role.HEM, 0.5))
    assert "taper points" in told(shorts), "the hem is not split, and it is said why"
    at(shorts, "Front", on_edge(sight(shorts, "Front"), Role.RISE, 0.3))
    front = piece(shorts, "Front")
    parts = [front.edge_length(e) for e in front.edges if e.role is Role.RISE]
    pixel = 1.0 / shorts.table.view.scale
    assert parts == pytest.approx([0.3 * length, 0.7 * length], abs=8.0 + pixel)
    assert sum(parts) == pytest.approx(length, abs=1e-6)
    assert shorts.table.tools.tool is None
    assert shorts.session.stack.undoText() == "Front: edge split"
    shorts.session.stack.undo()
    assert piece(shorts, "Front").edges.count(whole) == 1


def test_an_edge_is_split_at_a_notch_by_keys_alone(shorts: MainWindow) -> None:
    shorts.session.select(edge(shorts, "Front", Role.RISE))
    QTest.keyClick(shorts.pages.edges.mouse.split, Key.Key_Space)
    tool = shorts.table.tools.tool
    assert tool is not None
    for _ in range(40):
        if tool.cursor and tool.cursor.stop is Stop.NOTCH:
            break
        QTest.keyClick(shorts.table, Key.Key_Down)
    assert tool.cursor is not None
    assert tool.cursor.stop is Stop.NOTCH
    before = len(piece(shorts, "Front").edges)
    QTest.keyClick(shorts.table, Key.Key_Return)
    assert len(piece(shorts, "Front").edges) == before + 1


def test_mates_are_taken_apart_and_then_differ(shorts: MainWindow) -> None:
    box = shorts.pages.edges.mouse
    sides = frozenset((edge(shorts, "Front", Role.SIDE), edge(shorts, "Back", Role.SIDE)))
    inseams = frozenset((edge(shorts, "Front", Role.INSEAM), edge(shorts, "Back", Role.INSEAM)))
    assert together_words(shorts.session.settled) == "Front and Back change together."
    for wanted in (sides, inseams):
        for row in range(box.list.count()):
            box.list.setCurrentRow(row)
            pair = box.list.currentItem().data(Qt.ItemDataRole.UserRole)
            if frozenset((pair.first, pair.second)) == wanted:
                click(box.apart)
                break
        assert wanted not in mates(shorts)
    assert shorts.session.stack.undoText().endswith("not sewn together")
    assert together_words(shorts.session.settled) == ""
    type_length_on_its_page(shorts, "12 cm")
    led = [a.led for a in outcome(shorts.session.settled).altered.values()]
    assert led == [(), ()], "each goes on by itself"


def test_an_unsure_pair_becomes_sure_when_it_is_said(both: MainWindow) -> None:
    both.way.go(Stage.EDGES)
    box = both.pages.edges.mouse
    unsure = [p for p in pairs_of(both.session.settled) if not p.sure]
    for _ in unsure:
        rows = [box.list.item(k).text() for k in range(box.list.count())]
        box.list.setCurrentRow(next(k for k, text in enumerate(rows) if text.endswith("?")))
        click(box.yes)
    assert all(p.sure for p in pairs_of(both.session.settled))
    assert len(pairs_of(both.session.settled)) == box.list.count()


def test_ties_and_pieces_left_alone_are_kept_and_found_again(
    shorts: MainWindow, answers: Answers, make_window: Callable[[], MainWindow], tmp_path: Path
) -> None:
    state = shorts.session.settled
    rises = edge(shorts, "Front", Role.RISE), edge(shorts, "Back", Role.RISE)
    sides = edge(shorts, "Front", Role.SIDE), edge(shorts, "Back", Role.SIDE)
    state = with_tie(with_tie(state, *rises, sewn=True), *sides, sewn=False)
    state = state.switched(sides[1].piece, on=False)
    shorts.session.commit("said", state)
    wanted = mates(shorts)
    shorts.session.set_by(60.0)
    answers.save_file = tmp_path / "longer.svg"
    assert shorts.saving.save()
    kept = json.loads((tmp_path / "shorts.svg.hemward.json").read_text())
    assert [t["sewn"] for t in kept["sewn together"]] == [True, False]
    for name in ("shorts.svg", "longer.svg"):
        other = make_window()
        other.opening.open([tmp_path / name])
        got = other.session.settled
        assert {frozenset((e.piece.key, e.number) for e in pair) for pair in mates(other)} == {
            frozenset((e.piece.key, e.number) for e in pair) for pair in wanted
        }, name
        assert [got.piece(w).name for w in got.off] == ["Back"], name
        assert "Back stays as it is." in together_words(got)


def test_ties_across_two_files_are_kept_with_both(
    both: MainWindow, answers: Answers, make_window: Callable[[], MainWindow], tmp_path: Path
) -> None:
    hems = edge(both, "Front", Role.WAIST), edge(both, "Back", Role.WAIST)
    both.session.commit("said", with_tie(both.session.settled, *hems, sewn=True))
    assert frozenset(hems) in mates(both)
    both.session.set_by(40.0)
    answers.save_folder = tmp_path / "out"
    answers.save_folder.mkdir()
    assert both.saving.save()
    saved = sorted(answers.save_folder.glob("*.svg"))
    assert len(saved) == 2
    for paths in (saved, saved[::-1], [tmp_path / "front.svg", tmp_path / "back.svg"]):
        other = make_window()
        other.opening.open(paths)
        waists = {edge(other, "Front", Role.WAIST), edge(other, "Back", Role.WAIST)}
        assert waists in [set(pair) for pair in mates(other)], f"{paths} have forgotten"
        assert not any("no longer fit" in p for s in other.session.settled.sheets.all
                       for p in s.drawing.problems)  # fmt: skip


def test_a_tie_stays_with_its_edge_when_that_is_split_or_named_anew(shorts: MainWindow) -> None:
    rises = edge(shorts, "Front", Role.RISE), edge(shorts, "Back", Role.RISE)
    shorts.session.commit("said", with_tie(shorts.session.settled, *rises, sewn=True))
    shorts.session.select(rises[0])
    click(shorts.pages.edges.tools.split)
    said = [m for m in shorts.session.settled.sheets.mates if m.because == SAID]
    assert len(said) == 1
    assert said[0].first[1] is Role.RISE
    shorts.session.stack.undo()
    assert [m.because for m in shorts.session.settled.sheets.mates].count(SAID) == 1


def test_leaving_the_stage_puts_a_correcting_tool_away(shorts: MainWindow) -> None:
    take(shorts, shorts.pages.edges.mouse.sew)
    assert isinstance(shorts.table.tools.tool, SewEdges)
    shorts.way.go(Stage.LENGTH)
    assert shorts.table.tools.tool is None


def test_all_of_it_undone_and_redone_gives_the_same(shorts: MainWindow) -> None:
    first = shorts.session.settled
    show_dart(shorts)
    take(shorts, shorts.pages.edges.mouse.sew)
    at(shorts, "Front", on_edge(sight(shorts, "Front"), Role.RISE, 0.4))
    at(shorts, "Back", on_edge(sight(shorts, "Back"), Role.RISE, 0.4))
    last = shorts.session.settled
    names = [shorts.session.stack.text(k) for k in range(shorts.session.stack.count())]
    assert names == ["Front: dart marked", "Front rise sewn to Back rise"]
    for _ in names:
        shorts.session.stack.undo()
    assert shorts.session.settled is first
    for _ in names:
        shorts.session.stack.redo()
    assert shorts.session.settled is last
