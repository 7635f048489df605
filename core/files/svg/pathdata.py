"""Path data: what it draws, and where in the text each step of it stands.

Source: W3C SVG 2, 9.3 (path data) and its error handling: all before an error counts.
"""

from __future__ import annotations

import math
import re
import sys
from collections.abc import Callable
from typing import NamedTuple

from core.files.svg.arcs import arc_coords
from core.files.svg.numbers import BETWEEN, NUMBER, SPACE


class Step(NamedTuple):
    """One step of path data, ``text[begin:end]``.

    ``letter`` is its command, as written or (``written`` False) as implied by the one
    before; "" for the start of a subpath that has no command of its own. ``coords`` are in
    the path's own units: x, y of a moveto; of both ends of a line; of the start and then
    three points a cubic of all other steps.
    """

    letter: str
    written: bool
    begin: int
    end: int
    coords: tuple[float, ...]

    @property
    def is_close(self) -> bool:
        return self.letter in ("z", "Z")


class Parsed(NamedTuple):
    """The subpaths, each beginning with its moveto; ``error`` is where the text goes wrong."""

    subpaths: list[list[Step]]
    error: int | None


# The work of an arc, in lines.
ARC_STEPS = 15


def _arguments(count: int) -> re.Pattern[str]:
    return re.compile(f"{BETWEEN}({NUMBER})" * count)


_LETTER = re.compile(rf"{SPACE}*+([MmZzLlHhVvCcSsQqTtAa])")
_BLANK = re.compile(rf"{SPACE}*+")
_ARC = re.compile(f"{BETWEEN}({NUMBER})" * 3 + f"{BETWEEN}([01])" * 2 + f"{BETWEEN}({NUMBER})" * 2)
_COUNTS = {"m": 2, "l": 2, "h": 1, "v": 1, "c": 6, "s": 4, "q": 4, "t": 2}
_ARGUMENTS = {k: _arguments(n) for k, n in _COUNTS.items()} | {"a": _ARC}


class TooManyStepsError(ValueError):
    """Path data with more steps than were asked for."""


def parse(text: str, *, arc_tolerance: float, most: int = sys.maxsize) -> Parsed:
    """Takes path data apart; arcs become cubics within `arc_tolerance` (path units).

    TooManyStepsError for more than `most` steps, an arc counted as ARC_STEPS of them.
    """
    return _Parser(text, arc_tolerance, most).run()


class _Parser:
    """Where the pen is while the text is read once from left to right."""

    def __init__(self, text: str, arc_tolerance: float, left: int) -> None:
        self.text = text
        self.left = left
        self.arc_tolerance = arc_tolerance
        self.x = self.y = self.start_x = self.start_y = 0.0
        # Last handle of the step before, when it was a cubic or a quadratic.
        self.cubic: tuple[float, float] | None = None
        self.quadratic: tuple[float, float] | None = None
        self.subpaths: list[list[Step]] = []
        self.open = False

    def run(self) -> Parsed:
        at, text = 0, self.text
        while found := _LETTER.match(text, at):
            letter, begin, at = found[1], found.start(1), found.end()
            if letter in "Zz":
                good = self.open
                if good:
                    self._close(letter, begin, at)
            else:
                at, good = self._command(letter, begin, at)
            if not good:
                return Parsed(self.subpaths, begin if at == found.end() else at)
        end = _BLANK.match(text, at)
        rest = end.end() if end else at
        return Parsed(self.subpaths, rest if rest < len(text) else None)

    def _close(self, letter: str, begin: int, end: int) -> None:
        coords = (self.x, self.y, self.start_x, self.start_y)
        self.subpaths[-1].append(Step(letter, True, begin, end, coords))
        self.x, self.y = self.start_x, self.start_y
        self.cubic = self.quadratic = None
        self.open = False

    def _command(self, letter: str, begin: int, at: int) -> tuple[int, bool]:
        """Reads all sets of numbers after a letter; tells where it stopped, and if any was read."""
        kind = letter.lower()
        if kind != "m" and not self.subpaths:
            return at, False
        pattern, draw = _ARGUMENTS[kind], _DRAW[kind]
        relative, written = letter == kind, True
        cost = ARC_STEPS if kind == "a" else 1
        while found := pattern.match(self.text, at):
            self.left -= cost
            if self.left < 0:
                raise TooManyStepsError
            values = [float(n) for n in found.groups()]
            begin = begin if written else found.start(1)
            if kind == "m":
                self._move(letter, values, relative, begin, found.end())
                kind, letter = "l", "l" if relative else "L"
                pattern, draw = _ARGUMENTS[kind], _DRAW[kind]
            else:
                dx, dy = (self.x, self.y) if relative else (0.0, 0.0)
                try:
                    coords = draw(self, values, dx, dy)
                except (ValueError, OverflowError, ZeroDivisionError):
                    return at, False
                self._draw(Step(letter, written, begin, found.end(), coords))
            at, written = found.end(), False
        return at, not written

    def _move(self, letter: str, v: list[float], relative: bool, begin: int, end: int) -> None:
        if relative:
            v = [self.x + v[0], self.y + v[1]]
        self.x, self.y = self.start_x, self.start_y = v[0], v[1]
        self.subpaths.append([Step(letter, True, begin, end, (self.x, self.y))])
        self.cubic = self.quadratic = None
        self.open = True

    def _draw(self, step: Step) -> None:
        if not self.open:
            # After a closepath the next subpath starts where that one did.
            start = (self.start_x, self.start_y)
            self.subpaths.append([Step("", False, step.begin, step.begin, start)])
            self.open = True
        self.subpaths[-1].append(step)
        self.x, self.y = step.coords[-2:]
        if step.letter not in "CcSs":
            self.cubic = None
        if step.letter not in "QqTt":
            self.quadratic = None


