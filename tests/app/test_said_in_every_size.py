"""What is said of a piece of a nest is said of it in every size, or of one where that is asked."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from app.__main__ import main
from app.window.document import EdgeId, PieceId
from app.window.findings import without_sizes
from app.window.main import MainWindow
from app.window.way.stage import Stage
from core.curve import Vector
from core.piece.model import Piece, Role
from tests.app.hands import Answers, click, click_at, px, sight, type_length

Key = Qt.Key
SAMPLES = Path(__file__).parents[2] / "sample_pieces"
SIZES = {"36", "38", "40", "42", "44"}


@pytest.fixture
def nest(window: MainWindow, tmp_path: Path) -> MainWindow:
    source = tmp_path / "breeches.svg"
    source.write_bytes((SAMPLES / "rain_breeches.svg").read_bytes())
    window.opening.open([source])
    window.way.go(Stage.EDGES)
    return window


def fronts(window: MainWindow) -> dict[str, tuple[PieceId, Piece]]:
    found = window.session.settled.sheets.pieces.items()
    return {p.size: (which, p) for which, p in found if p.title.lower() != "back"}


def choose(window: MainWindow, size: str, role: Role) -> EdgeId:
    which, piece = fronts(window)[size]
    edge = EdgeId(which, piece.edges.index(piece.edge(role)))
    window.session.select(edge)
    return edge


def say_role(window: MainWindow, role: Role) -> None:
    box = window.pages.edges.edge.role
    box.setCurrentIndex(box.findData(role))
    box.activated.emit(box.currentIndex())


def sizes_with(window: MainWindow, role: Role, count: int) -> set[str]:
    found = fronts(window).items()
    return {s for s, (_, p) in found if sum(e.role is role for e in p.edges) == count}


@pytest.mark.parametrize("every", [True, False])
def test_the_role_of_an_edge(nest: MainWindow, every: bool) -> None:
    first = nest.session.settled
    if not every:
        QTest.keyClick(nest.pages.edges.mouse.every, Key.Key_Space)
    choose(nest, "40", Role.RISE)
    say_role(nest, Role.OTHER)
    assert sizes_with(nest, Role.RISE, 0) == (SIZES if every else {"40"})
    assert nest.session.stack.undoText().endswith("in every size") is every
    assert nest.session.stack.count() == 1, "one entry for all of them"
    nest.session.stack.undo()
    assert nest.session.settled is first


@pytest.mark.parametrize("every", [True, False])
def test_the_name_of_a_piece(nest: MainWindow, every: bool) -> None:
    if not every:
        QTest.keyClick(nest.pages.edges.mouse.every, Key.Key_Space)
    choose(nest, "38", Role.HEM)
    box = nest.pages.edges.tools.name
    box.setFocus()
    box.selectAll()
    QTest.keyClicks(box, "Left front")
    QTest.keyClick(box, Key.Key_Return)
    named = {p.size for p in nest.session.settled.sheets.pieces.values() if p.title == "Left front"}
    assert named == (SIZES if every else {"38"})


def test_an_edge_split_and_joined(nest: MainWindow) -> None:
    choose(nest, "42", Role.SIDE)
    click(nest.pages.edges.tools.split)
    assert sizes_with(nest, Role.SIDE, 2) == SIZES
    nest.session.stack.undo()
    click(nest.pages.edges.mouse.split)
    front = sight(nest, fronts(nest)["44"][1].name)
    chain = front.now.edge_chain(front.now.edge(Role.SIDE))
    click_at(nest.table, px(nest, front, chain.at(chain.at_length(0.3 * chain.length()))))
    assert sizes_with(nest, Role.SIDE, 2) == SIZES
    for _, piece in fronts(nest).values():
        parts = [piece.edge_chain(e).length() for e in piece.edges if e.role is Role.SIDE]
        share = parts[0] / sum(parts)
        assert min(share, 1.0 - share) == pytest.approx(0.3, abs=0.05)
    choose_first = next(k for k, e in enumerate(fronts(nest)["44"][1].edges) if e.role is Role.SIDE)
    nest.session.select(EdgeId(fronts(nest)["44"][0], choose_first))
    click(nest.pages.edges.tools.join)
    assert sizes_with(nest, Role.SIDE, 1) == SIZES


def test_the_grain(nest: MainWindow) -> None:
    click(nest.pages.edges.mouse.grain)
    front = sight(nest, fronts(nest)["44"][1].name)
    top = front.now.outline.ring.bounds().centre + Vector(0.0, -150.0)
    for p in (top, top + Vector(10.0, 250.0)):
        click_at(nest.table, px(nest, front, p))
    downs = [p.grain.down for _, p in fronts(nest).values()]
    wanted = Vector(10.0, 250.0).unit()
    for down in downs:
        assert down == downs[0]
        assert abs(down.angle_to(wanted)) < 0.01


def test_the_command_alters_such_a_nest_as_the_window_does(
    nest: MainWindow, answers: Answers, tmp_path: Path
) -> None:
    choose(nest, "40", Role.RISE)
    say_role(nest, Role.OTHER)
    nest.way.go(Stage.LENGTH)
    type_length(nest, "5 cm")
    answers.save_file = tmp_path / "seen.svg"
    assert nest.saving.save_as()
    words = ["alter", str(tmp_path / "breeches.svg"), "--by", "5cm"]
    assert main([*words, "--out", str(tmp_path / "typed.svg")]) == 0
    assert (tmp_path / "typed.svg").read_bytes() == (tmp_path / "seen.svg").read_bytes()


def test_a_doubt_that_is_the_same_in_every_size_is_told_once_and_answered_once(
    window: MainWindow, tmp_path: Path
) -> None:
    """Five sizes without a grain line were ninety things to look at."""
    source = tmp_path / "breeches.svg"
    drawn = (SAMPLES / "rain_breeches.svg").read_text()
    source.write_text(re.sub(r'<g id="\w+-grain".*?</g>', "", drawn, flags=re.DOTALL))
    window.opening.open([source])
    window.way.go(Stage.EDGES)
    doubts, every = window.pages.edges.doubts, window.pages.edges.mouse.every
    told = [t.sentence for t in doubts.told]
    assert sum(s.startswith("Front, in 5 sizes: is this the hem?") for s in told) == 1, told
    assert window.rail.buttons[Stage.EDGES].standing.words == f"{len(told)} to look at"
    QTest.keyClick(every, Key.Key_Space)
    assert len(doubts.told) > 3 * len(told), "each size by itself"
    QTest.keyClick(every, Key.Key_Space)
    (hem,) = (t for t in doubts.told if t.sentence.startswith("Front, in 5 sizes: is this the hem"))
    assert hem.piece is not None
    assert window.session.settled.piece(hem.piece).size == "44", (
        "the size that is named on the table"
    )
    doubts.pointed.emit(hem)
    click(window.pages.edges.edge.yes)
    left = [t.sentence for t in doubts.told]
    assert not [s for s in left if s.startswith("Front") and "is this the hem?" in s], left


def test_a_size_whose_name_begins_another_does_not_tear_it_apart() -> None:
    """Regression: “Front 44” was told as “Front4” where there was a size 4."""
    names = {"Front 4": "Front", "Front 44": "Front"}
    for name in names:
        assert without_sizes(f"{name}: check the grain.", names) == "Front: check the grain."
    assert without_sizes("Front 445: look.", names) == "Front 445: look."
