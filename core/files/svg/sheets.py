"""Which rules of a file's style sheets hold for an element, by selectors 3 and the CSS cascade.

tinycss2 takes the sheets apart and cssselect2 matches their selectors; this module alone speaks
to them, and loads them only for a file that has such rules. Sources: W3C Selectors 3; CSS
Cascade 4, 6.
"""

from __future__ import annotations

import re
from collections.abc import Hashable, Iterable, Iterator, Mapping
from functools import cached_property, lru_cache
from typing import Any, NamedTuple

from core.errors import FileError
from core.files.svg.document import Document, Node
from core.files.svg.kin import Kin, all_kin, asks_for_kin
from core.files.svg.outlines import BY_STYLE

# Sheets are a few kB; to take this much apart takes two seconds.
MOST_TEXT = 500_000
# Rules that may hide something: to make each ready takes a fifth of a millisecond.
MOST_RULES = 2_000
# How often it is asked whether a rule holds for an element, all told: some seconds.
MOST_ASKED = 5_000_000
_FONT = re.compile(r"@font-face\s*\{[^{}]*\}", re.IGNORECASE)
_IMPORT = re.compile(r"""@import\s+(?:url\(\s*)?["']?([^"')\s;]+)""", re.IGNORECASE)
_BESIDE = re.compile(r"""<\?xml-stylesheet\s[^>]*?\bhref\s*=\s*["']([^"']+)""")
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_PROPERTIES = (
    "display|visibility|clip-path|mask|mask-image|font-size|text-anchor"
    f"|transform|transform-origin|transform-box|translate|rotate|scale|{'|'.join(sorted(BY_STYLE))}"
)
_DECLARATION = re.compile(
    rf"(?:^|[;\s])({_PROPERTIES})\s*:\s*([^;!]+)(!\s*important)?", re.IGNORECASE
)
# Parts of a selector, and media within media, that are followed: more than anybody writes.
_LONGEST, _DEEPEST = 500, 8
# Elements within elements in one selector; of some ninety the library makes code that does not run.
_WITHIN = 60
# Siblings that are looked at for all rules, all told: some seconds.
MOST_SIBLINGS = 20_000_000
# Media for which rules hold: those of a drawing that is looked at.
_SEEN = frozenset({"", "all", "screen"})
# Rules around others. Of all but media it is not followed whether what is inside holds.
_HOLDING = frozenset({"media", "supports", "layer", "container", "scope"})
# What a style element may say that it holds; other languages are for programs that know them.
_CSS = frozenset({"", "text/css"})


class Said(NamedTuple):
    """What is said of a property, and whether it goes before what else is said."""

    value: str
    important: bool = False


Block = Mapping[str, Said]


@lru_cache(maxsize=256)
def block(text: str) -> Block:
    """The declarations that decide what is seen; of two for one property the later one holds,
    unless the other is important."""
    out: dict[str, Said] = {}
    for found in _DECLARATION.finditer(_COMMENT.sub(" ", text) if "/*" in text else text):
        name, said = found[1].lower(), Said(found[2].strip(), found[3] is not None)
        if said.important or name not in out or not out[name].important:
            out[name] = said
    return out


class Sheet:
    """The rules of a file's style sheets. ``untold`` are selectors that were not understood, on
    rules that may hide something, ``says`` the properties of which others do. FileError when
    rules and elements are too many."""

    def __init__(self, document: Document, text: str, properties: Iterable[str]) -> None:
        from cssselect2 import Matcher

        self._document, self._name = document, document.name
        self._kin: dict[int, Kin] | None = None
        self._left_beside = MOST_SIBLINGS
        self._matcher = Matcher()
        self._rules, self._left = 0, MOST_ASKED
        self._properties = frozenset(properties)
        self._by_attribute = False
        self._known: dict[Hashable, list[Block]] = {}
        self._around: dict[Node, _Element] = {}
        self.untold: list[str] = []
        self.says: set[str] = set()
        self.empty = True
        self._add(text)

    def _add(self, text: str) -> None:
        import tinycss2

        for around, rule in _rules(tinycss2.parse_stylesheet(text, True, True)):
            own, nested = _parted(rule.content)
            said = block(_written(own))
            if not self._properties.isdisjoint(said):
                self._rules += 1
                if self._rules > MOST_RULES:
                    raise self._too_many()
                if around:
                    self.untold.append(around)
                else:
                    self.says.update(said)
                    self._add_rule(rule.prelude, said)
            for prelude, inside in nested:
                if self._says_within(inside):
                    self.untold.append(_written(prelude).strip())

    def _says_within(self, parts: list[Any]) -> bool:
        """Does a rule within a rule, which is not followed, say anything of the properties?"""
        found = _DECLARATION.finditer(re.sub(r"[{}]", ";", _written(parts)))
        return any(f[1].lower() in self._properties for f in found)

    def _too_many(self) -> FileError:
        return FileError(
            f"{self._name} has more style rules and elements than can be followed; save it with"
            " styles as plain attributes of the elements."
        )

    def _add_rule(self, prelude: list[Any], said: Block) -> None:
        from cssselect2 import SelectorError, compile_selector_list

        asks = None if _is_strange(prelude) else asks_for_kin(prelude)
        if asks and self._kin is None:
            self._kin = all_kin(self._document)
            asks = None if self._kin is None else asks
        try:
            selectors = [] if asks is None else compile_selector_list(prelude)
        except SelectorError:
            selectors = []
        if not selectors:
            self.untold.append(_written(prelude).strip())
        self._by_attribute |= any(part.type == "[] block" for part in prelude)
        for selector in selectors:
            self._matcher.add_selector(selector, said)
            self.empty = False

    def of(self, node: Node) -> list[Block]:
        """What the rules that hold for an element say; the last goes first."""
        # Without rules by other attributes, elements that are called alike are dressed alike.
        key: Hashable = node
        if not self._by_attribute and self._kin is None:
            key = (node.parent, node.name, node.get("id"), node.get("class"))
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = self._match(node)
        return found

    def _match(self, node: Node) -> list[Block]:
        kin = self._kin.get(node.start) if self._kin is not None else None
        element = kin or _Element(node, self._outer(node.parent))
        rules = self._matcher
        asked = [rules.other_selectors, rules.lower_local_name_selectors.get(node.name, ())]
        asked += (rules.class_selectors.get(c, ()) for c in element.classes)
        count = sum(map(len, asked))
        self._left -= count
        self._left_beside -= count * len(kin.etree_siblings) if kin is not None else 0
        if self._left < 0 or self._left_beside < 0:
            raise self._too_many()
        return [said for *_, said in self._matcher.match(element)]

    def _outer(self, node: Node | None) -> _Element | None:
        if node is None:
            return None
        found = self._around.get(node)
        if found is None:
            found = self._around[node] = _Element(node, self._outer(node.parent))
        return found


