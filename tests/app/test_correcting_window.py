"""Taper points and seam ends drawn by the mouse, corrections on the page, kept with the file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest

from app.window.document import EdgeId, PieceId
from app.window.main import MainWindow
from app.window.outcome import outcome
from app.window.table.holds import Hold, Part, holds_of
from app.window.way.stage import Stage
from core.piece.correct import SAID
from core.piece.model import Piece, Role
from tests.app.hands import Answers, Keys, move, press, release, type_length

LEFT = Qt.MouseButton.LeftButton
SAMPLE = Path(__file__).parents[2] / "sample_pieces" / "allotment_shorts.svg"


@pytest.fixture
def shorts(make_window: Callable[[], MainWindow], tmp_path: Path) -> MainWindow:
    path = tmp_path / "shorts.svg"
    path.write_bytes(SAMPLE.read_bytes())
    window = make_window()
    window.opening.open([path])
    return window


def named(window: MainWindow, name: str) -> tuple[PieceId, Piece]:
    found = window.session.settled.sheets.pieces.items()
    return next((which, p) for which, p in found if p.name == name)


def hold(window: MainWindow, part: Part, name: str, *, last: bool) -> tuple[Hold, QPointF]:
    which, _ = named(window, name)
    for found in holds_of(window.table.sights):
        if (found.part, found.which, found.last) == (part, which, last):
            return found, QPointF(*window.table.view.to_px(found.at))
    raise LookupError(part)


def draw(window: MainWindow, at: QPointF, by: QPointF, *, keys: Keys = Keys.NoModifier) -> None:
    press(window.table, at)
    for k in range(1, 5):
        move(window.table, at + by * (k / 4), keys=keys)
    release(window.table, at + by)


@pytest.mark.parametrize("last", [False, True])
def test_a_taper_point_is_drawn_up_its_seam_as_one_entry(shorts: MainWindow, last: bool) -> None:
    type_length(shorts, "6 cm")
    count = shorts.session.stack.count()
    before, at = hold(shorts, Part.TAPER, "Front", last=last)
    draw(shorts, at, QPointF(0.0, -40.0))
    after, _ = hold(shorts, Part.TAPER, "Front", last=last)
    moved = (after.at - before.at).y
    wanted = -40.0 / shorts.table.view.scale
    assert moved == pytest.approx(wanted, rel=0.1), f"wanted about {wanted} mm, got {moved}"
    assert shorts.session.stack.count() == count + 1
    assert shorts.session.stack.undoText() == "Front: taper point slid"
    shorts.session.stack.undo()
    again, _ = hold(shorts, Part.TAPER, "Front", last=last)
    assert again.at == before.at


def test_esc_gives_a_taper_point_back(shorts: MainWindow) -> None:
    before, at = hold(shorts, Part.TAPER, "Front", last=False)
    state = shorts.session.settled
    press(shorts.table, at)
    move(shorts.table, at + QPointF(0.0, -30.0))
    assert shorts.session.previewing
    QTest.keyClick(shorts.table, Qt.Key.Key_Escape)
    release(shorts.table, at + QPointF(0.0, -30.0))
    assert shorts.session.settled is state
    assert hold(shorts, Part.TAPER, "Front", last=False)[0].at == before.at


def test_a_seam_end_drawn_outwards_widens_the_hem_and_the_box_says_so(shorts: MainWindow) -> None:
    type_length(shorts, "12 cm")
    found, at = hold(shorts, Part.SEAM_END, "Front", last=False)
    other, _ = hold(shorts, Part.SEAM_END, "Front", last=True)
    out = 1.0 if found.at.x > other.at.x else -1.0
    was = sum(
        a.figures.hem_width_after_mm for a in outcome(shorts.session.settled).altered.values()
    )
    count = shorts.session.stack.count()
    draw(shorts, at, QPointF(15.0 * out, 0.0))
    change = shorts.session.settled.change
    wanted = was + 2.0 * 15.0 / shorts.table.view.scale
    assert change.to_width_mm == pytest.approx(wanted, abs=4.0)
    assert shorts.session.stack.count() == count + 1
    assert shorts.page.ways.hem_width.isVisible()


def choose(window: MainWindow, name: str, role: Role) -> EdgeId:
    which, piece = named(window, name)
    edge = EdgeId(which, piece.edges.index(piece.edge(role)))
    window.way.go(Stage.EDGES)
    window.session.select(edge)
    return edge


def test_a_taper_point_is_set_by_its_number(shorts: MainWindow) -> None:
    choose(shorts, "Front", Role.INSEAM)
    tools = shorts.pages.edges.tools
    edits = {w.text(): e for w, e in zip(tools.labels, tools.tapers, strict=True)}
    edit = edits["Inseam"]
    edit.setFocus()
    edit.selectAll()
    QTest.keyClicks(edit, "15 cm")
    QTest.keyClick(edit, Qt.Key.Key_Return)
    _, piece = named(shorts, "Front")
    assert piece.edge_length(piece.edge(Role.INSEAM)) == pytest.approx(150.0, abs=1e-6)


def test_an_edge_is_split_and_joined_by_its_buttons(shorts: MainWindow) -> None:
    edge = choose(shorts, "Front", Role.SIDE)
    count = len(named(shorts, "Front")[1].edges)
    QTest.mouseClick(shorts.pages.edges.tools.split, LEFT)
    assert len(named(shorts, "Front")[1].edges) == count + 1
    shorts.session.select(edge)
    QTest.mouseClick(shorts.pages.edges.tools.join, LEFT)
    assert len(named(shorts, "Front")[1].edges) == count


def test_what_a_tool_refuses_is_told_and_changes_nothing(shorts: MainWindow) -> None:
    choose(shorts, "Front", Role.HEM)
    state = shorts.session.settled
    QTest.mouseClick(shorts.pages.edges.tools.split, LEFT)
    assert "taper points" in shorts.messages.all[-1]
    assert shorts.session.settled is state


def test_a_piece_is_renamed_and_the_name_undone(shorts: MainWindow) -> None:
    choose(shorts, "Front", Role.SIDE)
    tools = shorts.pages.edges.tools
    tools.name.setFocus()
    tools.name.selectAll()
    QTest.keyClicks(tools.name, "Left leg")
    QTest.keyClick(tools.name, Qt.Key.Key_Return)
    assert named(shorts, "Left leg")
    shorts.session.stack.undo()
    assert named(shorts, "Front")


def test_what_was_said_is_found_again_with_the_original_and_with_the_altered_file(
    shorts: MainWindow,
    answers: Answers,
    make_window: Callable[[], MainWindow],
    tmp_path: Path,
) -> None:
    _, at = hold(shorts, Part.TAPER, "Front", last=False)
    draw(shorts, at, QPointF(0.0, -40.0))
    type_length(shorts, "6 cm")
    answers.save_file = tmp_path / "longer.svg"
    assert shorts.saving.save()
    original = tmp_path / "shorts.svg"
    assert original.read_bytes() == SAMPLE.read_bytes()
    wanted = named(shorts, "Front")[1]
    assert wanted.hem is not None
    for path in (original, answers.save_file):
        other = make_window()
        other.opening.open([path])
        _, piece = named(other, "Front")
        assert piece.hem is not None
        assert piece.hem.first.because == SAID, f"{path.name} has forgotten"
        other.session.begin(type(other.session.settled)())


@pytest.mark.parametrize("end", ["let go", "given back"])
def test_the_view_of_ones_own_stays_while_a_taper_point_is_slid(
    shorts: MainWindow, end: str
) -> None:
    shorts.table.set_view(shorts.table.view.zoomed(1.4, 200.0, 500.0))
    view = shorts.table.view
    found, at = hold(shorts, Part.TAPER, "Front", last=False)
    press(shorts.table, at)
    for px in (-8.0, -16.0):
        move(shorts.table, at + QPointF(0.0, px))
        assert shorts.table.view == view, "wanted what is held not to run away"
    if end == "let go":
        release(shorts.table, at + QPointF(0.0, -16.0))
        assert hold(shorts, Part.TAPER, "Front", last=False)[0].at != found.at
    else:
        QTest.keyClick(shorts.table, Qt.Key.Key_Escape)
    assert shorts.table.view == view


def test_the_view_of_ones_own_stays_when_an_edge_is_corrected(shorts: MainWindow) -> None:
    shorts.table.set_view(shorts.table.view.zoomed(1.4, 200.0, 500.0))
    view = shorts.table.view
    which, piece = named(shorts, "Front")
    inseam = next(k for k, e in enumerate(piece.edges) if e.role is Role.INSEAM)
    shorts.session.select(EdgeId(which, inseam))
    role = shorts.pages.edges.edge.role
    role.setCurrentIndex(role.findData(Role.SIDE))
    role.activated.emit(role.currentIndex())
    assert named(shorts, "Front")[1].edges[inseam].role is Role.SIDE
    assert shorts.table.view == view
