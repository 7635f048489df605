"""Contour darts: slender four-sided figures inside the piece, pointed at both ends."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from core.curve import Chain, Point, Ring, Vector
from core.piece.darts import EQUAL, MEETS, STRAIGHT_LEG, SURELY_EQUAL, WIDEST
from core.piece.join import join
from core.piece.model import Because, ContourDart, Kind, Shape
from core.piece.words import kind_in

# Common practice, no source: from under the bust to the hip is as long as they get (mm).
SHORTEST, LONGEST = 40.0, 480.0
# At least this many times longer than wide; a patch set on its corner is not.
SLENDER = 2.5
# Sides that go on straight into each other within this (radians) are one side.
STRAIGHT_ON = math.radians(0.5)


def contour_darts(ring: Ring, shapes: Sequence[Shape]) -> tuple[ContourDart, ...]:
    """Darts that lie whole inside `ring`, among the lines of the piece that is drawn by it.

    Drawn as one closed line or as several that join; sides may curve a little. One that the
    file calls a dart is sure when its sides are equal in pairs, a nameless one never is.
    """
    lines = [s for s in shapes if s.kind in (None, Kind.INNER, Kind.DART)]
    found = [
        d for s in lines if isinstance(s.geometry, Ring) for d in _dart(ring, s.geometry, (s,))
    ]
    by_key = {s.key: s for s in lines}
    for told in (True, False):
        loose = [s for s in lines if _called(s) is told and not isinstance(s.geometry, Ring)]
        for loop in join(loose):
            keys = dict.fromkeys(o.shape for o in loop.origins)
            found += _dart(ring, loop.ring, [by_key[k] for k in keys])
    return tuple(found)


def upright(dart: ContourDart, down: Vector) -> ContourDart:
    """The dart with its upper tip first, where the grain points `down`."""
    a, b = dart.tips
    if (b - a).dot(down) >= 0.0:
        return dart
    return ContourDart((b, a), (dart.sides[1], dart.sides[0]), dart.because, dart.shapes)


def _called(shape: Shape) -> bool:
    # The kind is taken from a large closed line, its words are still there.
    return shape.kind is Kind.DART or kind_in(shape.words) is Kind.DART


def _dart(ring: Ring, loop: Ring, shapes: Sequence[Shape]) -> Iterator[ContourDart]:
    corners = _corners(loop)
    if len(corners) != 4:
        return
    one, other = (corners[0], corners[2]), (corners[1], corners[3])
    tips, sides = (
        (one, other)
        if one[0].distance(one[1]) > other[0].distance(other[1])
        else (
            other,
            (one[1], one[0]),
        )
    )
    off = _off(tips, sides)
    inside = all(_within(ring, p) for p in corners)
    if off is None or not inside:
        return
    told = all(_called(s) for s in shapes)
    long = tips[0].distance(tips[1])
    what = "called a dart in the file" if told else "a slender four-sided line inside the piece"
    because = Because(told and off <= SURELY_EQUAL, f"{what}, {long / 10:.1f} cm long")
    yield ContourDart(tips, sides, because, tuple(s.key for s in shapes))


def _corners(loop: Ring) -> list[Point]:
    """Where the line turns; none at all when one of its sides is no straight one."""
    segments = [s for s in loop if s.length() > 0.0]
    if any(_strays(s.start, s.end, Chain((s,))) for s in segments):
        return []
    joints = pairwise((segments[-1], *segments))
    turns = [
        (b.start, abs(a.tangent(1.0).angle_to(b.tangent(0.0))) > STRAIGHT_ON) for a, b in joints
    ]
    return [p for p, turned in turns if turned]


def _strays(start: Point, end: Point, side: Chain) -> bool:
    chord = end - start
    if chord.norm == 0.0:
        return True
    flat = (Point(float(x), float(y)) - start for x, y in side.flattened(tolerance=0.1))
    return max(abs(v.cross(chord)) for v in flat) / chord.norm**2 > STRAIGHT_LEG


def _off(tips: tuple[Point, Point], sides: tuple[Point, Point]) -> float | None:
    """By which share the sides that are sewn together differ at most; None for no dart."""
    long, wide = tips[0].distance(tips[1]), sides[0].distance(sides[1])
    if not (SHORTEST <= long <= LONGEST and 0.0 < wide <= WIDEST and long >= SLENDER * wide):
        return None
    along = (tips[1] - tips[0]).unit()
    if not all(0.0 < (p - tips[0]).dot(along) < long for p in sides):
        return None
    if (sides[0] - tips[0]).cross(along) * (sides[1] - tips[0]).cross(along) >= 0.0:
        return None
    pairs = [(sides[0].distance(t), sides[1].distance(t)) for t in tips]
    off = max(abs(a - b) / max(a, b) for a, b in pairs)
    return off if off <= EQUAL else None


def _within(ring: Ring, p: Point) -> bool:
    """Does p lie inside the ring, clear of it?"""
    if ring.nearest(p).distance <= MEETS:
        return False
    # A level line from p outwards crosses the outline an odd number of times.
    met = (ring.at(at) for at in ring.meets(p, Vector(1.0, 0.0)))
    return sum(q.x > p.x for q in met) % 2 == 1
