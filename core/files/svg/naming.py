"""What the file says about an element in words."""

from __future__ import annotations

from functools import lru_cache

from core.files.svg.document import Node
from core.files.svg.units import length


def words(node: Node, known: dict[tuple[str, ...], tuple[str, ...]]) -> tuple[str, ...]:
    """Id, classes, labels, title and data of the element, each as one word or phrase.

    In `known` they are kept by what they come from: thousands of elements say the same.
    """
    names = telling(tuple(node.attributes))
    if not names and not node.content:
        return ()
    said = (*names, *[node.attributes[n] for n in names])
    if node.content:
        said = (*said, title(node))
    found = known.get(said)
    if found is None:
        found = known[said] = tuple(dict.fromkeys(w for w in map(_plain, _all_words(node)) if w))
    return found


@lru_cache(maxsize=256)
def telling(names: tuple[str, ...]) -> tuple[str, ...]:
    """Those of the attributes that say something in words."""
    return tuple(
        n
        for n in names
        if n in ("id", "class", "label", "aria-label") or n.endswith(" label") or n[:5] == "data-"
    )


def _all_words(node: Node) -> list[str]:
    a = node.attributes
    out = [a.get("id", ""), *a.get("class", "").split()]
    out += [*labels(node), title(node), a.get("aria-label", "")]
    for name, value in a.items():
        if name.startswith("data-"):
            kind = name.removeprefix("data-")
            out += ([] if kind in ("name", "label", "title", "id") else [kind]) + [value]
    return out


def labels(node: Node) -> list[str]:
    """Attributes named label, with or without a namespace."""
    return [v for k, v in node.attributes.items() if k == "label" or k.endswith(" label")]


def title(node: Node) -> str:
    """The text of its own title; "" when it has none."""
    for child in node.children:
        if child.name == "title":
            return _plain("".join(c for c in child.content if isinstance(c, str)))
    return ""


def group_name(node: Node) -> str:
    """Its label, or else title, or else id."""
    if not telling(tuple(node.attributes)):
        return title(node)
    found = (*labels(node), title(node), node.get("data-name"), node.get("id"))
    return next((w for w in map(_plain, found) if w), "")


def _plain(text: str) -> str:
    return " ".join(text.split())


def writing(node: Node) -> str:
    """The text of a text element; parts set on another line begin a new line."""
    lines: list[str] = [""]
    level: list[str | None] = [None]
    _collect(node, lines, level)
    return "\n".join(t for t in map(_plain, lines) if t)


def _steps_down(node: Node) -> bool:
    """Is its first letter set lower or higher than the one before?"""
    step = length(next(iter(node.get("dy").replace(",", " ").split()), ""))
    return step is not None and step.value != 0.0


def _collect(node: Node, lines: list[str], level: list[str | None]) -> None:
    if node.name == "title":
        return
    y = node.attributes.get("y")
    if (y is not None and y != level[0]) or _steps_down(node):
        level[0] = y
        lines.append("")
    for part in node.content:
        if isinstance(part, str):
            lines[-1] += part
        else:
            _collect(part, lines, level)
