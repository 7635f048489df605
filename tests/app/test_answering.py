"""With very many pieces the window still answers: what is shown of them is done in turns."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QTimer
from pytestqt.qtbot import QtBot

from app.window.findings import Sign, Told
from app.window.findings_list import FindingRow, ToldList
from app.window.main import MainWindow

ROWS = 600


def told(count: int) -> tuple[Told, ...]:
    return tuple(Told(Sign.LOOK, f"Piece {k}: is this the hem? It is level.") for k in range(count))


@pytest.fixture
def rows(qtbot: QtBot) -> ToldList:
    made = ToldList("Findings")
    qtbot.addWidget(made)
    made.resize(400, 300)
    return made


def set_rows(rows: ToldList) -> int:
    there = (rows.itemWidget(rows.item(k)) for k in range(rows.count()))
    return sum(isinstance(row, FindingRow) for row in there)


def test_many_findings_are_listed_a_few_at_a_time(qtbot: QtBot, rows: ToldList) -> None:
    turns = []
    timer = QTimer()
    timer.timeout.connect(lambda: turns.append(set_rows(rows)))
    timer.start(0)
    with qtbot.waitExposed(rows):
        rows.show()
    rows.show_all(told(ROWS))
    assert rows.count() == ROWS
    assert 0 < set_rows(rows) < ROWS, "wanted a first few at once"
    qtbot.waitUntil(lambda: set_rows(rows) == ROWS, timeout=60_000)
    assert rows.slices > 3, f"wanted several goes, got {rows.slices}"
    assert len({n for n in turns if n}) > 3, "wanted other turns of the event loop between them"


def test_a_list_that_nobody_sees_waits(qtbot: QtBot, rows: ToldList) -> None:
    rows.show_all(told(ROWS))
    first = set_rows(rows)
    qtbot.wait(100)
    assert set_rows(rows) == first < ROWS
    with qtbot.waitExposed(rows):
        rows.show()
    qtbot.waitUntil(lambda: set_rows(rows) == ROWS, timeout=60_000)


def test_a_shorter_list_ends_what_was_still_being_listed(qtbot: QtBot, rows: ToldList) -> None:
    with qtbot.waitExposed(rows):
        rows.show()
    rows.show_all(told(ROWS))
    rows.show_all(told(2))
    qtbot.wait(50)
    assert rows.count() == set_rows(rows) == 2


def test_very_many_pieces_are_told_of_in_turns(
    qtbot: QtBot, both: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("app.window.session.MANY", 1)
    session, heard = both.session, list[str]()
    session.state_shown.connect(lambda: heard.append("shown"))
    session.state_told.connect(lambda: heard.append("told"))
    session.set_by(30.0)
    assert heard == ["shown"], f"wanted the lists in another turn, got {heard}"
    qtbot.waitUntil(lambda: heard == ["shown", "told"], timeout=10_000)
