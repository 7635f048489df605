"""An SVG file as a tree of elements that know the bytes they stand in."""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from xml.parsers import expat

from core.errors import FileError
from core.files.svg.encodings import in_utf8, wide_codec

SVG = "http://www.w3.org/2000/svg"
MAX_BYTES = 256 * 1024 * 1024
MAX_DEPTH = 256
# Attributes may grow by harmless entities (long addresses of namespaces), not more.
MAX_GROWTH = 20
_TEXTUAL = frozenset({"text", "tspan", "title", "style", "a"})
# Elements that draw or say something though nothing stands in them.
_TELLING = frozenset(
    ("path", "polygon", "polyline", "line", "rect", "circle", "ellipse", "use", "image")
)
_NONE: Mapping[str, str] = MappingProxyType({})
_UNBOUND_PREFIX = 27
_UTF8 = re.compile(rb"""(?:\xef\xbb\xbf)?<\?xml[^>]*encoding\s*=\s*["']utf8["']""", re.IGNORECASE)


@dataclass(eq=False, slots=True)
class Node:
    """One element. ``start`` and ``end`` are the byte offsets of its start tag's "<" and of
    its end tag (of what follows, when it has none).

    ``name`` is "" for elements of other languages than SVG. ``attributes`` carry plain
    names, or "address name" in a namespace. ``content`` holds children and, in elements
    that hold writing, the pieces of text between them. A file may hold millions of elements, so
    each takes as little room as it can.
    """

    name: str
    attributes: Mapping[str, str]
    parent: Node | None
    start: int
    end: int = 0
    content: Sequence[Node | str] = ()

    def add(self, part: Node | str) -> None:
        """Puts a child, or a piece of text, behind what it holds."""
        if isinstance(self.content, list):
            self.content.append(part)
        else:
            self.content = [part]

    def get(self, name: str, default: str = "") -> str:
        return self.attributes.get(name, default)

    @property
    def children(self) -> Iterator[Node]:
        return (c for c in self.content if isinstance(c, Node))

    @property
    def href(self) -> str | None:
        """What it refers to, by the plain attribute or else by the older one in a namespace."""
        plain = self.attributes.get("href")
        if plain is not None:
            return plain
        return next((v for name, v in self.attributes.items() if name.endswith(" href")), None)

    def within(self, other: Node) -> bool:
        """Is this `other`, or somewhere inside it?"""
        node: Node | None = self
        while node is not None and node is not other:
            node = node.parent
        return node is other

    def all(self) -> Iterator[Node]:
        """Itself and all elements inside it, in the order of the file."""
        rest = [self]
        while rest:
            node = rest.pop()
            yield node
            rest += reversed([c for c in node.content if isinstance(c, Node)])


@dataclass(frozen=True)
class Document:
    """The bytes, how they are encoded (a Python codec, without its mark), and the tree.

    ``data`` are those of the file, or, where that is in the encoding ``own``, the same in UTF-8.
    Left out of the tree are elements that draw nothing, hold nothing and have no id. ``uses`` are
    all `use` elements that refer to something.
    """

    name: str
    data: bytes
    codec: str
    root: Node
    by_id: dict[str, Node]
    uses: tuple[Node, ...]
    problems: tuple[str, ...] = ()
    own: str = ""

    def line(self, node: Node) -> int:
        """The line of the file, from 1, in which the element begins."""
        before = self.data[: node.start].decode(self.codec, "replace")
        return before.count("\n") + before.count("\r") - before.count("\r\n") + 1

    def error(self, node: Node, sentence: str) -> FileError:
        return FileError(f"{self.name}, line {self.line(node)}: {sentence}")


def scan(name: str, data: bytes) -> Document:
    """The file's tree; FileError when it is not whole, harmless XML with an svg root."""
    _refuse_odd(name, data)
    problems: tuple[str, ...] = ()
    own = wide_codec(data)
    data = in_utf8(data, own)
    try:
        scanner = _Scanner(name, data, prefixes=False, utf8=bool(own))
        scanner.run()
    except expat.ExpatError as error:
        if error.code != _UNBOUND_PREFIX:
            raise _broken(name, error) from None
        problems = (f"{name} uses a prefix that it does not declare; it was read all the same.",)
        scanner = _scan_prefixes(name, data, utf8=bool(own))
    root = scanner.root
    if root is None or root.name != "svg":
        raise FileError(f"{name} is XML, but not an SVG drawing; choose a file that is one.")
    codec = "utf-8" if own else _codec(data, scanner.encoding)
    return Document(name, data, codec, root, scanner.by_id, tuple(scanner.uses), problems, own)


def _scan_prefixes(name: str, data: bytes, *, utf8: bool) -> _Scanner:
    scanner = _Scanner(name, data, prefixes=True, utf8=utf8)
    try:
        scanner.run()
    except expat.ExpatError as error:
        raise _broken(name, error) from None
    return scanner


