"""The grain: which way it runs, and which end of the piece is the hem."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.curve import Chain, Line, Place, Point, Ring, Vector
from core.piece.corners import outward_sign
from core.piece.hem import profile
from core.piece.model import Because, Dart, Grain, Kind, Role, Shape
from core.piece.words import role_in, says

PAGE_DOWN = Vector(0.0, 1.0)
# An unnamed straight inner line is taken for the grain line when it is this long against
# the piece, stays this far (mm) clear of the outline, and is the longest such line.
LONG = 0.2
CLEAR = 5.0
# Clearly one-sided: the votes for one end outweigh the other's by this.
CLEAR_MARGIN = 1.0
# An edge is hollow when it lies this far inside its chord (share of the chord).
HOLLOW = 0.06
# Widths are compared over this share of the piece at each end, and count from this ratio on.
END_BAND = 0.1
TAPERS = 0.02
FLARED = ("skirt", "skirts", "flare", "flared", "gore", "godet", "panel")


@dataclass(frozen=True)
class Axis:
    """A direction of the grain whose sense is still open."""

    direction: Vector
    because: Because
    shape: int | None
    drawn: bool


def find_grain(
    ring: Ring, shapes: Sequence[Shape], corners: Sequence[int], darts: Sequence[Dart], name: str
) -> Grain:
    """The grain of a piece, pointing towards its hem.

    The line comes from the file's own words or layers, else from the longest free straight
    inner line (unsure), else it is the page's vertical (unsure). Its sense is voted on by
    what is drawn: words, darts, the crotch, the cap, the narrowing, the page.
    """
    axis = _axis(ring, shapes)
    votes = _votes(axis, ring, shapes, name, corners=corners, darts=darts)
    balance = sum(votes)
    down = axis.direction if balance >= 0.0 else -axis.direction
    doubtful = abs(balance) < CLEAR_MARGIN and not _upright(down)
    sure = axis.because.sure and not doubtful
    why = axis.because.why + ("; which end is the hem is not certain" if doubtful else "")
    return Grain(down, Because(sure, why), axis.shape)


def _upright(down: Vector) -> bool:
    return down.dot(PAGE_DOWN) > 0.7


def _axis(ring: Ring, shapes: Sequence[Shape]) -> Axis:
    told = _longest([s for s in shapes if s.kind is Kind.GRAIN])
    if told is not None:
        return _along(told, Because(True, "the grain line in the file"))
    free = [s for s in shapes if s.kind is None and _free_straight(ring, s)]
    longest = _longest(free)
    if longest is not None:
        return _along(longest, Because(False, "a straight inner line was taken for the grain line"))
    return Axis(
        PAGE_DOWN,
        Because(False, "there is no grain line, so the page's vertical was taken"),
        None,
        False,
    )


def _longest(shapes: Sequence[Shape]) -> Shape | None:
    lines = [s for s in shapes if isinstance(s.geometry, Chain) and _stroke(s.geometry) is not None]
    return max(lines, key=_length, default=None)


def _length(shape: Shape) -> float:
    stroke = _stroke(shape.geometry) if isinstance(shape.geometry, Chain) else None
    return stroke.length() if stroke is not None else 0.0


def _stroke(chain: Chain) -> Line | None:
    """The longest straight line in a drawing of a grain line (arrowheads are shorter)."""
    lines = [s for s in chain if isinstance(s, Line)]
    return max(lines, key=lambda s: s.length(), default=None)


def _along(shape: Shape, because: Because) -> Axis:
    stroke = _stroke(shape.geometry) if isinstance(shape.geometry, Chain) else None
    if stroke is None or stroke.length() == 0.0:
        return Axis(PAGE_DOWN, Because(False, "the grain line has no direction"), None, False)
    return Axis(stroke.tangent(0.0), because, shape.key, True)


def _free_straight(ring: Ring, shape: Shape) -> bool:
    chain = shape.geometry
    if not isinstance(chain, Chain) or len(chain) != 1 or not isinstance(chain.segments[0], Line):
        return False
    box = ring.bounds()
    if chain.length() < LONG * max(box.width, box.height):
        return False
    return all(ring.nearest(p).distance > CLEAR for p in (chain.start, chain.end))


def _votes(
    axis: Axis,
    ring: Ring,
    shapes: Sequence[Shape],
    name: str,
    *,
    corners: Sequence[int],
    darts: Sequence[Dart],
) -> list[float]:
    """Weights for (positive) and against (negative) the hem lying where the axis points."""
    d = axis.direction
    # Weights are by judgement; tests/core/piece/test_recognition.py measures what they do.
    return [
        6.0 * _word_vote(ring, d, shapes),
        3.0 * _dart_vote(d, darts),
        3.0 * _crotch_vote(ring, d, corners, darts),
        1.0 * _width_vote(ring, d, darts, name),
        1.5 * d.dot(PAGE_DOWN),
        0.6 if axis.drawn else 0.0,
    ]


def _word_vote(ring: Ring, d: Vector, shapes: Sequence[Shape]) -> float:
    """Lines that the file calls hem or waist tell the ends apart."""
    centre = ring.bounds().centre
    for s in shapes:
        role = role_in(s.words) if isinstance(s.geometry, Chain) else None
        if role in (Role.HEM, Role.WAIST) and isinstance(s.geometry, Chain):
            side = (s.geometry.bounds().centre - centre).dot(d)
            return math.copysign(1.0, side if role is Role.HEM else -side)
    return 0.0


def _dart_vote(d: Vector, darts: Sequence[Dart]) -> float:
    """A dart points away from its edge; most darts of these garments hang from the waist."""
    senses = [
        math.copysign(1.0, (x.apex - x.mouth[0].towards(x.mouth[1], 0.5)).dot(d)) for x in darts
    ]
    return float(np.sign(sum(senses))) if senses else 0.0


def _crotch_vote(
    ring: Ring, d: Vector, corners: Sequence[int], darts: Sequence[Dart]
) -> float:
    """The hollow of the rise (or the armhole) ends at the widest point, its lower end."""
    feet = {p.index for x in darts if x.mouth_places for p in x.mouth_places}
    plain = [k for k in corners if k not in feet]
    if len(plain) < 2:
        return 0.0
    edges = [
        ring.run(Place(a, 0.0), Place(b, 0.0))
        for a, b in zip(plain, (*plain[1:], plain[0]), strict=True)
    ]
    depth, edge = max(((hollow(e, outward_sign(ring)), e) for e in edges), key=lambda f: f[0])
    if depth < HOLLOW:
        return 0.0
    middle = _across(ring.bounds().centre, d)
    tip, other = sorted(
        (edge.start, edge.end), key=lambda p: -abs(_across(p, d) - middle)
    )
    return math.copysign(1.0, (tip - other).dot(d))


def _across(p: Point, d: Vector) -> float:
    return p.x * d.y - p.y * d.x


def hollow(edge: Chain, sign: float) -> float:
    """How far the edge lies inside its chord, as a share of the chord."""
    chord = edge.end - edge.start
    if chord.norm == 0.0:
        return 0.0
    flat = edge.flattened(tolerance=1.0) - np.array((edge.start.x, edge.start.y))
    inward = sign * (chord.x * flat[:, 1] - chord.y * flat[:, 0]) / chord.norm
    return float(np.max(inward)) / chord.norm


def _width_vote(ring: Ring, d: Vector, darts: Sequence[Dart], name: str) -> float:
    """Legs and sleeves narrow towards the hem; skirts widen."""
    seen = profile(ring, d, darts)
    low, high = float(np.min(seen.heights)), float(np.max(seen.heights))
    band = END_BAND * (high - low)
    first = float(np.ptp(seen.widths[seen.heights < low + band]))
    last = float(np.ptp(seen.widths[seen.heights > high - band]))
    if max(first, last) < (1.0 + TAPERS) * min(first, last):
        return 0.0
    narrows = 1.0 if last < first else -1.0
    return -narrows if says(name, FLARED) else narrows
