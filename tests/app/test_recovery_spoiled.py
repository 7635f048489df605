"""A copy of unsaved work that is no good ends in a sentence and stays on disk."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from app.window.main import MainWindow
from app.window.recovery.copies import BYTES_ENDING, WORK
from tests.app.hands import click
from tests.app.lost_work import left_by_a_crash, opened

SPOILED = [
    "",
    "nonsense",
    "[]",
    "{}",
    "[" * 100_000,
    '{"version": 99, "sheets": [1]}',
    '{"version": 1, "sheets": []}',
    '{"version": 1, "sheets": [{"path": 3}], "change": {"by_mm": NaN}}',
    '{"version": 1, "sheets": [{"path": "a.svg"}], "change": 3}',
]


@pytest.mark.parametrize("text", SPOILED, ids=range(len(SPOILED)))
def test_a_spoiled_copy_ends_in_a_sentence_and_stays(
    keeping: Callable[[], MainWindow], kept_in: Path, text: str
) -> None:
    folder = kept_in / "0123456789abcdef"
    folder.mkdir(parents=True)
    (folder / WORK).write_text(text)
    window = keeping()
    assert not window.offer.bar.isVisible()
    (sentence,) = window.messages.all
    assert sentence.startswith("A copy of unsaved work cannot be brought back: ")
    assert str(folder / WORK) in sentence
    assert (folder / WORK).read_text() == text


def _without(values: dict[str, object], key: str) -> None:
    del values[key]


DAMAGES: list[Callable[[dict[str, object]], object]] = [
    lambda v: _without(v, "off"),
    lambda v: v.update(level={"at_mm": 1e999, "true": "smooth", "blend_mm": None}),
    lambda v: v.update(level=7),
    lambda v: v.update(off=[[99, 0]]),
    lambda v: v.update(more_by_size={"38": "x"}),
    lambda v: v["sheets"][0].update(bytes="../../etc/passwd"),  # type: ignore[index]
    lambda v: v["sheets"][0].update(mm_per_unit=-1.0),  # type: ignore[index]
    lambda v: v["sheets"][0].update(pieces=[{"number": 7, "piece": {}}]),  # type: ignore[index]
    lambda v: v["sheets"][0].update(pieces=[{"number": 0, "piece": {}}]),  # type: ignore[index]
    lambda v: v["sheets"][0].update(pieces=3),  # type: ignore[index]
]


@pytest.mark.parametrize("damage", DAMAGES, ids=range(len(DAMAGES)))
def test_values_that_do_not_fit_end_in_a_sentence_and_stay(
    keeping: Callable[[], MainWindow],
    front: Path,
    kept_in: Path,
    damage: Callable[[dict[str, object]], object],
) -> None:
    work = left_by_a_crash(kept_in, opened(keeping(), front).by(60.0))
    values = json.loads(work.read_text())
    damage(values)
    work.write_text(json.dumps(values))
    window = keeping()
    click(window.offer.bar.back)
    assert window.messages.all[-1].startswith("A copy of unsaved work cannot be brought back: ")
    assert window.session.state.empty
    assert work.exists()


def test_bytes_that_were_damaged_end_in_a_sentence(
    keeping: Callable[[], MainWindow], front: Path, kept_in: Path
) -> None:
    work = left_by_a_crash(kept_in, opened(keeping(), front).by(60.0))
    (kept,) = work.parent.glob(f"*{BYTES_ENDING}")
    kept.write_bytes(kept.read_bytes()[:-1])
    window = keeping()
    click(window.offer.bar.back)
    assert "are spoiled" in window.messages.all[-1]
    kept.unlink()
    window = keeping()
    click(window.offer.bar.back)
    assert "are missing" in window.messages.all[-1]
    assert work.exists()
