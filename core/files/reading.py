"""What a reader of one format hands back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from core.files.drawing import Unit
from core.piece.model import Shape


@dataclass(frozen=True)
class Reading:
    """Shapes in mm, the unit that was used, the reader's index for writing back, problems.

    ``cleaned`` when a repaired or converted copy was read: what is altered goes into that.
    """

    unit: Unit
    shapes: tuple[Shape, ...]
    source: Any
    problems: tuple[str, ...] = ()
    cleaned: bool = False
