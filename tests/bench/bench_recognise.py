"""How recognition grows with the points of an outline: ``python tests/bench/bench_recognise.py``.

The same trousers digitised ever more finely. Prints times and, what says more, how much
longer each one takes than the one before it with half as many points; asserts nothing.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from core.curve import Ring
from core.piece.recognise import recognise
from tests.core.piece.hands import digitised
from tests.core.piece.rows import case
from tests.core.piece.truth import trousers, with_corners, with_waist_dart

STEPS_MM = (4.0, 2.0, 1.0, 0.5, 0.25)
ROUNDS = 3


def seconds(step_mm: float) -> tuple[int, float]:
    """Points of the outline, and the shortest of a few times."""
    truth = with_corners(with_waist_dart(trousers(), notched=True), ("arc", 30.0, 0.0))
    shapes = case("", truth, digitised(step_mm, 0.1, 2), exact=False).shapes
    assert isinstance(shapes[0].geometry, Ring)
    times = []
    for _ in range(ROUNDS):
        began = time.perf_counter()
        recognise(shapes)
        times.append(time.perf_counter() - began)
    return len(shapes[0].geometry), min(times)


def main() -> None:
    before = None
    for step in STEPS_MM:
        points, took = seconds(step)
        growth = "" if before is None else f", {took / before:.1f} times the one before"
        print(f"{points:6} points: {took * 1000:7.0f} ms{growth}")
        before = took


if __name__ == "__main__":
    main()
