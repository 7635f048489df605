"""Every difference between two text DXF files, group by group, and which of them are allowed.

Knows nothing of how the program writes: pairs of lines by the DXF reference, raw.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher

from tests.differ.svg import Difference

# Group codes (DXF reference): coordinates, bulge, knots and weights, angles, counts.
PLACES = {*range(10, 60), 90, 91, 92, 93, 70, 71, 72, 73, 74, 62, 210, 220, 230}
DRAWN = {
    "LINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE", "POLYLINE", "VERTEX", "SEQEND", "LWPOLYLINE",
    "POINT", "TEXT", "MTEXT", "INSERT", "ATTRIB",
}  # fmt: skip
# Parts that an outline may be drawn in anew.
PARTS = {"VERTEX", "SEQEND", "LINE", "ARC", "POINT", "LWPOLYLINE", "POLYLINE", "SPLINE", "ELLIPSE"}


@dataclass(frozen=True)
class Pair:
    """A group: its code, its value, and both lines as they stand."""

    code: int
    value: str
    raw: bytes


def pairs(data: bytes) -> list[Pair]:
    lines = data.splitlines(keepends=True)
    out = []
    for k in range(0, len(lines) - 1, 2):
        code = int(lines[k].strip() or b"-1")
        value = lines[k + 1].decode("latin-1").rstrip("\r\n")
        out.append(Pair(code, value, lines[k] + lines[k + 1]))
    return out


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


def handle_of(entity: list[Pair]) -> str:
    return next((p.value.strip() for p in entity if p.code == 5), "")


def differences(before: bytes, after: bytes) -> list[Difference]:
    """In the order of the file; empty when the bytes are the same."""
    if before == after:
        return []
    old, new = entities(pairs(before)), entities(pairs(after))
    out: list[Difference] = []
    rows = [_rows(found) for found in (old, new)]
    for a, b in _matched(rows[0], rows[1], out):
        out += _between(a[0], b[0])
        for c, d in _matched([[e] for e in a[1:]], [[e] for e in b[1:]], out):
            out += _between(c[0], d[0])
    return [*out, *_counts(new), *_handles(old, new)]


def _rows(found: list[list[Pair]]) -> list[list[list[Pair]]]:
    """Each entity that no outline is drawn in, with the parts that follow it."""
    out: list[list[list[Pair]]] = []
    for entity in found:
        if name_of(entity) not in PARTS or not out:
            out.append([])
        out[-1].append(entity)
    return out


def _matched(
    old: list[list[list[Pair]]], new: list[list[list[Pair]]], out: list[Difference]
) -> Iterator[tuple[list[list[Pair]], list[list[Pair]]]]:
    """Rows that belong together by their first entity; what stands alone goes to `out`."""
    keys = [[_key(row[0]) for row in rows] for rows in (old, new)]
    matcher = SequenceMatcher(a=keys[0], b=keys[1], autojunk=False)
    for kind, i, j, k, m in matcher.get_opcodes():
        if kind == "equal":
            yield from zip(old[i:j], new[k:m], strict=True)
        for what, rows in () if kind == "equal" else (("gone", old[i:j]), ("new", new[k:m])):
            for entity in (e for row in rows for e in row):
                out.append(Difference(f"{what}: {name_of(entity)}", name_of(entity) in PARTS))


def _key(entity: list[Pair]) -> tuple[str, ...]:
    """What it is paired by: its name, handle, layer, and what it says or is called."""
    words = tuple(p.value.strip() for p in entity if p.code in (1, 2, 3, 8))
    return name_of(entity), handle_of(entity), *words


def _between(old: list[Pair], new: list[Pair]) -> Iterator[Difference]:
    name = name_of(old)
    if [p.raw for p in old] == [p.raw for p in new]:
        return
    if name == "$HANDSEED":
        yield Difference("$HANDSEED", int(new[1].value, 16) > int(old[1].value, 16))
        return
    codes = [[p.code for p in row] for row in (old, new)]
    matcher = SequenceMatcher(a=codes[0], b=codes[1], autojunk=False)
    for kind, i, j, k, m in matcher.get_opcodes():
        for p in (*old[i:j], *new[k:m]) if kind != "equal" else ():
            yield Difference(f"{name} group {p.code} come or gone", _place(name, p))
        if kind == "equal":
            for a, b in zip(old[i:j], new[k:m], strict=True):
                if a.raw != b.raw:
                    yield _changed(name, a, b)


def _changed(name: str, a: Pair, b: Pair) -> Difference:
    if a.value != b.value and _number(a.value) == _number(b.value) is not None:
        return Difference(f"{name} group {a.code} reformatted: {a.value!r} as {b.value!r}", False)
    ends = a.raw[len(a.raw.rstrip(b"\r\n")) :] == b.raw[len(b.raw.rstrip(b"\r\n")) :]
    first = a.raw.splitlines()[0] == b.raw.splitlines()[0]
    return Difference(f"{name} group {a.code}", _place(name, a) and ends and first)


def _place(name: str, pair: Pair) -> bool:
    return name in DRAWN and pair.code in PLACES


def _number(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None


def _counts(new: list[list[Pair]]) -> Iterator[Difference]:
    """Light polylines have as many vertices as they say."""
    for entity in new:
        if name_of(entity) == "LWPOLYLINE":
            said = next((int(p.value) for p in entity if p.code == 90), None)
            there = sum(p.code == 10 for p in entity)
            if said != there:
                yield Difference(f"LWPOLYLINE says {said} vertices and has {there}", False)


def _handles(old: list[list[Pair]], new: list[list[Pair]]) -> Iterator[Difference]:
    """No handle twice that was not, and none that the seed would give out again."""
    handles = [handle_of(e) for e in new if handle_of(e) and name_of(e) != "DIMSTYLE"]
    before = [handle_of(e) for e in old if handle_of(e) and name_of(e) != "DIMSTYLE"]
    twice = {h for h in handles if handles.count(h) > 1} - {
        h for h in before if before.count(h) > 1
    }
    for h in sorted(twice):
        yield Difference(f"handle {h} stands twice", False)
    seed = next((e[1].value for e in new if name_of(e) == "$HANDSEED" and len(e) > 1), None)
    if seed is not None:
        for h in set(handles) - set(before):
            if int(h, 16) >= int(seed, 16):
                yield Difference(f"handle {h} is not below $HANDSEED {seed}", False)


def _doubled(handles: list[str]) -> set[str]:
    return {h for h, count in Counter(handles).items() if count > 1}
