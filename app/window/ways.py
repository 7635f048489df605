"""The ways of the craft in words: what each is called, why one takes it. Knows nothing of Qt."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from enum import Enum

from app.window.document import AtLevel, State
from app.window.lengths import Shown, with_unit
from core.alter.figures import hem_width
from core.alter.frame import Frame
from core.alter.level.climb import lowest_and_highest
from core.alter.level.model import Truing
from core.alter.model import Change, DartCaps, HemDarts, HemWay, Measure, SeamWay, TurnUp
from core.piece.model import Piece, Role

# A width or a level that is put forward is a round one, in mm.
ROUND = 10.0
# The nearest, in mm, that a level comes to the highest or the lowest point of a piece.
NEAR_END = 5.0


class Where(Enum):
    """Where the change is made."""

    HEM = "at the hem"
    LEVEL = "at a level"


class Seams(Enum):
    """How the seams go on, with the way that asks for a width."""

    STRAIGHT = "straight"
    CURVED = "curved"
    PLUMB = "plumb"
    WIDTH = "to a width"

    @staticmethod
    def of(change: Change) -> Seams:
        return Seams.WIDTH if change.to_width_mm is not None else Seams(change.seams.value)


class Notch(Enum):
    """Where a balance notch is put on both mates."""

    NONE = "none"
    OLD_HEM = "at the old hem"


WHY: dict[Enum, str] = {
    Where.HEM: "The seams are carried on below: the hem narrows or widens along the taper.",
    Where.LEVEL: "Cut across and spread, or folded out: the width and shape of the hem stay."
    " For length above the knee, the hip or the crotch.",
    Seams.STRAIGHT: "Along the taper, as with a ruler. Right for nearly every leg and sleeve.",
    Seams.CURVED: "The bend of the seam carries on and fades out. For a seam that still curves"
    " at the hem: no change of direction shows.",
    Seams.PLUMB: "Straight down the grain: the hem keeps its width. For a straight leg, or"
    " where the taper would make the hem too narrow.",
    Seams.WIDTH: "Both seams turn just enough that the finished hem gets the width you ask for.",
    HemWay.REFIT: "The hem comes down and is drawn to its new width; its shape and its angles to"
    " the seams stay.",
    HemWay.TRIM: "The hem slides down unchanged; what sticks out past the seams is cut off. For a"
    " hem whose exact curve or border must stay.",
    HemWay.SQUARE: "As refit, and it meets each seam at a right angle, so that it runs smooth"
    " over the seam once that is sewn.",
    Measure.GRAIN: "Both seam ends go down by the amount along the grain.",
    Measure.SEAM: "Each added piece of seam is as long as the amount, as one measures it with a"
    " tape along the seam.",
    HemDarts.WHOLE: "A dart in the hem goes down whole and keeps its length.",
    HemDarts.APEX: "The apex stays where it is, so that a dart in the hem gets longer.",
    DartCaps.AS_DRAWN: "What is drawn over the mouth of a dart goes along as it is.",
    DartCaps.CLOSED: "The hem is drawn so that it runs smoothly once the dart is sewn shut, as one"
    " draws it over the folded paper.",
    TurnUp.AS_DRAWN: "The sides of a turn-up stay as they were drawn.",
    TurnUp.MIRROR: "The sides of the turn-up become the mirror image of the leg above the fold, so"
    " that it lies flat when it is folded up.",
    Notch.NONE: "The notches that are there go with their part; no new one is made.",
    Notch.OLD_HEM: "A new notch on both seams where the hem was: when front and back are sewn,"
    " nothing can shift along the piece that was added.",
    Truing.SMOOTH: "The jog in the seam is taken up by a smooth line above and below the level.",
    Truing.STRAIGHT: "The jog in the seam is taken up by a straight line, as with a ruler.",
}
SHORTER = (
    "This does not matter when making shorter: the new hem lies on the seams that are there,"
    " and nothing is carried on."
)
LONGER = "The old hem is cut away when making shorter, and so is the place for a balance notch."

_HEM_DONE = {HemWay.REFIT: "refitted", HemWay.TRIM: "trimmed", HemWay.SQUARE: "square"}
_CAPS_DONE = {DartCaps.AS_DRAWN: "as drawn", DartCaps.CLOSED: "over closed darts"}
_DARTS_DONE = {HemDarts.WHOLE: "go down whole", HemDarts.APEX: "keep their apex"}


def text_between(was: State, now: State, shown: Shown) -> str:
    """What to call the step from one state to the next in the undo list."""
    told = [
        *_amount(was, now, shown),
        *_level(was.level, now.level, shown),
        *_sizes(was, now, shown),
        *_ways(was.change, now.change, shown),
    ]
    return ", ".join(told)


def _amount(was: State, now: State, shown: Shown) -> Iterator[str]:
    if was.by_mm == now.by_mm:
        return
    amount = with_unit(abs(now.by_mm), shown)
    if now.by_mm == 0.0:
        yield "Back to the first length"
    elif now.level is not None:
        yield f"Insert {amount}" if now.by_mm > 0.0 else f"Fold out {amount}"
    else:
        yield f"{'Lengthen' if now.by_mm > 0.0 else 'Shorten'} by {amount}"


def _sizes(was: State, now: State, shown: Shown) -> Iterator[str]:
    if now.each_size is not was.each_size:
        yield "An amount for each size" if now.each_size else "One amount for all sizes"
    for size, more in (now.more_by_size or {}).items():
        if more != (was.more_by_size or {}).get(size, 0.0):
            yield f"Size {size} by {with_unit(now.amount_of(size), shown)}"


def _level(was: AtLevel | None, now: AtLevel | None, shown: Shown) -> Iterator[str]:
    if now is None or was is None:
        if now is not was:
            yield "Change at the hem" if now is None else "Change at a level"
        return
    if now.at_mm != was.at_mm:
        yield f"Level at {with_unit(now.at_mm, shown)}"
    if now.true is not was.true:
        yield "Seams trued straight" if now.true is Truing.STRAIGHT else "Seams trued smoothly"
    if now.blend_mm != was.blend_mm:
        far = "as far as is usual" if now.blend_mm is None else with_unit(now.blend_mm, shown)
        yield f"Trued {far} above and below" if now.blend_mm is not None else f"Trued {far}"


def _ways(was: Change, now: Change, shown: Shown) -> Iterator[str]:
    if now.to_width_mm is not None and now.to_width_mm != was.to_width_mm:
        yield f"Hem {with_unit(now.to_width_mm, shown)} wide"
    elif Seams.of(now) is not Seams.of(was):
        yield f"Seams {Seams.of(now).value}"
    if now.hem is not was.hem:
        yield f"Hem {_HEM_DONE[now.hem]}"
    if now.measure is not was.measure:
        yield f"Measured along the {now.measure.value}"
    if now.hem_darts is not was.hem_darts:
        yield f"Hem darts {_DARTS_DONE[now.hem_darts]}"
    if now.dart_caps is not was.dart_caps:
        yield f"Hem {_CAPS_DONE[now.dart_caps]}"
    if now.turn_up is not was.turn_up:
        yield "Turn-up mirrored" if now.turn_up is TurnUp.MIRROR else "Turn-up as drawn"
    if now.balance_notch is not was.balance_notch:
        yield "Balance notches" if now.balance_notch else "No balance notches"
    if now.allowance_mm != was.allowance_mm:
        yield f"Seam allowance {_told(now.allowance_mm, shown)}"
    if now.hem_allowance_mm != was.hem_allowance_mm:
        yield f"Hem allowance {_told(now.hem_allowance_mm, shown)}"
    if now.plumb_below_mm != was.plumb_below_mm:
        below = now.plumb_below_mm
        yield "Taper to the hem" if below is None else f"Plumb below {with_unit(below, shown)}"


def _told(mm: float | None, shown: Shown) -> str:
    return "not told" if mm is None else with_unit(mm, shown)


def with_seams(state: State, way: Seams) -> Change:
    """The change with the seams going on that way; a width asked for begins as it is now."""
    if way is Seams.WIDTH:
        return replace(state.change, to_width_mm=state.change.to_width_mm or width_now(state))
    return replace(state.change, seams=SeamWay(way.value), to_width_mm=None)


def with_notch(change: Change, where: Notch) -> Change:
    """The change with a balance notch there."""
    return replace(change, balance_notch=where is Notch.OLD_HEM)


def whole_hem(state: State) -> tuple[Piece, ...]:
    """The pieces, as they were, whose hems make up that of the first leg (or body, or arm)."""
    chosen = {state.piece(k).key: state.piece(k) for k in state.altering}
    if not chosen:
        return ()
    first = next(iter(chosen))
    partners = [pair.of(first) for pair in state.sheets.mates]
    keys = {first, *(p[0] for p in partners if p is not None)}
    return tuple(p for k, p in chosen.items() if k in keys)


def width_now(state: State) -> float:
    """The width in mm of the whole hem after the change as it stands, in round figures."""
    from app.window.outcome import outcome

    altered = {a.piece.key: a.piece for a in outcome(state).altered.values()}
    widths = [hem_width(altered.get(p.key, p)) for p in whole_hem(state)]
    return max(round(sum(widths)), ROUND)


def height_mm(piece: Piece) -> float:
    """From the highest to the lowest point along the grain."""
    low, high = lowest_and_highest(piece.ring, Frame(piece.grain.down))
    return high - low


def first_level(state: State) -> AtLevel:
    """Half way down the shortest of the chosen pieces, in round figures."""
    return AtLevel(round(min(_heights(state), default=0.0) / 2 / ROUND) * ROUND)


def level_within(state: State, mm: float) -> float:
    """The nearest level to `mm` that lies on all of the chosen pieces."""
    lowest = min(_heights(state), default=0.0) - NEAR_END
    return max(NEAR_END, min(mm, lowest))


def _heights(state: State) -> list[float]:
    return [height_mm(state.piece(k)) for k in state.altering]


def has_both_lines(state: State) -> bool:
    """Has any of the chosen pieces a stitching line inside its cutting line?"""
    return any(state.piece(k).stitching is not None for k in state.altering)


def has_cutting_only(state: State) -> bool:
    """Has any of the chosen pieces a cutting line and no stitching line?"""
    return any(state.piece(k).stitching is None for k in state.altering)


def has_turn_up(state: State) -> bool:
    """Is it known of any of the chosen pieces where its hem folds?"""
    told = state.change.hem_allowance_mm is not None and has_cutting_only(state)
    return told or has_both_lines(state)


def has_hem_darts(state: State) -> bool:
    """Has any of the chosen pieces a dart in its hem?"""
    return any(d.on is Role.HEM for k in state.altering for d in state.piece(k).darts)
