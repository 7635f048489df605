"""The promises of an alteration, each looked after on what came out; all broken ones at once."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from core.alter.model import Altered, Finding, Severity
from core.alter.simple import is_simple
from core.check.above import first_changed
from core.check.crossing import crossing
from core.check.seams import Joined
from core.curve import Point
from core.piece.corners import corners, joint_turn
from core.piece.model import HemRun, Kind, Outline, Piece

# Dart intakes and the equality of dart legs are kept within this (mm).
DART = 0.01
# Joints of the same rank that turn alike within this (radians) are the same corner.
TURN = math.radians(3.0)
# The difference between two mated seams is kept within this (mm).
MATES = 0.05


def broken_promises(altered: Altered) -> tuple[Finding, ...]:
    """Every promise that one altered piece does not keep, as a located STOP; none is good.

    Above the taper points all is the very same; the outline is one simple ring; it grew when
    made longer and shrank when made shorter; darts keep their intake and legs that were
    equal; no corner came or went. A change by nothing must return the piece itself.
    """
    if altered.change.by_mm == 0.0:
        return tuple(_nothing(altered))
    if altered.before.hem is None or altered.piece.hem is None:
        return (_stop(altered.piece, "the hem was lost. Undo the change.", None),)
    return (
        *_above(altered),
        *_one_ring(altered),
        *_area(altered),
        *_darts(altered),
        *_corners(altered),
    )


def broken_between(pairs: Sequence[Joined]) -> tuple[Finding, ...]:
    """Every pair of mated seams whose difference in length did not stay."""
    return tuple(f for p in pairs for f in _difference(p))


def _stop(piece: Piece, what: str, place: Point | None) -> Finding:
    return Finding(Severity.STOP, f"{piece.name}: {what}", place)


def _nothing(altered: Altered) -> Iterator[Finding]:
    if altered.piece != altered.before:
        yield _stop(altered.piece, "a change by nothing changed the piece.", None)


def _lines(altered: Altered) -> Iterator[tuple[Outline, HemRun, Outline, HemRun]]:
    """Sewn line and, beside it, cutting line: before and after, each with its hem run."""
    old, new = altered.before, altered.piece
    assert old.hem is not None
    assert new.hem is not None
    yield old.sewn, old.hem, new.sewn, new.hem
    if old.cutting_hem is not None and new.cutting_hem is not None:
        yield old.outline, old.cutting_hem, new.outline, new.cutting_hem


def _above(altered: Altered) -> Iterator[Finding]:
    longer = altered.change.by_mm > 0.0
    for before, hem, after, new_hem in _lines(altered):
        at = first_changed(before, hem, after, new_hem, longer=longer)
        if at is not None:
            yield _stop(
                altered.piece,
                "the outline above the taper points is not what it was. Undo the change.",
                at,
            )


def _one_ring(altered: Altered) -> Iterator[Finding]:
    for before, _, after, _ in _lines(altered):
        if is_simple(before.ring) and not is_simple(after.ring):
            yield _stop(
                altered.piece,
                "the outline crosses itself. Change it by less, or check the taper points.",
                crossing(after.ring),
            )


def _area(altered: Altered) -> Iterator[Finding]:
    for before, _, after, new_hem in _lines(altered):
        grown = after.ring.area() - before.ring.area()
        if grown * altered.change.by_mm <= 0.0:
            way = "longer but not larger" if altered.change.by_mm > 0.0 else "shorter but larger"
            at = after.ring.at(new_hem.first.place)
            yield _stop(altered.piece, f"it was made {way}. Check the taper points.", at)


def _darts(altered: Altered) -> Iterator[Finding]:
    old, new = altered.before.darts, altered.piece.darts
    if len(old) != len(new):
        at = next((d.apex for d in old if d.apex not in {n.apex for n in new}), None)
        yield _stop(altered.piece, f"the number of darts was {len(old)} and is {len(new)}.", at)
        return
    for was, now in zip(old, new, strict=True):
        if abs(now.intake - was.intake) > DART:
            yield _stop(
                altered.piece,
                f"a dart takes in {now.intake:.1f} mm instead of {was.intake:.1f} mm.",
                now.apex,
            )
        off, was_off = (abs(d.legs[0] - d.legs[1]) for d in (now, was))
        if off > max(DART, was_off + DART):
            yield _stop(altered.piece, f"the legs of a dart differ by {off:.1f} mm.", now.apex)


def _corners(altered: Altered) -> Iterator[Finding]:
    old, new = corner_points(altered.before), corner_points(altered.piece)
    if len(old) == len(new):
        return
    rich, poor = altered.before, altered.piece
    if len(new) > len(old):
        rich, poor = poor, rich
    count = min(len(old), len(new))
    if _turns(rich)[count] - (*_turns(poor), 0.0)[count] <= TURN:
        return
    what = "a corner came up" if len(new) > len(old) else "a corner was lost"
    at = _odd_one(corner_points(rich), corner_points(poor))
    yield _stop(altered.piece, f"{what}: it had {len(old)} and has {len(new)}.", at)


def _turns(piece: Piece) -> list[float]:
    """How far the sewn line turns at each of its joints, in radians, largest first.

    On a digitised line a small rounding may count as a corner or not by a hair; but a corner
    that came or went shows in the row of turns.
    """
    return sorted((abs(joint_turn(piece.ring, k)) for k in range(len(piece.ring))), reverse=True)


def _odd_one(rich: Sequence[Point], poor: Sequence[Point]) -> Point | None:
    """Of the corners that are not in both, the one that is furthest from all others."""
    left = [p for p in rich if p not in set(poor)]
    rest = [p for p in poor if p not in set(rich)]
    return max(left, key=lambda p: min((p.distance(q) for q in rest), default=0.0), default=None)


def corner_points(piece: Piece) -> tuple[Point, ...]:
    """The corners of the sewn line in order, those the file tells included."""
    told = [m.geometry for m in piece.marks if m.kind is Kind.TURN_POINT]
    found = corners(piece.ring, told=[p for p in told if isinstance(p, Point)])
    return tuple(piece.ring.segments[k].start for k in found)


def _difference(pair: Joined) -> Iterator[Finding]:
    was = pair.second.before.length - pair.first.before.length
    now = pair.second.after.length - pair.first.after.length
    if abs(now - was) > MATES:
        yield Finding(
            Severity.STOP,
            f"{pair.called}: the lengths differed by {abs(was):.1f} mm and now differ by"
            f" {abs(now):.1f} mm. Change both pieces together.",
            pair.first.after.hem_end,
        )