def _refuse_odd(name: str, data: bytes) -> None:
    if not data.strip():
        raise FileError(f"{name} is empty; export the drawing again.")
    if data.startswith(b"\x1f\x8b"):
        raise FileError(f"{name} is a compressed SVG; save it again as plain SVG.")
    if len(data) > MAX_BYTES:
        raise FileError(
            f"{name} is larger than {MAX_BYTES // 2**20} MB; leave out what is no pattern piece "
            "(pictures, above all) and save it again."
        )


def _broken(name: str, error: expat.ExpatError) -> FileError:
    what = expat.ErrorString(error.code) or "damaged"
    return FileError(
        f"{name}, line {error.lineno}: the file is not whole XML ({what}); open it in the "
        "program that made it and export it again as plain SVG."
    )


def _codec(data: bytes, declared: str | None) -> str:
    if data.startswith((codecs.BOM_UTF16_LE, b"<\0")):
        return "utf-16-le"
    if data.startswith((codecs.BOM_UTF16_BE, b"\0<")):
        return "utf-16-be"
    return declared or "utf-8"


class _Scanner:
    """Collects the tree while expat reads the whole buffer at once."""

    def __init__(self, name: str, data: bytes, *, prefixes: bool, utf8: bool) -> None:
        self.name = name
        self.data = data
        self.prefixes = prefixes
        self.root: Node | None = None
        self.encoding: str | None = None
        self.by_id: dict[str, Node] = {}
        self.uses: list[Node] = []
        self.locals: dict[str, str] = {}
        self.open: list[Node] = []
        self.spelled = 0
        self.parser = expat.ParserCreate(
            # A common misspelling that expat takes for an unknown encoding.
            "utf-8" if utf8 or _UTF8.match(data) else None,
            namespace_separator=None if prefixes else " ",
        )

    def run(self) -> None:
        p = self.parser
        p.buffer_text = True
        p.StartElementHandler = self._start
        p.EndElementHandler = self._end
        p.CharacterDataHandler = self._text
        p.XmlDeclHandler = self._declaration
        p.EntityDeclHandler = self._entity
        p.ExternalEntityRefHandler = self._outside
        try:
            p.Parse(self.data, True)
        except (ValueError, LookupError, UnicodeError):
            raise FileError(
                f"{self.name} is in an encoding that cannot be read here; save it as UTF-8."
            ) from None

    def _refuse(self, sentence: str) -> FileError:
        return FileError(f"{self.name}, line {self.parser.CurrentLineNumber}: {sentence}")

    def _declaration(self, version: str, encoding: str | None, standalone: int) -> None:
        self.encoding = encoding

    def _entity(self, entity: str, is_parameter: bool, value: str | None, *_: object) -> None:
        if value is not None and re.search(r"[&%][^#\s&%;]+;", value):
            raise self._refuse(
                f"the entity {entity} is built from other entities, which can swell without "
                "end; save the file again as plain SVG."
            )

    def _outside(self, *_: object) -> int:
        raise self._refuse(
            "the file fetches a part of itself from outside; save it again as plain SVG."
        )

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        if len(self.open) >= MAX_DEPTH:
            raise self._refuse(
                f"groups are nested deeper than {MAX_DEPTH} levels; ungroup the drawing and "
                "save it again."
            )
        parent = self.open[-1] if self.open else None
        local = self._local(name)
        node = Node(local, _NONE, parent, self.parser.CurrentByteIndex)
        self.open.append(node)
        if attributes:
            self._attribute(node, attributes)

    def _attribute(self, node: Node, attributes: dict[str, str]) -> None:
        self.spelled += sum(map(len, attributes.values()))
        if self.spelled > MAX_GROWTH * (len(self.data) + 4096):
            raise self._refuse("entities swell the file; save it again as plain SVG.")
        if self.prefixes:
            attributes = {k.replace(":", " ", 1): v for k, v in attributes.items()}
        node.attributes = attributes
        if "id" in attributes:
            self.by_id.setdefault(attributes["id"], node)
        if node.name == "use" and node.href:
            self.uses.append(node)

    def _local(self, name: str) -> str:
        """The name in SVG; "" when it belongs to another language."""
        known = self.locals.get(name)
        if known is None:
            space, _, local = name.rpartition(":" if self.prefixes else " ")
            svg = space in (("", "svg") if self.prefixes else ("", SVG))
            known = self.locals[name] = local if svg else ""
        return known

    def _end(self, name: str) -> None:
        node = self.open.pop()
        node.end = self.parser.CurrentByteIndex
        parent = node.parent
        if parent is None:
            self.root = node
        elif node.name in _TELLING or node.content or "id" in node.attributes:
            parent.add(node)
        elif parent.name == "switch":
            # Even the first child that draws nothing keeps the others from being drawn.
            parent.add(node)

    def _text(self, text: str) -> None:
        if self.open and self.open[-1].name in _TEXTUAL:
            self.open[-1].add(text)
