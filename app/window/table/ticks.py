"""The marks of a ruler at any zoom. Knows nothing of Qt."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from app.window.lengths import Shown
from core.measure import MM_PER_INCH

# Pixels between two numbers, so that they never touch; and between two marks.
BETWEEN_NUMBERS, BETWEEN_MARKS = 44.0, 5.0
# Numbered steps in cm or inches, and into how many marks each may be divided.
CM_STEPS = (
    (0.5, (5,)), (1, (10, 5, 2)), (2, (4, 2)), (5, (5,)), (10, (10, 5, 2)), (20, (4, 2)),
    (50, (5,)), (100, (10, 5, 2)), (200, (4, 2)), (500, (5,)), (1000, (10, 5, 2)),
)  # fmt: skip
INCH_STEPS = (
    (0.5, (8, 4, 2)), (1, (16, 8, 4, 2)), (2, (8, 4, 2)), (6, (12, 6, 3)), (12, (12, 6, 4, 2)),
    (36, (6, 3)), (72, (6, 2)), (360, (10, 5)),
)  # fmt: skip


class Tick(NamedTuple):
    """A mark at a place in mm, numbered or not; ``number`` is empty for a small one."""

    mm: float
    number: str


def ticks(low_mm: float, high_mm: float, scale: float, shown: Shown) -> Iterator[Tick]:
    """The marks from `low_mm` to `high_mm` at `scale` pixels per mm, in order."""
    unit = 10.0 if shown is Shown.CM else MM_PER_INCH
    steps = CM_STEPS if shown is Shown.CM else INCH_STEPS
    step, divisions = next((s for s in steps if s[0] * unit * scale >= BETWEEN_NUMBERS), steps[-1])
    parts = next((d for d in divisions if step * unit * scale / d >= BETWEEN_MARKS), 1)
    small = step * unit / parts
    for k in range(math.ceil(low_mm / small), math.floor(high_mm / small) + 1):
        yield Tick(k * small, _number(k // parts * step) if k % parts == 0 else "")


def _number(count: float) -> str:
    """With a minus that is as wide as a plus, as on the tape."""
    return f"{count:g}".replace("-", "−")