_Draw = Callable[[_Parser, list[float], float, float], tuple[float, ...]]


def _line(pen: _Parser, v: list[float], dx: float, dy: float) -> tuple[float, ...]:
    return (pen.x, pen.y, v[0] + dx, v[1] + dy)


def _across(pen: _Parser, v: list[float], dx: float, dy: float) -> tuple[float, ...]:
    return (pen.x, pen.y, v[0] + dx, pen.y)


def _down(pen: _Parser, v: list[float], dx: float, dy: float) -> tuple[float, ...]:
    return (pen.x, pen.y, pen.x, v[0] + dy)


def _curve(pen: _Parser, v: list[float], dx: float, dy: float) -> tuple[float, ...]:
    pen.cubic = (v[2] + dx, v[3] + dy)
    return (pen.x, pen.y, v[0] + dx, v[1] + dy, *pen.cubic, v[4] + dx, v[5] + dy)


def _smooth(pen: _Parser, v: list[float], dx: float, dy: float) -> tuple[float, ...]:
    first = _reflected(pen, pen.cubic)
    pen.cubic = (v[0] + dx, v[1] + dy)
    return (pen.x, pen.y, *first, *pen.cubic, v[2] + dx, v[3] + dy)


def _quadratic(pen: _Parser, v: list[float], dx: float, dy: float) -> tuple[float, ...]:
    pen.quadratic = (v[0] + dx, v[1] + dy)
    return _elevated(pen, pen.quadratic, v[2] + dx, v[3] + dy)


def _smooth_quadratic(pen: _Parser, v: list[float], dx: float, dy: float) -> tuple[float, ...]:
    pen.quadratic = _reflected(pen, pen.quadratic)
    return _elevated(pen, pen.quadratic, v[0] + dx, v[1] + dy)


def _arc(pen: _Parser, v: list[float], dx: float, dy: float) -> tuple[float, ...]:
    return arc_coords(
        (pen.x, pen.y),
        (v[0], v[1]),
        math.radians(v[2]),
        large=v[3] == 1.0,
        sweep=v[4] == 1.0,
        end=(v[5] + dx, v[6] + dy),
        tolerance=pen.arc_tolerance,
    )


def _reflected(pen: _Parser, handle: tuple[float, float] | None) -> tuple[float, float]:
    if handle is None:
        return pen.x, pen.y
    return 2 * pen.x - handle[0], 2 * pen.y - handle[1]


def _elevated(pen: _Parser, control: tuple[float, float], x: float, y: float) -> tuple[float, ...]:
    """The quadratic as a cubic, exactly."""
    qx, qy = control
    return (
        pen.x,
        pen.y,
        pen.x + (qx - pen.x) * 2 / 3,
        pen.y + (qy - pen.y) * 2 / 3,
        x + (qx - x) * 2 / 3,
        y + (qy - y) * 2 / 3,
        x,
        y,
    )


_DRAW: dict[str, _Draw] = {
    "m": _line,
    "l": _line,
    "h": _across,
    "v": _down,
    "c": _curve,
    "s": _smooth,
    "q": _quadratic,
    "t": _smooth_quadratic,
    "a": _arc,
}
