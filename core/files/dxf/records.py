"""The parts of a DXF file: header, layers, blocks and the entities that are drawn."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from core.errors import FileError
from core.files.dxf.pairs import Pairs

UTF8_SINCE = "AC1021"
UNICODE_ESCAPE = re.compile(r"\\U\+([0-9A-Fa-f]{4})")


class Entity(NamedTuple):
    """One drawn thing: pairs first..end-1, of which first..head-1 are its own record.

    ``end`` lies behind the VERTEX and SEQEND records that belong to a POLYLINE.
    """

    type: str
    first: int
    head: int
    end: int


@dataclass(frozen=True, slots=True)
class Block:
    """A block: pairs first..end-1 from BLOCK through ENDBLK, or to the next one where that is
    missing; ``base`` in file units."""

    name: str
    first: int
    end: int
    base: tuple[float, float]
    entities: tuple[Entity, ...]


@dataclass(frozen=True, slots=True)
class Layer:
    """What the layer table says of a layer."""

    frozen: bool
    off: bool


@dataclass(frozen=True, eq=False)
class Layout:
    """The whole file: ``header`` maps a variable to its first value pair, ``layers``,
    ``blocks`` and ``block_records`` (first and end pair in the table) go by lower-case name,
    ``entities`` are those of the ENTITIES section. ``open`` are sentences about parts that do not
    end where the next one begins.
    """

    pairs: Pairs
    header: dict[str, int]
    layers: dict[str, Layer]
    blocks: dict[str, Block]
    entities: tuple[Entity, ...]
    encoding: str
    block_records: dict[str, tuple[int, int]]
    open: tuple[str, ...] = ()

    @property
    def version(self) -> str:
        """The format's version, AC1009 (R12) when the header does not tell."""
        at = self.header.get("$ACADVER")
        return "AC1009" if at is None else self.pairs.value(at).decode("ascii", "replace")

    def text(self, i: int) -> str:
        """The value of pair i as text; bytes that do not fit the encoding become marks."""
        text = self.pairs.value(i).decode(self.encoding, "replace")
        if "\\" not in text:
            return text
        return UNICODE_ESCAPE.sub(lambda m: chr(int(m[1], 16)), text)

    def layer_of(self, entity: Entity) -> str:
        """The name of its layer; "0" when it names none."""
        fields = self.pairs.fields(entity.first, min(entity.head, entity.first + 40))
        return self.text(fields[8]) if 8 in fields else "0"


def layout(pairs: Pairs) -> Layout:
    """The parts of the file; FileError when it has no sections at all."""
    zeros = np.flatnonzero(pairs.codes == 0).tolist()
    found = list(_sections(pairs, zeros))
    sections = dict(found)
    if not sections:
        raise FileError(
            f"{pairs.name}, line 1: this is no DXF drawing (it has no SECTION). "
            "Save the drawing as DXF and open that."
        )
    header = _header(pairs, sections.get("HEADER", []))
    encoding = _encoding(pairs, header)
    bare = Layout(pairs, header, {}, {}, (), encoding, {})
    tables = sections.get("TABLES", [])
    return Layout(
        pairs,
        header,
        dict(_layers(bare, tables)),
        dict(_blocks(bare, sections.get("BLOCKS", []))),
        tuple(_entities(pairs, sections.get("ENTITIES", []))),
        encoding,
        dict(_block_records(bare, tables)),
        tuple(_told_open(pairs, found, sections.get("BLOCKS", []))),
    )


def _told_open(
    pairs: Pairs, sections: list[tuple[str, list[int]]], blocks: list[int]
) -> Iterator[str]:
    """What is not closed; read all the same, but other programs may refuse the file."""
    for name, records in sections:
        if pairs.value(records[-1]) != b"ENDSEC":
            yield _open(pairs, records[-1], f"the section {name} does not end (no ENDSEC)")
    inside = False
    for i in blocks:
        word = pairs.value(i)
        if inside and word in (b"BLOCK", b"ENDSEC", b"SECTION", b"EOF"):
            yield _open(pairs, i, "a block does not end before this (no ENDBLK)")
        inside = word == b"BLOCK" or (inside and word != b"ENDBLK")


