"""The bytes of a text DXF as pairs of a group code line and a value line, with their places.

The index keeps no copies of the values: it knows where each line starts. A reader takes
its numbers from there, and a writer knows which bytes to exchange, so that everything else
goes out as it came in (source: DXF reference, "Group codes in numerical order").
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from core.errors import FileError

# No pattern is a thousand kilometres long; a coordinate beyond this is damage.
FARTHEST = 1e9
LOWEST_CODE, HIGHEST_CODE = -9, 1999
EXTENDED_DATA = 1000
EMBEDDED_OBJECT = 101
APPLICATION_GROUP = 102
BOM = b"\xef\xbb\xbf"


class DamagedError(FileError):
    """The lines do not pair up to the end; a repairing reader may still find something."""


@dataclass(frozen=True, eq=False)
class Pairs:
    """Pair i has its group code in ``codes[i]`` and its value on the line after it.

    ``starts`` holds the byte offset of every line and the end of the last one: shape
    (2 n + 1,). ``name`` is the file's, for sentences; ``newline`` the line end in use.
    """

    name: str
    data: bytes
    codes: NDArray[np.int32]
    starts: NDArray[np.int64]
    newline: bytes

    def __len__(self) -> int:
        return len(self.codes)

    @cached_property
    def code_width(self) -> int:
        """In how many columns the file writes group codes; none where they are not padded."""
        short = next((k for k, code in enumerate(self.codes[:9].tolist()) if 0 <= code < 10), 0)
        line = self.data[self.starts[2 * short] : self.starts[2 * short + 1]]
        line = line.removeprefix(BOM).rstrip(b"\r\n")
        return len(line) if line[:1] == b" " else 0

    @cached_property
    def _at(self) -> memoryview:
        """The starts as plain numbers one by one: an array gives them four times as slowly."""
        return self.starts.data

    def value(self, i: int) -> bytes:
        """The value of pair i without the space around it."""
        at = self._at
        return self.data[at[2 * i + 1] : at[2 * i + 2]].strip()

    def span(self, i: int) -> tuple[int, int]:
        """Byte offsets of the value of pair i without the space around it."""
        begin = int(self._at[2 * i + 1])
        raw = self.data[begin : self._at[2 * i + 2]]
        value = raw.strip()
        begin += raw.find(value)
        return begin, begin + len(value)

    def bytes_of(self, first: int, end: int) -> bytes:
        """The bytes of the pairs first..end-1, line ends included."""
        return self.data[self.starts[2 * first] : self.starts[2 * end]]

    def begin(self, i: int) -> int:
        """Byte offset at which the group code line of pair i starts."""
        return int(self.starts[2 * i])

    def line(self, i: int) -> int:
        """The number, from 1, of the line that holds the value of pair i."""
        return 2 * i + 2

    def number(self, i: int) -> float:
        """The value of pair i as a number; FileError where there is none to work with."""
        at = self._at
        try:
            x = float(self.data[at[2 * i + 1] : at[2 * i + 2]])
        except ValueError:
            raise self._bad_number((i,)) from None
        if not -FARTHEST < x < FARTHEST:
            raise self._bad_number((i,))
        return x

    def whole(self, i: int) -> int:
        """The value of pair i as a whole number; FileError otherwise."""
        return int(self.number(i))

    def numbers(self, at: NDArray[np.intp]) -> list[float]:
        """The values of many pairs as numbers; FileError at the first bad one."""
        return self._numbers(
            at.tolist(), self.starts[2 * at + 1].tolist(), self.starts[2 * at + 2].tolist()
        )

    def few_numbers(self, at: Sequence[int]) -> list[float]:
        """The same of a few pairs, without arrays: those take ten times as long."""
        lines = self._at
        return self._numbers(at, [lines[2 * i + 1] for i in at], [lines[2 * i + 2] for i in at])

    def _numbers(self, at: Sequence[int], begins: list[int], ends: list[int]) -> list[float]:
        data = self.data
        try:
            out = [float(data[a:b]) for a, b in zip(begins, ends, strict=True)]
        except ValueError:
            raise self._bad_number(at) from None
        if not all(-FARTHEST < x < FARTHEST for x in out):
            raise self._bad_number(at)
        return out

    def _bad_number(self, at: Iterable[int]) -> FileError:
        for i in at:
            text = self.value(i).decode("ascii", "replace")[:40]
            why = _number_trouble(text)
            if why:
                return FileError(f"{self.name}, line {self.line(i)}: “{text}” {why}.")
        return FileError(f"{self.name} holds a number that cannot be read.")

    def fields(self, first: int, end: int) -> dict[int, int]:
        """The first pair of each group code in first..end-1.

        Extended data, embedded objects and other programs' groups in braces are left out.
        """
        codes = self.codes[first:end].tolist()
        if _is_plain(codes):
            # The first of each is what a dictionary keeps when they come backwards.
            return dict(zip(reversed(codes), range(end - 1, first - 1, -1), strict=True))
        out: dict[int, int] = {}
        inside = False
        for i, code in enumerate(codes, first):
            if code >= EXTENDED_DATA or code == EMBEDDED_OBJECT:
                break
            if code == APPLICATION_GROUP:
                inside = not self.value(i).startswith(b"}")
            elif not inside:
                out.setdefault(code, i)
        return out

    def plain_codes(self, first: int, end: int) -> list[int] | None:
        """The group codes of first..end-1; None where `fields` leaves some out."""
        codes: list[int] = self.codes[first:end].tolist()
        return codes if _is_plain(codes) else None

    def positions(self, first: int, end: int, code: int) -> NDArray[np.intp]:
        """All pairs in first..end-1 with that group code."""
        return np.flatnonzero(self.codes[first:end] == code) + first


def _is_plain(codes: list[int]) -> bool:
    """Is there nothing among them that `fields` leaves out?"""
    if not codes or max(codes) >= EXTENDED_DATA:
        return False
    return EMBEDDED_OBJECT not in codes and APPLICATION_GROUP not in codes


# A coordinate's or size's group code on a line of its own, and the whole line after it.
_NUMBER_LINES = re.compile(
    rb"^[ \t]*(?:[1-3][0-8]|4[0-9]|5[0-8])[ \t]*\r?\n([^\r\n]*)\r?\n", re.MULTILINE
)


def refuse_bad_numbers(name: str, data: bytes) -> None:
    """FileError when a number is none, in a file whose pairs may be out of step.

    A repairing reader would take 1,50 for 1 without a word.
    """
    for found in _NUMBER_LINES.finditer(data):
        text = found[1].strip().decode("ascii", "replace")[:40]
        if not _is_number(text):
            why = _number_trouble(text)
            line = data.count(b"\n", 0, found.start(1)) + 1
            raise FileError(f"{name}, line {line}: “{text}” {why}.")


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


def _number_trouble(text: str) -> str:
    """What is wrong with the text as a number, and what to do; nothing if it is fine."""
    if not _is_number(text):
        if "," in text:
            return (
                "is written with a decimal comma, which the format does not know; "
                "save the file again with decimal points"
            )
        return "is not a number; save the file again from the program that made it"
    if -FARTHEST < float(text) < FARTHEST:
        return ""
    return "is not a usable coordinate; remove that point in the program that made the file"


def without_blank_lines(data: bytes) -> tuple[bytes, list[int]]:
    """The bytes without the blank lines that stand where a group code should be, and the
    numbers of those lines. A blank line there never means anything, and shifts all pairs."""
    lines = data.split(b"\n")
    kept: list[bytes] = []
    gone: list[int] = []
    k = 0
    while k < len(lines) - 1:
        if lines[k].strip():
            kept += lines[k : k + 2]
            k += 2
        else:
            gone.append(k + 1)
            k += 1
    return b"\n".join([*kept, *lines[k:]]), gone


def with_end(data: bytes) -> bytes | None:
    """The bytes with the EOF that is missing behind their last section; None where more is."""
    newline = b"\r\n" if b"\r\n" in data[:200] else b"\n" if b"\n" in data else b"\r"
    whole = data.rstrip()
    last = whole.split(newline[-1:])[-2:]
    if len(last) < 2 or last[0].strip() != b"0" or last[1].strip() != b"ENDSEC":
        return None
    return whole + newline + last[0].strip(b"\r") + newline + b"EOF" + newline


def index(name: str, data: bytes) -> Pairs:
    """The pairs of a text DXF up to and with its EOF.

    Raises FileError for an empty file or one that is no DXF, DamagedError where the pairs
    go out of step or the end is missing.
    """
    _refuse_others(name, data)
    newline = b"\n" if b"\n" in data else b"\r"
    lines = data.split(newline)
    ends = np.flatnonzero(np.frombuffer(data, dtype=np.uint8) == newline[0]) + 1
    if data.endswith(newline):
        lines.pop()
    else:
        ends = np.append(ends, len(data))
    lines[0] = lines[0].removeprefix(BOM)
    codes, trouble = _codes(lines)
    count = _through_eof(lines, codes)
    if not count:
        raise DamagedError(f"{name}, {trouble or _breaks_off(lines)}")
    starts = np.concatenate(([0], ends))[: 2 * count + 1]
    crlf = newline == b"\n" and data[: int(ends[0])].endswith(b"\r\n")
    return Pairs(name, data, codes[:count], starts, b"\r\n" if crlf else newline)


def _refuse_others(name: str, data: bytes) -> None:
    if not data.strip():
        raise FileError(f"{name} is empty. Save the drawing again and open the new file.")
    if data[:2] in (b"\xff\xfe", b"\xfe\xff") or b"\x00" in data[:200]:
        raise FileError(
            f"{name}, line 1: this is not a text DXF file (two bytes a letter, or none at all). "
            "Save it as plain text DXF."
        )


def _codes(lines: list[bytes]) -> tuple[NDArray[np.int32], str]:
    """The group codes up to the first that is none, and a sentence about that one."""
    raw = lines[0 : len(lines) - 1 : 2]
    try:
        return np.array(list(map(int, raw)), dtype=np.int32), ""
    except (ValueError, OverflowError):
        good = next(k for k, text in enumerate(raw) if not _is_code(text))
    text = raw[good].strip().decode("ascii", "replace")[:40]
    text = text if text.isprintable() and "\ufffd" not in text else "something unreadable"
    sentence = (
        f"line {2 * good + 1}: “{text}” stands where a group code should be; "
        "lines are missing or doubled before it, so save the file again as DXF."
    )
    return np.array(list(map(int, raw[:good])), dtype=np.int32), sentence


def _is_code(text: bytes) -> bool:
    try:
        return LOWEST_CODE <= int(text) <= HIGHEST_CODE
    except ValueError:
        return False


def _through_eof(lines: list[bytes], codes: NDArray[np.int32]) -> int:
    """How many pairs there are up to and with ``0 EOF``; 0 when it is missing."""
    zeros: list[int] = np.flatnonzero(codes == 0).tolist()
    for i in reversed(zeros):
        if lines[2 * i + 1].strip() == b"EOF":
            return i + 1
    return 0


def _breaks_off(lines: list[bytes]) -> str:
    return (
        f"line {len(lines)}: the file breaks off before its end (there is no EOF). "
        "Copy or save it again."
    )
