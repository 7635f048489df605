"""Names for what is saved. Knows nothing of Qt."""

from __future__ import annotations

from pathlib import Path

from app.window.lengths import Shown
from core.measure import MM_PER_INCH


def suggested(original: Path, by_mm: float, shown: Shown) -> Path:
    """Beside the original: ``leg.svg`` lengthened by 6 cm is ``leg +6.0cm.svg``.

    Inches stand as a decimal, for a fraction's stroke cannot stand in a name.
    """
    if by_mm == 0.0:
        return original.with_name(f"{original.stem} copy{original.suffix}")
    if shown is Shown.CM:
        amount = f"{by_mm / 10:+.1f}cm" if _tidy(by_mm / 10, 1) else f"{by_mm / 10:+.2f}cm"
    else:
        amount = f"{round(by_mm / MM_PER_INCH, 4):+g}in"
    return original.with_name(f"{original.stem} {amount}{original.suffix}")


def _tidy(value: float, decimals: int) -> bool:
    return abs(value - round(value, decimals)) < 1e-9
