"""The differ can fail: whatever is disturbed beside the alteration, it finds it."""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from core.files import Drawing, render
from tests.differ import dxf, svg
from tests.differ.altered import Places, places
from tests.differ.corpus import as_version
from tests.differ.test_undisturbed import (
    BARROW,
    SAMPLES,
    TROUSERS,
    disturbed,
    longer,
    one_piece,
    opened,
    strayed,
)

SHORTS = SAMPLES / "allotment_shorts.svg"
# Bytes disturbed, one at a time, in each file.
FLIPS = 40
# No byte order mark, no end of a tag or line, nothing that is the same to a reader of bytes.
OTHERS = b"abcdefgh0123456789 ;."


def _sub(pattern: bytes, by: bytes) -> Callable[[bytes], bytes]:
    def done(data: bytes) -> bytes:
        changed = re.sub(pattern, by, data, count=1)
        assert changed != data, f"{pattern!r} is not in the file"
        return changed

    return done


SPOILED_SVG = {
    "a comment": _sub(rb"<svg", b"<!-- x --><svg"),
    "a line end": _sub(rb"\n", b"\r\n"),
    "a style": _sub(rb"stroke", b"strike"),
    "an id": _sub(rb'id="back-drill', b'id="back_drill'),
    "quotes": _sub(rb'id="([^"]*)"', rb"id='\1'"),
    "a blank in a tag": _sub(rb"/>", b" />"),
    "order of attributes": _sub(rb'(id="[^"]*") (class="[^"]*")', rb"\2 \1"),
    "an element lost": _sub(rb"<circle[^>]*/>", b""),
    "an element twice": _sub(rb"(<circle[^>]*/>)", rb"\1\1"),
    "a group lost": _sub(rb"<g [^>]*>", b""),
    "writing": _sub(rb"cut 2", b"cut 3"),
    "numbers written otherwise": _sub(rb'r="3"', b'r="3.0"'),
    "a point written otherwise": _sub(rb'(d="M ?\d+\.\d+)', rb"\g<1>0"),
    "a shape that stays, moved": _sub(rb'(id="test-square".*?) x="401"', rb'\1 x="402"'),
    "a notch that stays, moved": _sub(rb'(id="back-notch-rise-1".*?d="M 8)3', rb"\g<1>4"),
    "another notch": _sub(rb"<rect", b'<path class="notch" d="M 1,1 L 2,2"/><rect'),
    "the first bytes": lambda d: b"\xef\xbb\xbf" + d,
    "more at the end": lambda d: d + b"\n",
}
SPOILED_DXF = {
    "a line end": _sub(rb"\n", b"\r\n"),
    "a layer": _sub(rb"\n  8\n1\n", b"\n  8\n2\n"),
    "a block's name": _sub(rb"FRONT", b"FRONTS"),
    "blanks before a code": _sub(rb"\n 10\n", b"\n10\n"),
    "a comment": _sub(rb"  0\nSECTION", b"999\nx\n  0\nSECTION"),
    "writing": _sub(rb"Units: METRIC", b"Units: metric"),
    "numbers written otherwise": _sub(rb"\n 10\n(-?\d+\.\d+)\n", rb"\n 10\n\g<1>0\n"),
    "an entity lost": _sub(rb"  0\nTEXT\n(?:  ? ?\d+\n[^\n]*\n)+?(?=  0\n)", b""),
    "an entity twice": _sub(rb"(  0\nTEXT\n(?:  ? ?\d+\n[^\n]*\n)+?)(?=  0\n)", rb"\1\1"),
    "an insert moved": _sub(rb"(INSERT\n(?:  ? ?\d+\n[^\n]*\n)*? 10\n)[^\n]*", rb"\g<1>1.0"),
    "a vertex without end": _sub(rb"  0\nSEQEND\n", b""),
    "the first bytes": lambda d: b"\xef\xbb\xbf" + d,
    "more at the end": lambda d: d + b"\n",
}  # fmt: skip


@pytest.fixture(scope="module")
def shorts() -> tuple[Drawing, Drawing, bytes]:
    return _altered(SHORTS)


@pytest.fixture(scope="module")
def barrow() -> tuple[Drawing, Drawing, bytes]:
    return _altered(BARROW)


def _altered(path: Path) -> tuple[Drawing, Drawing, bytes]:
    old = opened(path.name, path.read_bytes())
    new = longer(old)
    after = render(new)
    assert not disturbed(old, new, after)
    assert not strayed(old, new, after)
    return old, new, after


@pytest.mark.parametrize("spoiled", SPOILED_SVG)
def test_it_finds_what_is_spoiled_in_svg(
    spoiled: str, shorts: tuple[Drawing, Drawing, bytes]
) -> None:
    old, new, after = shorts
    assert disturbed(old, new, SPOILED_SVG[spoiled](after)), f"missed {spoiled}"


