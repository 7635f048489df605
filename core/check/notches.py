"""Notches on a seam, and which notch of one seam meets which of the other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from core.check.seams import Seam
from core.curve import Point, Ring
from core.piece.cutting import WIDEST_ALLOWANCE
from core.piece.model import Kind, Mark, Piece

# A notch within this (mm) of the outline is one of its notches.
ON_OUTLINE = 2.0
# Both ends of a V lie on the outline equally far (mm) from the sewn line; a slit has one.
SAME_DISTANCE = 0.5
# A notch this near (mm) to an end of a seam speaks of the seam that crosses there.
AT_END = 0.5
# Two lines are equally near a notch within this (mm).
TIE = 1e-6


@dataclass(frozen=True, slots=True)
class Notch:
    """A notch on a seam: the key of its drawn shape, mm from the hem end, and its point."""

    shape: int
    from_hem_mm: float
    place: Point


def notches_on(seam: Seam) -> tuple[Notch, ...]:
    """The notches that belong to a seam, from the hem up, at their nearest place on it."""
    found = (_notch(seam, m) for m in seam.piece.marks if m.kind is Kind.NOTCH)
    return tuple(sorted((n for n in found if n), key=lambda n: (n.from_hem_mm, n.shape)))


def _notch(seam: Seam, mark: Mark) -> Notch | None:
    foot = _foot(seam.piece, mark)
    away = seam.piece.ring.nearest(foot).distance
    on = seam.nearest(foot)
    limit = ON_OUTLINE if seam.piece.stitching is None else WIDEST_ALLOWANCE
    if away > limit or on.away_mm > away + TIE:
        return None
    inside = AT_END < on.from_hem_mm < seam.length - AT_END
    return Notch(mark.shape, on.from_hem_mm, on.point) if inside else None


def _foot(piece: Piece, mark: Mark) -> Point:
    """The point by which a notch is placed: where it meets the line, the middle of a V."""
    shape = mark.geometry
    if isinstance(shape, Point):
        return shape
    if isinstance(shape, Ring):
        return shape.bounds().centre
    a, b = (piece.ring.nearest(p).distance for p in (shape.start, shape.end))
    if abs(a - b) <= SAME_DISTANCE:
        return shape.start.towards(shape.end, 0.5)
    return shape.start if a < b else shape.end


def paired(first: Sequence[Notch], second: Sequence[Notch]) -> tuple[tuple[Notch, Notch], ...]:
    """Each notch of the seam that has fewer with one of the other, in order along both.

    Of all such pairings the one whose distances from the hem differ least in sum.
    """
    if len(first) > len(second):
        return tuple((b, a) for a, b in paired(second, first))
    rows = [[0.0] * (len(second) + 1)]
    for a in first:
        row = [float("inf")]
        for (skipped, _), b in zip(pairwise(rows[-1]), second, strict=True):
            row.append(min(row[-1], skipped + abs(a.from_hem_mm - b.from_hem_mm)))
        rows.append(row)
    return tuple(reversed(tuple(_traced(rows, first, second))))


def _traced(
    rows: Sequence[Sequence[float]], first: Sequence[Notch], second: Sequence[Notch]
) -> Iterator[tuple[Notch, Notch]]:
    """The pairs of the least sum, last pair first."""
    j = len(second)
    for i in range(len(first), 0, -1):
        while rows[i][j - 1] == rows[i][j]:
            j -= 1
        j -= 1
        yield first[i - 1], second[j]
