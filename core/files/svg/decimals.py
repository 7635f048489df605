"""All decimal numbers of a text at once, each to the last bit what ``float`` makes of it.

A number of at most 16 characters whose digits, read as a whole number, stay below 2^53 is that
whole number divided by a power of ten: both are exact, so the one division rounds as it should
(W. D. Clinger, "How to read floating point numbers accurately", PLDI 1990, the fast case). Its
digits lie in two words of 8 bytes, and 8 digits are put together by three multiplications.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Bytes = NDArray[np.uint8]
Indices = NDArray[np.intp]
Words = NDArray[np.uint64]

_OTHER, _DIGIT, _DOT, _SIGN, _POWER = range(5)
# Bytes of text that are worked on at once.
_PART = 1 << 18
# Blanks before the text, so that two whole words end with any number.
_MARGIN = 16
_ALL = (1 << 64) - 1
# By k: the last k of 8 bytes, and the first k of them, in a word whose first byte is its lowest.
_LAST = np.array([_ALL ^ (_ALL >> 8 * k) for k in range(9)], np.uint64)
_FIRST = np.array([(1 << 8 * k) - 1 for k in range(9)], np.uint64)
_TENS = 10.0 ** np.arange(23)
_TENTH = np.array([10**8, 10**7], np.uint64)


def kinds(of: Mapping[bytes, int]) -> bytes:
    """A table that translates each of these characters to its kind, and all others to 0."""
    out = bytearray(256)
    for characters, kind in of.items():
        for character in characters:
            out[character] = kind
    return bytes(out)


_KINDS = kinds({b"0123456789": _DIGIT, b".": _DOT, b"+-": _SIGN, b"eE": _POWER})


class Decimals(NamedTuple):
    """Where each number begins, and its value: NaN for what looks like one and is none."""

    begins: Indices
    values: NDArray[np.float64]


class _Found(NamedTuple):
    """Numbers in a text with blanks before it: from, to, and the place of the dot or -1."""

    text: Bytes
    kind: Bytes
    begins: Indices
    ends: Indices
    dots: Indices


def decimals(text: bytes) -> Decimals:
    """The numbers in ASCII text, which may run together as SVG has it ("1-2", "1.5.5")."""
    characters = np.frombuffer(text, np.uint8)
    kind = np.frombuffer(text.translate(_KINDS), np.uint8)
    cuts = [0, *_cuts(kind), len(text)]
    parts = [(a, _of_part(characters[a:b], kind[a:b])) for a, b in itertools.pairwise(cuts)]
    begins = np.concatenate([a + part.begins for a, part in parts])
    return Decimals(begins, np.concatenate([part.values for _, part in parts]))


def _cuts(kind: Bytes) -> Iterator[int]:
    """Places between numbers, so near that what is worked out from one to the next stays at hand
    in the processor."""
    at = _PART
    while at < len(kind):
        near = np.flatnonzero(kind[at : at + _PART] == _OTHER)
        if not len(near):
            return
        at += int(near[0])
        yield at
        at += _PART


def _of_part(characters: Bytes, kinds_: Bytes) -> Decimals:
    text = np.full(_MARGIN + len(characters) + 1, ord(" "), np.uint8)
    text[_MARGIN:-1] = characters
    kind = np.full(len(text), _OTHER, np.uint8)
    kind[_MARGIN:-1] = kinds_
    found = _found(text, kind)
    begins = found.begins - _MARGIN
    return Decimals(begins, _values(found) if len(begins) else np.zeros(0))


def _found(text: Bytes, kind: Bytes) -> _Found:
    inside = kind != _OTHER
    first = inside.copy()
    first[1:] &= ~inside[:-1] | ((kind[1:] == _SIGN) & (kind[:-1] != _POWER))
    # A second dot begins another number.
    events = np.flatnonzero(first | (kind == _DOT))
    is_dot, is_first = kind[events] == _DOT, first[events]
    is_first[1:] |= is_dot[1:] & is_dot[:-1]
    first[events] = is_first
    last = inside
    last[:-1] &= ~inside[1:] | first[1:]
    dots = _dots(events, is_dot, is_first)
    return _Found(text, kind, events[is_first], np.flatnonzero(last) + 1, dots)


def _dots(events: Indices, is_dot: NDArray[np.bool_], is_first: NDArray[np.bool_]) -> Indices:
    """For each number the place of its dot: where it begins, or what comes next."""
    at = np.flatnonzero(is_first)
    after = np.append(is_dot & ~is_first, False)
    inner = np.where(after[at + 1], np.append(events, -1)[at + 1], -1)
    return np.where(is_dot[at], events[at], inner)


def _values(found: _Found) -> NDArray[np.float64]:
    text, kind, begins, ends, dots = found
    signed = kind[begins] == _SIGN
    dotted = dots >= 0
    counts = ends - begins - signed
    after = np.where(dotted, ends - 1 - dots, 0)
    whole = _whole(text, ends, counts, np.where(dotted, after, _MARGIN))
    out = whole.astype(np.float64) / _TENS[np.minimum(after, 22)]
    np.negative(out, where=text[begins] == ord("-"), out=out)
    hard = (counts > _MARGIN) | (counts - dotted < 1) | (whole >= 1 << 53)
    hard[_with_power(found)] = True
    for k in np.flatnonzero(hard).tolist():
        out[k] = _one(bytes(text[begins[k] : ends[k]]))
    return out


def _with_power(found: _Found) -> Indices:
    powers = np.flatnonzero(found.kind == _POWER)
    return np.searchsorted(found.begins, powers, side="right") - 1


def _one(text: bytes) -> float:
    try:
        return float(text)
    except ValueError:
        return float("nan")


def _whole(text: Bytes, ends: Indices, counts: Indices, after: Indices) -> Words:
    """Their digits as whole numbers; `counts` are digits and dot, `after` the digits behind it
    (or more than there are)."""
    out = _eight(_word(text, ends, 0), np.minimum(counts, 8), np.minimum(after, 8))
    long = np.flatnonzero(counts > 8)
    if len(long):
        after = after[long]
        dot_here = (after >= 8) & (after < 16)
        before = _eight(
            _word(text, ends[long], 8),
            np.minimum(counts[long] - 8, 8),
            np.where(dot_here, after - 8, 8),
        )
        out[long] += before * _TENTH[(after < 8).astype(np.intp)]
    return out


def _word(text: Bytes, ends: Indices, back: int) -> Words:
    """The eight bytes that end `back` before each of these places."""
    words = np.ndarray((len(text) - 7,), "<u8", text, strides=(1,))
    return words[ends - (8 + back)]


def _eight(word: Words, count: Indices, after: Indices) -> Words:
    """The last `count` of 8 characters as a number, without the dot before the last `after`."""
    word &= _LAST[count]
    behind = word & _LAST[after]
    # What stands before the dot closes up; where there is none, nothing stands before it.
    word = behind | ((word & _FIRST[np.maximum(7 - after, 0)]) << np.uint64(8))
    word &= np.uint64(0x0F0F0F0F0F0F0F0F)
    word = (word * np.uint64(2561)) >> np.uint64(8)
    word = ((word & np.uint64(0x00FF00FF00FF00FF)) * np.uint64(6553601)) >> np.uint64(16)
    return ((word & np.uint64(0x0000FFFF0000FFFF)) * np.uint64(42949672960001)) >> np.uint64(32)
