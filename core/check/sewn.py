"""Pieces that are drawn by their cutting line only, seen where the allowances told have them sewn.

A hem goes around the wearer, and a seam is walked, where it is sewn: with the allowances in it a
leg was told some centimetres wider than it is.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from core.alter.allowance.implied import applies
from core.alter.allowance.told import with_told_line
from core.alter.model import Altered, Finding, Severity, Whose


def where_sewn(altered: Altered) -> Altered:
    """The same with the stitching lines that were told; itself where none were, or none can be
    drawn."""
    before, after = (with_told_line(p, altered.change) for p in (altered.before, altered.piece))
    if before is None or after is None:
        return altered
    return replace(altered, before=before, piece=after)


def not_where_sewn(altered: Altered) -> Iterator[Finding]:
    """One for a piece whose allowances were told, but whose stitching line cannot be drawn."""
    if applies(altered.before, altered.change) and where_sewn(altered) is altered:
        yield Finding(
            Severity.LOOK,
            f"{altered.piece.name}: its stitching line cannot be drawn from the allowances alone,"
            " so seams are walked and the hem is measured here along the cutting line. Take the"
            " allowances off.",
            None,
            Whose.of(altered.piece),
        )
