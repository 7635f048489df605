"""Path data of lines and curves, read in one sweep.

The same points, to the last bit, as ``pathdata.parse`` and ``trace`` give step by step, in a
third of the time; but it does not know where in the text a step stands, and leaves to them
arcs, quadratics, steps without length, and whatever is not plainly sound.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import accumulate
from typing import NamedTuple

import numpy as np

from core.curve import Affine, Chain, Cubic, Line, Point, Ring, Segment
from core.files.svg.numbers import NUMBER
from core.files.svg.pathdata import TooManyStepsError
from core.files.svg.trace import FARTHEST, SNAP

_PLAIN = re.compile(r"[MmLlHhVvCcSsZz0-9eE+\-., \t\r\n\f]*+")
_LETTER = re.compile(r"([MmLlHhVvCcSsZz])")
# A comma stands between two numbers only.
_ASTRAY = re.compile(r",\s*(?:[,A-DF-Za-df-z]|\Z)|[A-Za-z]\s*,")
_NUMBER = re.compile(NUMBER)
_BLANK = re.compile(r"[\s,]+")

# Fewer points than this are sooner mapped one by one.
FEW = 40


class Places(NamedTuple):
    """Coordinates of points in mm."""

    xs: list[float]
    ys: list[float]

    @property
    def far(self) -> bool:
        """Is a coordinate no number, or farther away than any pattern reaches?"""
        near = FARTHEST.__gt__
        return not (all(map(near, map(abs, self.xs))) and all(map(near, map(abs, self.ys))))


@dataclass(slots=True)
class Run:
    """A subpath: x, y of its moveto and of all further points, and how many points (a line
    one, a cubic three) each step has."""

    numbers: list[float]
    sizes: list[int] = field(default_factory=list)
    closed: bool = False

    @property
    def points(self) -> int:
        """All of them, handles too."""
        return len(self.numbers) // 2

    @property
    def steps(self) -> int:
        """All of them, the moveto and the closing too."""
        return 1 + len(self.sizes) + self.closed


def sweep(text: str, *, most: int) -> list[Run] | None:
    """The subpaths of path data; None when it is not as plain as that.

    TooManyStepsError for more than `most` steps.
    """
    if not _PLAIN.fullmatch(text) or ("," in text and _ASTRAY.search(text)):
        return None
    parts = _LETTER.split(text)
    if parts[0].strip():
        return None
    if len(parts) > 2 * most + 1:
        raise TooManyStepsError
    pen = _Pen()
    for letter, arguments in zip(parts[1::2], parts[2::2], strict=True):
        values = _values(arguments)
        if values is None or not pen.take(letter, values):
            return None
    if sum(len(run.sizes) for run in pen.runs) > most:
        raise TooManyStepsError
    return pen.runs


def _values(text: str) -> list[float] | None:
    try:
        return list(map(float, text.replace(",", " ").split()))
    except ValueError:
        # Some run together ("1-2", "1.5.5"); all of the text must be numbers all the same.
        found = _NUMBER.findall(text)
        return list(map(float, found)) if "".join(found) == _BLANK.sub("", text) else None


class _Pen:
    """Where the pen is, while the steps of a path are followed."""

    def __init__(self) -> None:
        self.runs: list[Run] = []
        self.open = False
        self.x = self.y = 0.0
        # The last handle, when the step before was a cubic.
        self.handle: tuple[float, float] | None = None

    def take(self, letter: str, values: list[float]) -> bool:
        """Follows a command with all its numbers; False when these do not fit it."""
        kind = letter.lower()
        relative = letter == kind
        if kind == "z":
            return not values and self._close()
        count = _COUNTS[kind]
        if not values or len(values) % count:
            return False
        if kind == "m":
            self._move(values, relative)
            values, kind = values[2:], "l"
        if not self.runs:
            return False
        if values:
            self._opened()
            _DRAW[kind](self, values, relative)
            self.handle = self.handle if kind in "cs" else None
        return True

    def _move(self, values: list[float], relative: bool) -> None:
        dx, dy = (self.x, self.y) if relative else (0.0, 0.0)
        self.x, self.y = values[0] + dx, values[1] + dy
        self.runs.append(Run([self.x, self.y]))
        self.open, self.handle = True, None

    def _opened(self) -> None:
        if not self.open:
            self.runs.append(Run(self.runs[-1].numbers[:2]))
            self.open = True

    def _close(self) -> bool:
        if not self.open:
            return False
        run = self.runs[-1]
        run.closed = True
        self.x, self.y = run.numbers[:2]
        self.open, self.handle = False, None
        return True

    def _line(self, values: list[float], relative: bool) -> None:
        run = self.runs[-1]
        if relative:
            xs = list(accumulate(values[0::2], initial=self.x))[1:]
            ys = list(accumulate(values[1::2], initial=self.y))[1:]
            values[0::2], values[1::2] = xs, ys
        run.numbers += values
        run.sizes += [1] * (len(values) // 2)
        self.x, self.y = values[-2:]

    def _across(self, values: list[float], relative: bool) -> None:
        for x in values:
            self._line([x, 0.0] if relative else [x, self.y], relative)

    def _down(self, values: list[float], relative: bool) -> None:
        for y in values:
            self._line([0.0, y] if relative else [self.x, y], relative)

    def _curve(self, values: list[float], relative: bool) -> None:
        run, each = self.runs[-1], iter(values)
        x, y = self.x, self.y
        dx = dy = 0.0
        for v in zip(each, each, each, each, each, each, strict=True):
            if relative:
                dx, dy = x, y
            x, y = v[4] + dx, v[5] + dy
            run.numbers += (v[0] + dx, v[1] + dy, v[2] + dx, v[3] + dy, x, y)
        self._curved(len(values) // 6, x, y)

    def _smooth(self, values: list[float], relative: bool) -> None:
        run, each = self.runs[-1], iter(values)
        x, y = self.x, self.y
        hx, hy = self.handle or (x, y)
        dx = dy = 0.0
        for v in zip(each, each, each, each, strict=True):
            if relative:
                dx, dy = x, y
            first = (2 * x - hx, 2 * y - hy)
            hx, hy, x, y = v[0] + dx, v[1] + dy, v[2] + dx, v[3] + dy
            run.numbers += (*first, hx, hy, x, y)
        self._curved(len(values) // 4, x, y)

    def _curved(self, count: int, x: float, y: float) -> None:
        run = self.runs[-1]
        run.sizes += [3] * count
        self.x, self.y = x, y
        self.handle = (run.numbers[-4], run.numbers[-3])


_COUNTS = {"m": 2, "l": 2, "h": 1, "v": 1, "c": 6, "s": 4}
_DRAW = {"l": _Pen._line, "h": _Pen._across, "v": _Pen._down, "c": _Pen._curve, "s": _Pen._smooth}


def placed(run: Run, by: Affine) -> Places | None:
    """All its points in mm; None when a step has no length there."""
    return _one_by_one(run, by) if run.points < FEW else _at_once(run, by)


def _one_by_one(run: Run, by: Affine) -> Places | None:
    a, b, c, d, e, f = by.a, by.b, by.c, by.d, by.e, by.f
    numbers = run.numbers
    xs = [a * x + c * y + e for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
    ys = [b * x + d * y + f for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
    at = 0
    for size in run.sizes:
        if not math.hypot(xs[at + size] - xs[at], ys[at + size] - ys[at]) > SNAP:
            return None
        at += size
    return Places(xs, ys) if run.sizes else None


def _at_once(run: Run, by: Affine) -> Places | None:
    with np.errstate(all="ignore"):
        x, y = np.array(run.numbers).reshape(-1, 2).T
        x, y = by.a * x + by.c * y + by.e, by.b * x + by.d * y + by.f
        ends = np.concatenate(([0], np.cumsum(run.sizes, dtype=np.intp)))
        steps = np.hypot(np.diff(x[ends]), np.diff(y[ends]))
    sound = run.sizes and bool((steps > SNAP).all())
    return Places(x.tolist(), y.tolist()) if sound else None


def joined(run: Run, at: Places) -> Ring | Chain:
    """What it draws through these points."""
    points = list(map(Point, at.xs, at.ys))
    start, end = points[0], points[-1]
    back = start.distance(end)
    if back <= SNAP:
        # The last step ends on the start to the last bit.
        points[-1] = start
    segments = list(_segments(run, points))
    if run.closed and back > SNAP:
        segments.append(Line(end, start))
    return (Ring if run.closed or back <= SNAP else Chain)(tuple(segments))


def _segments(run: Run, points: list[Point]) -> Iterable[Segment]:
    if len(points) == len(run.sizes) + 1:
        return map(Line, points, points[1:])
    ends = accumulate(run.sizes, initial=0)
    return (
        Line(points[at], points[at + 1]) if size == 1 else Cubic(*points[at : at + 4])
        for at, size in zip(ends, run.sizes, strict=False)
    )
