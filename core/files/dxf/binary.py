"""Binary DXF as text and back again, pair by pair, with nothing lost.

The reader and the writer work on text; a binary file is read from its text form, and what
was altered there goes back as binary. Numbers are spelled so that they read back to the last
bit, strings keep their bytes (DXF reference, "Binary DXF files" and "Group code value types").
"""

from __future__ import annotations

import math
import struct
from collections.abc import Iterator
from dataclasses import dataclass

from core.errors import FileError
from core.files.drawing import BINARY_MARK

MARK = BINARY_MARK + b"\r\n\x1a\x00"
# Before extended data had codes of its own, a code was one byte and this one an escape.
LONG_CODE = 255
_WHOLE, _DOUBLE, _CHUNK, _TEXT = "whole", "double", "chunk", "text"


def _spans(*spans: tuple[int, int]) -> list[int]:
    return [code for first, last in spans for code in range(first, last + 1)]


_DOUBLES = _spans((10, 59), (110, 149), (210, 239), (460, 469), (1010, 1059))
_SHORTS = _spans((60, 79), (170, 179), (270, 289), (370, 389), (400, 409), (1060, 1070))
_FORMS: dict[int, tuple[str, struct.Struct | None]] = {
    **dict.fromkeys(_DOUBLES, (_DOUBLE, struct.Struct("<d"))),
    **dict.fromkeys(_SHORTS, (_WHOLE, struct.Struct("<h"))),
    **dict.fromkeys(
        [*_spans((90, 99), (420, 429), (440, 459)), 1071], (_WHOLE, struct.Struct("<i"))
    ),
    **dict.fromkeys(_spans((160, 169)), (_WHOLE, struct.Struct("<q"))),
    **dict.fromkeys(_spans((290, 299)), (_WHOLE, struct.Struct("<B"))),
    **dict.fromkeys([*_spans((310, 319)), 1004], (_CHUNK, None)),
}
_STRING = (_TEXT, None)


class NotPlainError(FileError):
    """The bytes do not pair up to an EOF, or do not go back to the same bytes."""


@dataclass(frozen=True)
class Binary:
    """How a binary file was written: its bytes, whether codes have two, what follows the EOF."""

    data: bytes
    wide: bool
    rest: bytes

    def packed(self, text: bytes) -> bytes:
        """The text form as binary again, in the same manner."""
        lines = text.split(b"\n")
        return b"".join((MARK, *_packed(lines, self.wide), self.rest))


def as_text(name: str, data: bytes) -> tuple[bytes, Binary]:
    """The file's text form and the way back; NotPlainError where it cannot be followed."""
    wide = data[len(MARK) : len(MARK) + 2] == b"\x00\x00"
    try:
        lines, end = _unpacked(data, wide)
        binary = Binary(data, wide, data[end:])
        text = b"\n".join(lines) + b"\n"
        same = binary.packed(text) == data
    except (IndexError, ValueError, OverflowError, struct.error) as trouble:
        raise NotPlainError(_broken(name)) from trouble
    if not same:
        raise NotPlainError(_broken(name))
    return text, binary


def _broken(name: str) -> str:
    return f"{name} is a binary DXF that is damaged. Save it as plain text DXF and open that."


def _unpacked(data: bytes, wide: bool) -> tuple[list[bytes], int]:
    """Code and value lines through EOF, and where they end."""
    out: list[bytes] = []
    at = len(MARK)
    while True:
        code, at = _code(data, at, wide)
        kind, form = _FORMS.get(code, _STRING)
        if form is not None:
            (number,) = form.unpack_from(data, at)
            value, at = repr(number).encode("ascii"), at + form.size
        elif kind is _CHUNK:
            size = data[at]
            value, at = data[at + 1 : at + 1 + size].hex().upper().encode("ascii"), at + 1 + size
        else:
            end = data.index(b"\x00", at)
            value, at = data[at:end], end + 1
        out += (b"%d" % code, value)
        if code == 0 and value == b"EOF":
            return out, at


def _code(data: bytes, at: int, wide: bool) -> tuple[int, int]:
    if wide:
        return data[at] | data[at + 1] << 8, at + 2
    if data[at] == LONG_CODE:
        return data[at + 1] | data[at + 2] << 8, at + 3
    return data[at], at + 1


def _packed(lines: list[bytes], wide: bool) -> Iterator[bytes]:
    for k in range(0, len(lines) - 1, 2):
        code, value = int(lines[k]), lines[k + 1]
        if wide:
            yield code.to_bytes(2, "little")
        else:
            long = code >= LONG_CODE
            yield b"\xff" + code.to_bytes(2, "little") if long else code.to_bytes(1, "little")
        yield _value(code, value)


def _value(code: int, value: bytes) -> bytes:
    kind, form = _FORMS.get(code, _STRING)
    if form is not None:
        return form.pack(float(value) if kind is _DOUBLE else _whole(value))
    if kind is _CHUNK:
        raw = bytes.fromhex(value.decode("ascii"))
        return len(raw).to_bytes(1, "little") + raw
    return value + b"\x00"


def _whole(value: bytes) -> int:
    number = float(value)
    if not math.isfinite(number):
        raise ValueError("no whole number")
    return int(value) if value.strip().lstrip(b"+-").isdigit() else int(number)
