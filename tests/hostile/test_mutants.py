"""Bytes of every sample flipped, lost, doubled, moved, numbers made extreme: each mutant is read
and altered, or refused in a sentence; nothing else comes out, and what is written reads back.
"""

from __future__ import annotations

import random
import re
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest

from core.alter.model import Change
from core.alter.sizes import alter_sizes
from core.errors import HemwardError
from core.files import read_bytes, render
from tests.hostile.running import ROOT

ORDINARY, NIGHTLY = 90, 20_000
SECONDS = 10.0
# The largest samples take seconds each; the ordinary run keeps to those that take less.
LARGE = 150_000
NUMBER = re.compile(rb"-?\d+(?:\.\d+)?")
EXTREME = (b"0", b"-1", b"1e300", b"-1e-300", b"NaN", b"inf", b"99999999999", b"", b"1e999", b"--5")
SAMPLES = sorted(p for p in (ROOT / "sample_pieces").iterdir() if p.suffix in (".svg", ".dxf"))


def flipped(data: bytearray, draw: random.Random) -> None:
    for _ in range(draw.randint(1, 6)):
        data[draw.randrange(len(data))] ^= 1 << draw.randrange(8)


def lost(data: bytearray, draw: random.Random) -> None:
    at = draw.randrange(len(data))
    del data[at : at + draw.randint(1, 200)]


def doubled(data: bytearray, draw: random.Random) -> None:
    at = draw.randrange(len(data))
    data[at:at] = data[at : at + draw.randint(1, 400)]


def strewn(data: bytearray, draw: random.Random) -> None:
    at = draw.randrange(len(data))
    data[at:at] = draw.randbytes(draw.randint(1, 40))


def swapped(data: bytearray, draw: random.Random) -> None:
    a, b = sorted(draw.randrange(len(data)) for _ in range(2))
    size = draw.randint(1, 300)
    one, two = data[a : a + size], data[b : b + size]
    data[b : b + size], data[a : a + size] = one, two


def extreme(data: bytearray, draw: random.Random) -> None:
    found = list(NUMBER.finditer(bytes(data)))
    for one in sorted(draw.sample(found, min(3, len(found))), key=lambda m: -m.start()):
        data[one.start() : one.end()] = draw.choice(EXTREME)


def lines_lost(data: bytearray, draw: random.Random) -> None:
    rows = bytes(data).split(b"\n")
    at = draw.randrange(len(rows))
    del rows[at : at + draw.randint(1, 5)]
    data[:] = b"\n".join(rows)


WAYS: tuple[Callable[[bytearray, random.Random], None], ...] = (
    flipped, lost, doubled, strewn, swapped, extreme, lines_lost,
)  # fmt: skip


def ended(path: Path, data: bytes, by_mm: float) -> str:
    """How a mutant ended, in a word. Anything but a HemwardError goes through."""
    try:
        drawing = read_bytes(path, data, mm_per_unit=None)
    except HemwardError as refusal:
        return "refused when read" if path.name in str(refusal) else f"not named: {refusal}"
    pieces = [p for p in drawing.pieces if p.hem]
    if not pieces:
        return "read, no hem in it"
    try:
        done = alter_sizes(pieces, Change(by_mm))
        out = render(drawing.with_pieces(a.piece for a in done))
    except HemwardError:
        return "refused when altered"
    again = read_bytes(path, out, mm_per_unit=drawing.unit.mm_per_unit)
    assert again.pieces, "what was written has no piece any more"
    return "repaired and altered" if drawing.cleaned else "altered"


@pytest.mark.long
def test_every_mutant_is_read_or_refused_in_a_sentence(request: pytest.FixtureRequest) -> None:
    """Others each time in the nightly profile; what fails can be drawn again by its seed."""
    nightly = request.config.getoption("--hypothesis-profile", default=None) == "nightly"
    count = NIGHTLY if nightly else ORDINARY
    first = random.Random().randrange(10**9) if nightly else 0
    samples = [(p, p.read_bytes()) for p in SAMPLES]
    if not nightly:
        samples = [(p, d) for p, d in samples if len(d) <= LARGE]
    counts: Counter[str] = Counter()
    slowest = 0.0
    for seed in range(first, first + count):
        draw = random.Random(seed)
        path, whole = samples[seed % len(samples)]
        data = bytearray(whole)
        way = WAYS[draw.randrange(len(WAYS))]
        way(data, draw)
        start = time.process_time()
        try:
            counts[ended(path, bytes(data), draw.choice((20.0, -15.0)))] += 1
        except Exception as error:
            raise AssertionError(f"seed {seed}, {path.name}, {way.__name__}: {error!r}") from error
        took = time.process_time() - start
        slowest = max(slowest, took)
        assert took < SECONDS, f"seed {seed}, {path.name}, {way.__name__}: {took:.1f} s"
    print(f"{count} mutants from seed {first}, slowest {slowest:.2f} s:")
    print("".join(f"  {n:6d} {what}\n" for what, n in counts.most_common()))
    assert not any(what.startswith("not named") for what in counts), counts
    assert counts["altered"] > count / 10, f"wanted many to be altered all the same: {counts}"
    assert counts["refused when read"] > 0