class _Element:
    """An element as cssselect2 asks about it."""

    in_html_document = False

    def __init__(self, node: Node, parent: _Element | None) -> None:
        self.local_name = node.name
        self.namespace_url = "http://www.w3.org/2000/svg"
        self.parent = parent
        self.attrib = node.attributes
        self.get = node.attributes.get
        self.id = self.get("id")
        self.classes = frozenset(node.get("class").split())

    @property
    def etree_element(self) -> _Element:
        """The attributes are asked for here."""
        return self

    @cached_property
    def ancestors(self) -> tuple[_Element, ...]:
        return () if self.parent is None else (*self.parent.ancestors, self.parent)


def _is_strange(prelude: list[Any]) -> bool:
    """Is a selector longer or deeper than anybody writes?"""
    if len(prelude) > _LONGEST:
        return True
    depth = 0
    for part in prelude:
        within = part.type == "whitespace" or part == ">"
        depth = 0 if part == "," else depth + within
        if depth > _WITHIN:
            return True
    return False


def _rules(parts: Iterable[Any], around: str = "", deep: int = 0) -> Iterator[tuple[str, Any]]:
    """The rules for a drawing that is looked at, also where media stand within media. With each
    the rule around it that is not followed; "" for none."""
    import tinycss2

    for part in parts:
        if part.type == "qualified-rule":
            yield around, part
        elif part.type == "at-rule" and part.content and part.lower_at_keyword in _HOLDING:
            said = _written(part.prelude)
            seen = _is_seen(said) if part.lower_at_keyword == "media" else None
            if deep < _DEEPEST and seen is not False:
                called = "" if seen else f"@{part.lower_at_keyword} {said.strip()}"
                inside = tinycss2.parse_rule_list(part.content, True, True)
                yield from _rules(inside, around or called, deep + 1)


def _parted(content: list[Any]) -> tuple[list[Any], list[tuple[list[Any], list[Any]]]]:
    """What a rule says itself, and the rules that stand within it: prelude and content of each."""
    own: list[Any] = []
    nested: list[tuple[list[Any], list[Any]]] = []
    begun: list[Any] = []
    for part in content:
        if part.type == "{} block":
            nested.append((begun, part.content))
            begun = []
            continue
        begun.append(part)
        if part == ";":
            own += begun
            begun = []
    return own + begun, nested


def _written(parts: list[Any]) -> str:
    """Parts of a rule as text; "" where they are nested without end."""
    import tinycss2

    try:
        return str(tinycss2.serialize(parts))
    except RecursionError:
        return ""


def _is_seen(media: str) -> bool | None:
    """Do rules for these media hold for a drawing that is looked at? None where that depends on
    the screen."""
    answers = [_is_one_seen(query.strip().lower()) for query in media.split(",")]
    return True if True in answers else None if None in answers else False


def _is_one_seen(query: str) -> bool | None:
    words = query.split()
    other = words[:1] == ["not"]
    words = words[1:] if words[:1] in (["not"], ["only"]) else words
    seen = " ".join(words[:1]) in _SEEN
    if len(words) > 1 or query.startswith("("):
        # What more is asked may hold or not, of a medium that is looked at.
        return None if seen or other or query.startswith("(") else False
    return seen is not other


def written_in(document: Document) -> str:
    """All style sheets in the file."""
    out = []
    for node in document.root.all():
        is_css = node.name == "style" and node.get("type").strip().lower() in _CSS
        if is_css and _is_seen(node.get("media")) is not False:
            out.append("".join(c for c in node.content if isinstance(c, str)))
    return _FONT.sub("", "\n".join(out))


def outside(document: Document, text: str) -> str:
    """The address of a style sheet outside the file, other than of fonts; "" for none. `text` are
    those inside.

    Sources: CSS Cascade 4, 2; W3C, Associating Style Sheets with XML documents.
    """
    found = [m[1] for m in _IMPORT.finditer(_COMMENT.sub(" ", text))]
    head = document.data[: document.root.start].decode(document.codec, "replace")
    found += (m[1] for m in _BESIDE.finditer(head))
    return next((a for a in found if "font" not in a.lower()), "")
