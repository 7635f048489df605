"""Notches as lines and as points: SVG draws them, DXF says their depth, angle and width.

In sewn-products interchange (ASTM D6673) a notch is one POINT on its line, of which Z is the
depth, 39 the width and 50 the angle at which it goes in. As a line it is a tick from there to
its depth, or a V when it has a width.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from core.curve import Chain, Line, Point, Ring, Segment, Vector
from core.files.edits import PathEdit, PointEdit
from core.files.pattern import Item, Notch
from core.piece.model import Piece

# A notch stands this near (mm) to its line.
ON_LINE = 2.0
# Steps of a line that are as near as the nearest one, up to this (mm), meet where the notch stands.
JOINT = 1e-3
# Less than this (radians) is no turn; written angles have few decimals.
STEADY = 1e-4
# The legs of a V are equal when its tip is this near (mm) to the middle between them.
EVEN = 1e-6


def drawn_as_notch(item: Item, piece: Piece) -> Item:
    """A tick or an even V that stands on a line of the piece as its place and what it says;
    anything else stays the line that it is."""
    chain = item.geometry
    if not isinstance(chain, Chain) or not all(isinstance(s, Line) for s in chain):
        return item
    if isinstance(chain, Ring) or len(chain) > 2:
        return item
    rings = [o.ring for o in (piece.outline, piece.stitching) if o is not None]
    return _tick(item, chain, rings) if len(chain) == 1 else _v(item, chain, rings)


def _tick(item: Item, chain: Chain, rings: list[Ring]) -> Item:
    place, tip = sorted((chain.start, chain.end), key=lambda p: _off(p, rings))
    depth = place.distance(tip)
    if _off(place, rings) > ON_LINE or depth == 0.0:
        return item
    return replace(item, geometry=place, notch=Notch(depth, (tip - place).unit()))


def _v(item: Item, chain: Chain, rings: list[Ring]) -> Item:
    feet, tip = (chain.start, chain.end), chain.segments[0].end
    middle, width = feet[0].towards(feet[1], 0.5), feet[0].distance(feet[1])
    depth = middle.distance(tip)
    if min(width, depth) == 0.0 or max(_off(p, rings) for p in feet) > ON_LINE:
        return item
    inward = (tip - middle).unit()
    if abs((feet[1] - feet[0]).dot(inward)) > EVEN:
        return item
    return replace(item, geometry=middle, notch=Notch(depth, inward, width))


def _off(p: Point, rings: Iterable[Ring]) -> float:
    return min(ring.nearest(p).distance for ring in rings)


def as_line(place: Point, notch: Notch | None, ring: Ring) -> Chain | None:
    """The tick or V of a notch on the ring; None for one of no depth. One that does not say
    where it goes goes in square to the ring."""
    if notch is None or notch.depth <= 0.0:
        return None
    inward = notch.inward or _inward(place, ring)
    tip = place.moved(inward, notch.depth)
    if notch.width <= 0.0:
        return Chain((Line(place, tip),))
    aside = inward.square()
    feet = [place.moved(aside, way * notch.width / 2.0) for way in (-1.0, 1.0)]
    return Chain.through((feet[0], tip, feet[1]))


def _inward(place: Point, ring: Ring) -> Vector:
    along = ring.tangent(ring.nearest(place).place)
    square = along.unit().square()
    return square if ring.signed_area() > 0.0 else -square


def turned(notch: Notch, edit: PointEdit, lines: Iterable[PathEdit]) -> Notch:
    """The notch turned as much as the line on which it stands."""
    if notch.inward is None:
        return notch
    return notch._replace(inward=notch.inward.turned(turn_with(edit, lines)))


def turn_with(notch: PointEdit, lines: Iterable[PathEdit]) -> float:
    """The turn in radians (mm, y down) of the nearest altered line where the notch stood and
    where it stands; 0 when it stands on none."""
    best: tuple[float, PathEdit, Vector] | None = None
    for line in lines:
        found = _direction(line.old, notch.old)
        if found is not None and (best is None or found[0] < best[0]):
            best = found[0], line, found[1]
    if best is None or notch.new is None:
        return 0.0
    now = _direction((s for new in best[1].new for s in new), notch.new)
    angle = best[2].angle_to(now[1]) if now is not None else 0.0
    return angle if abs(angle) > STEADY else 0.0


def _direction(segments: Iterable[Segment], at: Point) -> tuple[float, Vector] | None:
    """How far away the line is, and its direction there; None when it is not near."""
    near = [(s.nearest(at), s) for s in segments]
    least = min((found.distance for found, _ in near), default=math.inf)
    if least > ON_LINE:
        return None
    # Where two steps of a line meet, it has the direction of both.
    ways = [s.tangent(f.t) for f, s in near if f.distance <= least + JOINT]
    return least, sum(ways[1:], ways[0])
