"""Inner lines at a level: left, moved, opened and joined, or cut and joined."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from core.alter.level.gaps import bits_of
from core.alter.level.model import Level, Part
from core.curve import Affine, Chain, Line, Point, Ring, Segment
from core.curve.ends import with_ends
from core.piece.model import Mark

# Two ends this near (mm) are joined without a stretch between them.
MEETS = 1e-6
# Two straight lines whose directions agree this well (radians) are one.
IN_LINE = 1e-9
# Flattening for asking on which side most of a closed line lies, in mm.
FLATTENING = 0.05


@dataclass(frozen=True, slots=True)
class Numbered:
    """A segment of a line, and the number of the drawn segment that it comes from."""

    segment: Segment
    number: int


def open_line(level: Level, mark: Mark) -> Mark | None:
    """The line after the change; None when all of it was folded out.

    Where the level cuts it a straight stretch along the grain is put in between the halves;
    where something is folded out the halves are joined straight. `Mark.numbers` then names a
    drawn segment several times: its parts stand in its place in that order.
    """
    chain = mark.geometry
    if not isinstance(chain, Chain):
        raise TypeError("an inner line is a chain")
    numbers = mark.numbers or tuple(range(len(chain)))
    parts = {bit.part for k, s in enumerate(chain) for bit in bits_of(level, s, k)}
    if parts == {Part.STAYS}:
        return mark
    if parts == {Part.MOVES}:
        return replace(mark, geometry=_moved(level, chain))
    opened = _joined(list(_sides(level, chain, numbers)))
    if not opened:
        return None
    out = _in_line(opened)
    return replace(
        mark,
        geometry=Chain(tuple(n.segment for n in out)),
        numbers=tuple(n.number for n in out),
    )


def _moved(level: Level, geometry: Chain) -> Chain:
    return geometry.mapped(Affine.move(level.step.x, level.step.y))


def _sides(level: Level, chain: Chain, numbers: Sequence[int]) -> Iterator[Numbered]:
    """The parts that stay and the parts that move, moved."""
    for k, s in enumerate(chain):
        for bit in bits_of(level, s, k):
            if bit.part is Part.REMOVED:
                continue
            part = s.part(bit.t0, bit.t1)
            if bit.part is Part.MOVES:
                part = part.mapped(Affine.move(level.step.x, level.step.y))
            yield Numbered(part, numbers[k])


def _joined(parts: Sequence[Numbered]) -> list[Numbered]:
    """The parts with what is missing between them."""
    out: list[Numbered] = []
    for part in parts:
        segment = part.segment
        if out:
            before, start = out[-1].segment.end, segment.start
            if before.distance(start) > MEETS:
                out.append(Numbered(Line(before, start), out[-1].number))
            elif before != start:
                segment = with_ends(segment, before, segment.end)
        out.append(Numbered(segment, part.number))
    return out


def _in_line(parts: Sequence[Numbered]) -> list[Numbered]:
    """Straight parts of one drawn line that go on in one direction made one again."""
    out = [parts[0]]
    for part in parts[1:]:
        before = out[-1]
        if before.number == part.number and _goes_on(before.segment, part.segment):
            whole = Line(before.segment.start, part.segment.end)
            out[-1] = Numbered(whole, part.number)
        else:
            out.append(part)
    return out


def _goes_on(a: Segment, b: Segment) -> bool:
    if not (isinstance(a, Line) and isinstance(b, Line)):
        return False
    return abs(a.tangent(1.0).angle_to(b.tangent(0.0))) < IN_LINE


def larger_part(level: Level, ring: Ring) -> Part:
    """On which part of the piece most of a closed line's area lies; REMOVED when it has no
    area elsewhere."""
    flat = ring.flattened(tolerance=FLATTENING)
    down, across = level.frame.down, level.frame.across
    heights = flat @ (down.x, down.y)
    widths = flat @ (across.x, across.y)
    above = _area(widths, heights.clip(max=level.height))
    below = _area(widths, heights.clip(min=level.floor))
    if max(above, below) <= MEETS:
        return Part.REMOVED
    return Part.STAYS if above >= below else Part.MOVES


def _area(x: NDArray[np.float64], y: NDArray[np.float64]) -> float:
    """Area of a polygon whose first point is given again at its end; shapes (n,)."""
    return abs(float(np.sum(x[:-1] * y[1:] - x[1:] * y[:-1]))) / 2


def crosses(level: Level, geometry: Chain) -> bool:
    """Does a line lie on more than one part of the piece?"""
    return len({level.part(p) for p in _points(geometry)}) > 1


def _points(geometry: Chain) -> Iterator[Point]:
    for s in geometry:
        for t in (0.0, 0.25, 0.5, 0.75, 1.0):
            yield s.at(t)
