"""The whole way, stage by stage, by keys and mouse alone: on every sample and on three files as
people draw them (SVG in pixels, loose lines of a DXF, half a piece on the fold)."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.window.main import MainWindow
from app.window.outcome import outcome
from app.window.table.holds import Part, holds_of
from app.window.way.stage import Stage
from core.files import read
from tests.app.hands import Answers, drag_hem, move, press, release, type_length

SAMPLES = Path(__file__).parents[2] / "sample_pieces"
PX = 96.0 / 25.4
SKIRT = ((20.0, 30.0), (260.0, 30.0), (295.0, 260.0), (330.0, 700.0), (30.0, 700.0))
LEG = ((0.0, 0.0), (250.0, 0.0), (280.0, -180.0), (250.0, -620.0), (10.0, -618.0), (-50.0, -250.0),
       (0.0, -150.0))  # fmt: skip


def in_pixels(path: Path) -> None:
    drawn = ""
    for name, dx in (("front", 0.0), ("back", 420.0)):
        points = " L".join(f"{(x + dx) * PX:.2f},{y * PX:.2f}" for x, y in SKIRT)
        drawn += f'<path id="{name}" d="M{points}z"/>'
    path.write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{900 * PX}px" height="{800 * PX}px">'
        f"{drawn}</svg>"
    )


def loose_lines(path: Path) -> None:
    rows = ["0", "SECTION", "2", "HEADER", "9", "$INSUNITS", "70", "4", "0", "ENDSEC",
            "0", "SECTION", "2", "ENTITIES"]  # fmt: skip
    for dx in (0.0, 900.0):
        for (x0, y0), (x1, y1) in zip(LEG, (*LEG[1:], LEG[0]), strict=True):
            rows += ["0", "LINE", "8", "0", "10", str(x0 + dx), "20", str(y0)]
            rows += ["11", str(x1 + dx), "21", str(y1)]
    path.write_text("\n".join([*rows, "0", "ENDSEC", "0", "EOF", ""]))


def half_on_the_fold(path: Path) -> None:
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="800mm"'
        ' viewBox="0 0 400 800"><path id="Back" d="M20,20 C60,32 120,30 180,20 C200,120 215,200'
        ' 218,240 L245,700 C180,712 90,714 20,712 Z"/><text x="30" y="380">place on fold</text>'
        '<path id="grain" d="M60,100 L60,600"/></svg>'
    )


OWN = {"pixels.svg": in_pixels, "loose.dxf": loose_lines, "half.svg": half_on_the_fold}
FOUND = (p.name for p in SAMPLES.iterdir() if p.suffix in (".svg", ".dxf"))
PATTERNS = sorted(FOUND)


@pytest.fixture(params=[*PATTERNS, *OWN])
def pattern(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    path = tmp_path / request.param
    if request.param in OWN:
        OWN[request.param](path)
    else:
        path.write_bytes((SAMPLES / request.param).read_bytes())
    return path


def key(window: MainWindow, which: Qt.Key) -> None:
    QTest.keyClick(window, which, Qt.KeyboardModifier.ControlModifier)
    QApplication.processEvents()


def test_the_whole_way(
    window: MainWindow, answers: Answers, pattern: Path, tmp_path: Path, qtbot: QtBot
) -> None:
    # Keys that hold in the whole window reach it once it is the active one.
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    answers.open_files = [pattern]
    key(window, Qt.Key.Key_O)
    session = window.session
    start = session.settled
    assert session.settled.altering, f"{pattern.name}: nothing to be altered was found"
    for number, stage in enumerate(Stage, 1):
        key(window, Qt.Key(Qt.Key.Key_0 + number))
        assert window.way.now is stage
    key(window, Qt.Key.Key_4)
    type_length(window, "4 cm")
    assert session.settled.by_mm == 40.0, session.refusal
    name = next(s.now.name for s in window.table.sights if window.table.grip(s.which))
    drag_hem(window, name, 25.0)
    assert session.settled.by_mm > 40.0, session.refusal
    _slide_a_taper_point(window)
    key(window, Qt.Key.Key_5)
    while session.stack.canUndo():
        key(window, Qt.Key.Key_Z)
    assert session.settled is start
    while session.stack.canRedo():
        session.stack.redo()
    answers.save_file = tmp_path / f"saved{pattern.suffix}"
    key(window, Qt.Key.Key_6)
    key(window, Qt.Key.Key_S)
    assert not session.changed, window.messages.all
    told = [m for m in window.messages.all if "unforeseen" in m]
    assert not told, told
    wanted = {k.key: a.piece for k, a in outcome(session.settled).altered.items()}
    for piece in read(answers.save_file, mm_per_unit=None).pieces:
        if piece.key in wanted:
            box, made = piece.outline.ring.bounds(), wanted[piece.key].outline.ring.bounds()
            assert box.height == pytest.approx(made.height, abs=0.05), piece.name


def _slide_a_taper_point(window: MainWindow) -> None:
    hold = next(h for h in holds_of(window.table.sights) if h.part is Part.TAPER)
    at = QPointF(*window.table.view.to_px(hold.at))
    view, count = window.table.view, window.session.stack.count()
    up = window.session.settled.piece(hold.which).grain.down * -12.0
    press(window.table, at)
    for share in (0.5, 1.0):
        move(window.table, at + QPointF(up.x, up.y) * share)
    release(window.table, at + QPointF(up.x, up.y))
    assert window.table.view == view
    assert window.session.stack.count() == count + 1, window.session.refusal
