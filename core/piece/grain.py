"""The grain: which way it runs, and which end of the piece is the hem."""

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
from core.piece.model import Because, Dart, Grain, Kind, Role, Shape
from core.piece.words import (
    FLARED,
    NARROWING,
    is_bodice,
    is_from_the_waist,
    is_sleeve,
    role_in,
    says,
)

PAGE_DOWN = Vector(0.0, 1.0)
# An unnamed straight inner line is taken for the grain line when it is this long against
# the piece, stays this far (mm) clear of the outline, and is the longest such line.
LONG = 0.2
CLEAR = 5.0
# Clearly one-sided: the evidence for one end outweighs the other's by this. Two hints (a bend low
# down, and the widths) are not enough.
CLEAR_MARGIN = 2.6
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
# A cap lower than the last may, of a piece without a name, be a hem.
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
# A piece was laid upright on purpose when its grain is within 5 degrees of the vertical.
UPRIGHT = math.cos(math.radians(5.0))
# An end of the piece lies square to the grain within 20 degrees.
SQUARE = math.sin(math.radians(20.0))


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
    d = axis.direction
    edges = _plain_edges(ring, corners, darts)
    # Weights are by judgement; tests/core/piece/test_recognition.py measures what they do.
    evidence = (
        8.0 * _word_vote(ring, d, shapes)
        + 5.0 * _dart_vote(d, darts, name)
        + 5.0 * _crotch_vote(ring, d, edges)
        + 5.0 * _ends_vote(ring, d, edges, name)
        + 5.0 * _rounded_vote(ring, d, edges, name)
        + (BENT_SKIRT if says(name, FLARED) else BENT) * _bend_vote(d, edges)
        + _width_vote(ring, d, edges, darts, name)
    )
    # How the page lies and how the grain line was drawn decide, but never make it certain.
    drawing = _page_weight(axis) * d.dot(PAGE_DOWN) + (0.6 if axis.drawn else 0.0)
    down = d if evidence + drawing >= 0.0 else -d
    clear = abs(evidence) >= CLEAR_MARGIN and (evidence > 0.0) == (down is d)
    why = axis.because.why + ("" if clear else "; which end is the hem is not certain")
    return Grain(down, Because(axis.because.sure and clear, why), axis.shape)


def _page_weight(axis: Axis) -> float:
    """What the page's down is worth: little for a piece that was laid askew on it."""
    if not axis.drawn:
        return 2.5
    return 1.5 if abs(axis.direction.dot(PAGE_DOWN)) > UPRIGHT else 0.4


def _axis(ring: Ring, shapes: Sequence[Shape]) -> Axis:
    told = _longest([s for s in shapes if s.kind is Kind.GRAIN])
    if told is not None:
        return _axis_along(told, Because(True, "the grain line in the file"))
    free = [s for s in shapes if s.kind is None and _free_straight(ring, s)]
    longest = _longest(free)
    if longest is not None:
        guess = Because(False, "a straight inner line was taken for the grain line")
        return _axis_along(longest, guess)
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


def _axis_along(shape: Shape, because: Because) -> Axis:
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


def _word_vote(ring: Ring, d: Vector, shapes: Sequence[Shape]) -> float:
    """Lines that the file calls hem or waist tell the ends apart."""
    centre = ring.bounds().centre
    for s in shapes:
        if isinstance(s.geometry, Ring) or not isinstance(s.geometry, Chain):
            continue
        role = role_in(s.words)
        if role in (Role.HEM, Role.WAIST):
            side = (s.geometry.bounds().centre - centre).dot(d)
            return math.copysign(1.0, side if role is Role.HEM else -side)
    return 0.0


def _dart_vote(d: Vector, darts: Sequence[Dart], name: str) -> float:
    """A dart points away from its edge; most darts of these garments hang from the waist.

    Those of a sleeve do not tell: they are in the hem as often as at the cap; nor do those of
    a bodice, which hang from its shoulder, or stand on its lower edge.
    """
    if is_sleeve(name) or is_bodice(name):
        return 0.0
    ways = [(x.apex - x.mouth[0].towards(x.mouth[1], 0.5)).unit().dot(d) for x in darts]
    return float(np.sign(sum(math.copysign(1.0, w) for w in ways if abs(w) > ALONG)))


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


def _crotch_vote(ring: Ring, d: Vector, edges: Sequence[Chain]) -> float:
    """The hollow of the rise (or the armhole) ends at the widest point, its lower end."""
    sign = outward_sign(ring)
    hollows = [(hollow(e, sign), e) for e in edges if abs(_chord(e).dot(d)) > ALONG]
    depth, edge = max(hollows, key=lambda f: f[0], default=(0.0, None))
    if edge is None or depth < HOLLOW:
        return 0.0
    middle = _across(ring.bounds().centre, d)
    tip, other = sorted((edge.start, edge.end), key=lambda p: -abs(_across(p, d) - middle))
    if _seam_leaves(edges, edge, tip, d) and tip.distance(other) > MOST_HOLLOW:
        return 0.0
    # Where a shoulder is wider than the piece beneath the arm, the seam leaves the other end.
    if _seam_leaves(edges, edge, other, d) and not _seam_leaves(edges, edge, tip, d):
        return 0.0
    return math.copysign(1.0, (tip - other).dot(d))


def _seam_leaves(edges: Sequence[Chain], hollow_one: Chain, end: Point, d: Vector) -> bool:
    """Does an edge along the grain meet that one in its `end`?"""
    beside = [e for e in edges if e is not hollow_one and end in (e.start, e.end)]
    return any(abs(_chord(e).dot(d)) > ALONG for e in beside)


def _chord(edge: Chain) -> Vector:
    run = edge.end - edge.start
    return run.unit() if run.norm > 0.0 else run


