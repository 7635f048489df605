"""Where in a file an alteration may show: told from the pieces before and after alone.

All else must be the same, byte for byte. What the writers think is to be written is not asked.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from core.curve import Line
from core.files import Drawing
from core.piece.model import Piece


@dataclass(frozen=True)
class Difference:
    """What differs, and whether this alteration may do that."""

    what: str
    allowed: bool


@dataclass(frozen=True)
class Places:
    """Ranges of the old file, in bytes (SVG) or groups (DXF), that may be written anew.

    ``gone`` may vanish, ``beside`` may get a new mark behind them, ``copied`` are `use` elements
    that may become a copy of what they draw. Nothing altered: nothing may differ at all.
    """

    written: tuple[tuple[int, int], ...] = ()
    gone: tuple[tuple[int, int], ...] = ()
    beside: tuple[tuple[int, int], ...] = ()
    copied: tuple[tuple[int, int], ...] = ()

    def may(self, kind: str, at: int) -> bool:
        ranges: tuple[tuple[int, int], ...] = getattr(self, kind)
        return any(begin <= at < end for begin, end in ranges)

    @property
    def any(self) -> bool:
        return bool(self.written or self.gone or self.beside or self.copied)


def places(old: Drawing, new: Drawing) -> Places:
    """Where the file of `old` may differ once `new` is written."""
    moved, gone, beside = set[int](), set[int](), set[int]()
    for a, b in zip(old.pieces, new.pieces, strict=True):
        if a is b:
            continue
        moved |= _lines(a) if (a.outline, a.stitching) != (b.outline, b.stitching) else set()
        kept = {m.shape: m for m in b.marks}
        for mark in a.marks:
            if mark.shape not in kept:
                gone.add(mark.shape)
            elif kept[mark.shape].geometry != mark.geometry:
                moved.add(mark.shape)
        if any(m.is_added for m in b.marks):
            beside |= _lines(a) | {m.shape for m in a.marks}
    return _svg(old, moved, gone, beside) if _is_svg(old) else _dxf(old, moved, gone, beside)


def _is_svg(drawing: Drawing) -> bool:
    return drawing.format.value == ".svg"


def _lines(piece: Piece) -> set[int]:
    both = (piece.outline, piece.stitching)
    return {o.shape for outline in both if outline is not None for o in outline.origins}


def _svg(old: Drawing, moved: set[int], gone: set[int], beside: set[int]) -> Places:
    drawn, visits = old.source.drawn, old.source.visits
    several = {n for key in moved | gone if visits[n := drawn[key].node] > 1}
    shared = {use for one in drawn if one.node in several for use in one.uses}

    def ranges(keys: set[int]) -> Iterator[tuple[int, int]]:
        for key in keys:
            node = drawn[key].node
            whole = node.name == "text"
            yield node.start, node.end if whole else node.start + 1

    return Places(
        tuple(ranges(moved)),
        tuple(ranges(gone)),
        tuple(ranges(beside)),
        tuple((n.start, n.end) for n in shared),
    )


def _dxf(old: Drawing, moved: set[int], gone: set[int], beside: set[int]) -> Places:
    def ranges(keys: set[int]) -> Iterator[tuple[int, int]]:
        for key in keys:
            entity = old.source.drawn[key].entity
            yield entity.first, entity.end

    return Places(tuple(ranges(moved)), tuple(ranges(gone)), tuple(ranges(beside)))


def untouched_points(before: Piece, now: Piece, *, vertices: bool) -> list[tuple[float, float]]:
    """Points of the outline that the alteration left where they were, to the last bit; with
    `vertices` only ends of lines, where a file has no handles but says arcs otherwise."""
    kept = set(_points(now, vertices=vertices))
    return [p for p in _points(before, vertices=vertices) if p in kept]


def _points(piece: Piece, *, vertices: bool) -> list[tuple[float, float]]:
    drawn = [s for s in piece.outline.ring if not vertices or isinstance(s, Line)]
    return [(p.x, p.y) for s in drawn for p in s.controls]
