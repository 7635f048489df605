"""A dart and a taper point that are shown in one size of a nest are shown in every size, or in
one where that is asked: by the mouse, by the keys, beside the file and by the command."""

from __future__ import annotations

import json
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest

from app.__main__ import main
from app.window.document import EdgeId, PieceId
from app.window.main import MainWindow
from app.window.outcome import outcome
from app.window.table.holds import Part, holds_of
from app.window.table.tools.marking import MarkDart
from app.window.table.tools.spots import Stop
from app.window.way.stage import Stage
from core.curve import Point, Vector
from core.files import read
from core.files.beside import beside, read_as_said
from core.piece.correct import SAID
from core.piece.model import Piece, Role
from tests.app.hands import (
    Answers,
    click,
    click_at,
    fill,
    move,
    press,
    px,
    release,
    sight,
    type_length,
)

SAMPLES = Path(__file__).parents[2] / "sample_pieces"
SIZES = ("36", "38", "40", "42", "44")


@pytest.fixture(params=["svg", "dxf"])
def nest(request: pytest.FixtureRequest, window: MainWindow, tmp_path: Path) -> MainWindow:
    source = tmp_path / f"breeches.{request.param}"
    source.write_bytes((SAMPLES / f"rain_breeches.{request.param}").read_bytes())
    window.opening.open([source])
    window.way.go(Stage.EDGES)
    return window


def fronts(window: MainWindow) -> dict[str, tuple[PieceId, Piece]]:
    found = window.session.settled.sheets.pieces.items()
    return {p.size: (which, p) for which, p in found if "back" not in p.title.lower()}


def one_size_only(window: MainWindow) -> None:
    QTest.keyClick(window.pages.edges.mouse.every, Qt.Key.Key_Space)
    assert not window.session.every_size


def show_dart(window: MainWindow) -> None:
    """In the waist of the largest size, which is on top."""
    click(window.pages.edges.mouse.dart)
    front = sight(window, fronts(window)["44"][1].name)
    waist = front.now.edge_chain(front.now.edge(Role.WAIST))
    a, b = (waist.at(waist.at_length(s * waist.length())) for s in (0.45, 0.58))
    for p in (a, b, a.towards(b, 0.5) + Vector(0.0, 90.0)):
        click_at(window.table, px(window, front, p))


def darts(window: MainWindow) -> dict[str, int]:
    return {size: len(p.darts) for size, (_, p) in fronts(window).items()}


@pytest.mark.parametrize("every", [True, False])
def test_a_dart_marked_once_is_marked_in_every_size(nest: MainWindow, every: bool) -> None:
    first = nest.session.settled
    if not every:
        one_size_only(nest)
    show_dart(nest)
    wanted = {size: int(every or size == "44") for size in SIZES}
    assert darts(nest) == wanted, f"wanted {wanted}, got {darts(nest)}"
    assert nest.session.stack.undoText().endswith("in every size") is every
    found = [p.darts[0] for _, p in fronts(nest).values() if p.darts]
    for dart in found:
        assert dart.because == SAID
        assert dart.on is Role.WAIST
        assert dart.intake == pytest.approx(found[0].intake, abs=0.5)
        a, b = dart.legs
        assert abs(a - b) < abs(found[0].legs[0] - found[0].legs[1]) + 1.0
    assert nest.session.stack.count() == 1
    nest.session.stack.undo()
    assert nest.session.settled is first


@pytest.mark.parametrize("every", [True, False])
def test_a_dart_that_is_none_is_none_in_every_size(nest: MainWindow, every: bool) -> None:
    show_dart(nest)
    if not every:
        one_size_only(nest)
    click(nest.pages.edges.mouse.dart)
    front = sight(nest, fronts(nest)["44"][1].name)
    click_at(nest.table, px(nest, front, front.now.darts[0].apex))
    wanted = {size: int(not (every or size == "44")) for size in SIZES}
    assert darts(nest) == wanted, f"wanted {wanted}, got {darts(nest)}"
    assert nest.session.stack.undoText().endswith("in every size") is every


def test_a_dart_shown_again_stands_in_the_place_of_the_one_shown_before(nest: MainWindow) -> None:
    show_dart(nest)
    show_dart(nest)
    assert darts(nest) == dict.fromkeys(SIZES, 1), f"wanted one each, got {darts(nest)}"


