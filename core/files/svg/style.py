"""Whether an element is shown, what clips it, and how writing is set, by attribute, style
or class."""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import NamedTuple

from core.files.svg.document import Document, Node

_DECLARATION = re.compile(
    r"(?:^|[;\s])(display|visibility|clip-path|font-size|text-anchor)\s*:\s*([^;!]+)"
)
_Said = dict[str, str]
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
# Selectors of one part only: a name, a class or an id. Editors write no others for this.
_SELECTOR = re.compile(r"[.#]?[\w-]+")
SHOWING = frozenset({"display", "visibility", "clip-path"})
SETTING = frozenset({"font-size", "text-anchor"})
_SAYING = frozenset({"style", "display", "visibility"})


class Shown(NamedTuple):
    """``drawn`` is lost for all inside; ``visible`` can be won back further in."""

    drawn: bool = True
    visible: bool = True

    @property
    def hidden(self) -> bool:
        return not (self.drawn and self.visible)


Sheet = dict[str, _Said]


def sheet_of(document: Document, properties: Collection[str] = SHOWING) -> Sheet:
    """What the file's style sheets say of these properties, by simple selector."""
    out: Sheet = {}
    for node in document.root.all():
        if node.name == "style":
            text = "".join(c for c in node.content if isinstance(c, str))
            _add_rules(out, _COMMENT.sub("", text))
    return {
        selector: said for selector, said in out.items() if not said.keys().isdisjoint(properties)
    }


def _add_rules(out: Sheet, text: str) -> None:
    for selectors, body in _RULE.findall(text):
        said = _said(body)
        if not said:
            continue
        for selector in map(str.strip, selectors.split(",")):
            if _SELECTOR.fullmatch(selector):
                out.setdefault(selector, {}).update(said)


def shown(node: Node, around: Shown, sheet: Sheet) -> Shown:
    """Is the element shown, inside something that is shown as `around` says?"""
    if not sheet and _SAYING.isdisjoint(node.attributes):
        return around
    display = value(node, "display", sheet)
    visibility = value(node, "visibility", sheet)
    return Shown(
        around.drawn and display != "none",
        around.visible if visibility in ("", "inherit") else visibility == "visible",
    )


def clip_link(node: Node, sheet: Sheet) -> str:
    """What the element says of its clip path; "" for nothing."""
    if not sheet and "style" not in node.attributes:
        return node.get("clip-path").strip()
    return value(node, "clip-path", sheet)


def _said(text: str) -> _Said:
    return {m[1]: m[2].strip() for m in _DECLARATION.finditer(text)}


def value(node: Node, name: str, sheet: Sheet) -> str:
    """Style attribute before id, class and element rules, and these before the attribute."""
    own = _said(node.get("style")) if "style" in node.attributes else {}
    if name in own:
        return own[name]
    if sheet:
        classes = ["." + c for c in reversed(node.get("class").split())]
        for selector in ("#" + node.get("id"), *classes, node.name):
            if name in sheet.get(selector, {}):
                return sheet[selector][name]
    return node.get(name).strip()
