"""Every difference between two DXF files, group by group, and which of them are allowed.

Knows nothing of how the program writes: groups by the DXF reference, raw, from text or binary.
"""

from __future__ import annotations

import struct
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher

from tests.differ.altered import Difference, Places

# Group codes (DXF reference): coordinates, bulge, knots and weights, angles, counts.
PLACED = {*range(10, 60), 90, 91, 92, 93, 70, 71, 72, 73, 74, 62, 210, 220, 230}
DRAWN = {
    "LINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE", "POLYLINE", "VERTEX", "SEQEND", "LWPOLYLINE",
    "POINT", "TEXT", "MTEXT", "INSERT", "ATTRIB",
}  # fmt: skip
# Parts that an outline may be drawn in anew.
PARTS = {"VERTEX", "SEQEND", "LINE", "ARC", "POINT", "LWPOLYLINE", "POLYLINE", "SPLINE", "ELLIPSE"}
# Sewn-products layers: turn and curve points, dense copies, which follow the lines of their block.
FOLLOWING = {"2", "3", "84", "85", "86", "87"}
BINARY = b"AutoCAD Binary DXF\r\n\x1a\x00"
# Numbers that differ by less are one number, written otherwise or rounded.
NEAR = 1e-6


@dataclass(frozen=True)
class Pair:
    """A group: its code, its value, the bytes as they stand, and its number in the file.

    ``manner`` is how the code is written and how the lines end, in text files.
    """

    code: int
    value: str
    raw: bytes
    at: int
    manner: tuple[bytes, bytes] = (b"", b"")


