"""New bytes for old ones: numbers as text, records with some values exchanged, handles."""

from __future__ import annotations

import contextlib
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from core.errors import FileError
from core.files.dxf.pairs import APPLICATION_GROUP, EXTENDED_DATA, Pairs
from core.files.dxf.records import Layout

DECIMALS = 9
MOST_DECIMALS = 15
# Half of the last decimal that is written: a smaller change leaves the old text.
UNCHANGED = 5e-10
HANDLE_CODES = (5, 105)

Patch = Mapping[int, bytes | None]


def number_text(x: float, like: bytes = b"") -> bytes:
    """The number with as many decimals as needed, up to nine; its neighbour `like` says the
    least of them, and more than nine where it has more, or that there is an exponent."""
    if not math.isfinite(x):
        raise FileError("a changed point has no finite coordinates, so it cannot be written.")
    _, _, fraction = like.partition(b".")
    if b"e" in like.lower():
        return _with_exponent(x, like)
    decimals = min(max(DECIMALS, len(fraction)), MOST_DECIMALS)
    least = min(max(1, len(fraction)), decimals)
    whole, _, rest = f"{x:.{decimals}f}".partition(".")
    text = f"{whole}.{rest.rstrip('0').ljust(least, '0')}"
    return text.lstrip("-").encode("ascii") if float(text) == 0.0 else text.encode("ascii")


def _with_exponent(x: float, like: bytes) -> bytes:
    """With as many digits as its neighbour, and as nine decimals need."""
    fraction = like.lower().partition(b"e")[0].partition(b".")[2]
    size = math.floor(math.log10(abs(x))) if x else 0
    digits = min(max(len(fraction), DECIMALS + size), MOST_DECIMALS)
    return f"{x + 0.0:.{digits}{'E' if b'E' in like else 'e'}}".encode("ascii")


def number_patch(pairs: Pairs, changes: Iterable[tuple[int, float]]) -> dict[int, bytes | None]:
    """The patch that sets these pairs to these numbers; unchanged ones keep their text."""
    out: dict[int, bytes | None] = {}
    for i, x in changes:
        if abs(pairs.number(i) - x) > UNCHANGED:
            out[i] = number_text(x, pairs.value(i))
    return out


def patched(pairs: Pairs, first: int, end: int, patch: Patch) -> bytes:
    """The bytes of pairs first..end-1 with some values exchanged, None dropping the pair."""
    out: list[bytes] = []
    done = pairs.begin(first)
    for i in sorted(k for k in patch if first <= k < end):
        value = patch[i]
        if value is None:
            out.append(pairs.data[done : pairs.begin(i)])
            done = pairs.begin(i + 1)
        else:
            begin, after = pairs.span(i)
            out += (pairs.data[done:begin], value)
            done = after
    out.append(pairs.data[done : pairs.begin(end)])
    return b"".join(out)


def new_pair(pairs: Pairs, code: int, value: bytes) -> bytes:
    """A pair of two lines in the manner of the file."""
    text = f"{code:>{pairs.code_width}}".encode("ascii")
    return text + pairs.newline + value + pairs.newline


def others_data(pairs: Pairs, first: int, end: int) -> list[int]:
    """The pairs of a record that belong to other programs and must not be doubled."""
    out: list[int] = []
    inside = False
    for i, code in enumerate(pairs.codes[first:end].tolist(), first):
        if code >= EXTENDED_DATA:
            return [*out, *range(i, end)]
        if code == APPLICATION_GROUP:
            out.append(i)
            inside = not pairs.value(i).startswith(b"}")
        elif inside:
            out.append(i)
    return out


def spliced_in(data: bytes, splices: Iterable[tuple[int, int, bytes]]) -> bytes:
    """The bytes with each begin..end-1 exchanged; FileError if two touch the same bytes."""
    out: list[bytes] = []
    done = 0
    for begin, end, new in sorted(splices, key=lambda s: s[:2]):
        if begin < done:
            raise FileError("two alterations change the same line of the file. Make one at a time.")
        out += (data[done:begin], new)
        done = end
    out.append(data[done:])
    return b"".join(out)


@dataclass
class Handles:
    """Gives out handles that the file does not use yet."""

    file: Layout
    given: int = 0
    _next: int = field(default=0)

    def fresh(self) -> bytes:
        """The next free handle."""
        if not self._next:
            self._next = self._first_free()
        self._next += 1
        self.given += 1
        return f"{self._next - 1:X}".encode("ascii")

    def _first_free(self) -> int:
        pairs = self.file.pairs
        highest = self._seed() - 1
        for code in HANDLE_CODES:
            for i in pairs.positions(0, len(pairs), code).tolist():
                with contextlib.suppress(ValueError):
                    highest = max(highest, int(pairs.value(i), 16))
        return highest + 1

    def _seed(self) -> int:
        at = self.file.header.get("$HANDSEED")
        with contextlib.suppress(ValueError):
            return int(self.file.pairs.value(at), 16) if at is not None else 1
        return 1

    def seed_patch(self) -> dict[int, bytes | None]:
        """The raised $HANDSEED, when handles were given and the file keeps one."""
        at = self.file.header.get("$HANDSEED")
        if at is None or not self.given:
            return {}
        return {at: f"{self._next:X}".encode("ascii")}


def copied_record(pairs: Pairs, first: int, end: int, patch: Patch, handles: Handles) -> bytes:
    """A second copy of a record: fresh handle, without other programs' data."""
    fields = pairs.fields(first, end)
    whole: dict[int, bytes | None] = dict(patch)
    if 5 in fields:
        whole[fields[5]] = handles.fresh()
    whole.update(dict.fromkeys(others_data(pairs, first, end)))
    return patched(pairs, first, end, whole)
