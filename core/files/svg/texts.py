"""Where a piece of writing stands, and how it is moved in the file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from core.curve import Affine, Point, Vector
from core.files.svg.document import Node
from core.files.svg.numbers import short
from core.files.svg.outlines import View
from core.files.svg.placing import put
from core.files.svg.tags import Change
from core.files.svg.transforms import transform, written
from core.files.svg.units import length


def anchor(node: Node, view: View) -> Point:
    """The place of its first letter, in the element's own units."""
    return Point(_first(node, "x", view.width), _first(node, "y", view.height))


def _first(node: Node, name: str, whole: float) -> float:
    """The first coordinate that it, or the first line inside it, states; 0 for none."""
    for part in _parts(node):
        words = part.get(name).replace(",", " ").split()
        found = length(words[0]) if words else None
        if found is not None:
            return found.user(whole)
    return 0.0


def _parts(node: Node) -> Iterator[Node]:
    return (n for n in node.all() if n.name in ("text", "tspan"))


def moved(node: Node, by: Vector, placed: Mapping[Node, Affine]) -> dict[Node, Change]:
    """The changes that move a text by a vector in its own units; `placed` are the own maps of
    those that CSS places."""
    if not _simple(node):
        return {node: _shifted(node, by, placed)}
    return {
        part: Change(
            {
                name: short(float(part.get(name)) + step)
                for name, step in (("x", by.x), ("y", by.y))
                if name in part.attributes
            }
        )
        for part in _parts(node)
        if "x" in part.attributes or "y" in part.attributes
    }


def _simple(node: Node) -> bool:
    """Does it state x and y itself, and every coordinate in it as one bare number?"""
    if "x" not in node.attributes or "y" not in node.attributes:
        return False
    for part in _parts(node):
        for name in ("x", "y"):
            if name in part.attributes:
                found = length(part.get(name))
                if found is None or found.unit:
                    return False
    return True


def _shifted(node: Node, by: Vector, placed: Mapping[Node, Affine]) -> Change:
    own = placed.get(node) or transform(node.get("transform")) or Affine()
    step = own.vector(by)
    if node in placed:
        return Change(put(node, Affine.move(step.x, step.y) @ own, placed))
    text = f"{written(Affine.move(step.x, step.y))} {node.get('transform')}".strip()
    return Change({"transform": text})
