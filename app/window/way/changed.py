"""What the work so far has changed, in names and in figures. Knows nothing of Qt."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from app.window.document import State
from app.window.lengths import Shown, bare
from app.window.outcome import outcome
from core.alter.model import Altered

# Below this, in mm, two lengths are shown as the same one.
SAME = 0.05


class Row(NamedTuple):
    """A piece as a heading, without figures; or a length of it before and after."""

    name: str
    before: str = ""
    after: str = ""


def rows_of(state: State, shown: Shown) -> tuple[Row, ...]:
    """For each piece that changed: its hem width, and each edge that is longer or shorter."""
    out: list[Row] = []
    for altered in outcome(state).altered.values():
        rows = tuple(_rows(altered, shown))
        if rows:
            out += (Row(altered.piece.name), *rows)
    return tuple(out)


def _rows(altered: Altered, shown: Shown) -> Iterator[Row]:
    told = altered.figures
    lengths = [("hem width", told.hem_width_before_mm, told.hem_width_after_mm)]
    lengths += [(edge.role.value, edge.before_mm, edge.after_mm) for edge in told.edges]
    for name, before, after in lengths:
        if abs(after - before) >= SAME:
            yield Row(name, bare(before, shown), bare(after, shown))
