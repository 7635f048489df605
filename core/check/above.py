"""Is everything above the taper points the very same: same segments, same order?"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from core.alter.model import Altered, TurnUp
from core.alter.strand import chain_of, open_at_tapers
from core.curve import Chain, Line, NearestPlace, Point, Ring, Segment, Vector
from core.piece.corners import joint_turn
from core.piece.model import HemRun, Outline, Piece

# The end of a seam that was cut or carried on lies on the longer one within this (mm).
ON_SEAM = 1e-6
# A turn counts up to this (radians): what turns more does not carry the seam on.
STEEPEST = math.radians(60.0)


def first_changed(old: Chain, new: Chain, *, longer: bool) -> Point | None:
    """The first point above the taper points that is not as it was; None when all is.

    `old` and `new` are what stands above them, before and after. Made longer, the old line
    must stand whole in the new one; made shorter, the new in the old. Only its two last
    segments may differ, as the longer and the shorter part of one.
    """
    whole, part = (new.segments, old.segments) if longer else (old.segments, new.segments)
    if len(part) > len(whole):
        return new.start
    faults = [_fault(whole[k : k + len(part)], part) for k in range(len(whole) - len(part) + 1)]
    furthest = max(len(part) if f is None else f for f in faults)
    return None if furthest == len(part) else part[furthest].start


def upper_lines(altered: Altered) -> Iterator[tuple[Chain, Chain]]:
    """What stands above the taper points before and after: of the sewn line, and of the cutting
    line around it, the shorter of which ends beside the sewn taper points: from there on it may
    be drawn anew."""
    old, new = altered.before, altered.piece
    if old.hem is None or new.hem is None:
        return
    yield _upper(old.sewn, old.hem), _upper(new.sewn, new.hem)
    if old.cutting_hem is None or new.cutting_hem is None or old.stitching is None:
        return
    lines = _upper(old.outline, old.cutting_hem), _upper(new.outline, new.cutting_hem)
    folds = altered.change.turn_up is TurnUp.MIRROR
    if altered.change.by_mm > 0.0:
        yield _beside(lines[0], _bends(old, new.sewn.ring, folds=folds)), lines[1]
    else:
        yield lines[0], _beside(lines[1], _bends(new, old.sewn.ring, folds=folds))


def _upper(outline: Outline, hem: HemRun) -> Chain:
    return chain_of(open_at_tapers(outline, hem)[0])


@dataclass(frozen=True)
class _Bend:
    """A taper point of the sewn line, and by how much (radians) its seam turns there; `across` are
    the directions in which the cutting line's place beside it is looked for: square to the seam,
    and along the hem where a turn-up folds."""

    at: Point
    turn: float
    across: tuple[Vector, ...]


def _bends(piece: Piece, ring: Ring, *, folds: bool) -> tuple[_Bend, _Bend]:
    """The taper points of the piece; `ring` is the sewn line afterwards, which may turn there."""
    assert piece.hem is not None
    run = piece.ring.run(piece.hem.first.place, piece.hem.last.place).segments
    hems = run[0].tangent(0.0), run[-1].tangent(1.0)
    first, last = (
        _bend(piece.sewn.ring.at(t.place), ring, (t.down.square(), *((hem,) if folds else ())))
        for t, hem in zip((piece.hem.first, piece.hem.last), hems, strict=True)
    )
    return first, last


def _bend(at: Point, ring: Ring, across: tuple[Vector, ...]) -> _Bend:
    place = ring.nearest(at).place
    joint = place.index if place.t <= 0.0 else place.index + 1
    at_joint = ring.segments[joint % len(ring)].start.distance(at) <= ON_SEAM
    return _Bend(at, joint_turn(ring, joint % len(ring)) if at_joint else 0.0, across)


def _beside(line: Chain, bends: tuple[_Bend, _Bend]) -> Chain:
    """The cutting line without what lies below the sewn taper points.

    Where a seam turns, the cutting lines beside it meet above the place beside the taper point,
    by tan(turn / 2) of the allowance where they run evenly, by at most tan(turn) of it. And that
    place lies across the seam, of which a digitised cutting line has not quite the direction.
    """
    length = line.length()
    places = sorted(((line.nearest(b.at), b) for b in bends), key=lambda f: f[0].place)
    (start, first), (end, second) = places
    low = line.length_to(start.place) + _reach(line, start, first)
    high = line.length_to(end.place) - _reach(line, end, second)
    if not 0.0 <= low < high <= length:
        return line
    return line.part(line.at_length(low), line.at_length(high))


def _reach(line: Chain, beside: NearestPlace, bend: _Bend) -> float:
    way = line.tangent(beside.place)
    off = max(abs(way.dot(a)) / max(abs(way.cross(a)), math.cos(STEEPEST)) for a in bend.across)
    return beside.distance * (math.tan(min(abs(bend.turn), STEEPEST)) + off) + ON_SEAM


def _fault(whole: Sequence[Segment], part: Sequence[Segment]) -> int | None:
    """Number of the first segment that is not the same; None when all are."""
    last = len(part) - 1
    for k, (a, b) in enumerate(zip(whole, part, strict=True)):
        if a == b or (k == 0 and _is_end(a, b, at_start=True)):
            continue
        if k == last and _is_end(a, b, at_start=False):
            continue
        return k
    return None


def _is_end(whole: Segment, part: Segment, *, at_start: bool) -> bool:
    """Is `part` what is left of `whole` when its free end was cut or not yet carried on?"""
    if isinstance(whole, Line) is not isinstance(part, Line):
        return False
    kept = part.end == whole.end if at_start else part.start == whole.start
    middle = part.at(0.5)
    free = part.start if at_start else part.end
    return kept and max(whole.nearest(p).distance for p in (middle, free)) <= ON_SEAM
