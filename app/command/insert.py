"""``hemward insert``: length put into pieces at a level, or folded out there, and saved."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from app.command.job import Job, perform
from core.alter.common import keep_common
from core.alter.level.model import LevelChange, Truing
from core.alter.level.together import insert_together
from core.alter.model import Altered
from core.piece.mates import Mates
from core.piece.model import Piece


def run(arguments: argparse.Namespace) -> int:
    """Does what was typed."""
    change = LevelChange(arguments.at, arguments.by, Truing(arguments.true), arguments.blend)
    asked = {
        "at_mm": change.at_mm,
        "true": change.true.value,
        "blend_mm": change.blend_mm,
        "by_mm": change.by_mm,
    }

    def alter(
        pieces: Sequence[Piece], beside: Sequence[Piece], mates: Sequence[Mates]
    ) -> Sequence[Altered]:
        return keep_common(insert_together(pieces, change, mates=mates), beside)

    return perform(Job.of(arguments), alter, asked)
