"""What is written on the table: piece names, roles of edges, writing, and the hems' grips."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from app.window.document import EdgeId, PieceId
from app.window.lengths import Shown, bare, signed, with_unit
from app.window.table.coarse import Floats, flat, kept_flat
from app.window.table.edge_notes import (
    edge_note,
    edge_wishes,
    leads_of,
    shared_wishes,
    squeezed_wishes,
    to_px,
)
from app.window.table.holds import holds_of
from app.window.table.labels import AIR, Wish, place
from app.window.table.leads import Row
from app.window.table.levels import BEYOND, beyond
from app.window.table.note import GRIP_PX, LINE_HEIGHT, NAME_PX, WRITING_PX, Note, width_of
from app.window.table.rect import Rect
from app.window.table.sights import Sight
from app.window.table.view import View
from core.curve import Chain, Point
from core.piece.model import Kind, Role

# Half the width of the arrows at the ends of a grain.
ARROW = 5.0
GRIP_HEIGHT, GRIP_AIR, GRIP_SIGN, GRIP_GAP = 26.0, 12.0, 14.0, 8.0
# A hem less than this many times as wide as its grip is narrow.
NARROW_HEM = 2.0
# Where a piece's name is tried within it, in steps of its own width and of two thirds of a line;
# and above and below it, in lines.
NAME_ROWS = (0, -2, 2, -4, 4, -7, 7, -10, 10)
NAME_COLUMNS = (0, -1, 1, -1.6, 1.6, -0.85, 0.85, -1.3, 1.3)
NAME_OUTSIDE = (0.7, 1, 2, 3, 4, 5)
# There it stands aside by these shares of the piece's width, the last first where that is less
# than its own: names of narrow pieces meet otherwise.
NAME_ASIDE = (0.0, 0.25, 0.45)
# The share of a level's width at which its grip sits.
LEVEL_GRIP_AT = 0.25
# A level less than this many times as wide as its grip has it in the middle, off both seams.
NARROW_LEVEL = 2.5
# The width, in pixels, of what is kept free about a diamond or a ring.
HOLD = 14.0


# One label, and the two edges of which it tells.
Shared = tuple[Wish[Note], tuple[EdgeId, EdgeId]]


@dataclass(frozen=True)
class Notes:
    """Where everything written goes, in pixels; what the grips say: ``amounts`` and ``levels``."""

    grips: dict[PieceId, Rect]
    amounts: dict[PieceId, str]
    level_grips: dict[PieceId, Rect]
    levels: dict[PieceId, str]
    labels: dict[Note, Rect]
    leads: dict[Note, Row]


def notes_for(
    sights: Sequence[Sight],
    view: View,
    room: Rect,
    shown: Shown,
    *,
    taken: Sequence[Rect] = (),
) -> Notes:
    """A place for each grip, and for each label that finds one in the room not yet taken."""
    grips = grips_of(sights, view, shown)
    levels = _levels_told(sights, shown)
    level_grips = dict(_level_grips(sights, view, levels))
    lines = np.concatenate([np.empty((0, 4)), *(_lines(s, view) for s in sights)])
    written = [s for s in sights if not s.led]
    taken = [*grips.values(), *level_grips.values(), *_held_at(sights, view), *taken]
    labels: dict[Note, Rect] = {}
    told: set[EdgeId] = set()

    def put(wishes: Iterable[Wish[Note]]) -> None:
        full = [*taken, *labels.values()]
        labels.update(place(wishes, room=room, taken=full, lines=lines))
        told.update(EdgeId(n.which, n.edge) for n in labels if n.edge is not None)

    def put_shared(shared: Iterable[Shared], *, first: Iterable[Wish[Note]] = ()) -> None:
        both = list(shared)
        put([*first, *(wish for wish, _ in both)])
        told.update(edge for wish, edges in both if wish.name in labels for edge in edges)

    names = [wish for s in written for wish in _names(s, view, _aside(s, written))]
    put_shared(shared_wishes(written, view, shown), first=names)
    put(edge_wishes(written, view, shown, told, grips))
    # What is written once for several sizes belongs to the one that is written upon.
    by_lead = sorted(sights, key=lambda s: s.led)
    seen: set[int] = set()
    put([w for s in by_lead for w in _writing(s, view, seen)])
    put_shared(shared_wishes(written, view, shown, told, turned=True))
    put(squeezed_wishes(written, view, shown, told, grips))
    leads = leads_of(labels, sights, view)
    return Notes(grips, amounts_told(sights, shown), level_grips, levels, labels, leads)


def _held_at(sights: Sequence[Sight], view: View) -> Iterator[Rect]:
    """Where the diamonds and the rings are."""
    for hold in holds_of(sights):
        yield Rect.about(*view.to_px(hold.at), HOLD, HOLD)


def notes_following(last: Notes, sights: Sequence[Sight], view: View, shown: Shown) -> Notes:
    """As `last`, from a moment ago in the same view, with the new figures: the labels stay where
    they are, and those of the hems go along. For a drag, in which there is no time to look for
    free places.
    """
    grips = grips_of(sights, view, shown)
    told = _levels_told(sights, shown)
    seen = {s.which: s for s in sights}
    labels: dict[Note, Rect] = {}
    for note, rect in last.labels.items():
        sight = seen[note.which]
        if note.edge is None or note.edge >= len(sight.now.edges):
            labels[note] = rect
            continue
        now = edge_note(sight, note.edge, shown, note.form)
        x, y = rect.middle
        here, there = grips.get(note.which), last.grips.get(note.which)
        if sight.now.edges[note.edge].role is Role.HEM and here and there:
            x, y = x + here.middle[0] - there.middle[0], y + here.middle[1] - there.middle[1]
        labels[now] = Rect.about(x, y, *now.size)
    level_grips = dict(_level_grips(sights, view, told))
    leads = leads_of(labels, sights, view)
    return Notes(grips, amounts_told(sights, shown), level_grips, told, labels, leads)


def _levels_told(sights: Sequence[Sight], shown: Shown) -> dict[PieceId, str]:
    """How far down each piece its level lies: as it was asked for, and where it goes by a mate in
    tenths, for what that comes to is no round length."""
    return {
        s.which: f"{bare(s.level_mm, shown)} {shown.sign}" if _goes_by(s)
        else with_unit(s.level_mm, shown)
        for s in sights if s.level_mm is not None
    }  # fmt: skip


def _goes_by(sight: Sight) -> bool:
    return sight.altered is not None and bool(sight.altered.led)


def _level_grips(
    sights: Sequence[Sight], view: View, told: Mapping[PieceId, str]
) -> Iterator[tuple[PieceId, Rect]]:
    """On the level, towards one side, where neither grain nor name is."""
    for sight in sights:
        if sight.level_lines and not sight.led:
            width = width_of(told[sight.which], GRIP_PX, True) + GRIP_SIGN + 2 * GRIP_AIR
            a, b = sight.level_lines[0]
            narrow = a.distance(b) * view.scale < NARROW_LEVEL * width
            share = 0.5 if narrow else LEVEL_GRIP_AT
            x, y = view.to_px(a.towards(b, share) + sight.spot)
            yield sight.which, Rect.about(x, y, width, GRIP_HEIGHT)


def amounts_told(sights: Sequence[Sight], shown: Shown) -> dict[PieceId, str]:
    """What was asked for each piece: one amount for all of them, or that of its size."""
    return {s.which: signed(s.amount_mm, shown) for s in sights}


def grips_of(sights: Sequence[Sight], view: View, shown: Shown) -> dict[PieceId, Rect]:
    """Where the grips of the hems are, in pixels; without their arrow where they lie so near to
    each other that they would overlap, and moved apart where that is not enough.
    """
    texts = set(amounts_told([s for s in sights if not s.led], shown).values())
    widest = max((width_of(text, GRIP_PX, True) for text in texts), default=0.0)
    wide = widest + GRIP_SIGN + 2 * GRIP_AIR
    found = dict(_grips(sights, view, wide))
    row = sorted(found.values())
    if any(a.overlaps(b) for a, b in itertools.pairwise(row)):
        return _apart(dict(_grips(sights, view, wide - GRIP_SIGN - GRIP_AIR)))
    return found


def _apart(grips: dict[PieceId, Rect]) -> dict[PieceId, Rect]:
    """From left to right, each is moved so far that it lies clear of those before it; then all
    are moved back by half of that."""
    out: dict[PieceId, Rect] = {}
    for which, rect in sorted(grips.items(), key=lambda kv: kv[1].x0):
        over = [r.x1 + 1.0 - rect.x0 for r in out.values() if r.overlaps(rect)]
        out[which] = rect.moved(right=max(over, default=0.0))
    most = max((out[k].x0 - grips[k].x0 for k in grips), default=0.0)
    return {which: out[which].moved(right=-most / 2) for which in grips}


def _grips(sights: Sequence[Sight], view: View, width: float) -> Iterator[tuple[PieceId, Rect]]:
    for sight in sights:
        if sight.altered is not None and not sight.led and sight.hem_middle is not None:
            x, y = view.to_px(sight.hem_middle)
            if sight.hem_length * view.scale < NARROW_HEM * width:
                # On the hem it would hide it, so it hangs below, and below a turn-up.
                down = sight.now.grain.down
                folded = _turn_up(sight) * view.scale
                x += down.x * (width / 2 + GRIP_GAP + folded)
                y += down.y * (GRIP_HEIGHT / 2 + GRIP_GAP + folded)
            yield sight.which, _off_holds(Rect.about(x, y, width, GRIP_HEIGHT), sight, view)


def _turn_up(sight: Sight) -> float:
    """By how many mm the cutting line lies below the hem; nothing without a stitching line."""
    if sight.now.stitching is None or sight.hem_middle is None:
        return 0.0
    down, hem = sight.now.grain.down, sight.hem_middle + -sight.spot
    lowest = float((sight.outline_line @ np.array((down.x, down.y))).max())
    return max(0.0, lowest - (hem.x * down.x + hem.y * down.y))


def _off_holds(grip: Rect, sight: Sight, view: View) -> Rect:
    """So far down that it lies over no diamond: those of a shortened piece lie below its hem."""
    under = [r for r in _held_at([sight], view) if r.grown(AIR).overlaps(grip)]
    return grip.moved(down=max((r.y1 + AIR - grip.y0 for r in under), default=0.0))


def _lines(sight: Sight, view: View) -> Floats:
    """All lines of the piece that writing keeps clear of, as rows x0, y0, x1, y1 in pixels."""
    lines = [sight.outline_line]
    if sight.differs:
        lines.append(kept_flat(sight.before.outline.ring))
    if sight.now.stitching is not None:
        lines.append(kept_flat(sight.now.stitching.ring))
    lines += [flat(m.geometry) for m in sight.plain_marks if isinstance(m.geometry, Chain)]
    px = 1.0 / view.scale
    drawn = (beyond(ends, BEYOND * px) for ends in sight.level_lines)
    lines += [np.array([(p.x, p.y) for p in ends]) for ends in drawn]
    if sight.grain_line is not None:
        lines += _grain_lines(flat(sight.grain_line), ARROW * px)
    for dart in sight.now.darts:
        corners = (dart.mouth[0], dart.apex, dart.mouth[1])
        lines.append(np.array([(q.x, q.y) for q in corners]))
    rows = [to_px(line, sight, view) for line in lines]
    return np.concatenate([np.hstack((p[:-1], p[1:])) for p in rows])


def _grain_lines(grain: Floats, wide: float) -> Iterator[Floats]:
    """The grain, and the width of the arrows at its ends."""
    yield grain
    for end in (grain[0], grain[-1]):
        yield np.array([(end[0] - wide, end[1]), (end[0] + wide, end[1])])


def _aside(sight: Sight, among: Sequence[Sight]) -> float:
    """On which side of all pieces a piece lies: -1 at the left, 1 at the right, 0 in the middle."""
    middles = [s.box.centre.x for s in among]
    middle = (min(middles) + max(middles)) / 2
    return float(np.sign(round(sight.box.centre.x - middle)))


def _names(sight: Sight, view: View, aside: float) -> Iterator[Wish[Note]]:
    """The piece's name near its middle, clear of grain and darts; above or below it, where it is
    too narrow, and then a little to its own side of all pieces; and across its lines, where there
    is nothing free."""
    low, high = sight.outline_line.min(axis=0), sight.outline_line.max(axis=0)
    whole = width_of(sight.name, NAME_PX, True) <= (high[0] - low[0]) * view.scale
    # Without its sizes it is shorter.
    name = sight.name if whole else sight.before.title
    note = Note(sight.which, (name,), NAME_PX, True, "ink")
    width = width_of(name, NAME_PX, True)
    middles = tuple(_name_middles(sight, view, width, aside))
    yield replace(note.wish(middles), surely=True)


def _name_middles(
    sight: Sight, view: View, width: float, side: float
) -> Iterator[tuple[float, float]]:
    low, high = sight.outline_line.min(axis=0), sight.outline_line.max(axis=0)
    x0, y0 = view.to_px(Point(float(low[0]), float(low[1])) + sight.spot)
    x1, y1 = view.to_px(Point(float(high[0]), float(high[1])) + sight.spot)
    x, y = (x0 + x1) / 2, (y0 + y1) / 2
    aside, line = width / 2 + 14, LINE_HEIGHT + 8
    for dy in NAME_ROWS:
        for dx in NAME_COLUMNS:
            # Beside the piece it would be taken for the name of its neighbour.
            if abs(dx) * aside + width / 2 <= (x1 - x0) / 2 and abs(dy) * line <= (y1 - y0) / 2:
                yield x + dx * aside, y + dy * line
    for n in NAME_OUTSIDE:
        for share in NAME_ASIDE if width <= x1 - x0 else NAME_ASIDE[::-1]:
            dx = share * side * (x1 - x0)
            yield from ((x + dx, y0 - n * line), (x + dx, y1 + n * line))


def _writing(sight: Sight, view: View, seen: set[int]) -> Iterator[Wish[Note]]:
    """What is written on the piece, where it was written; not its name once more, nor what
    was `seen`.
    """
    for mark in sight.plain_marks:
        if id(mark.geometry) in seen:
            continue
        seen.add(id(mark.geometry))
        text = " ".join(mark.text.split())
        # A file may name its pieces in writing; the name is on the piece already.
        told = ("", sight.now.name, sight.now.title)
        if mark.kind is not Kind.TEXT or text.rsplit(":", 1)[-1].strip() in told:
            continue
        if isinstance(mark.geometry, Point):
            x, y = view.to_px(mark.geometry + sight.spot)
            note = Note(sight.which, (text,), WRITING_PX, False, "quiet")
            # Among the lines of several sizes another place would be another size's.
            of_many = (sight.led or sight.over) and text in (sight.now.size, *sight.over)
            rows = (-4.0,) if of_many else (-4.0, 12.0, -20.0, 28.0)
            # Most files write from the place on: there is room for all of it at its right.
            half = width_of(text, WRITING_PX, False) / 2
            aside = (0.0,) if of_many else (0.0, half + AIR, -half - AIR)
            yield note.wish(tuple((x + dx, y + dy) for dx in aside for dy in rows))
