"""How recognition grows with the points of an outline: ``python tests/bench/bench_recognise.py``.

The front of the trousers, digitised ever more finely. Prints times and, what says more, how much
longer each one takes than the one before it with half as many points; asserts nothing.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from core.curve import Ring
from core.files import read
from core.piece.model import Shape
from core.piece.recognise import recognise

SAMPLE = Path(__file__).resolve().parents[2] / "sample_pieces" / "digging_trousers.dxf"
STEPS_MM = (4.0, 2.0, 1.0, 0.5, 0.25)
ROUNDS = 3


def seconds(outline: Ring, step_mm: float) -> tuple[int, float]:
    """Points of the digitised outline, and the shortest of a few times."""
    count = round(outline.length() / step_mm)
    places = (outline.at_length(outline.length() * k / count) for k in range(count))
    shape = Shape(0, Ring.polygon(outline.at(place) for place in places), ("front",))
    times = []
    for _ in range(ROUNDS):
        began = time.perf_counter()
        recognise([shape])
        times.append(time.perf_counter() - began)
    return count, min(times)


def main() -> None:
    outline, before = read(SAMPLE).pieces[0].outline.ring, None
    for step in STEPS_MM:
        points, took = seconds(outline, step)
        growth = "" if before is None else f", {took / before:.1f} times the one before"
        print(f"{points:6} points: {took * 1000:7.0f} ms{growth}")
        before = took


if __name__ == "__main__":
    main()
