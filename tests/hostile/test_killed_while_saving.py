"""Saving is one step: killed at any moment, the file on disk is the old or the new one, whole."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.hostile.running import ROOT

# Saves two files of different content over each other until it is killed.
SAVER = """
import sys
from pathlib import Path
from core.files.write import save_bytes
path = Path(sys.argv[1])
texts = [letter.encode() * 400_000 for letter in "ab"]
print("ready", flush=True)
k = 0
while True:
    save_bytes(path, texts[k % 2])
    k += 1
"""
WHOLE = {letter.encode() * 400_000 for letter in "ab"}
ORDINARY, NIGHTLY = 8, 200


@pytest.mark.long
def test_the_file_is_always_the_old_or_the_new_one(
    tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    """200 times in the nightly profile; the moments are drawn anew each time."""
    nightly = request.config.getoption("--hypothesis-profile", default=None) == "nightly"
    count, drawn, seen = NIGHTLY if nightly else ORDINARY, random.Random(), set()
    path = tmp_path / "leg.svg"
    path.write_bytes(b"a" * 400_000)
    for k in range(count):
        run = subprocess.Popen(
            [sys.executable, "-c", SAVER, str(path)],
            cwd=ROOT,
            stdout=subprocess.PIPE,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
        )
        assert run.stdout is not None
        assert run.stdout.readline() == b"ready\n"
        time.sleep(drawn.uniform(0.0, 0.02))
        run.send_signal(signal.SIGKILL if hasattr(signal, "SIGKILL") else signal.SIGTERM)
        run.wait()
        run.stdout.close()
        data = path.read_bytes()
        assert data in WHOLE, f"kill {k}: {len(data)} bytes of {data[:1]!r} and others"
        seen.add(data[:1])
    print(f"{count} kills, the file was whole each time; seen: {sorted(seen)}")
