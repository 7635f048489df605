"""The stages of the work in their order. Knows nothing of Qt, nor of the craft."""

from __future__ import annotations

from enum import Enum


class Stage(Enum):
    """A part of the work, by the word that stands for it on the rail."""

    PIECES = "Pieces"
    SCALE = "Scale"
    EDGES = "Edges"
    LENGTH = "Length"
    CHECK = "Check"
    PAPER = "Paper"

    @property
    def number(self) -> int:
        """From 1 on, as the work goes."""
        return list(Stage).index(self) + 1

    @property
    def following(self) -> Stage | None:
        """The stage that it leads on to; None after the last."""
        return list(Stage)[self.number] if self.number < len(Stage) else None
