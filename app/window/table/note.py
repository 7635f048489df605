"""One thing written on the table: its words, and the shape they are written in."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

from PySide6.QtGui import QFont, QFontMetricsF

from app.window import theme
from app.window.document import PieceId
from app.window.table.labels import Wish

NAME_PX, EDGE_PX, WRITING_PX, GRIP_PX = 14, 12, 11, 12
LINE_HEIGHT = 15.0
# Pixels between the words of a label that is written in one line.
WORD_GAP = 6.0


class Form(NamedTuple):
    """How a label is written: its lines ``in_one``, ``turned`` so that it reads upwards, in
    ``brief`` (by how much instead of from what to what), and with a line that leads to its edge,
    to the place at the share ``pin`` of it.
    """

    in_one: bool = False
    turned: bool = False
    brief: bool = False
    pin: float | None = None


# Its lines below each other, beside its edge.
PLAIN = Form()


class Note(NamedTuple):
    """One label: its piece, the lines of text, their size and weight; the name that the
    colour of the first has in the look; the number of the edge that it is for, if it is for one.
    """

    which: PieceId
    lines: tuple[str, ...]
    px: int
    bold: bool
    colour: str
    edge: int | None = None
    form: Form = PLAIN

    @property
    def size(self) -> tuple[float, float]:
        """Width and height in pixels, as it stands there."""
        widths = [width_of(text, self.px, self.bold) for text in self.lines]
        wide, high = max(widths), LINE_HEIGHT * len(widths) + 2
        if self.form.in_one:
            wide, high = sum(widths) + WORD_GAP * (len(widths) - 1), LINE_HEIGHT + 2
        return (high, wide) if self.form.turned else (wide, high)

    def wish(self, middles: Iterable[tuple[float, float]]) -> Wish[Note]:
        return Wish(self, *self.size, middles)


@lru_cache(maxsize=16)
def _metrics(px: int, bold: bool) -> QFontMetricsF:
    return QFontMetricsF(theme.type_of(px, bold=bold))


@lru_cache(maxsize=16)
def font(px: int, bold: bool) -> QFont:
    return theme.type_of(px, bold=bold)


@lru_cache(maxsize=4096)
def width_of(text: str, px: int, bold: bool) -> float:
    return float(_metrics(px, bold).horizontalAdvance(text))
