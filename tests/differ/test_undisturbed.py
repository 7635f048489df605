"""An alteration disturbs nothing but what it alters; over every sample and over a corpus of
other ways of writing the same. That the differ can fail is in test_differ_fails.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from core.alter.level.model import LevelChange
from core.alter.level.together import insert_together
from core.alter.model import Change
from core.alter.sizes import alter_sizes
from core.curve import Chain
from core.files import Drawing, read_bytes, render
from core.files.dxf import read_dxf
from core.files.svg import read_svg
from tests.differ import dxf, svg
from tests.differ.altered import Difference, places, untouched_points
from tests.differ.corpus import DXF_WAYS, R12_WAYS, SVG_WAYS

SAMPLES = Path(__file__).parents[2] / "sample_pieces"
SVGS = sorted(SAMPLES.glob("*.svg"))
DXFS = sorted(SAMPLES.glob("*.dxf"))
# Which samples are written in the other ways: lines and curves, darts, sizes in one file;
# light polylines with arcs; sewn-products blocks with a turn-up.
SVG_CORPUS = [SAMPLES / f"{n}.svg" for n in ("allotment_shorts", "picking_bodice")]
SIZES = SAMPLES / "rain_breeches.svg"
TROUSERS, BARROW = SAMPLES / "digging_trousers.dxf", SAMPLES / "barrow_trousers.dxf"
SIZES_WAYS = ("utf-16 little", "numbers with noughts", "relative", "a clone")
# What makes a difference where points and dense copies follow the lines.
BLOCK_WAYS = (
    "crlf", "codes in six columns", "numbers as exponents", "R12", "R2000", "R2018", "binary R12",
    "binary R2000",
)  # fmt: skip
# What a point may move by when a relative step is written anew before it (mm).
RELATIVE = 1e-8


def longer(drawing: Drawing) -> Drawing:
    return _changed(drawing, Change(35.0))


def shorter(drawing: Drawing) -> Drawing:
    return _changed(drawing, Change(-20.0))


def with_notches(drawing: Drawing) -> Drawing:
    return _changed(drawing, Change(27.0, balance_notch=True))


def one_piece(drawing: Drawing) -> Drawing:
    hemmed = [p for p in drawing.pieces if p.hem]
    return drawing.with_pieces(a.piece for a in alter_sizes(hemmed[:1], Change(25.0)))


def _changed(drawing: Drawing, change: Change) -> Drawing:
    hemmed = [p for p in drawing.pieces if p.hem]
    return drawing.with_pieces(a.piece for a in alter_sizes(hemmed, change))


def at_a_level(drawing: Drawing) -> Drawing:
    return _at_level(drawing, 15.0)


def _at_level(drawing: Drawing, amount: float) -> Drawing:
    hemmed = [p for p in drawing.pieces if p.hem]
    high = min(p.outline.ring.bounds().height for p in hemmed)
    done = insert_together(hemmed, LevelChange(0.55 * high, amount))
    return drawing.with_pieces(a.piece for a in done)


MAIN: dict[str, Callable[[Drawing], Drawing]] = {
    "longer": longer,
    "shorter": shorter,
    "at a level": at_a_level,
}
WAYS = {**MAIN, "with notches": with_notches, "one piece": one_piece}


@cache
def opened(name: str, data: bytes) -> Drawing:
    return read_bytes(Path(name), data, mm_per_unit=None)


def told(old: Drawing, new: Drawing, after: bytes) -> list[Difference]:
    differ = svg if old.format.value == ".svg" else dxf
    return differ.differences(old.data, after, places(old, new))


def disturbed(old: Drawing, new: Drawing, after: bytes) -> list[str]:
    return [d.what for d in told(old, new, after) if not d.allowed]


def strayed(old: Drawing, new: Drawing, after: bytes) -> list[str]:
    """Points that the alteration left alone and that are elsewhere once the file is read again."""
    reader = read_svg if old.format.value == ".svg" else read_dxf
    again = reader(old.path.name, after, mm_per_unit=old.unit.mm_per_unit)
    chains = [s.geometry for s in again.shapes if isinstance(s.geometry, Chain)]
    stand = {(p.x, p.y) for chain in chains for s in chain for p in s.controls}
    out = []
    for was, now in zip(old.pieces, new.pieces, strict=True):
        for x, y in untouched_points(was, now, vertices=old.format.value == ".dxf"):
            miss = 0.0 if (x, y) in stand else min(max(abs(x - a), abs(y - b)) for a, b in stand)
            if miss > RELATIVE:
                out.append(f"{was.name}: ({x}, {y}) is {miss:g} mm from where it was")
    return out


def checked(path: Path, data: bytes, ways: dict[str, Callable[[Drawing], Drawing]]) -> None:
    old = opened(path.name, data)
    assert not old.cleaned, f"wanted read as it stands: {old.problems}"
    for name, way in ways.items():
        new = way(old)
        after = render(new)
        assert told(old, new, after), f"{name}: wanted the alteration itself seen"
        found = disturbed(old, new, after)
        assert not found, f"{name}: wanted nothing else touched, got {len(found)}: {found[:6]}"
        lost = strayed(old, new, after)
        assert not lost, f"{name}: wanted within {RELATIVE} mm, got {lost[:4]}"
    for nothing in (_changed(old, Change(0.0)), _at_level(old, 0.0)):
        assert render(nothing) == data, "wanted a change by nothing to change no byte"


@pytest.mark.parametrize("path", [*SVGS, *DXFS], ids=lambda p: p.name)
def test_only_what_is_altered_differs_in_every_sample(path: Path) -> None:
    checked(path, path.read_bytes(), WAYS)


@pytest.mark.parametrize("written", SVG_WAYS)
def test_other_ways_of_writing_svg_stay_theirs(written: str) -> None:
    for path in (*SVG_CORPUS, *([SIZES] if written in SIZES_WAYS else [])):
        checked(path, SVG_WAYS[written](path.read_bytes()), MAIN)


@pytest.mark.parametrize("written", DXF_WAYS)
def test_other_ways_of_writing_dxf_stay_theirs(written: str) -> None:
    checked(TROUSERS, DXF_WAYS[written](TROUSERS.read_bytes()), MAIN)


@pytest.mark.parametrize("written", BLOCK_WAYS)
def test_other_ways_of_writing_blocks_stay_theirs(written: str) -> None:
    checked(BARROW, (DXF_WAYS | R12_WAYS)[written](BARROW.read_bytes()), MAIN)
