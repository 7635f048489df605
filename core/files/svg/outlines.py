"""Every basic shape as the path data that SVG says it is.

Source: W3C SVG 2, chapter 10 (basic shapes), "equivalent path".
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import NamedTuple

from core.files.svg.document import Node
from core.files.svg.pathdata import parse
from core.files.svg.units import length

# Attributes that say where a shape is; they go when it becomes a path.
GEOMETRY: dict[str, tuple[str, ...]] = {
    "path": ("d",),
    "polygon": ("points",),
    "polyline": ("points",),
    "line": ("x1", "y1", "x2", "y2"),
    "rect": ("x", "y", "width", "height", "rx", "ry"),
    "circle": ("cx", "cy", "r"),
    "ellipse": ("cx", "cy", "rx", "ry"),
}


# Attributes of shapes that CSS may say instead.
BY_STYLE = frozenset(("d", "x", "y", "width", "height", "rx", "ry", "cx", "cy", "r"))
# Where a style or a sheet says one; the names alone stand in every text.
PLACES = re.compile(rf"(?:^|[;{{\s/])(?:{'|'.join(sorted(BY_STYLE))})\s*:", re.IGNORECASE)


class View(NamedTuple):
    """Width and height, in user units, of which percentages are parts."""

    width: float
    height: float

    @property
    def diagonal(self) -> float:
        """What percentages of a radius are parts of (SVG 2, 8.9)."""
        return math.hypot(self.width, self.height) / math.sqrt(2)


class BadLengthError(ValueError):
    """An attribute that is no length; its text is the attribute."""


def path_data(node: Node, view: View) -> str:
    """The path data of a shape, in its own units; "" when there is nothing to draw.

    BadLengthError for an attribute that is not a length.
    """
    return _DRAW[node.name](node, view)


def number(node: Node, name: str, whole: float, default: float = 0.0) -> float:
    """A length attribute in user units; BadLengthError when it is not one."""
    text = node.attributes.get(name)
    if text is None or text.strip() == "auto":
        return default
    found = length(text)
    if found is None:
        raise BadLengthError(f'{name}="{text[:40]}"')
    return found.user(whole)


def _path(node: Node, view: View) -> str:
    return node.get("d")


def _polyline(node: Node, view: View) -> str:
    points = node.get("points")
    return points_data(points, closed=False)


def _polygon(node: Node, view: View) -> str:
    points = node.get("points")
    return points_data(points, closed=True)


def points_data(points: str, *, closed: bool) -> str:
    """A list of points as path data; what follows an error goes, so that it still closes."""
    if not points.strip():
        return ""
    data = "M" + points
    if not closed:
        return data
    error = parse(data, arc_tolerance=1.0).error
    return (data if error is None else data[:error]) + "Z"


def _line(node: Node, view: View) -> str:
    x1, x2 = (number(node, n, view.width) for n in ("x1", "x2"))
    y1, y2 = (number(node, n, view.height) for n in ("y1", "y2"))
    return f"M{x1!r} {y1!r}L{x2!r} {y2!r}"


def _rect(node: Node, view: View) -> str:
    x, y = number(node, "x", view.width), number(node, "y", view.height)
    w, h = number(node, "width", view.width), number(node, "height", view.height)
    if not (w > 0.0 and h > 0.0):
        return ""
    rx, ry = _corner(node, view, w, h)
    if rx == 0.0 or ry == 0.0:
        return f"M{x!r} {y!r}H{x + w!r}V{y + h!r}H{x!r}Z"
    arc = f"A{rx!r} {ry!r} 0 0 1 "
    return (
        f"M{x + rx!r} {y!r}H{x + w - rx!r}{arc}{x + w!r} {y + ry!r}"
        f"V{y + h - ry!r}{arc}{x + w - rx!r} {y + h!r}"
        f"H{x + rx!r}{arc}{x!r} {y + h - ry!r}V{y + ry!r}{arc}{x + rx!r} {y!r}Z"
    )


def _corner(node: Node, view: View, w: float, h: float) -> tuple[float, float]:
    """Radii of a rectangle's corners: one stands for the other, and half a side is the most."""
    rx = number(node, "rx", view.width, -1.0)
    ry = number(node, "ry", view.height, -1.0)
    rx, ry = (ry if rx < 0.0 else rx), (rx if ry < 0.0 else ry)
    return min(max(rx, 0.0), w / 2), min(max(ry, 0.0), h / 2)


def _circle(node: Node, view: View) -> str:
    r = number(node, "r", view.diagonal)
    return _round(node, view, r, r)


def _ellipse(node: Node, view: View) -> str:
    rx = number(node, "rx", view.width, -1.0)
    ry = number(node, "ry", view.height, -1.0)
    return _round(node, view, ry if rx < 0.0 else rx, rx if ry < 0.0 else ry)


def _round(node: Node, view: View, rx: float, ry: float) -> str:
    if not (rx > 0.0 and ry > 0.0):
        return ""
    x, y = number(node, "cx", view.width), number(node, "cy", view.height)
    arc = f"A{rx!r} {ry!r} 0 0 1 "
    return (
        f"M{x + rx!r} {y!r}{arc}{x!r} {y + ry!r}{arc}{x - rx!r} {y!r}"
        f"{arc}{x!r} {y - ry!r}{arc}{x + rx!r} {y!r}Z"
    )


_DRAW: dict[str, Callable[[Node, View], str]] = {
    "path": _path,
    "polygon": _polygon,
    "polyline": _polyline,
    "line": _line,
    "rect": _rect,
    "circle": _circle,
    "ellipse": _ellipse,
}
