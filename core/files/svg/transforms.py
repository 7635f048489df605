"""The ``transform`` attribute, and viewBox with preserveAspectRatio, as maps."""

from __future__ import annotations

import math
import re
from typing import NamedTuple

from core.curve import Affine, Point
from core.files.svg.numbers import BETWEEN, NUMBER, SPACE

_STEP = re.compile(r"[\s,]*+([a-zA-Z]+)\s*\(([^()]*)\)")
_NUMBERS = re.compile(rf"{SPACE}*+(?:({NUMBER}){BETWEEN})*+")
_NUMBER = re.compile(NUMBER)
# Both scales of a fitted page may differ by rounding of its size to 2 or 3 decimals.
STRETCH_NOTED = 1e-3


def numbers(text: str) -> tuple[float, ...] | None:
    """All numbers of a list; None when something else stands in it."""
    if not _NUMBERS.fullmatch(text):
        return None
    found = tuple(float(n) for n in _NUMBER.findall(text))
    return found if all(map(math.isfinite, found)) else None


def transform(text: str) -> Affine | None:
    """The map of a transform list, the first step outermost; None when it is not one."""
    by, at = Affine(), 0
    text = text.strip()
    while at < len(text):
        found = _STEP.match(text, at)
        step = _step(found[1], numbers(found[2])) if found else None
        if found is None or step is None:
            return None
        by, at = by @ step, found.end()
    return by


def _step(name: str, v: tuple[float, ...] | None) -> Affine | None:
    if v is None:
        return None
    match name, len(v):
        case "matrix", 6:
            return Affine(*v)
        case "translate", 1 | 2:
            return Affine.move(v[0], v[1] if len(v) > 1 else 0.0)
        case "scale", 1 | 2:
            return Affine.scale(*v)
        case "rotate", 1 | 3:
            return Affine.turn(math.radians(v[0]), Point(v[1], v[2]) if len(v) > 1 else None)
        case "skewX", 1:
            return Affine(c=math.tan(math.radians(v[0])))
        case "skewY", 1:
            return Affine(b=math.tan(math.radians(v[0])))
    return None


class ViewBox(NamedTuple):
    """The part of the drawing's plane that the page shows, in user units."""

    x: float
    y: float
    width: float
    height: float


def view_box(text: str) -> ViewBox | None:
    """The viewBox; None when it is not four numbers. Its size may still be zero or less."""
    found = numbers(text)
    return ViewBox(*found) if found and len(found) == 4 else None


def fit(box: ViewBox, width: float, height: float, ratio: str = "") -> Affine:
    """The map from a viewBox (of some size) to a viewport of width x height at the origin.

    Source: W3C SVG 2, 8.2, "equivalent transform of an SVG viewport".
    """
    words = ratio.split() or ["xMidYMid"]
    words = words[1:] if words[0] == "defer" else words
    sx, sy = width / box.width, height / box.height
    if words and words[0] == "none":
        return Affine.scale(sx, sy) @ Affine.move(-box.x, -box.y)
    s = max(sx, sy) if "slice" in words[1:] else min(sx, sy)
    align = words[0] if words else "xMidYMid"
    spare_x, spare_y = width - s * box.width, height - s * box.height
    dx, dy = spare_x * _share(align[1:4]), spare_y * _share(align[5:8])
    return Affine.move(dx, dy) @ Affine.scale(s) @ Affine.move(-box.x, -box.y)


def _share(word: str) -> float:
    return {"Min": 0.0, "Max": 1.0}.get(word, 0.5)


def stretch(by: Affine) -> tuple[float, float]:
    """Largest and smallest factor by which the map lengthens (its singular values)."""
    # As shares of the largest entry, so that no square leaves the range of numbers.
    most = max(abs(by.a), abs(by.b), abs(by.c), abs(by.d))
    if not 0.0 < most < math.inf:
        return most, 0.0
    a, b, c, d = by.a / most, by.b / most, by.c / most, by.d / most
    square, det = a * a + b * b + c * c + d * d, abs(a * d - b * c)
    root = math.sqrt(max(0.0, square * square - 4 * det * det))
    large = math.sqrt((square + root) / 2)
    return large * most, det / large * most


def written(by: Affine) -> str:
    """The map as the shortest transform that says it to 12 digits."""
    if (by.a, by.b, by.c, by.d) == (1.0, 0.0, 0.0, 1.0):
        return f"translate({by.e:.12g},{by.f:.12g})"
    values = (by.a, by.b, by.c, by.d, by.e, by.f)
    return "matrix(" + ",".join(f"{v:.15g}" for v in values) + ")"
