"""``hemward alter``: pieces made longer or shorter, and saved."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from app.command.job import Job, perform
from core.alter.model import Altered, Change, DartCaps, HemDarts, HemWay, Measure, SeamWay
from core.alter.together import alter_together
from core.piece.model import Piece


def run(arguments: argparse.Namespace) -> int:
    """Does what was typed."""
    change = _change(arguments)

    def alter(pieces: Sequence[Piece]) -> Sequence[Altered]:
        return alter_together(pieces, change)

    return perform(Job.of(arguments), alter, {"by_mm": change.by_mm})


def _change(arguments: argparse.Namespace) -> Change:
    return Change(
        by_mm=arguments.by,
        seams=SeamWay(arguments.seams),
        measure=Measure(arguments.measure),
        hem=HemWay(arguments.hem),
        hem_darts=HemDarts(arguments.darts),
        dart_caps=DartCaps(arguments.dart_caps),
        to_width_mm=arguments.to_width,
        plumb_below_mm=arguments.plumb_below,
        balance_notch=arguments.balance_notch,
    )
