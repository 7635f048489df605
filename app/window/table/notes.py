"""What is written on the table: piece names, roles of edges, writing, and the hems' grips."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from PySide6.QtGui import QFont, QFontMetricsF

from app.window import theme
from app.window.document import EdgeId, PieceId
from app.window.lengths import Shown, bare, signed, with_unit
from app.window.table.coarse import Floats, flat, kept_flat
from app.window.table.labels import Polyline, Rect, Wish, beside, between, place
from app.window.table.levels import BEYOND, beyond
from app.window.table.sights import Sight
from app.window.table.view import View
from core.curve import Chain, Point
from core.piece.model import Kind, Role

NAME_PX, EDGE_PX, WRITING_PX, GRIP_PX = 14, 12, 11, 12
LINE_HEIGHT = 15.0
# Half the width of the arrows at the ends of a grain.
ARROW = 5.0
GRIP_HEIGHT, GRIP_AIR, GRIP_SIGN, GRIP_GAP = 26.0, 12.0, 14.0, 8.0
# How far a grip that has no room on its hem hangs below that.
GRIP_HANGS = GRIP_GAP + GRIP_HEIGHT + 2.0
# A hem less than this many times as wide as its grip is narrow.
NARROW_HEM = 2.0
# Where a piece's name is tried within it, in steps of its own width and of two thirds of a line;
# and above and below it, in lines.
NAME_ROWS = (0, -2, 2, -4, 4, -7, 7, -10, 10)
NAME_COLUMNS = (0, -1, 1, -1.6, 1.6, -0.85, 0.85, -1.3, 1.3)
NAME_OUTSIDE = (0.7, 1, 2, 3, 4, 5)
# An edge shorter than this many pixels goes unlabelled.
SHORT_EDGE = 36.0
# The edges of a piece that is smaller than this, both ways, in pixels, go without.
SMALL_PIECE = 110.0
# The share of a level's width at which its grip sits.
LEVEL_GRIP_AT = 0.25
# A level less than this many times as wide as its grip has it in the middle, off both seams.
NARROW_LEVEL = 2.5
# A change smaller than this, in mm, is not worth two figures.
SAME = 0.05


class Note(NamedTuple):
    """One label: its piece, the lines of text, their size and weight and colour; the number of
    the edge that it is for, if it is for one.
    """

    which: PieceId
    lines: tuple[str, ...]
    px: int
    bold: bool
    colour: str
    edge: int | None = None


@dataclass(frozen=True)
class Notes:
    """Where everything written goes, in pixels."""

    grips: dict[PieceId, Rect]
    level_grips: dict[PieceId, Rect]
    levels: dict[PieceId, str]
    labels: dict[Note, Rect]


@lru_cache(maxsize=16)
def _metrics(px: int, bold: bool) -> QFontMetricsF:
    return QFontMetricsF(theme.type_of(px, bold=bold))


@lru_cache(maxsize=16)
def font(px: int, bold: bool) -> QFont:
    return theme.type_of(px, bold=bold)


@lru_cache(maxsize=4096)
def width_of(text: str, px: int, bold: bool) -> float:
    return float(_metrics(px, bold).horizontalAdvance(text))


def notes_for(
    sights: Sequence[Sight],
    view: View,
    room: Rect,
    shown: Shown,
    by_mm: float,
    *,
    taken: Sequence[Rect] = (),
) -> Notes:
    """A place for each grip, and for each label that finds one in the room not yet taken."""
    grips = grips_of(sights, view, by_mm, shown)
    told = _levels_told(sights, shown)
    level_grips = dict(_level_grips(sights, view, told))
    lines = np.concatenate([np.empty((0, 4)), *(_lines(s, view) for s in sights)])
    written = [s for s in sights if not s.led]
    taken = [*grips.values(), *level_grips.values(), *taken]
    shared = list(_between(written, view, shown))
    wishes = [*(w for s in written for w in _names(s, view)), *(wish for wish, _ in shared)]
    labels = place(wishes, room=room, taken=taken, lines=lines)
    once = {edge for wish, both in shared if wish.name in labels for edge in both}
    wishes = list(_edges(written, view, shown, once))
    # What is written once for several sizes belongs to the one that is written upon.
    by_lead = sorted(sights, key=lambda s: s.led)
    seen: set[int] = set()
    wishes += [w for s in by_lead for w in _writing(s, view, seen)]
    labels |= place(wishes, room=room, taken=[*taken, *labels.values()], lines=lines)
    return Notes(grips, level_grips, told, labels)


def notes_following(
    last: Notes, sights: Sequence[Sight], view: View, shown: Shown, by_mm: float
) -> Notes:
    """As `last`, from a moment ago in the same view, with the new figures: the labels stay where
    they are, and those of the hems go along. For a drag, in which there is no time to look for
    free places.
    """
    grips = grips_of(sights, view, by_mm, shown)
    told = _levels_told(sights, shown)
    seen = {s.which: s for s in sights}
    labels: dict[Note, Rect] = {}
    for note, rect in last.labels.items():
        sight = seen[note.which]
        if note.edge is None or note.edge >= len(sight.now.edges):
            labels[note] = rect
            continue
        now = _edge_note(sight, note.edge, shown)
        x, y = rect.middle
        here, there = grips.get(note.which), last.grips.get(note.which)
        if sight.now.edges[note.edge].role is Role.HEM and here and there:
            x, y = x + here.middle[0] - there.middle[0], y + here.middle[1] - there.middle[1]
        labels[now] = Rect.about(x, y, *_size(now))
    return Notes(grips, dict(_level_grips(sights, view, told)), told, labels)


def _levels_told(sights: Sequence[Sight], shown: Shown) -> dict[PieceId, str]:
    """How far down each piece its level lies."""
    return {s.which: with_unit(s.level_mm, shown) for s in sights if s.level_mm is not None}


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


def grips_of(
    sights: Sequence[Sight], view: View, by_mm: float, shown: Shown
) -> dict[PieceId, Rect]:
    """Where the grips of the hems are, in pixels; without their arrow where they lie so near to
    each other that they would overlap, and moved apart where that is not enough.
    """
    text = signed(by_mm, shown)
    wide = width_of(text, GRIP_PX, True) + GRIP_SIGN + 2 * GRIP_AIR
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
        out[which] = rect.moved(max(over, default=0.0))
    most = max((out[k].x0 - grips[k].x0 for k in grips), default=0.0)
    return {which: out[which].moved(-most / 2) for which in grips}


def _grips(sights: Sequence[Sight], view: View, width: float) -> Iterator[tuple[PieceId, Rect]]:
    for sight in sights:
        if sight.altered is not None and not sight.led and sight.hem_middle is not None:
            x, y = view.to_px(sight.hem_middle)
            if sight.hem_length * view.scale < NARROW_HEM * width:
                # On the hem it would hide it, so it hangs below.
                down = sight.now.grain.down
                x += down.x * (width / 2 + GRIP_GAP)
                y += down.y * (GRIP_HEIGHT / 2 + GRIP_GAP)
            yield sight.which, Rect.about(x, y, width, GRIP_HEIGHT)


def _to_px(points: Floats, sight: Sight, view: View) -> Floats:
    off = np.array((sight.spot.x - view.x, sight.spot.y - view.y))
    return np.asarray((points + off) * view.scale)


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
    rows = [_to_px(line, sight, view) for line in lines]
    return np.concatenate([np.hstack((p[:-1], p[1:])) for p in rows])


def _grain_lines(grain: Floats, wide: float) -> Iterator[Floats]:
    """The grain, and the width of the arrows at its ends."""
    yield grain
    for end in (grain[0], grain[-1]):
        yield np.array([(end[0] - wide, end[1]), (end[0] + wide, end[1])])


def _wish(note: Note, middles: Iterable[tuple[float, float]]) -> Wish[Note]:
    return Wish(note, *_size(note), middles)


def _size(note: Note) -> tuple[float, float]:
    width = max(width_of(text, note.px, note.bold) for text in note.lines)
    return width, LINE_HEIGHT * len(note.lines) + 2


def _names(sight: Sight, view: View) -> Iterator[Wish[Note]]:
    """The piece's name near its middle, clear of grain and darts; above or below it, where it is
    too narrow; and across its lines, where there is nothing free."""
    low, high = sight.outline_line.min(axis=0), sight.outline_line.max(axis=0)
    whole = width_of(sight.name, NAME_PX, True) <= (high[0] - low[0]) * view.scale
    # Without its sizes it is shorter.
    name = sight.name if whole else sight.before.title
    note = Note(sight.which, (name,), NAME_PX, True, theme.look().ink)
    middles = tuple(_name_middles(sight, view, width_of(name, NAME_PX, True)))
    yield replace(_wish(note, middles), surely=True)


def _name_middles(sight: Sight, view: View, width: float) -> Iterator[tuple[float, float]]:
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
        yield from ((x, y0 - n * line), (x, y1 + n * line))


def _edges(
    sights: Sequence[Sight], view: View, shown: Shown, told: Collection[EdgeId]
) -> Iterator[Wish[Note]]:
    """Each edge's role beside it, and what its length becomes where that changes; but for those
    that were told already."""
    for sight in sights:
        for index in _labelled(sight, view):
            if EdgeId(sight.which, index) in told:
                continue
            line, note = _edge_line(sight, index, view), _edge_note(sight, index, shown)
            width, height = _size(note)
            yield _wish(
                note,
                beside(line, outward=_outward(sight), width=width, height=height, gap=8.0),
            )


def _labelled(sight: Sight, view: View) -> Iterator[int]:
    """The numbers of the edges that are worth a label, and long enough for it."""
    low, high = sight.outline_line.min(axis=0), sight.outline_line.max(axis=0)
    if (high - low).max() * view.scale >= SMALL_PIECE:
        for index, edge in enumerate(sight.now.edges):
            line = _edge_line(sight, index, view)
            if edge.role is not Role.OTHER and line.length >= SHORT_EDGE:
                yield index


def _between(
    sights: Sequence[Sight], view: View, shown: Shown
) -> Iterator[tuple[Wish[Note], tuple[EdgeId, EdgeId]]]:
    """One label for two edges that face each other, are sewn together and of which the same is
    told: ``side seam 38.8 → 44.8`` twice side by side is hard to tell apart."""
    by_id = {s.which: s for s in sights}
    done: set[EdgeId] = set()
    for sight in sights:
        for index in _labelled(sight, view) if sight.sewn else ():
            which, note = EdgeId(sight.which, index), _edge_note(sight, index, shown)
            for other, middles in _facing(sight, note, by_id, view, shown).items():
                if not done & {which, other}:
                    done |= {which, other}
                    yield _wish(note, middles), (which, other)


def _facing(
    sight: Sight, note: Note, by_id: Mapping[PieceId, Sight], view: View, shown: Shown
) -> dict[EdgeId, tuple[tuple[float, float], ...]]:
    """The edges sewn to that of the note of which the same is to be told, and the middles for a
    label between them; without those that face it not, or too near or too far."""
    out: dict[EdgeId, tuple[tuple[float, float], ...]] = {}
    assert note.edge is not None
    for other in sight.sewn.get(note.edge, ()):
        mate = by_id.get(other.piece)
        if mate is None or other.number >= len(mate.now.edges):
            continue
        if _edge_note(mate, other.number, shown).lines == note.lines:
            lines = _edge_line(sight, note.edge, view), _edge_line(mate, other.number, view)
            ways = _outward(sight), _outward(mate)
            if middles := tuple(between(lines, outward=ways, size=_size(note))):
                out[other] = middles
    return out


def _edge_line(sight: Sight, index: int, view: View) -> Polyline:
    return Polyline(_to_px(sight.edge_lines[index], sight, view))


def _outward(sight: Sight) -> float:
    return -1.0 if sight.now.ring.signed_area() > 0.0 else 1.0


def _edge_note(sight: Sight, index: int, shown: Shown) -> Note:
    edge = sight.now.edges[index]
    of_size = f", {sight.now.size}" if sight.over else ""
    role = edge.role.value + of_size + ("" if edge.because.sure else " ?")
    colour = theme.look().quiet if edge.because.sure else theme.look().vermilion_text
    lines = (role, *_figures(sight, index, shown))
    return Note(sight.which, lines, EDGE_PX, False, colour, index)


def _figures(sight: Sight, index: int, shown: Shown) -> tuple[str, ...]:
    if sight.altered is None:
        return ()
    figure = sight.altered.figures.edges[index]
    if abs(figure.after_mm - figure.before_mm) < SAME:
        return ()
    return (f"{bare(figure.before_mm, shown)} → {bare(figure.after_mm, shown)}",)


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
            note = Note(sight.which, (text,), WRITING_PX, False, theme.look().quiet)
            # Among the lines of several sizes another place would be another size's.
            of_many = (sight.led or sight.over) and text in (sight.now.size, *sight.over)
            aside = (-4.0,) if of_many else (-4.0, 12.0, -20.0, 28.0)
            yield _wish(note, tuple((x, y + dy) for dy in aside))