def _ends_vote(ring: Ring, d: Vector, edges: Sequence[Chain], name: str) -> float:
    """A high cap over a level end is a sleeve's top; a bulge against a hollow a flared hem, or, of
    what is called a sleeve, the cap: that is never hollow."""
    level = _level(edges, d)
    if len(level) < 2:
        return 0.0
    two = sorted(level, key=lambda e: e.start.distance(e.end))[-2:]
    upper, lower = sorted(two, key=lambda e: _along(e.bounds().centre, d))
    high, low = _bulge(ring, upper), _bulge(ring, lower)
    sleeve = is_sleeve(name)
    cap = CAP / 2 if sleeve else CAP
    for vote, end, bulge, other in ((1.0, lower, low, high), (-1.0, upper, high, low)):
        if cap < bulge < MOST_CAP and abs(other) < LEVEL:
            if is_from_the_waist(name):
                return 0.0
            if sleeve:
                return -vote
            # Without a name it may be a deep hem: a low one, or one below a bent hip.
            if bulge < HIGH_CAP:
                return 0.0
            return -vote / 2.0 if vote * _bend_vote(d, edges) > 0.0 else -vote
        if bulge > BULGES and other < -BULGES:
            if sleeve:
                return -vote
            # A cap stands out by more than seams that part so little could make a hem do.
            flare = _flare(edges, end)
            flared = flare > BULGES and bulge < MOST_FLARE + 1.5 * flare
            return vote if flared and end is two[-1] else 0.0
    return 0.0


def _level(edges: Sequence[Chain], d: Vector) -> list[Chain]:
    """What of the outline runs across, from seam to seam: a hem with corners in it is one."""
    across = [abs(_chord(e).dot(d)) < SQUARE for e in edges]
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


def _rounded_vote(ring: Ring, d: Vector, edges: Sequence[Chain], name: str) -> float:
    """Where a seam runs through a rounded corner into the end of the piece, that is the hem."""
    votes = 0.0
    for e in edges:
        if _bulge(ring, e) < STANDS_OUT:
            continue
        # A seam that stays one comes and goes along the grain: its two ends cancel out.
        ways = [way.dot(d) for way in (e.segments[0].tangent(0.0), -e.segments[-1].tangent(1.0))]
        along = [math.copysign(1.0, way) for way in ways if abs(way) > ALONG]
        # Both ends running the same way: of a sleeve that is the cap.
        if not (is_sleeve(name) and abs(sum(along)) > 1.0):
            votes += sum(along)
    return float(np.sign(votes))


def _bulge(ring: Ring, edge: Chain) -> float:
    """How far the edge stands out over its chord, as a share of it; negative when hollow."""
    sign = outward_sign(ring)
    out, inside = hollow(edge, -sign), hollow(edge, sign)
    return out if out > inside else -inside


def _along(p: Point, d: Vector) -> float:
    return p.x * d.x + p.y * d.y


def _across(p: Point, d: Vector) -> float:
    return p.x * d.y - p.y * d.x


def _bend_vote(d: Vector, edges: Sequence[Chain]) -> float:
    """Seams bend over the hip, near the waist, and run straight into the hem."""
    balance = 0.0
    for edge in edges:
        down = _chord(edge).dot(d)
        upper, lower = _half_turns(edge if down > 0.0 else edge.reversed())
        if abs(down) > ALONG and max(upper, lower) < MOST_HIP_TURN:
            balance += upper - lower
    return float(np.sign(balance)) if abs(balance) > LEAST_HIP_TURN else 0.0


def _half_turns(edge: Chain) -> tuple[float, float]:
    """By how much the first and the second half of a line turn, from chord to chord."""
    length = edge.length()
    at = [edge.at(edge.at_length(length * k / 4)) for k in range(5)]
    chords = [b - a for a, b in itertools.pairwise(at)]
    return abs(chords[0].angle_to(chords[1])), abs(chords[2].angle_to(chords[3]))


def _width_vote(
    ring: Ring, d: Vector, edges: Sequence[Chain], darts: Sequence[Dart], name: str
) -> float:
    """Legs and sleeves narrow towards the hem; skirts widen: a hint, more where it is named. Shorts
    end above where they would be narrower than at the waist."""
    seen = profile(ring, d, darts)
    high, low = _between_seams(ring, d, edges) or (
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
    if says(name, FLARED):
        whole = float(np.ptp(seen.widths))
        flares = max(first, last) > max(FLARES * min(first, last), WIDEST * whole)
        return -(FLARE if flares else NAMELESS) * narrows
    long = low - high > LONG_LEG * max(first, last)
    return narrows * (LEG if long and says(name, NARROWING) else NAMELESS)


def _widest(seen: Profile, high: float, low: float) -> float:
    """How wide the piece is from one level to another, by its samples there."""
    widths = seen.widths[(seen.heights >= high) & (seen.heights <= low)]
    return float(np.ptp(widths)) if len(widths) else 0.0


def _between_seams(ring: Ring, d: Vector, edges: Sequence[Chain]) -> tuple[float, float] | None:
    """The levels between which the two longest seams run beside each other, so that a cap, a
    point or a slanting hem beyond them does not pass for the piece's width; None without such."""
    spans = []
    for e in edges:
        if abs(_chord(e).dot(d)) > ALONG:
            spans.append(sorted((_along(e.start, d), _along(e.end, d))))
    if len(spans) < 2:
        return None
    two = sorted(spans, key=lambda s: s[0] - s[1])[:2]
    high, low = max(s[0] for s in two), min(s[1] for s in two)
    heights = [_along(s.start, d) for s in ring.segments]
    beside = low - high > BESIDE * (max(heights) - min(heights))
    return (high, low) if beside else None