def test_of_sizes_whose_lines_lie_on_each_other_the_chosen_one_is_meant(nest: MainWindow) -> None:
    one_size_only(nest)
    which, piece = fronts(nest)["40"]
    nest.session.select(EdgeId(which, piece.edges.index(piece.edge(Role.WAIST))))
    show_dart(nest)
    assert darts(nest) == {size: int(size == "40") for size in SIZES}


def heights(window: MainWindow, *, last: bool) -> dict[str, float]:
    """Of the taper point at one end of the hem, above the lowest place of the piece."""
    out = {}
    for size, (_, piece) in fronts(window).items():
        assert piece.hem is not None
        ends = (piece.hem.first, piece.hem.last)
        points = sorted((piece.ring.at(t.place) for t in ends), key=lambda p: p.x)
        run = piece.ring.run(piece.hem.first.place, piece.hem.last.place)
        low = max(s.at(t).y for s in run for t in (0.0, 0.5, 1.0))
        out[size] = low - points[last].y
    return out


def slide(window: MainWindow, mm: float, *, let_go: bool = True) -> None:
    """The taper point at the left of the largest front, up by so much."""
    which = fronts(window)["44"][0]
    held = [h for h in holds_of(window.table.sights) if h.which == which and h.part is Part.TAPER]
    hold = min(held, key=lambda h: h.at.x)
    at = QPointF(*window.table.view.to_px(hold.at))
    press(window.table, at)
    step = QPointF(0.0, -mm * window.table.view.scale)
    for part in (0.5, 1.0):
        move(window.table, at + step * part)
    if let_go:
        release(window.table, at + step)


@pytest.mark.parametrize("every", [True, False])
def test_a_taper_point_slid_by_the_mouse_is_slid_in_every_size(
    nest: MainWindow, every: bool
) -> None:
    before, first = heights(nest, last=False), nest.session.settled
    if not every:
        one_size_only(nest)
    slide(nest, 140.0)
    after = heights(nest, last=False)
    slid = {size for size in SIZES if after[size] > before[size] + 100.0}
    assert slid == (set(SIZES) if every else {"44"})
    if every:
        assert max(after.values()) - min(after.values()) < 1.0, f"wanted one height, got {after}"
    assert nest.session.stack.undoText().endswith("in every size") is every
    assert nest.session.stack.count() == 1
    nest.session.stack.undo()
    assert nest.session.settled is first


def test_all_sizes_are_seen_to_follow_while_it_is_held(nest: MainWindow) -> None:
    type_at_length(nest, "6 cm")
    slide(nest, 140.0, let_go=False)
    state = nest.session.state
    tapers = [
        p.ring.at(p.hem.first.place).y for p in state.sheets.pieces.values() if p.hem is not None
    ]
    assert nest.session.previewing
    assert len(tapers) == 10
    lines = [a.steps[0].lines for a in outcome(state).altered.values()]
    settled = [a.steps for a in outcome(nest.session.settled).altered.values()]
    assert len(lines) == len(settled)
    QTest.keyClick(nest.table, Qt.Key.Key_Escape)
    assert not nest.session.previewing
    assert nest.session.stack.undoText() == "Lengthen by 6.0 cm"


def type_at_length(window: MainWindow, text: str) -> None:
    window.way.go(Stage.LENGTH)
    type_length(window, text)


@pytest.mark.parametrize("every", [True, False])
def test_a_taper_point_typed_is_told_in_every_size(nest: MainWindow, every: bool) -> None:
    if not every:
        one_size_only(nest)
    which, piece = fronts(nest)["40"]
    nest.session.select(EdgeId(which, 1))
    length = piece.edge_chain(piece.edges[1]).length()
    end = {p.size: p.hem.last.place for _, p in fronts(nest).values() if p.hem}
    fill(nest.pages.edges.tools.tapers[1], f"{(length - 120.0) / 10:.1f} cm")
    now = {p.size: p.hem.last.place for _, p in fronts(nest).values() if p.hem}
    changed = {size for size in SIZES if now[size] != end[size]}
    assert changed == (set(SIZES) if every else {"40"})
    told = fronts(nest)["40"][1]
    assert told.edge_chain(told.edges[1]).length() == pytest.approx(length - 120.0, abs=0.6)


