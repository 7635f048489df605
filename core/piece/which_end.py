"""Which end of a piece is the hem: what is drawn tells, each thing with its weight."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.curve import Chain, Line, Point, Ring, Segment, Vector
from core.piece.corners import hollow, outward_sign
from core.piece.darts import plain_corners
from core.piece.hem import Profile, profile
from core.piece.model import Dart, Role, Shape
from core.piece.words import (
    FLARED,
    NARROWING,
    is_bodice,
    is_from_the_waist,
    is_sleeve,
    role_in,
    says,
)

# An edge is hollow when it lies this far inside its chord (share of the chord).
HOLLOW = 0.06
# No rise or armhole reaches further (mm, straight from end to end): where a hollow as long as that
# starts beside an opening along the grain, a sleeve is cut in one with the piece.
MOST_HOLLOW = 400.0
# Widths are compared over this share of the piece at each end, and count from this ratio on.
END_BAND = 0.1
TAPERS = 0.02
# An end of less than this share of the other one's width is a point.
POINTED = 0.12
# Two seams run beside each other over at least this share of the piece's height.
BESIDE = 0.3
NAMELESS, LEG, FLARE = 1.2, 2.5, 2.7
# A skirt that widens by less than this, or is wider elsewhere (share of its width), may be a narrow
# one, which does not flare.
FLARES, WIDEST = 1.25, 0.98
# A bend is that over the hip in a skirt; a leg may bend at the knee.
BENT, BENT_SKIRT = 1.3, 1.5
# A leg this much longer than wide narrows from the waist to its hem, as a rule.
LONG_LEG = 2.0
# A direction is along the grain within 45 degrees, else across it.
ALONG = math.cos(math.radians(45.0))
# How far an end stands out over its chord (share of the chord): a sleeve cap between these two
# against an end as level as the third; a flared hem against a waist as hollow.
# A cap lower than the last may be a hem, where no name tells of a sleeve.
CAP, MOST_CAP, LEVEL, HIGH_CAP = 0.15, 0.8, 0.05, 0.25
BULGES = 0.01
# A hem that follows its flare stands out as an arc does that is square to both seams, over their
# last stretch (share of their length), up to half as far again and this.
MOST_FLARE = 0.02
LAST_STRETCH = 0.25
# A seam and hem in one, with the rounded corner between, stand out over their chord this far.
STANDS_OUT = 0.1
# The bend over a hip (radians, from quarter to quarter of the seam): enough to tell it from
# scatter, and not the rounding of a hem corner.
LEAST_HIP_TURN = math.radians(1.5)
MOST_HIP_TURN = math.radians(25.0)
# An end of the piece lies square to the grain within 20 degrees.
SQUARE = math.sin(math.radians(20.0))


@dataclass(frozen=True)
class Seen:
    """What is looked at: a ring, a direction of its grain, its edges from corner to corner straight
    over darts, its darts, and what the piece is called.

    Every answer is a vote: above nought where the direction points to the hem, below where it
    points away from it.
    """

    ring: Ring
    down: Vector
    edges: tuple[Chain, ...]
    darts: tuple[Dart, ...]
    name: str

    @staticmethod
    def of(
        ring: Ring, down: Vector, corners: Sequence[int], darts: Sequence[Dart], name: str
    ) -> Seen:
        """`corners` are joints of the ring."""
        edges = tuple(_plain_edges(ring, corners, darts))
        return Seen(ring, down, edges, tuple(darts), name)

    def along(self, p: Point) -> float:
        """How far down p lies."""
        return p.x * self.down.x + p.y * self.down.y

    def across(self, p: Point) -> float:
        """How far across p lies."""
        return p.x * self.down.y - p.y * self.down.x

    def is_seam(self, edge: Chain) -> bool:
        """Does the edge run along the grain?"""
        return abs(_chord(edge).dot(self.down)) > ALONG


def evidence(of: Seen, shapes: Sequence[Shape]) -> float:
    """All that tells, weighed by judgement (tests/core/piece/test_recognition.py and
    test_never_surely_wrong.py measure what that does)."""
    bent = BENT_SKIRT if says(of.name, FLARED) else BENT
    return (
        8.0 * _word_vote(of, shapes)
        + 5.0 * _dart_vote(of)
        + 5.0 * _crotch_vote(of)
        + 5.0 * _ends_vote(of)
        + 5.0 * _rounded_vote(of)
        + bent * _bend_vote(of)
        + _width_vote(of)
    )


def _word_vote(of: Seen, shapes: Sequence[Shape]) -> float:
    """Lines that the file calls hem or waist tell the ends apart."""
    middle = of.along(of.ring.bounds().centre)
    for s in shapes:
        if isinstance(s.geometry, Ring) or not isinstance(s.geometry, Chain):
            continue
        role = role_in(s.words)
        if role in (Role.HEM, Role.WAIST):
            side = of.along(s.geometry.bounds().centre) - middle
            return math.copysign(1.0, side if role is Role.HEM else -side)
    return 0.0


def _dart_vote(of: Seen) -> float:
    """A dart points away from its edge; most darts of these garments hang from the waist.

    Those of a sleeve do not tell: they are in the hem as often as at the cap; nor do those of
    a bodice, which hang from its shoulder, or stand on its lower edge.
    """
    if is_sleeve(of.name) or is_bodice(of.name):
        return 0.0
    ways = [(x.apex - x.mouth[0].towards(x.mouth[1], 0.5)).unit() for x in of.darts]
    return float(
        np.sign(sum(math.copysign(1.0, w) for way in ways if abs(w := way.dot(of.down)) > ALONG))
    )


def _plain_edges(ring: Ring, corners: Sequence[int], darts: Sequence[Dart]) -> list[Chain]:
    """The outline from corner to corner, straight over darts; none for fewer than two corners."""
    size = len(ring)
    plain = plain_corners(corners, darts, size)
    if len(plain) < 2:
        return []
    over = {d.mouth_places[0].index: d.mouth_places[1].index for d in darts if d.mouth_places}
    out = []
    for a, b in zip(plain, (*plain[1:], plain[0]), strict=True):
        segments: list[Segment] = []
        gone, ahead = 0, (b - a) % size
        while gone < ahead:
            k = (a + gone) % size
            on = (over[k] - k) % size if k in over else 1
            leap = Line(ring.segments[k].start, ring.segments[(k + on) % size].start)
            segments.append(leap if k in over else ring.segments[k])
            gone += on
        out.append(Chain(tuple(segments)))
    return out


def _crotch_vote(of: Seen) -> float:
    """The hollow of the rise (or the armhole) ends at the widest point, its lower end."""
    sign = outward_sign(of.ring)
    hollows = [(hollow(e, sign), e) for e in of.edges if of.is_seam(e)]
    depth, edge = max(hollows, key=lambda f: f[0], default=(0.0, None))
    if edge is None or depth < HOLLOW:
        return 0.0
    middle = of.across(of.ring.bounds().centre)
    tip, other = sorted((edge.start, edge.end), key=lambda p: -abs(of.across(p) - middle))
    if _seam_leaves(of, edge, tip) and tip.distance(other) > MOST_HOLLOW:
        return 0.0
    # Where a shoulder is wider than the piece beneath the arm, the seam leaves the other end.
    if _seam_leaves(of, edge, other) and not _seam_leaves(of, edge, tip):
        return 0.0
    return math.copysign(1.0, (tip - other).dot(of.down))


def _seam_leaves(of: Seen, edge: Chain, end: Point) -> bool:
    """Does another edge, along the grain, meet that one in its `end`?"""
    return any(of.is_seam(e) for e in of.edges if e is not edge and end in (e.start, e.end))


def _chord(edge: Chain) -> Vector:
    run = edge.end - edge.start
    return run.unit() if run.norm > 0.0 else run


def _ends_vote(of: Seen) -> float:
    """A high cap over a level end is a sleeve's top; a bulge against a hollow a flared hem, or, of
    what is called a sleeve, the cap: that is never hollow."""
    level = _level(of)
    if len(level) < 2:
        return 0.0
    narrow, wide = sorted(level, key=lambda e: e.start.distance(e.end))[-2:]
    upper, lower = sorted((narrow, wide), key=lambda e: of.along(e.bounds().centre))
    high, low = _bulge(of.ring, upper), _bulge(of.ring, lower)
    sleeve = is_sleeve(of.name)
    cap = CAP / 2 if sleeve else CAP
    for vote, end, bulge, other in ((1.0, lower, low, high), (-1.0, upper, high, low)):
        if cap < bulge < MOST_CAP and abs(other) < LEVEL:
            return -vote if sleeve else _cap_vote(of, -vote, bulge)
        if bulge > BULGES and other < -BULGES:
            flared = end is wide and _is_flared(of.edges, end, bulge)
            return -vote if sleeve else vote if flared else 0.0
    return 0.0


def _cap_vote(of: Seen, vote: float, bulge: float) -> float:
    """Of a piece that is called no sleeve: what looks like a cap may be a deep hem, where it is
    low, or below a bent hip."""
    if is_from_the_waist(of.name) or bulge < HIGH_CAP:
        return 0.0
    return vote / 2.0 if vote * _bend_vote(of) < 0.0 else vote


def _is_flared(edges: Sequence[Chain], end: Chain, bulge: float) -> bool:
    """Do its seams part so that a hem square to them would stand out like that? A cap stands out by
    more."""
    flare = _flare(edges, end)
    return flare > BULGES and bulge < MOST_FLARE + 1.5 * flare


def _level(of: Seen) -> list[Chain]:
    """What of the outline runs across, from seam to seam: a hem with corners in it is one."""
    edges = of.edges
    across = [abs(_chord(e).dot(of.down)) < SQUARE for e in edges]
    if all(across):
        return list(edges)
    first = across.index(False)
    turned = range(first, first + len(edges))
    runs = itertools.groupby((k % len(edges) for k in turned), key=lambda k: across[k])
    return [Chain(tuple(s for k in run for s in edges[k])) for level, run in runs if level]


def _flare(edges: Sequence[Chain], end: Chain) -> float:
    """How far an end of the piece that is square to both its seams, an arc, would stand out over
    its chord, as a share of it; 0 where they do not part."""
    before = next((e for e in edges if e.end == end.start), end)
    after = next((e for e in edges if e.start == end.end), end)
    a, b = before.length() * (1.0 - LAST_STRETCH), after.length() * LAST_STRETCH
    ways = before.end - before.at(before.at_length(a)), after.at(after.at_length(b)) - after.start
    angle = abs(ways[0].angle_to(-ways[1]))
    return math.tan(angle / 4.0) / 2.0


def _rounded_vote(of: Seen) -> float:
    """Where a seam runs through a rounded corner into the end of the piece, that is the hem."""
    votes = 0.0
    for e in of.edges:
        if _bulge(of.ring, e) < STANDS_OUT:
            continue
        # A seam that stays one comes and goes along the grain: its two ends cancel out.
        ways = [
            way.dot(of.down) for way in (e.segments[0].tangent(0.0), -e.segments[-1].tangent(1.0))
        ]
        along = [math.copysign(1.0, way) for way in ways if abs(way) > ALONG]
        # Both ends running the same way: of a sleeve that is the cap.
        if not (is_sleeve(of.name) and abs(sum(along)) > 1.0):
            votes += sum(along)
    return float(np.sign(votes))


def _bulge(ring: Ring, edge: Chain) -> float:
    """How far the edge stands out over its chord, as a share of it; negative when hollow."""
    sign = outward_sign(ring)
    out, inside = hollow(edge, -sign), hollow(edge, sign)
    return out if out > inside else -inside


def _bend_vote(of: Seen) -> float:
    """Seams bend over the hip, near the waist, and run straight into the hem; not a sleeve's."""
    if is_sleeve(of.name):
        return 0.0
    balance = 0.0
    for edge in filter(of.is_seam, of.edges):
        falls = _chord(edge).dot(of.down) > 0.0
        upper, lower = _half_turns(edge if falls else edge.reversed())
        if max(upper, lower) < MOST_HIP_TURN:
            balance += upper - lower
    return float(np.sign(balance)) if abs(balance) > LEAST_HIP_TURN else 0.0


