"""Where the hem run goes: heights move with the seam ends, widths scale to fit between.

Heights move evenly from one end's drop to the other's; widths scale about the run so that
it ends on the carried seams. Darts are taken out of the sum first: they keep their intake
and move whole. Each stretch between darts is one affine map, so straight stays straight,
what flowed inside it still flows, and lengthening twice equals lengthening by the sum.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from core.alter.frame import Frame
from core.alter.model import TooFarError
from core.curve import Affine, Point, Vector

# Below this (mm) a closed hem is no hem.
LEAST_WIDTH = 1.0

Mouth = tuple[Point, Point]


@dataclass(frozen=True)
class Ends:
    """Where a hem run begins and ends, and the seams' unit directions down to there."""

    first: Point
    last: Point
    first_down: Vector
    last_down: Vector


@dataclass(frozen=True)
class RunMap:
    """Where each point near the hem run goes: affine by stretches, from seam to seam.

    `to_run` takes the page to the run's frame (x from the first end towards the last, y
    down); `stops` are the x at which one piece of the map hands over to the next.
    """

    to_run: Affine
    stops: tuple[float, ...]
    pieces: tuple[Affine, ...]
    scale: float

    def piece_at(self, p: Point) -> Affine:
        """The affine map, page to page, that holds where p lies."""
        x = self.to_run.point(p).x
        k = sum(1 for stop in self.stops if stop <= x)
        return self.pieces[k]

    def point(self, p: Point) -> Point:
        return self.piece_at(p).point(p)


def run_map(frame: Frame, old: Ends, new: Ends, darts: Sequence[Mouth]) -> RunMap:
    """The map that takes the old ends to the new ones and moves each dart mouth whole.

    `darts` are the mouths in run order. TooFarError when the new hem has no width left.
    """
    to_run = _run_frame(frame, old)
    a, b = to_run.point(new.first), to_run.point(new.last)
    whole = to_run.point(old.last)
    mouths = [(to_run.point(m[0]).x, to_run.point(m[1]).x) for m in darts]
    intake = sum(end - start for start, end in mouths)
    free = whole.x - intake
    if b.x - a.x - intake < LEAST_WIDTH or free <= 0.0:
        raise TooFarError("the seams would meet before the new hem: no width is left there")
    scale = (b.x - a.x - intake) / free
    slope = (b.y - whole.y - a.y) / free
    back = to_run.inverse()
    pieces = tuple(
        back @ piece @ to_run for piece in _pieces(mouths, whole.x, a, scale, slope)
    )
    return RunMap(to_run, tuple(itertools.chain.from_iterable(mouths)), pieces, scale)


def _run_frame(frame: Frame, ends: Ends) -> Affine:
    """Page to: x across from the first end towards the last, y down from the first end."""
    towards = 1.0 if frame.width(ends.last) >= frame.width(ends.first) else -1.0
    move = Affine.move(-frame.width(ends.first) * towards, -frame.height(ends.first))
    return move @ Affine.scale(towards, 1.0) @ frame.from_page()


def _pieces(
    mouths: Sequence[tuple[float, float]], width: float, start: Point, scale: float, slope: float
) -> Iterator[Affine]:
    """Stretch, dart, stretch, ... in the run's frame; `start` is where x = 0, y = 0 goes."""
    at, passed, x = start.x, 0.0, 0.0
    for mouth_start, mouth_end in [*mouths, (width, width)]:
        drop = start.y + slope * passed
        # x' = at + scale (x - x0); y' = y + drop + slope (x - x0)
        yield Affine(a=scale, b=slope, e=at - scale * x, f=drop - slope * x)
        at += scale * (mouth_start - x)
        passed += mouth_start - x
        if mouth_end > mouth_start:
            yield Affine.move(at - mouth_start, start.y + slope * passed)
            at += mouth_end - mouth_start
            x = mouth_end
