"""What the nameless shapes inside a piece are: holes, notch ticks, writing, inner lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import shapely

from core.curve import Chain, Point, Ring
from core.piece.model import Kind, Shape

# A circle no wider than this (mm) is a hole to be drilled.
DRILL = 13.0
# A short line that touches the outline is a notch tick, at most this long (mm).
LONGEST_TICK = 16.0
TOUCHES = 1.0
# Flattening for asking what touches what, in mm.
FLATTENING = 0.2


def with_kinds(outline: Ring, inner: Sequence[Shape]) -> Iterator[Shape]:
    """Those that words gave no kind with the kind that their looks tell."""
    ticks = _ticks(outline, [s for s in inner if s.kind is None])
    for s in inner:
        if s.kind is None and isinstance(s.geometry, Ring):
            box = s.geometry.bounds()
            small = max(box.width, box.height) <= DRILL
            yield replace(s, kind=Kind.DRILL if small else Kind.INNER)
        elif s.kind is None and isinstance(s.geometry, Point):
            yield replace(s, kind=Kind.TEXT if s.text else Kind.DRILL)
        elif s.key in ticks:
            yield replace(s, kind=Kind.NOTCH)
        else:
            yield s


def _ticks(outline: Ring, nameless: Sequence[Shape]) -> set[int]:
    """The keys of the short lines that touch the outline."""
    lines = [(s.key, s.geometry) for s in nameless if isinstance(s.geometry, Chain)]
    short = [
        (key, chain)
        for key, chain in lines
        if not isinstance(chain, Ring) and chain.length() <= LONGEST_TICK
    ]
    if not short:
        return set()
    edge = shapely.LineString(outline.flattened(tolerance=FLATTENING))
    shapely.prepare(edge)
    ends = [(p.x, p.y) for _, chain in short for p in (chain.start, chain.end)]
    touching = shapely.dwithin(edge, shapely.points(ends), TOUCHES).reshape(-1, 2).any(axis=1)
    return {key for (key, _), touches in zip(short, touching.tolist(), strict=True) if touches}