def _half_turns(edge: Chain) -> tuple[float, float]:
    """By how much the first and the second half of a line turn, from chord to chord."""
    length = edge.length()
    at = [edge.at(edge.at_length(length * k / 4)) for k in range(5)]
    chords = [b - a for a, b in itertools.pairwise(at)]
    return abs(chords[0].angle_to(chords[1])), abs(chords[2].angle_to(chords[3]))


def _width_vote(of: Seen) -> float:
    """Legs and sleeves narrow towards the hem; skirts widen: a hint, more where it is named. Shorts
    end above where they would be narrower than at the waist."""
    seen = profile(of.ring, of.down, of.darts)
    high, low = _between_seams(of) or (
        float(np.min(seen.heights)),
        float(np.max(seen.heights)),
    )
    band = END_BAND * (low - high)
    first = _widest(seen, high, high + band)
    last = _widest(seen, low - band, low)
    if max(first, last) < (1.0 + TAPERS) * min(first, last):
        return 0.0
    # A point is the corner of a slanting hem, or a gore's top: neither end tells of narrowing.
    if min(first, last) < POINTED * max(first, last):
        return 0.0
    narrows = 1.0 if last < first else -1.0
    if says(of.name, FLARED):
        whole = float(np.ptp(seen.widths))
        flares = max(first, last) > max(FLARES * min(first, last), WIDEST * whole)
        return -(FLARE if flares else NAMELESS) * narrows
    long = low - high > LONG_LEG * max(first, last)
    return narrows * (LEG if long and says(of.name, NARROWING) else NAMELESS)


def _widest(seen: Profile, high: float, low: float) -> float:
    """How wide the piece is from one level to another, by its samples there."""
    widths = seen.widths[(seen.heights >= high) & (seen.heights <= low)]
    return float(np.ptp(widths)) if len(widths) else 0.0


def _between_seams(of: Seen) -> tuple[float, float] | None:
    """The levels between which the two longest seams run beside each other, so that a cap, a
    point or a slanting hem beyond them does not pass for the piece's width; None without such."""
    seams = filter(of.is_seam, of.edges)
    spans = [sorted((of.along(e.start), of.along(e.end))) for e in seams]
    if len(spans) < 2:
        return None
    two = sorted(spans, key=lambda s: s[0] - s[1])[:2]
    high, low = max(s[0] for s in two), min(s[1] for s in two)
    heights = [of.along(s.start) for s in of.ring.segments]
    beside = low - high > BESIDE * (max(heights) - min(heights))
    return (high, low) if beside else None
