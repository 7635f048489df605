"""Shapes of which CSS says where they lie.

Source: W3C SVG 2, 7 (geometry properties) and 9.3 (the property d).
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from core.files.svg.document import Node
from core.files.svg.outlines import BY_STYLE, GEOMETRY, PLACES
from core.files.svg.sheets import Sheet
from core.files.svg.style import in_css
from core.files.svg.tags import Change, restyled

_PATH = re.compile(
    r"""path\(\s*(?:(?:evenodd|nonzero)\s*,\s*)?(["'])([^"']*)\1\s*\)""", re.IGNORECASE
)


def said_in_css(node: Node, sheet: Sheet | None) -> Mapping[str, str]:
    """The attributes of a shape that CSS says instead, as an attribute would say them; a `d` that
    is not followed as CSS spells it."""
    in_rules = sheet is not None and not sheet.says.isdisjoint(BY_STYLE)
    if not in_rules and not PLACES.search(node.get("style")):
        return {}
    out: dict[str, str] = {}
    for name in BY_STYLE.intersection(GEOMETRY[node.name]):
        said = in_css(node, name, sheet)
        if said is not None:
            path = _PATH.fullmatch(said) if name == "d" else None
            out[name] = path[2] if path else "" if said.lower() == "none" else said
    return out


def as_said(node: Node, said: Mapping[str, str]) -> Node:
    """The element as if its attributes said it."""
    return Node(node.name, {**node.attributes, **said}, node.parent, node.start, node.end)


def drawn_by_style(node: Node, data: str) -> Change:
    """How the style of a path says another path, over what any rule says."""
    return Change({"style": restyled(node, f'd:path("{data}")!important')})
