"""The hostile files are measured, so the measure is: it tells what the run needs, and no more."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.hostile.running import run

HELD = 400 * 2**20


def test_the_memory_of_the_tests_is_not_counted_as_that_of_the_run(tmp_path: Path) -> None:
    held = b"x" * HELD
    ended = run(["-c", "pass"], tmp_path)
    assert ended.megabytes < 100.0, f"wanted an empty run's, got {ended.megabytes:.0f} MB"
    assert len(held) == HELD


def test_the_memory_of_the_run_is_counted(tmp_path: Path) -> None:
    ended = run(["-c", f"print(len(b'x' * {HELD}))"], tmp_path)
    assert ended.megabytes > 400.0
    assert ended.said.strip() == str(HELD)


@pytest.mark.parametrize("seconds", [1.0, 2.0])
def test_the_seconds_are_those_of_the_processor_on_the_usual_computer(
    tmp_path: Path, seconds: float
) -> None:
    """A sleep is no work. How much slower than usual this one is, is unknown here."""
    busy = f"import time\ntime.sleep(1)\nwhile time.process_time() < {seconds}: pass"
    ended = run(["-c", busy], tmp_path)
    assert seconds / 30.0 < ended.seconds < seconds + 0.5


def test_how_the_run_ended_is_told(tmp_path: Path) -> None:
    ended = run(["-c", "import sys; print('no'); sys.exit(3)"], tmp_path)
    assert (ended.code, ended.said) == (3, "no\n")
    assert not list(tmp_path.iterdir())
