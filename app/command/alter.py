"""``hemward alter``: pieces made longer or shorter, and saved."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from app.command.job import Job, perform
from core.alter.model import Altered, Change, DartCaps, HemDarts, HemWay, Measure, SeamWay, TurnUp
from core.alter.sizes import alter_sizes
from core.piece.mates import Mates
from core.piece.model import Piece
from core.piece.sizes import size_named, sizes_of


def run(arguments: argparse.Namespace) -> int:
    """Does what was typed."""
    each = dict(arguments.by_size or ())

    def alter(
        pieces: Sequence[Piece], beside: Sequence[Piece], mates: Sequence[Mates]
    ) -> Sequence[Altered]:
        known = sizes_of(pieces)
        changes = {} if arguments.by is None else dict.fromkeys(("", *known), arguments.by)
        changes |= {size_named(size, known): mm for size, mm in each.items()}
        chosen = [p for p in pieces if p.size in changes]
        stay = [*beside, *(p for p in pieces if p.size not in changes)]
        ways = {size: _change(arguments, mm) for size, mm in changes.items()}
        return alter_sizes(chosen, ways, mates=mates, beside=stay)

    asked = {"by_mm": arguments.by or 0.0} | ({"by_size_mm": each} if each else {})
    return perform(Job.of(arguments), alter, asked)


def _change(arguments: argparse.Namespace, by_mm: float) -> Change:
    return Change(
        by_mm=by_mm,
        seams=SeamWay(arguments.seams),
        measure=Measure(arguments.measure),
        hem=HemWay(arguments.hem),
        hem_darts=HemDarts(arguments.darts),
        dart_caps=DartCaps(arguments.dart_caps),
        to_width_mm=arguments.to_width,
        plumb_below_mm=arguments.plumb_below,
        balance_notch=arguments.balance_notch,
        turn_up=TurnUp(arguments.turn_up),
        allowance_mm=arguments.allowance,
        hem_allowance_mm=arguments.hem_allowance,
    )
