"""Nested pages and symbols: where they lie, and what maps from inside of them.

Source: W3C SVG 2, 5.5 (symbol, use), 8.2 and 8.8 (nested viewports).
"""

from __future__ import annotations

from core.curve import Affine
from core.files.svg.document import Document, Node
from core.files.svg.outlines import BadLengthError, View, number
from core.files.svg.transforms import fit, view_box


def referenced(document: Document, use: Node) -> Node | None:
    """The element that a `use` draws; None when it is not in the file."""
    href = (use.href or "").strip()
    return document.by_id.get(href[1:]) if href.startswith("#") else None


def use_move(use: Node, view: View) -> Affine:
    """How far a `use` moves what it draws."""
    try:
        return Affine.move(number(use, "x", view.width), number(use, "y", view.height))
    except BadLengthError:
        return Affine()


def sides_of(node: Node, view: View, use: Node | None) -> tuple[float, float, float, float]:
    """x, y, width and height of a nested svg or symbol in the units around it.

    Width and height of the `use` that draws it come before its own. BadLengthError for an
    attribute that is no length.
    """
    sides = []
    for name, whole in (("width", view.width), ("height", view.height)):
        own = number(node, name, whole, whole)
        sides.append(own if use is None else number(use, name, whole, own))
    is_svg = node.name == "svg"
    x = number(node, "x", view.width) if is_svg else 0.0
    y = number(node, "y", view.height) if is_svg else 0.0
    return x, y, sides[0], sides[1]


def viewport(node: Node, view: View, use: Node | None) -> tuple[Affine, View]:
    """The map from inside a nested svg or symbol to around it, and the view inside."""
    x, y, width, height = sides_of(node, view, use)
    box = view_box(node.get("viewBox"))
    if box is None or not (box.width > 0.0 and box.height > 0.0 and min(width, height) > 0.0):
        return Affine.move(x, y), View(width, height)
    inner = fit(box, width, height, node.get("preserveAspectRatio"))
    return Affine.move(x, y) @ inner, View(box.width, box.height)
