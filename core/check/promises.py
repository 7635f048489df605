"""The promises of an alteration, each looked after on what came out; all broken ones at once.

A change at the hem leaves all above the taper points as it was; one at a level leaves all
above the line as it was and moves all below it by the amount. The rest is the same for both.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from core.alter.frame import Frame
from core.alter.model import Altered, DartCaps, Finding, HemWay, Severity, Whose
from core.alter.simple import is_simple
from core.check.above import first_changed, upper_lines
from core.check.at_level import hem_findings, misplaced, zone_of
from core.check.crossing import crossing
from core.check.flow import corner_points
from core.check.hang import turns_as_asked
from core.check.seams import Joined, Seam
from core.check.sewn import where_sewn
from core.curve import Point
from core.measure import TRUED, Length, Sentence, differences
from core.piece.corners import joint_turn
from core.piece.model import Dart, Outline, Piece

# Dart intakes and the equality of dart legs are kept within this (mm).
DART = 0.01
# Joints of the same rank that turn alike within this (radians) are the same corner.
TURN = math.radians(3.0)
# The difference between two mated seams is kept within this (mm).
MATES = 0.05
# What is told of a seam that turns sharply, as was asked.
_EASED = (
    "The seams turn where they leave their taper: choose a width nearer to it, or ease the bend."
)
_CUT = "The slid hem was cut within its rounding. Refit it to keep that."


def broken_promises(altered: Altered) -> tuple[Finding, ...]:
    """Every promise that one altered piece does not keep, with its place; none is good.

    Above the taper points all is the very same (at a level: above what was trued, and below
    it all is moved by the amount, the hem the very same); the outline is one simple ring; it
    grew when made longer and shrank when made shorter; darts keep their intake and legs that
    were equal; no corner came or went. A change by nothing must return the piece itself.
    Each is a STOP, but for what truing a seam at a level may do to a corner: a LOOK.
    """
    if altered.change.by_mm == 0.0:
        return tuple(_nothing(altered))
    if altered.before.hem is not None and altered.piece.hem is None:
        return (_stop(altered.piece, "the hem was lost. Undo the change.", None),)
    own = _above(altered) if altered.level is None else _at_level(altered)
    return (
        *own,
        *_one_ring(altered),
        *_area(altered),
        *_darts(altered),
        *_contours(altered),
        *_corners(altered),
    )


def broken_between(pairs: Sequence[Joined]) -> tuple[Finding, ...]:
    """Every pair of mated seams whose difference in length did not stay.

    Each is a STOP; where the same was put in at a level of both and only the truing parts
    them, a note up to what the trade trues to, and else something to look at.
    """
    return tuple(f for p in pairs for f in _difference(p))


def _stop(piece: Piece, what: str, place: Point | None) -> Finding:
    told = Sentence("{name}: {what}", name=piece.name, what=what)
    return Finding(Severity.STOP, told, place, Whose.of(piece))


def _nothing(altered: Altered) -> Iterator[Finding]:
    if altered.piece != altered.before:
        yield _stop(altered.piece, "a change by nothing changed the piece.", None)


def _lines(altered: Altered) -> Iterator[tuple[Outline, Outline]]:
    """Sewn line and, around it, cutting line: before and after."""
    old, new = altered.before, altered.piece
    yield old.sewn, new.sewn
    if old.stitching is not None and new.stitching is not None:
        yield old.outline, new.outline


def _at_level(altered: Altered) -> Iterator[Finding]:
    assert altered.level is not None
    for at in misplaced(altered, altered.level):
        what = "away from the line the outline is neither as it was nor moved by the amount."
        yield _stop(altered.piece, f"{what} Undo the change.", at)
    yield from hem_findings(altered, altered.level)


def _above(altered: Altered) -> Iterator[Finding]:
    longer = altered.change.by_mm > 0.0
    # Where allowances were told, a turn-up folds where it is sewn: above that the cutting line
    # stays. The sewn line is not drawn, but made of it.
    sewn = where_sewn(altered)
    lines = list(upper_lines(sewn))
    for before, after in lines if sewn is altered else lines[1:]:
        at = first_changed(before, after, longer=longer)
        if at is not None:
            yield _stop(
                altered.piece,
                "the outline above the taper points is not what it was. Undo the change.",
                at,
            )


def _one_ring(altered: Altered) -> Iterator[Finding]:
    for before, after in _lines(altered):
        if is_simple(before.ring) and not is_simple(after.ring):
            yield _stop(
                altered.piece,
                f"the outline crosses itself. Change it by less, or {_check(altered)}.",
                crossing(after.ring),
            )


def _check(altered: Altered) -> str:
    """What a maker looks at when the outline came out wrong."""
    return "check the taper points" if altered.level is None else "choose another line"


def _low_end(piece: Piece) -> Point:
    """A point by which the lower part of a piece is shown."""
    if piece.hem is not None:
        return piece.ring.at(piece.hem.first.place)
    return max((s.start for s in piece.ring), key=Frame(piece.grain.down).height)


def _area(altered: Altered) -> Iterator[Finding]:
    advice = _check(altered).capitalize()
    for before, after in _lines(altered):
        grown = after.ring.area() - before.ring.area()
        if grown * altered.change.by_mm <= 0.0:
            way = "longer but not larger" if altered.change.by_mm > 0.0 else "shorter but larger"
            told = _stop(altered.piece, f"it was made {way}. {advice}.", _low_end(altered.piece))
            if altered.level is not None:
                yield _trued_away(told, longer=altered.change.by_mm > 0.0)
            else:
                yield _explained(altered, told)


def _explained(altered: Altered, told: Finding) -> Finding:
    """A curved hem keeps its angle to seams that turn, and swings up between them."""
    if _drawn_anew(altered):
        return _hollowed(told)
    if not turns_as_asked(altered.change):
        return told
    sentence = (
        f"{altered.piece.name}: it was made longer but not larger, for the hem swings up between"
        " seams that turn where they leave their taper. Slide and trim the hem, make it longer by"
        " more, or choose a width nearer to it."
    )
    return replace(told, severity=Severity.LOOK, sentence=sentence)


def _drawn_anew(altered: Altered) -> bool:
    """Was a hem asked for that may be hollowed by more than a small change adds?"""
    asked = altered.change
    return asked.hem is HemWay.SQUARE or asked.dart_caps is DartCaps.CLOSED


def _hollowed(told: Finding) -> Finding:
    sentence = f"{told.sentence} Drawing the hem anew took more than that."
    return replace(told, severity=Severity.LOOK, sentence=sentence)


def _trued_away(told: Finding, *, longer: bool) -> Finding:
    """At a level truing a much curved line may take, or give, more than was put in or folded out:
    as it was asked."""
    did = "took" if longer else "gave"
    sentence = f"{told.sentence} Truing {did} more than that; true smoothly, or over less."
    return replace(told, severity=Severity.LOOK, sentence=sentence)


def _darts(altered: Altered) -> Iterator[Finding]:
    old, new = altered.before.darts, altered.piece.darts
    if len(old) != len(new):
        at = next((d.apex for d in old if d.apex not in {n.apex for n in new}), None)
        yield _stop(altered.piece, f"the number of darts was {len(old)} and is {len(new)}.", at)
        return
    for was, now in zip(old, new, strict=True):
        if abs(now.intake - was.intake) > DART:
            yield _stop(altered.piece, _taken_in("a dart", now.intake, was.intake), now.apex)
        off, was_off = (abs(d.legs[0] - d.legs[1]) for d in (now, was))
        if off > max(DART, was_off + DART):
            yield _legs(altered.piece, now, off, was_off)


def _legs(piece: Piece, dart: Dart, off: float, was_off: float) -> Finding:
    """Legs that were equal must stay so; of others a little more is told as what it is."""
    little = was_off > DART and off - was_off <= TRUED
    told = Sentence(
        "{name}: the legs of a dart differ by {off} ({was_off} before). {advice}",
        name=piece.name,
        off=Length(off, little=True),
        was_off=Length(was_off, little=True),
        advice="Make them equal." if little else "Undo the change.",
    )
    severity = Severity.LOOK if little else Severity.STOP
    return Finding(severity, told, dart.apex, Whose.of(piece))


def _taken_in(what: str, now: float, was: float) -> Sentence:
    form = "{what} takes in {now} instead of {was}."
    return Sentence(form, what=what, now=Length(now, little=True), was=Length(was, little=True))


def _contours(altered: Altered) -> Iterator[Finding]:
    old, new = altered.before.contours, altered.piece.contours
    if len(old) != len(new):
        at = next((d.centre for d in old if d.centre not in {n.centre for n in new}), None)
        what = f"the number of contour darts was {len(old)} and is {len(new)}."
        yield _stop(altered.piece, what, at)
        return
    for was, now in zip(old, new, strict=True):
        if abs(now.intake - was.intake) > DART:
            what = _taken_in("a contour dart", now.intake, was.intake)
            yield _stop(altered.piece, what, now.centre)


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
    told = _stop(
        altered.piece,
        f"{what}: it had {len(old)} and has {len(new)}.",
        _odd_one(corner_points(rich), corner_points(poor)),
    )
    explained = _by_turning if altered.level is None else _by_truing
    yield explained(altered, told, came_up=len(new) > len(old))


def _by_turning(altered: Altered, told: Finding, *, came_up: bool) -> Finding:
    """Seams that fall plumb, or run to a width, turn where they leave their taper, and a slid hem
    has a corner where it was cut within its rounding: as asked."""
    turns = turns_as_asked(altered.change)
    if not came_up or not (turns or altered.change.hem is HemWay.TRIM):
        return replace(told, sentence=f"{told.sentence} Undo the change.")
    sentence = f"{told.sentence} {_EASED if turns else _CUT}"
    return replace(told, severity=Severity.LOOK, sentence=sentence)


def _by_truing(altered: Altered, told: Finding, *, came_up: bool) -> Finding:
    """At a level, within reach of the line, truing makes and takes corners, as was asked: a seam
    that leans much and is trued over little gets one; one trued straight up to a corner may
    take it."""
    if not came_up and not _within_reach(altered, told.place):
        return replace(told, sentence=f"{told.sentence} Undo the change.")
    over = "more" if came_up else "less"
    sentence = f"{told.sentence} True the seams smoothly, or over {over} of their length."
    return replace(told, severity=Severity.LOOK, sentence=sentence)


def _within_reach(altered: Altered, place: Point | None) -> bool:
    """Is a place of the piece as it was one up to which a seam may be trued?"""
    assert altered.level is not None
    zone = zone_of(altered.before, altered.level)
    return place is not None and zone.top <= zone.level.frame.height(place) <= zone.bottom


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


def _difference(pair: Joined) -> Iterator[Finding]:
    was = pair.second.before.length - pair.first.before.length
    now = pair.second.after.length - pair.first.after.length
    if abs(now - was) <= MATES:
        return
    form = "the lengths differed by {was} and now differ by {now}."
    was_told, now_told = differences(was, now)
    lengths = Sentence(form, was=was_told, now=now_told)
    severity, advice = Severity.STOP, Sentence("Change both pieces together.")
    if _trued_apart(pair):
        little = abs(now - was) <= TRUED
        severity = Severity.NOTE if little else Severity.LOOK
        form = "; less than {trued} can stay." if little else ". True them again by hand."
        form = f"That comes of truing seams that lean differently{form}"
        advice = Sentence(form, trued=Length(TRUED, little=True))
    first = pair.first.after
    form = "{called}: {lengths} {advice}"
    told = Sentence(form, called=pair.called, lengths=lengths, advice=advice)
    yield Finding(severity, told, first.hem_end, Whose.of(first.piece))


def _trued_apart(pair: Joined) -> bool:
    """Was the same put in at a level of both, so that only the truing can have done this?

    Each seam is as much longer along the grain, from end to end: its line crosses it.
    """
    by = pair.first.level_mm
    return (
        by is not None
        and by == pair.second.level_mm
        and all(
            abs(_fall(seam.after) - _fall(seam.before) - by) <= MATES
            for seam in (pair.first, pair.second)
        )
    )


def _fall(seam: Seam) -> float:
    """How far the hem end of a seam lies below its top, in mm along the grain."""
    return (seam.hem_end - seam.top).dot(seam.piece.grain.down)
