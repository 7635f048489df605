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
    edge = shapely.LineString(outline.flattened(tolerance=FLATTENING))
    shapely.prepare(edge)
    for s in inner:
        if s.kind is None and isinstance(s.geometry, Ring):
            box = s.geometry.bounds()
            small = max(box.width, box.height) <= DRILL
            yield replace(s, kind=Kind.DRILL if small else Kind.INNER)
        elif s.kind is None and isinstance(s.geometry, Point):
            yield replace(s, kind=Kind.TEXT if s.text else Kind.DRILL)
        elif s.kind is None and _is_tick(edge, s.geometry):
            yield replace(s, kind=Kind.NOTCH)
        else:
            yield s


def _is_tick(edge: shapely.LineString, chain: Ring | Chain | Point) -> bool:
    if not isinstance(chain, Chain) or chain.length() > LONGEST_TICK:
        return False
    ends = [shapely.Point(p.x, p.y) for p in (chain.start, chain.end)]
    return any(edge.dwithin(p, TOUCHES) for p in ends)