@pytest.mark.parametrize("spoiled", SPOILED_DXF)
def test_it_finds_what_is_spoiled_in_dxf(
    spoiled: str, barrow: tuple[Drawing, Drawing, bytes]
) -> None:
    old, new, after = barrow
    assert disturbed(old, new, SPOILED_DXF[spoiled](after)), f"missed {spoiled}"


@pytest.mark.parametrize(
    ("pattern", "by"),
    [
        (rb"(\$HANDSEED\r?\n +5\r?\n)[0-9A-F]+", rb"\g<1>1"),
        (rb"(LWPOLYLINE\r?\n(?:[^\n]*\n)*? 90\r?\n)\d+", rb"\g<1>7"),
        (rb"(\n  5\n)[0-9A-F]+((?:\n[^\n]*\n[^\n]*)*?\n  0\nTEXT\n  5\n)([0-9A-F]+)", rb"\1\3\2\3"),
    ],
    ids=["the seed of handles", "the count of vertices", "a handle twice"],
)
def test_it_finds_counts_and_handles_that_do_not_fit(pattern: bytes, by: bytes) -> None:
    data = as_version("R2010")(TROUSERS.read_bytes())
    old = opened("trousers.dxf", data)
    new = longer(old)
    after = render(new)
    assert not disturbed(old, new, after)
    assert disturbed(old, new, _sub(pattern, by)(after))


@pytest.mark.parametrize("path", [SHORTS, TROUSERS], ids=["svg", "dxf"])
def test_it_finds_a_point_that_was_left_alone_and_moved_by_a_hundredth(path: Path) -> None:
    old, new, after = _altered(path)
    if path is SHORTS:
        moved = _sub(rb'(id="front-outline".*?d="M )105,', rb"\g<1>105.01,")(after)
    else:
        first = re.search(rb"LWPOLYLINE\n(?:[^\n]*\n)*? 10\n(\d+\.\d+)", after)
        assert first is not None
        x = b"%.4f" % (float(first[1]) + 0.01)
        moved = after[: first.start(1)] + x + after[first.end(1) :]
    assert strayed(old, new, moved), "wanted the point missed"


def test_it_finds_another_piece_altered_than_the_one_that_was_asked_for() -> None:
    old = opened(SHORTS.name, SHORTS.read_bytes())
    assert disturbed(old, one_piece(old), render(longer(old)))


def test_it_finds_everything_where_nothing_was_altered() -> None:
    for path in (SHORTS, TROUSERS):
        old = opened(path.name, path.read_bytes())
        assert disturbed(old, old, render(longer(old)))


@pytest.mark.parametrize("path", [SHORTS, TROUSERS, BARROW], ids=lambda p: p.name)
def test_it_finds_every_byte_that_is_another_one(path: Path) -> None:
    """Anywhere in what came out as it went in, drawn with a fixed seed."""
    old, new, after = _altered(path)
    draw = random.Random(7)
    places_there = list(_guarded(old, new, after))
    assert len(places_there) > FLIPS
    for at in draw.sample(places_there, FLIPS):
        other = draw.choice([c for c in OTHERS if c != after[at]])
        spoiled = after[:at] + bytes((other,)) + after[at + 1 :]
        found = _found(old, new, spoiled)
        assert found, f"byte {at}, {after[max(0, at - 20) : at + 20]!r}, as {chr(other)!r}: missed"


def _found(old: Drawing, new: Drawing, spoiled: bytes) -> bool:
    try:
        return bool(disturbed(old, new, spoiled))
    except (AssertionError, ValueError, IndexError):
        # It no longer comes apart by the rules of its format, which is a difference, too.
        return True


def _guarded(old: Drawing, new: Drawing, after: bytes) -> list[int]:
    """The bytes of all that must be the same in both files."""
    where = places(old, new)
    if old.format.value == ".svg":
        same = {t.text for t in svg.tokens(old.data) if not where.may("written", t.at)}
        found = [(t.at, len(t.text)) for t in svg.tokens(after) if t.text in same]
    else:
        found = list(_same_entities(old.data, after, where))
    return [k for at, size in found for k in range(at, at + size)]


def _same_entities(before: bytes, after: bytes, where: Places) -> list[tuple[int, int]]:
    """Entities outside the blocks in which lines are altered, as byte and length."""
    out, at = [], 0
    rows = dxf.entities(dxf.pairs(before))
    may = dxf.with_following(rows, where)
    same = {b"".join(p.raw for p in e) for e in rows if not may.may("written", e[0].at)}
    for entity in dxf.entities(dxf.pairs(after)):
        raw = b"".join(p.raw for p in entity)
        if raw in same:
            out.append((at, len(raw)))
        at += len(raw)
    return out
