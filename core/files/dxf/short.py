"""Short records read in one go: a file may hold a hundred thousand polylines of four vertices, and
to ask arrays for each of them takes ten times as long as their numbers."""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

from core.files.dxf.pairs import Pairs
from core.files.dxf.records import Entity

# Pairs of a record up to which it is short.
MOST_PAIRS = 400
COMMENT = 999
FRAME_VERTEX = 16
_TELLING = frozenset({10, 20, 42, 70})


class Short(NamedTuple):
    """The drawn vertices of a polyline in its own units, and what its flags (70) say."""

    xs: list[float]
    ys: list[float]
    bulges: list[float]
    flags: int


def is_short(entity: Entity) -> bool:
    """Is it worth reading in one go?"""
    return entity.end - entity.first <= MOST_PAIRS


def short_polyline(pairs: Pairs, entity: Entity, chunk_codes: tuple[int, ...]) -> Short | None:
    """The polyline, if it is short, plain and whole; None has it read column by column.

    `chunk_codes` are those that go on with a vertex of an LWPOLYLINE.
    """
    if not is_short(entity):
        return None
    codes = pairs.plain_codes(entity.first, entity.end)
    if codes is None:
        return None
    if entity.type == "LWPOLYLINE":
        return _light(pairs, entity.first, codes, chunk_codes)
    return _heavy(pairs, entity, codes)


def _light(
    pairs: Pairs, first: int, codes: list[int], chunk_codes: tuple[int, ...]
) -> Short | None:
    at = [k for k, code in enumerate(codes) if code == 10]
    if not at:
        return None
    tail = at[-1] + 1
    while tail < len(codes) and codes[tail] in chunk_codes:
        tail += 1
    chunks = [_telling(codes, a, b) for a, b in pairwise((*at, tail))]
    flags = _telling(codes, tail, len(codes)) | _telling(codes, 0, at[0])
    return _read(pairs, first, chunks, flags)


def _heavy(pairs: Pairs, entity: Entity, codes: list[int]) -> Short | None:
    first, head = entity.first, entity.head - entity.first
    at = [k for k in range(head, len(codes)) if codes[k] == 0]
    vertices = [
        (a, b) for a, b in pairwise((*at, len(codes))) if pairs.value(first + a) == b"VERTEX"
    ]
    chunks = [_telling(codes, a, b) for a, b in vertices]
    drawn = [c for c in chunks if 70 not in c or not pairs.whole(first + c[70]) & FRAME_VERTEX]
    return _read(pairs, first, drawn, _telling(codes, 0, head))


def _telling(codes: list[int], begin: int, end: int) -> dict[int, int]:
    """Where the first of each code stands that is asked for."""
    return {codes[k]: k for k in range(end - 1, begin - 1, -1) if codes[k] in _TELLING}


def _read(
    pairs: Pairs, first: int, chunks: list[dict[int, int]], flags: dict[int, int]
) -> Short | None:
    if not all(10 in c and 20 in c for c in chunks):
        return None
    number = pairs.number
    return Short(
        [number(first + c[10]) for c in chunks],
        [number(first + c[20]) for c in chunks],
        [number(first + c[42]) if 42 in c else 0.0 for c in chunks],
        pairs.whole(first + flags[70]) if 70 in flags else 0,
    )
