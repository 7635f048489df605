"""The two classic ways on one piece: along the taper, and at a level. Knows nothing of Qt."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from core.alter.figures import hem_width
from core.alter.frame import Frame
from core.alter.lengthen import lengthen
from core.alter.level.climb import lowest_and_highest
from core.alter.level.insert import insert_at
from core.alter.level.model import LevelChange, Truing
from core.alter.model import Altered, Change, StepKind
from core.curve import Point, Ring
from core.errors import AlterationError, HemwardError
from core.piece.model import Piece

# The shares of the way down the seams that run into the hem at which a line is tried.
SHARES = (0.5, 0.6, 0.4, 0.7, 0.3, 0.8, 0.2)
SAME_PLACE = 1e-6


@dataclass(frozen=True)
class Way:
    """One way: the altered piece, its hem width in mm, and its sharpest new turn in radians."""

    altered: Altered
    hem_mm: float
    kink: float


@dataclass(frozen=True)
class Comparison:
    """Both ways by the same amount. ``area_mm2`` is how much larger the piece is at a level."""

    taper: Way
    level: Way
    at_mm: float
    area_mm2: float


def compared(altered: Altered, *, at_mm: float | None = None) -> Comparison:
    """The change of a piece done both ways; the seams at the level are trued straight.

    Straight, as a ruler trues them: a smooth curve has no kink, it spreads it. The level lies
    `at_mm` below the highest point; where it is not said, at that of the change, or half way down
    the seams. AlterationError when the piece allows one of the ways only.
    """
    before, by = altered.before, altered.change.by_mm
    taper = altered if altered.level is None else lengthen(before, Change(by))
    own = None if altered.level is None else altered.level.at_mm
    level = _at_level(before, by, own if at_mm is None else at_mm)
    areas = [abs(w.piece.ring.signed_area()) for w in (level, taper)]
    assert level.level is not None
    return Comparison(_way(taper), _way(level), level.level.at_mm, areas[0] - areas[1])


def _at_level(piece: Piece, by_mm: float, at_mm: float | None) -> Altered:
    begin, end = _span(piece)
    tried = [begin + share * (end - begin) for share in SHARES]
    ats = [at_mm] if at_mm is not None else tried
    for at in ats:
        try:
            return insert_at(piece, LevelChange(at, by_mm, true=Truing.STRAIGHT))
        except HemwardError:
            continue
    raise AlterationError(
        f"{piece.name}: no line was found at which that length can be put in, so the two ways"
        " cannot be compared. Try a smaller amount."
    )


def _span(piece: Piece) -> tuple[float, float]:
    """How far below the highest point both seams that run into the hem begin and end: a line
    between the two crosses both of them and no other."""
    frame = Frame(piece.grain.down)
    top, end = lowest_and_highest(piece.ring, frame)
    begin = top
    if piece.hem is not None:
        places = (piece.hem.first.place, piece.hem.last.place)
        end = min(frame.height(piece.ring.at(p)) for p in places)
        seams = [e for e in piece.edges if e.end == places[0] or e.start == places[1]]
        begin = max(
            (min(frame.height(piece.ring.at(p)) for p in (e.start, e.end)) for e in seams),
            default=top,
        )
    return begin - top, end - top


def _way(altered: Altered) -> Way:
    places = (
        [p for s in altered.steps if s.kind is StepKind.TAPER_POINTS for p in s.points]
        if altered.level is None
        else [
            p
            for s in altered.steps
            if s.kind is StepKind.TRUE_SEAMS
            for line in s.lines
            for p in (line.start, line.end)
        ]
    )
    return Way(altered, hem_width(altered.piece), _sharpest(altered, places))


def _sharpest(altered: Altered, places: Iterable[Point]) -> float:
    """By how much the new ring turns otherwise at one of the places than the old one did there,
    or did where the place came from; at most."""
    after, before = altered.piece.ring, altered.before.ring
    back = altered.before.grain.down * -altered.change.by_mm
    found = [0.0]
    for p in places:
        was = (_turn(before, p), _turn(before, p + back))
        # Where the old hem's corner was a seam that is carried on goes straight through.
        old = 0.0 if altered.level is None else next((t for t in was if t is not None), 0.0)
        found.append(abs((_turn(after, p) or 0.0) - old))
    return max(found)


def _turn(ring: Ring, p: Point) -> float | None:
    """By how much the ring turns at a joint, in radians with a sign; None without a joint."""
    for k, s in enumerate(ring.segments):
        if s.start.distance(p) < SAME_PLACE:
            into, out = ring.segments[k - 1].tangent(1.0), s.tangent(0.0)
            return math.atan2(into.cross(out), into.dot(out))
    return None