def pairs(data: bytes) -> list[Pair]:
    if data.startswith(BINARY):
        return list(_binary(data))
    lines = data.removeprefix(b"\xef\xbb\xbf").splitlines(keepends=True)
    out = []
    for k in range(0, len(lines) - 1, 2):
        code = int(lines[k].strip() or b"-1")
        value = lines[k + 1].decode("latin-1").rstrip("\r\n")
        manner = lines[k], lines[k + 1][len(lines[k + 1].rstrip(b"\r\n")) :]
        out.append(Pair(code, value, lines[k] + lines[k + 1], k // 2, manner))
    return out


def _binary(data: bytes) -> Iterator[Pair]:
    """Codes in two bytes, or in one with 255 before the long ones (R12)."""
    at, number = len(BINARY), 0
    wide = data[at : at + 2] == b"\0\0"
    while at < len(data):
        begin = at
        if wide:
            code = int(struct.unpack_from("<H", data, at)[0])
            at += 2
        elif data[at] == 255:
            code = int(struct.unpack_from("<H", data, at + 1)[0])
            at += 3
        else:
            code, at = data[at], at + 1
        form = _form(code)
        if form == "":
            end = data.index(0, at)
            value, at = data[at:end].decode("latin-1"), end + 1
        elif form == "chunk":
            value, at = data[at + 1 : at + 1 + data[at]].hex(), at + 1 + data[at]
        else:
            value = repr(struct.unpack_from(form, data, at)[0])
            at += struct.calcsize(form)
        yield Pair(code, value, data[begin:at], number)
        number += 1
        if code == 0 and value == "EOF":
            return


def _form(code: int) -> str:
    """Kinds of values by group code, DXF reference ("" for text)."""
    if 10 <= code <= 59 or 110 <= code <= 149 or 210 <= code <= 239 or 1010 <= code <= 1059:
        return "<d"
    if 60 <= code <= 79 or 170 <= code <= 179 or 270 <= code <= 289 or 370 <= code <= 389:
        return "<h"
    if 400 <= code <= 409 or 1060 <= code <= 1070:
        return "<h"
    if 90 <= code <= 99 or 420 <= code <= 429 or 440 <= code <= 459 or code == 1071:
        return "<i"
    if 160 <= code <= 169:
        return "<q"
    if 290 <= code <= 299:
        return "<b"
    if 460 <= code <= 469:
        return "<d"
    return "chunk" if code == 1004 or 310 <= code <= 319 else ""


def entities(found: list[Pair]) -> list[list[Pair]]:
    """Groups from each 0 up to the next; header variables each for themselves."""
    out: list[list[Pair]] = []
    for pair in found:
        if pair.code in (0, 9) or not out:
            out.append([])
        out[-1].append(pair)
    return out


def name_of(entity: list[Pair]) -> str:
    return entity[0].value.strip()


def _first(entity: list[Pair], code: int) -> str:
    return next((p.value.strip() for p in entity if p.code == code), "")


def differences(before: bytes, after: bytes, where: Places) -> list[Difference]:
    """In the order of the file; empty when the bytes are the same."""
    if before == after:
        return []
    old, new = entities(pairs(before)), entities(pairs(after))
    where = with_following(old, where)
    lead = [data[: len(data) - len(data.removeprefix(b"\xef\xbb\xbf"))] for data in (before, after)]
    out = [] if lead[0] == lead[1] else [Difference("first bytes", False)]
    out += [] if _tail(before) == _tail(after) else [Difference("after the end", False)]
    rows = [_rows(found) for found in (old, new)]
    for a, b in _matched(rows[0], rows[1], where, out):
        out += _between(a[0], b[0], where)
        parts = [[[e] for e in row[1:]] for row in (a, b)]
        for c, d in _matched(parts[0], parts[1], where, out, a[0][0].at):
            out += _between(c[0], d[0], where)
    return [*out, *_counts(new), *_handles(old, new)]


def _tail(data: bytes) -> bytes:
    return data[data.rfind(b"EOF") :]


def with_following(old: list[list[Pair]], where: Places) -> Places:
    """With the points and copies of each block in which a line may be written anew."""
    more: list[tuple[int, int]] = []
    block: list[list[Pair]] = []
    for entity in old:
        block.append(entity)
        if name_of(entity) == "ENDBLK":
            if any(where.may("written", e[0].at) for e in block):
                more += [(e[0].at, e[-1].at + 1) for e in block if _first(e, 8) in FOLLOWING]
                # New points and copies stand before the end of the block.
                more.append((entity[0].at, entity[0].at + 1))
            block = []
        elif name_of(entity) == "BLOCK":
            block = [entity]
    ranges = tuple(more)
    return Places(where.written + ranges, where.gone + ranges, where.beside + ranges)


def _rows(found: list[list[Pair]]) -> list[list[list[Pair]]]:
    """Each entity that no outline is drawn in, with the parts that follow it."""
    out: list[list[list[Pair]]] = []
    for entity in found:
        if name_of(entity) not in PARTS or not out:
            out.append([])
        out[-1].append(entity)
    return out


def _matched(
    old: list[list[list[Pair]]],
    new: list[list[list[Pair]]],
    where: Places,
    out: list[Difference],
    before: int = 0,
) -> Iterator[tuple[list[list[Pair]], list[list[Pair]]]]:
    """Rows that belong together by their first entity; what stands alone goes to `out`."""
    keys = [[_key(row[0]) for row in rows] for rows in (old, new)]
    matcher = SequenceMatcher(a=keys[0], b=keys[1], autojunk=False)
    for kind, i, j, k, m in matcher.get_opcodes():
        if kind == "equal":
            yield from zip(old[i:j], new[k:m], strict=True)
            continue
        for entity in (e for row in old[i:j] for e in row):
            at = entity[0].at
            may = where.may("gone", at) or where.may("written", at)
            out.append(Difference(f"gone: {name_of(entity)}", name_of(entity) in PARTS and may))
        last = old[i - 1][-1][-1].at if i else before
        near = [last, *(row[0][0].at for row in old[i : j + 1])]
        may = any(where.may(what, at) for what in ("written", "beside") for at in near)
        for entity in (e for row in new[k:m] for e in row):
            out.append(Difference(f"new: {name_of(entity)}", name_of(entity) in PARTS and may))


def _key(entity: list[Pair]) -> tuple[str, ...]:
    """What it is paired by: its name, handle, layer, and what it says or is called."""
    if entity[0].code == 9:
        return (name_of(entity),)
    words = tuple(p.value.strip() for p in entity if p.code in (1, 2, 3, 8))
    return name_of(entity), _first(entity, 5), *words


def _between(old: list[Pair], new: list[Pair], where: Places) -> Iterator[Difference]:
    name = name_of(old)
    if [p.raw for p in old] == [p.raw for p in new]:
        return
    if name == "$HANDSEED":
        yield Difference("$HANDSEED", int(new[1].value, 16) > int(old[1].value, 16))
        return
    may = name in DRAWN and where.may("written", old[0].at)
    codes = [[p.code for p in row] for row in (old, new)]
    matcher = SequenceMatcher(a=codes[0], b=codes[1], autojunk=False)
    for kind, i, j, k, m in matcher.get_opcodes():
        for p in (*old[i:j], *new[k:m]) if kind != "equal" else ():
            yield Difference(f"{name} group {p.code} come or gone", may and p.code in PLACED)
        if kind == "equal":
            for a, b in zip(old[i:j], new[k:m], strict=True):
                if a.raw != b.raw:
                    yield _changed(name, a, b, may=may)
    if may:
        yield from _retold(name, old, new)


def _changed(name: str, a: Pair, b: Pair, *, may: bool) -> Difference:
    return Difference(f"{name} group {a.code}", may and a.code in PLACED and a.manner == b.manner)


def _retold(name: str, old: list[Pair], new: list[Pair]) -> Iterator[Difference]:
    """Coordinates that keep their place and (nearly) their value, written otherwise."""
    rows = [[p for p in row if 10 <= p.code < 60] for row in (old, new)]
    keys = [[(p.code, round(float(p.value) / NEAR)) for p in row] for row in rows]
    matcher = SequenceMatcher(a=keys[0], b=keys[1], autojunk=False)
    for i, k, size in matcher.get_matching_blocks():
        for a, b in zip(rows[0][i : i + size], rows[1][k : k + size], strict=True):
            # A lone number may be the same by chance; a point is two.
            if a.value != b.value and (size > 1 or len(rows[0]) == len(rows[1])):
                said = f"{name} group {a.code} written otherwise: {a.value!r} as {b.value!r}"
                yield Difference(said, False)


def _counts(new: list[list[Pair]]) -> Iterator[Difference]:
    """Light polylines have as many vertices as they say; heavy ones end."""
    for entity in new:
        if name_of(entity) == "LWPOLYLINE":
            said = next((int(p.value) for p in entity if p.code == 90), None)
            there = sum(p.code == 10 for p in entity)
            if said != there:
                yield Difference(f"LWPOLYLINE says {said} vertices and has {there}", False)
        if name_of(entity) == "SPLINE":
            for count, code in ((72, 40), (73, 10), (74, 11)):
                said = next((int(p.value) for p in entity if p.code == count), 0)
                there = sum(p.code == code for p in entity)
                if said != there:
                    yield Difference(f"SPLINE says {said} of group {code}, has {there}", False)
    names = [name_of(e) for e in new]
    for k, name in enumerate(names):
        if name in ("POLYLINE", "VERTEX") and names[k + 1 : k + 2] not in (["VERTEX"], ["SEQEND"]):
            yield Difference(f"{name} without its end", False)


def _handles(old: list[list[Pair]], new: list[list[Pair]]) -> Iterator[Difference]:
    """No handle twice that was not, and none that the seed would give out again."""
    before, now = ([_handle(e) for e in found if _handle(e)] for found in (old, new))
    for h in sorted(_doubled(now) - _doubled(before)):
        yield Difference(f"handle {h} stands twice", False)
    seed = next((e[1].value for e in new if name_of(e) == "$HANDSEED" and len(e) > 1), None)
    if seed is not None:
        for h in set(now) - set(before):
            if int(h, 16) >= int(seed, 16):
                yield Difference(f"handle {h} is not below $HANDSEED {seed}", False)


def _handle(entity: list[Pair]) -> str:
    # A dimension style has its handle under another code, and 5 is something else there.
    return "" if name_of(entity) in ("DIMSTYLE", "$HANDSEED") else _first(entity, 5)


def _doubled(handles: list[str]) -> set[str]:
    return {h for h, count in Counter(handles).items() if count > 1}