def _open(pairs: Pairs, i: int, what: str) -> str:
    return (
        f"{pairs.name}, line {pairs.line(i)}: {what}; it was read all the same, and stays so in"
        " what is saved: other programs may refuse it, so save the file again from the program"
        " that made it."
    )


def _sections(pairs: Pairs, zeros: list[int]) -> Iterator[tuple[str, list[int]]]:
    """Each section's name and the pairs at which its records start, its end last."""
    name, first = "", 0
    for k, i in enumerate(zeros):
        word = pairs.value(i)
        if word == b"SECTION" and i + 1 < len(pairs):
            if name:
                yield name, zeros[first : k + 1]
            name, first = pairs.value(i + 1).decode("ascii", "replace").upper(), k
        elif word in (b"ENDSEC", b"EOF") and name:
            yield name, zeros[first : k + 1]
            name = ""


def _header(pairs: Pairs, records: list[int]) -> dict[str, int]:
    if not records:
        return {}
    names = pairs.positions(records[0], records[-1], 9).tolist()
    return {pairs.value(i).decode("ascii", "replace").upper(): i + 1 for i in names}


def _encoding(pairs: Pairs, header: dict[str, int]) -> str:
    """UTF-8 since R2007, the code page of the header before, western otherwise."""
    version = header.get("$ACADVER")
    if version is not None and pairs.value(version).decode("ascii", "replace") >= UTF8_SINCE:
        return "utf-8"
    page = header.get("$DWGCODEPAGE")
    digits = re.search(rb"\d+", pairs.value(page)) if page is not None else None
    name = f"cp{digits[0].decode()}" if digits else "cp1252"
    try:
        "".encode(name)
    except LookupError:
        return "cp1252"
    return name


def _layers(file: Layout, records: list[int]) -> Iterator[tuple[str, Layer]]:
    pairs = file.pairs
    for first, end in pairwise(records):
        if pairs.value(first) != b"LAYER":
            continue
        fields = pairs.fields(first, end)
        if 2 in fields:
            frozen = 70 in fields and pairs.whole(fields[70]) & 1 == 1
            off = 62 in fields and pairs.number(fields[62]) < 0
            yield file.text(fields[2]).lower(), Layer(frozen, off)


def _block_records(file: Layout, records: list[int]) -> Iterator[tuple[str, tuple[int, int]]]:
    pairs = file.pairs
    for first, end in pairwise(records):
        if pairs.value(first) == b"BLOCK_RECORD":
            fields = pairs.fields(first, end)
            if 2 in fields:
                yield file.text(fields[2]).lower(), (first, end)


def _blocks(file: Layout, records: list[int]) -> Iterator[tuple[str, Block]]:
    pairs, first = file.pairs, -1
    for k, i in enumerate(records):
        word = pairs.value(i)
        closed = word == b"ENDBLK"
        if first >= 0 and (closed or word == b"BLOCK" or k + 1 == len(records)):
            end = i if not closed else records[k + 1] if k + 1 < len(records) else len(pairs)
            block = _block(file, records[first : k + 1], end)
            yield block.name.lower(), block
            first = -1
        if word == b"BLOCK":
            first = k


def _block(file: Layout, records: list[int], end: int) -> Block:
    pairs = file.pairs
    fields = pairs.fields(records[0], records[1])
    base = tuple(pairs.number(fields[c]) if c in fields else 0.0 for c in (10, 20))
    name = file.text(fields[2]) if 2 in fields else ""
    return Block(name, records[0], end, (base[0], base[1]), tuple(_entities(pairs, records)))


def _entities(pairs: Pairs, records: list[int]) -> Iterator[Entity]:
    """The entities between the first record (SECTION or BLOCK) and the last, the end."""
    k = 1
    while k < len(records) - 1:
        first, word = records[k], pairs.value(records[k])
        head = records[k + 1]
        k += 1
        if word == b"POLYLINE":
            k = _past_vertices(pairs, records, k)
        if word != b"SEQEND":
            yield Entity(word.decode("ascii", "replace"), first, head, records[k])


def _past_vertices(pairs: Pairs, records: list[int], k: int) -> int:
    """The number of the record behind the VERTEX run and SEQEND that start at record k."""
    while k < len(records) - 1 and pairs.value(records[k]) == b"VERTEX":
        k += 1
    if k < len(records) - 1 and pairs.value(records[k]) == b"SEQEND":
        k += 1
    return k
