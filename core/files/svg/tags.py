"""Start tags as text: where each attribute stands, and how to change only some."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from core.files.svg.document import Document, Node

_NAME = re.compile(r"<([^\s/>]+)")
_ATTRIBUTE = re.compile(r"""(\s+)([^\s=/>]+)(\s*=\s*)("[^"]*"|'[^']*')""")
_TAG_END = re.compile(r"\s*(/?)>")


@dataclass(frozen=True)
class Change:
    """What becomes of an element: attributes set (as XML text) or, with None, taken off.

    ``rename`` is a new local name. ``gone`` takes the whole element out.
    """

    attributes: Mapping[str, str | None] = field(default_factory=dict)
    rename: str = ""
    gone: bool = False

    def also(self, attributes: Mapping[str, str | None]) -> Change:
        return Change({**attributes, **self.attributes}, self.rename, self.gone)


class Attribute(NamedTuple):
    """An attribute in a tag's text: its range with the blank before, and its raw value."""

    begin: int
    value_begin: int
    value_end: int
    end: int


@dataclass(frozen=True)
class Tag:
    """A start tag; ``name`` with its prefix."""

    text: str
    name: str
    attributes: dict[str, Attribute]
    empty: bool

    def raw(self, name: str) -> str | None:
        """The value as it is spelled in the file."""
        at = self.attributes.get(name)
        return self.text[at.value_begin : at.value_end] if at else None


class Patch(NamedTuple):
    """`new` goes in the place of the bytes from `begin` to `end`."""

    begin: int
    end: int
    new: bytes


def tag_of(document: Document, node: Node) -> Tag:
    """The element's start tag; FileError when it came out of an entity, or will not go back."""
    text = document.data[node.start : node.end].decode(document.codec, "replace")
    named = _NAME.match(text)
    if not named:
        raise document.error(
            node,
            "this part is spelled by an entity and cannot be altered; save the file again as "
            "plain SVG.",
        )
    at, attributes = named.end(), {}
    while found := _ATTRIBUTE.match(text, at):
        at = found.end()
        attributes[found[2]] = Attribute(found.start(), found.start(4) + 1, at - 1, at)
    end = _TAG_END.match(text, at)
    if not end:
        raise document.error(node, "this tag cannot be altered; save the file again.")
    return Tag(text[: end.end()], named[1], attributes, bool(end[1]))


def spelled(document: Document, node: Node, tag: Tag, name: str) -> str | None:
    """An attribute's value to be altered in place: as in the file, or, where the file
    spells it with references, written out.
    """
    raw = tag.raw(name)
    if raw is None or "&" not in raw:
        return raw
    return escaped(node.get(name))


def escaped(text: str) -> str:
    """Text for an attribute value in either kind of quotes."""
    for plain, spelling in (("&", "&amp;"), ("<", "&lt;"), ('"', "&quot;"), ("'", "&#39;")):
        text = text.replace(plain, spelling)
    return text


def restyled(node: Node, said: str) -> str:
    """The element's style attribute with declarations behind what it says already."""
    before = node.get("style").strip().rstrip(";")
    return escaped(f"{before};{said}" if before else said)


def rewritten(tag: Tag, change: Change) -> str:
    """The tag's text with the change made; all else in it stays as it was."""
    out, done = [], 0
    new_name = renamed(tag.name, change.rename)
    if new_name != tag.name:
        out.append("<" + new_name)
        done = 1 + len(tag.name)
    for name, at in tag.attributes.items():
        if name not in change.attributes:
            continue
        value = change.attributes[name]
        if value is None:
            out.append(tag.text[done : at.begin])
            done = at.end
        else:
            out += (tag.text[done : at.value_begin], value)
            done = at.value_end
    tail = _tail(tag)
    out.append(tag.text[done:tail])
    out += (
        f' {name}="{value}"'
        for name, value in change.attributes.items()
        if value is not None and name not in tag.attributes
    )
    return "".join(out) + tag.text[tail:]


def _tail(tag: Tag) -> int:
    """Where another attribute may be added."""
    return max([1 + len(tag.name), *(a.end for a in tag.attributes.values())])


def renamed(name: str, local: str) -> str:
    """The name with another local part and the same prefix."""
    prefix, colon, old = name.rpartition(":")
    return prefix + colon + (local or old)


def whole_end(document: Document, node: Node, tag: Tag) -> int:
    """The byte after the whole element."""
    if tag.empty:
        return node.start + len(encoded(document, tag.text))
    close = encoded(document, ">")
    at = document.data.find(close, node.end)
    while (at - node.end) % len(close):
        at = document.data.find(close, at + 1)
    return at + len(close)


def encoded(document: Document, text: str) -> bytes:
    """The text in the file's encoding; what that cannot say, as character references."""
    return text.encode(document.codec, "xmlcharrefreplace")


def patches(document: Document, node: Node, change: Change) -> list[Patch]:
    """What must be spliced so that the change is made."""
    tag = tag_of(document, node)
    if change.gone:
        return [Patch(node.start, whole_end(document, node, tag), b"")]
    after_tag = node.start + len(encoded(document, tag.text))
    out = [Patch(node.start, after_tag, encoded(document, rewritten(tag, change)))]
    if change.rename and not tag.empty:
        closing = f"</{renamed(tag.name, change.rename)}>"
        end = whole_end(document, node, tag)
        out.append(Patch(node.end, end, encoded(document, closing)))
    return out


def spliced(data: bytes, begin: int, end: int, parts: Iterable[Patch]) -> bytes:
    """The bytes from `begin` to `end` with patches in them, which must not overlap."""
    out: list[bytes] = []
    done = begin
    for patch in sorted(parts):
        out += (data[done : patch.begin], patch.new)
        done = patch.end
    return b"".join((*out, data[done:end]))
