"""The elements beside, before and around each one, as selectors ask for them.

The tree of a drawing leaves out what draws nothing; where a rule goes by siblings or by counting,
all elements are gathered once more. Sources: W3C Selectors 4, 6.6 and 15.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from typing import Any
from xml.parsers import expat

from core.files.svg.document import SVG, Document

# More elements than any drawing whose rules count them.
MOST_KIN = 100_000
# What selectors may ask besides names, ids, classes and attributes. States of a living page hold
# for no element of a drawing.
COUNTING = frozenset(
    {
        *("root", "first-child", "last-child", "only-child"),
        *("first-of-type", "last-of-type", "only-of-type"),
    }
)
LIVING = frozenset(
    {"hover", "active", "focus", "focus-within", "focus-visible", "visited", "target"}
)
LISTING = frozenset({"not", "is", "where"})
COUNTED = frozenset(["nth-child", "nth-last-child", "nth-of-type", "nth-last-of-type"])
# Lists of selectors within lists that are followed.
_DEEPEST = 8


class Kin:
    """One element as cssselect2 asks about it; ``index`` is its place among its siblings."""

    in_html_document = False
    namespace_url = SVG

    def __init__(self, name: str, attributes: Mapping[str, str], parent: Kin | None) -> None:
        self.local_name = self.tag = name
        self.attrib, self.parent = attributes, parent
        self.get = attributes.get
        self.id = attributes.get("id")
        self.children: list[Kin] = []
        self.etree_siblings: Sequence[Kin] = parent.children if parent is not None else [self]
        self.index = len(parent.children) if parent is not None else 0
        if parent is not None:
            parent.children.append(self)

    @property
    def classes(self) -> frozenset[str]:
        return frozenset(self.attrib.get("class", "").split())

    @property
    def etree_element(self) -> Kin:
        """The attributes and the name are asked for here."""
        return self

    @property
    def previous(self) -> Kin | None:
        return self.etree_siblings[self.index - 1] if self.index else None

    @property
    def previous_siblings(self) -> Sequence[Kin]:
        return self.etree_siblings[: self.index]

    @cached_property
    def ancestors(self) -> tuple[Kin, ...]:
        return () if self.parent is None else (*self.parent.ancestors, self.parent)


def all_kin(document: Document) -> dict[int, Kin] | None:
    """Every element by the byte at which it begins; None for too many of them."""
    out: dict[int, Kin] = {}
    around: list[Kin] = []
    parser = expat.ParserCreate(
        "utf-8" if document.codec.lower() in ("utf-8", "utf8") else None, namespace_separator=" "
    )

    def begin(name: str, attributes: dict[str, str]) -> None:
        space, _, local = name.rpartition(" ")
        called = local if space in ("", SVG) else name
        kin = Kin(called, attributes, around[-1] if around else None)
        around.append(kin)
        out[parser.CurrentByteIndex] = kin
        if len(out) > MOST_KIN:
            raise OverflowError

    def end(name: str) -> None:
        around.pop()

    parser.StartElementHandler, parser.EndElementHandler = begin, end
    try:
        parser.Parse(document.data, True)
    except (OverflowError, expat.ExpatError):
        # One that uses a prefix without a word is read by another way, which counts nothing.
        return None
    return out


def asks_for_kin(prelude: Sequence[Any]) -> bool | None:
    """Does a selector go by siblings or by counting? None where it asks what is not followed."""
    found = False
    for asks in _asked(prelude, 0):
        if asks is None:
            return None
        found |= asks
    return found


def _asked(parts: Sequence[Any], deep: int) -> Iterator[bool | None]:
    before = None
    for part in parts:
        if before == ":":
            yield from _pseudo(part, deep)
        elif part.type == "literal" and part.value in "+~":
            yield True
        elif part.type == "literal" and part.value == "|":
            yield None
        before = part.value if part.type == "literal" else None
    if before == ":":
        yield None


def _pseudo(part: Any, deep: int) -> Iterator[bool | None]:
    if part.type == "ident":
        name = part.lower_value
        yield True if name in COUNTING else False if name in LIVING else None
    elif part.type == "function" and part.lower_name in LISTING and deep < _DEEPEST:
        yield from _asked(part.arguments, deep + 1)
    elif part.type == "function" and part.lower_name in COUNTED:
        of = any(a.type == "ident" and a.lower_value == "of" for a in part.arguments)
        yield None if of else True
    else:
        yield None
