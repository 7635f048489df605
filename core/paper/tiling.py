"""A pattern divided over sheets that are trimmed, or overlapped, and taped together."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from string import ascii_uppercase

import numpy as np
from numpy.typing import NDArray

from core.curve import Box
from core.errors import PaperError
from core.paper.formats import MARGIN, OVERLAP, Size

# So many sheets are no job for a person with tape.
MOST_SHEETS = 600
# A pattern fits a sheet that it exceeds by less than this (mm).
ROUNDING = 1e-6

Outline = NDArray[np.float64]


@dataclass(frozen=True)
class Sheet:
    """One sheet: its place in the rows and columns from the upper left, and the part of the
    pattern that lies on it, in mm of the pattern."""

    row: int
    column: int
    part: Box

    @property
    def label(self) -> str:
        """``B3``: the row's letters and the column's number, from the upper left."""
        return f"{_letters(self.row)}{self.column + 1}"


@dataclass(frozen=True)
class Tiling:
    """All rows and columns, the paper as it lies, and the sheets on which there is anything."""

    rows: int
    columns: int
    paper: Size
    margin: float
    overlap: float
    sheets: tuple[Sheet, ...]

    def beside(self, sheet: Sheet, rows: int, columns: int) -> Sheet | None:
        """The sheet so many rows below and columns to the right; None where there is none."""
        at = (sheet.row + rows, sheet.column + columns)
        return next((s for s in self.sheets if (s.row, s.column) == at), None)


def count(size: float, usable: float, overlap: float) -> int:
    """How many sheets one beside the other cover `size` mm: ceil((size - o) / (usable - o))."""
    return max(1, math.ceil((size - overlap) / (usable - overlap) - ROUNDING))


def tiled(
    outlines: Sequence[Outline], paper: Size, *, margin: float = MARGIN, overlap: float = OVERLAP
) -> Tiling:
    """The sheets that the outlines need, upright or lying, whichever needs fewer.

    `outlines` are closed polylines of shape (n, 2) in mm. Sheets on which there is no paper to
    cut are left out. PaperError for no outline, margins or an overlap that leave no room, or
    more sheets than anybody tapes together.
    """
    if not outlines:
        raise PaperError("There is no piece to print. Open a pattern first.")
    if margin < 0.0 or overlap < 0.0 or overlap >= min(paper) - 2.0 * margin:
        raise PaperError("The margins and the overlap leave no room on the paper. Make them less.")
    ways = [_laid(outlines, p, margin, overlap) for p in (paper, paper.lying)]
    return min(ways, key=lambda t: len(t.sheets))


def _laid(outlines: Sequence[Outline], paper: Size, margin: float, overlap: float) -> Tiling:
    points = np.vstack(outlines)
    (x0, y0), (x1, y1) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    wide, high = paper.width - 2.0 * margin, paper.height - 2.0 * margin
    columns, rows = count(x1 - x0, wide, overlap), count(y1 - y0, high, overlap)
    if rows * columns > MOST_SHEETS:
        raise PaperError(
            f"That would be {rows * columns} sheets. Check the scale, or choose larger paper."
        )
    # What is left over lies evenly on both sides.
    left = (x0 + x1 - (columns * (wide - overlap) + overlap)) / 2.0
    top = (y0 + y1 - (rows * (high - overlap) + overlap)) / 2.0
    sheets = []
    for row in range(rows):
        for column in range(columns):
            x, y = left + column * (wide - overlap), top + row * (high - overlap)
            sheet = Sheet(row, column, Box(x, y, x + wide, y + high))
            if any(_needed(outline, sheet.part) for outline in outlines):
                sheets.append(sheet)
    return Tiling(rows, columns, paper, margin, overlap, tuple(sheets))


def _needed(outline: Outline, part: Box) -> bool:
    """Is any of the paper inside the outline on that part?"""
    return _crosses(outline, part) or _inside(outline, part.centre.x, part.centre.y)


def _crosses(outline: Outline, part: Box) -> bool:
    """Does any step of the line run over the part? (Each step clipped by both its slabs.)"""
    starts, steps = outline, np.roll(outline, -1, axis=0) - outline
    low, high = np.array((part.x0, part.y0)), np.array((part.x1, part.y1))
    with np.errstate(divide="ignore", invalid="ignore"):
        a, b = (low - starts) / steps, (high - starts) / steps
    flat = steps == 0.0
    within = (starts >= low) & (starts <= high)
    enter = np.where(flat, np.where(within, -np.inf, np.inf), np.minimum(a, b)).max(axis=1)
    leave = np.where(flat, np.where(within, np.inf, -np.inf), np.maximum(a, b)).min(axis=1)
    return bool(np.any((enter <= leave) & (enter <= 1.0) & (leave >= 0.0)))


def _inside(outline: Outline, x: float, y: float) -> bool:
    """Is the point inside the closed line? (Even-odd.)"""
    a, b = outline, np.roll(outline, -1, axis=0)
    over = (a[:, 1] > y) != (b[:, 1] > y)
    if not bool(over.any()):
        return False
    a, b = a[over], b[over]
    at = a[:, 0] + (y - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0])
    return int(np.count_nonzero(at > x)) % 2 == 1


def _letters(row: int) -> str:
    """A, B, ... Z, AA, AB, ..."""
    out = ""
    row += 1
    while row > 0:
        row, rest = divmod(row - 1, len(ascii_uppercase))
        out = ascii_uppercase[rest] + out
    return out