def test_what_one_size_does_not_allow_is_said_of_none_and_why(nest: MainWindow) -> None:
    which, _ = fronts(nest)["40"]
    first = nest.session.settled
    nest.session.select(EdgeId(which, 1))
    fill(nest.pages.edges.tools.tapers[1], "0 cm")
    assert nest.session.settled is first
    assert "taper point lies between" in nest.messages.all[-1]


def test_beside_the_file_and_by_the_command_it_is_the_same(
    nest: MainWindow, answers: Answers, tmp_path: Path, make_window: Callable[[], MainWindow]
) -> None:
    source = nest.session.settled.sheets.all[0].drawing.path
    show_dart(nest)
    slide(nest, 140.0)
    type_at_length(nest, "5 cm")
    answers.save_file = tmp_path / f"seen{source.suffix}"
    assert nest.saving.save_as()
    kept = json.loads(beside(source).read_text(encoding="utf-8"))
    assert len(kept["pieces"]) == len(SIZES)
    again = [p for p in read_as_said(source).pieces if "back" not in p.title.lower()]
    assert [len(p.darts) for p in again] == [1] * len(SIZES)
    assert all(a.because == SAID for p in again for a in p.darts)
    words = ["alter", str(source), "--by", "5cm", "--out", str(tmp_path / f"typed{source.suffix}")]
    assert main(words) == 0
    seen, typed = (tmp_path / f"{n}{source.suffix}" for n in ("seen", "typed"))
    assert typed.read_bytes() == seen.read_bytes()
    plain = tmp_path / f"plain{source.suffix}"
    assert main([*words[:-1], str(plain), "--as-recognised"]) == 0
    assert plain.read_bytes() != typed.read_bytes()
    assert [p.name for p in read(seen).pieces] == [p.name for p in read(source).pieces]
    other = make_window()
    other.opening.open([source])
    assert darts(other) == dict.fromkeys(SIZES, 1)
    levels = heights(other, last=False).values()
    assert all(abs(a - b) < 1.0 for a, b in pairwise(levels))
    other.session.begin(type(other.session.settled)())


def test_a_dart_is_marked_in_every_size_by_the_keys_alone(nest: MainWindow) -> None:
    which, piece = fronts(nest)["44"]
    nest.session.select(EdgeId(which, piece.edges.index(piece.edge(Role.WAIST))))
    QTest.keyClick(nest.pages.edges.mouse.dart, Qt.Key.Key_Space)
    tool, front = nest.table.tools.tool, sight(nest, piece.name)
    assert isinstance(tool, MarkDart)
    waist = piece.edge_chain(piece.edge(Role.WAIST))
    while not (
        tool.cursor
        and tool.cursor.stop is Stop.MIDDLE
        and waist.nearest(tool.cursor.at.moved(front.spot, -1.0)).distance < 1e-6
    ):
        QTest.keyClick(nest.table, Qt.Key.Key_Down)
    QTest.keyClick(nest.table, Qt.Key.Key_Return)
    for _ in range(2):
        QTest.keyClick(nest.table, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    for _ in range(2):
        QTest.keyClick(nest.table, Qt.Key.Key_Return)
    assert nest.table.tools.tool is None, "wanted the tool put away"
    assert darts(nest) == dict.fromkeys(SIZES, 1)


def test_a_pattern_in_one_size_says_nothing_of_sizes(shorts: MainWindow) -> None:
    shorts.way.go(Stage.EDGES)
    assert not shorts.pages.edges.mouse.every.isVisible()
    hold = next(h for h in holds_of(shorts.table.sights) if h.part is Part.TAPER)
    at = QPointF(*shorts.table.view.to_px(hold.at))
    press(shorts.table, at)
    for up in (-10.0, -20.0):
        move(shorts.table, at + QPointF(0.0, up))
    release(shorts.table, at + QPointF(0.0, -20.0))
    assert shorts.session.stack.undoText().endswith("taper point slid")
    assert Point(0.0, 0.0) != hold.at
