"""Where on a generated piece a change at a level is made, and how its seams are trued."""

from __future__ import annotations

from dataclasses import dataclass

from hypothesis import strategies as st

from core.alter.frame import Frame
from core.alter.level.climb import lowest_and_highest
from core.alter.level.model import LevelChange, Truing
from core.piece.model import Piece


@dataclass(frozen=True)
class Where:
    """A line at a share of the piece's height, and how the seams are trued."""

    share: float
    true: Truing
    blend_mm: float | None

    def change(self, piece: Piece, by_mm: float) -> LevelChange:
        low, high = lowest_and_highest(piece.ring, Frame(piece.grain.down))
        return LevelChange((high - low) * self.share, by_mm, self.true, self.blend_mm)


def wheres(*, least_blend: float) -> st.SearchStrategy[Where]:
    """Lines clear of both ends; truing over the usual length, or over one from `least_blend` on."""
    return st.builds(
        Where,
        share=st.floats(0.1, 0.85),
        true=st.sampled_from(Truing),
        blend_mm=st.one_of(st.none(), st.floats(least_blend, 250.0)),
    )
