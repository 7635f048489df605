"""Killed at any moment, and the work comes back."""

from __future__ import annotations

import os
import random
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from app.window.main import MainWindow
from app.window.recovery.copies import Copy
from tests.app.hands import click
from tests.app.recovering import DONE, ON_DISK, print_of_state

ROOT = Path(__file__).resolve().parents[2]
WORKING = ROOT / "tests" / "app" / "recovering.py"
ORDINARY, NIGHTLY = 5, 200


def _worked_until_killed(
    kept_in: Path, files: list[Path], *, soon_ms: int, seconds: float
) -> list[tuple[str, str]]:
    """What a window said that was killed so long after it began."""
    run = subprocess.Popen(
        [sys.executable, *map(str, (WORKING, kept_in, soon_ms, *files))],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT), "QT_QPA_PLATFORM": "offscreen"},
    )
    assert run.stdout is not None
    assert run.stdout.readline() == "ready\n"
    time.sleep(seconds)
    assert Copy.left_behind(kept_in) == [], "wanted the copy of a living window let alone"
    run.kill()
    lines = [line for line in run.stdout.read().split("\n")[:-1] if line]
    run.stdout.close()
    run.wait()
    parted = [line.rpartition(" ") for line in lines]
    return [(what, seen) for what, _, seen in parted]


def _may_come_back(said: list[tuple[str, str]]) -> set[str]:
    """The state that was on disk when it was last heard of, and those that were settled later."""
    ends = [k for k, (what, _) in enumerate(said) if what == ON_DISK]
    if not ends:
        return {seen for what, seen in said if what == DONE}
    on_disk = said[ends[-1]][1]
    settled = [k for k in range(ends[-1]) if said[k] == (DONE, on_disk)]
    assert settled, "wanted only what was settled to be on disk"
    return {seen for what, seen in said[settled[-1] :] if what == DONE}


@pytest.mark.long
def test_killed_at_any_moment_the_work_comes_back(
    keeping: Callable[[], MainWindow],
    front: Path,
    back: Path,
    kept_in: Path,
    request: pytest.FixtureRequest,
) -> None:
    """200 times in the nightly profile; changes and moments are drawn anew each time."""
    nightly = request.config.getoption("--hypothesis-profile", default=None) == "nightly"
    count, drawn, back_again = NIGHTLY if nightly else ORDINARY, random.Random(), 0
    for k in range(count):
        soon_ms = drawn.choice((0, 250))
        files, seconds = [front, back], drawn.uniform(0.05, 1.5)
        said = _worked_until_killed(kept_in, files, soon_ms=soon_ms, seconds=seconds)
        window = keeping()
        assert window.messages.all == [], f"kill {k}: {window.messages.all}"
        if window.offer.bar.isVisible():
            click(window.offer.bar.back)
            got = print_of_state(window.session.settled)
            assert got in _may_come_back(said), f"kill {k} after {seconds:.3f} s, {len(said)} lines"
            back_again += 1
        else:
            assert ON_DISK not in {what for what, _ in said}, f"kill {k}: nothing was offered"
        window.close()
        left = [p.name for p in kept_in.glob("*") if p.suffix != ".lock"]
        assert left == [], f"kill {k}: {left}"
    print(f"{count} kills, the work came back {back_again} times")
    assert back_again > 0, "wanted at least one of the kills after the first copy"
