"""How a writing is set: size, direction, and what of it stands at its place."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from core.curve import Vector
from core.files.pattern import Anchor, Detail, Look
from core.files.svg.collect import Drawn
from core.files.svg.document import Node
from core.files.svg.reader import SvgSource
from core.files.svg.sheets import Sheet
from core.files.svg.style import SETTING, sheets_of, value
from core.files.svg.units import length

# Capitals are this share of a sans-serif font's size, as near as makes no difference.
CAPITALS = 0.72
# What is set where nothing says it (CSS: medium), in user units.
MEDIUM = 16.0


def details(source: SvgSource) -> Callable[[int], Detail]:
    """By shape: the look of a writing; of all else there is nothing to say."""
    sheet = sheets_of(source.document, SETTING).sheet

    def of(key: int) -> Detail:
        drawn = source.drawn[key]
        return Detail(look=_look(drawn, sheet)) if drawn.node.name == "text" else Detail()

    return of


def _look(drawn: Drawn, sheet: Sheet | None) -> Look:
    along, down = (drawn.matrix.vector(v) for v in (Vector(1.0, 0.0), Vector(0.0, 1.0)))
    height = CAPITALS * down.norm * _font_size(drawn, sheet)
    said = _nearest(_first_line(drawn.node), "text-anchor", sheet)
    anchor = next((a for a in Anchor if a.value == said), Anchor.START)
    return Look(height, math.atan2(along.y, along.x), anchor)


def _first_line(node: Node) -> Node:
    """The innermost element that holds the first letter."""
    for part in node.content:
        if isinstance(part, str) and part.strip():
            return node
        if isinstance(part, Node) and part.name == "tspan":
            return _first_line(part)
    return node


def _font_size(drawn: Drawn, sheet: Sheet | None) -> float:
    """In the units of the text element; shares of the size around it are followed."""
    share = 1.0
    for node in _outwards(_first_line(drawn.node)):
        said = length(value(node, "font-size", sheet))
        if said is None:
            continue
        if said.unit in ("em", "%"):
            share *= said.value / (100.0 if said.unit == "%" else 1.0)
        else:
            return share * said.user(drawn.view.height)
    return share * MEDIUM


def _nearest(node: Node, name: str, sheet: Sheet | None) -> str:
    return next((said for n in _outwards(node) if (said := value(n, name, sheet))), "")


def _outwards(node: Node | None) -> Iterator[Node]:
    while node is not None:
        yield node
        node = node.parent
