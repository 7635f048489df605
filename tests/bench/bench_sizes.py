"""How long altering a nest of sizes takes: ``python tests/bench/bench_sizes.py``.

Ten sizes of front and back, twenty pieces of twelve segments, altered in every frame of a drag.
Prints medians of the processor's time and ratios; asserts nothing, for a time says more about
the computer than about the code.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from nest import SIZES, ten_sizes

from core.alter.model import Change
from core.alter.sizes import alter_sizes
from core.piece.mates import find_mates

FRAMES = 100


def median_ms(frame: Callable[[float], object]) -> float:
    """Of one frame; each call gets another amount in mm, as in a drag."""
    times = []
    for k in range(FRAMES):
        start = time.process_time()
        frame(5.0 + k * 0.5)
        times.append(time.process_time() - start)
    return statistics.median(times) * 1000


def main() -> None:
    pieces = ten_sizes()
    mates = find_mates(pieces)
    one = [p for p in pieces if p.size == "42"]
    print(f"{len(pieces)} pieces of {len(pieces[0].ring)} segments, medians of {FRAMES}")
    single = median_ms(lambda mm: alter_sizes(one, Change(mm), mates=mates))
    nest = median_ms(lambda mm: alter_sizes(pieces, Change(mm), mates=mates))
    each = median_ms(lambda mm: alter_sizes(pieces, _graded(mm), mates=mates))
    print(f"  one size, front and back    {single:6.2f} ms")
    print(f"  ten sizes, one amount       {nest:6.2f} ms   {nest / single:.1f} x one size")
    print(f"  ten sizes, an amount each   {each:6.2f} ms   {each / single:.1f} x one size")


def _graded(mm: float) -> dict[str, Change]:
    return {size: Change(mm + k) for k, size in enumerate(SIZES)}


if __name__ == "__main__":
    main()
