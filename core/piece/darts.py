"""Darts: notches of the outline with two equal legs, or two lines that meet inside."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import TypeGuard

from core.curve import Chain, Line, Place, Point, Ring
from core.piece.corners import hollow, joint_turn, outward_sign
from core.piece.model import Because, Dart, Kind, Shape

# Common practice, no source: darts take in at most this much (mm) and are longer than wide.
WIDEST = 90.0
SHORTEST = 20.0
LONGEST = 320.0
# The legs are sewn together, so they are equal; drawn darts keep this share.
EQUAL = 0.15
SURELY_EQUAL = 0.03
# A leg may curve a little: it strays from its chord by less than this share of it.
STRAIGHT_LEG = 0.1
# A dart's apex turns back by at least this (radians).
APEX_TURN = math.radians(110.0)
# Ends of dart lines within this (mm) of the outline or of each other meet.
MEETS = 2.0
# Legs of darts in every size that end in one place.
MOST_LEGS = 64

# A line in one of its two directions: its number and key among the shapes, and itself.
_Way = tuple[int, int, Chain]


def notch_darts(ring: Ring, corners: Sequence[int]) -> tuple[Dart, ...]:
    """Darts drawn as notches of the outline, in ring order."""
    sign, found = outward_sign(ring), []
    size = len(corners)
    for i in range(size if size > 4 else 0):
        a, apex, b = corners[i], corners[(i + 1) % size], corners[(i + 2) % size]
        if joint_turn(ring, apex) * sign > -APEX_TURN:
            continue
        dart = _notch(ring, a, apex, b)
        if dart is not None:
            found.append(dart)
    return tuple(found)


def _notch(ring: Ring, a: int, apex: int, b: int) -> Dart | None:
    legs = [ring.run(Place(a, 0.0), Place(apex, 0.0)), ring.run(Place(apex, 0.0), Place(b, 0.0))]
    mouth = (ring.segments[a].start, ring.segments[b].start)
    tip = ring.segments[apex].start
    straight = all(max(hollow(leg, 1.0), hollow(leg, -1.0)) < STRAIGHT_LEG for leg in legs)
    because = _dart_shape(mouth, tip, "a notch of the outline with two legs")
    if because is None or not straight:
        return None
    return Dart(mouth, tip, because, mouth_places=(Place(a, 0.0), Place(b, 0.0)))


def _dart_shape(mouth: tuple[Point, Point], tip: Point, what: str) -> Because | None:
    first, second = mouth[0].distance(tip), mouth[1].distance(tip)
    width, longer = mouth[0].distance(mouth[1]), max(first, second)
    if not (0.0 < width <= min(WIDEST, longer) and SHORTEST <= longer <= LONGEST):
        return None
    off = abs(first - second) / longer
    if off > EQUAL:
        return None
    return Because(off <= SURELY_EQUAL, f"{what} of {first / 10:.1f} and {second / 10:.1f} cm")


def plain_corners(corners: Sequence[int], darts: Sequence[Dart], size: int) -> list[int]:
    """The corners of a ring of `size` segments that are no mouth or tip of an outline dart."""
    inside: set[int] = set()
    for d in darts:
        if d.mouth_places is not None:
            a, b = d.mouth_places[0].index, d.mouth_places[1].index
            inside.update((a + k) % size for k in range((b - a) % size + 1))
    return [k for k in corners if k not in inside]


def off_caps(ring: Ring, corners: Sequence[int], darts: Sequence[Dart]) -> list[int]:
    """The corners of the ring that are no point of a dart cap: where the edge goes out over the
    mouth of a dart that is drawn as lines on it, between the ends of that mouth."""
    spans = [_span(ring, d) for d in darts if d.mouth_places is None]
    return [k for k in corners if not any(_within(Place(k, 0.0), a, b) for a, b in spans)]


def _span(ring: Ring, dart: Dart) -> tuple[Place, Place]:
    """The ends of the mouth on the ring, in its order, the short way round."""
    feet = [ring.nearest(p) for p in dart.mouth]
    a, b = sorted(f.place for f in feet)
    length = ring.length_to(b) - ring.length_to(a)
    return (a, b) if length <= ring.length() / 2 else (b, a)


def _within(place: Place, a: Place, b: Place) -> bool:
    """Does the place lie strictly on the way round the ring from a to b?"""
    return a < place < b if a <= b else place > a or place < b


def line_darts(ring: Ring, shapes: Sequence[Shape]) -> tuple[Dart, ...]:
    """Darts drawn as lines inside a plain edge; `shapes` are the piece's open inner lines.

    A shape that the file calls a dart is one when it fits; two nameless equal lines from
    the edge to a common point inside are one, unsure.
    """
    told = [s for s in shapes if s.kind is Kind.DART]
    untold = [s for s in shapes if s.kind in (None, Kind.INNER)]
    found = [d for s in told for d in _one_shape(ring, s, told=True)]
    found += _pairs(ring, told, told=True)
    found += [d for s in untold for d in _one_shape(ring, s, told=False)]
    found += _pairs(ring, untold, told=False)
    return tuple(found)


def _one_shape(ring: Ring, shape: Shape, *, told: bool) -> Iterator[Dart]:
    """A dart drawn in one go: mouth, apex, mouth."""
    chain = shape.geometry
    if not isinstance(chain, Chain) or len(chain) not in (2, 3):
        return
    points = [chain.start, *(s.end for s in chain)]
    if isinstance(chain, Ring):
        points = points[:-1]
    if len(points) != 3 or not all(isinstance(s, Line) for s in chain):
        return
    apex = max(points, key=lambda p: ring.nearest(p).distance)
    feet = [p for p in points if p is not apex]
    yield from _from_feet(ring, feet[0], feet[1], apex, (shape.key,), told=told)


def _pairs(ring: Ring, shapes: Sequence[Shape], *, told: bool) -> list[Dart]:
    """Two single lines from the edge to a common point inside."""
    ways: dict[tuple[Point, Point], _Way] = {}
    for number, s in enumerate(shapes):
        if _may_be_leg(s.geometry):
            for way in (s.geometry, s.geometry.reversed()):
                # Of lines drawn on top of each other the first.
                ways.setdefault((way.start, way.end), (number, s.key, way))
    found: list[Dart] = []
    for (a, first, p), (b, second, q) in _ending_together(list(ways.values())):
        if a != b and ring.nearest(p.end).distance > MEETS:
            found += _from_feet(ring, p.start, q.start, p.end, (first, second), told=told)
    return found


def _may_be_leg(line: Ring | Chain | Point) -> TypeGuard[Chain]:
    return (
        isinstance(line, Chain)
        and not isinstance(line, Ring)
        and len(line) == 1
        and SHORTEST * (1.0 - EQUAL) <= line.start.distance(line.end) <= LONGEST
    )


def _ending_together(ways: Sequence[_Way]) -> Iterator[tuple[_Way, _Way]]:
    """The pairs, in order, that end within MEETS of each other.

    By squares of that size: among a hundred thousand lines nearly all are far apart. Where more
    than MOST_LEGS end there is a star, and no dart.
    """
    squares: dict[tuple[int, int], list[int]] = {}
    for n, (_, _, way) in enumerate(ways):
        squares.setdefault(_square(way.end), []).append(n)
    for n, (_, _, way) in enumerate(ways):
        x, y = _square(way.end)
        around = itertools.product((x - 1, x, x + 1), (y - 1, y, y + 1))
        rows = [squares.get(square, ()) for square in around]
        if sum(map(len, rows)) > MOST_LEGS:
            continue
        near = sorted(m for row in rows for m in row if m > n)
        yield from ((ways[n], ways[m]) for m in near if way.end.distance(ways[m][2].end) <= MEETS)


def _square(p: Point) -> tuple[int, int]:
    return math.floor(p.x / MEETS), math.floor(p.y / MEETS)


def _from_feet(
    ring: Ring, a: Point, b: Point, apex: Point, keys: tuple[int, ...], *, told: bool
) -> Iterator[Dart]:
    on_a, on_b = ring.nearest(a), ring.nearest(b)
    if max(on_a.distance, on_b.distance) > MEETS:
        return
    what = "called a dart in the file" if told else "two lines from the edge meet inside"
    because = _dart_shape((a, b), apex, f"{what}, legs")
    if because is None:
        return
    mouth = (a, b) if on_a.place <= on_b.place else (b, a)
    yield Dart(mouth, apex, Because(told and because.sure, because.why), shapes=keys)
