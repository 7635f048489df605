"""What was read and thrown away does not pile up."""

from __future__ import annotations

import subprocess
import sys

ROUNDS, RINGS = 12, 40_000
SCRIPT = f"""
import gc
from core.files import garbage
garbage.FEW = 1_000
living = 0
class Ring:
    def __init__(self):
        global living
        living += 1
        self.ring = self
    def __del__(self):
        global living
        living -= 1
most = 0
for _ in range({ROUNDS}):
    with garbage.no_collecting():
        for _ in range({RINGS}):
            Ring()
    most = max(most, living)
print(most, gc.isenabled())
"""


def test_rings_of_former_readings_are_looked_for() -> None:
    """Regression: they counted as old, and Python never looked: 45 MB for a hundred small DXF."""
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT], capture_output=True, text=True, check=True
    )
    most, enabled = done.stdout.split()
    assert enabled == "True"
    assert RINGS <= int(most) <= 4 * RINGS, f"wanted a few rounds at most, got {most} rings"


HELD = 2_000_000
READING = f"""
import gc, time
from core.files import garbage
held = []
def seconds():
    start = time.process_time()
    for _ in range(50):
        with garbage.no_collecting():
            pass
    return time.process_time() - start
few = min(seconds() for _ in range(5))
held = [[] for _ in range({HELD})]
gc.collect()
print(min(seconds() for _ in range(5)) / few)
"""


def test_a_small_reading_takes_no_longer_in_a_program_that_holds_much() -> None:
    """Regression: all that the program held was counted after each reading, a tenth of a second
    where there is much. The ratio was six to ten."""
    done = subprocess.run(
        [sys.executable, "-c", READING], capture_output=True, text=True, check=True
    )
    assert float(done.stdout) < 4.0
