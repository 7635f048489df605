"""What is written at the edges: their roles, and what their lengths become. Knows nothing of Qt."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from app.window.document import EdgeId, PieceId
from app.window.lengths import Shown, bare
from app.window.table.coarse import Floats
from app.window.table.labels import AIR, SHARES, Polyline, Wish, beside, between
from app.window.table.leads import Row, lead, round_about
from app.window.table.note import EDGE_PX, PLAIN, Form, Note
from app.window.table.rect import Rect
from app.window.table.sights import Sight
from app.window.table.view import View
from core.piece.model import Role

# Pixels between an edge and its label.
GAP = 8.0
# An edge shorter than this many pixels goes unlabelled.
SHORT_EDGE = 36.0
# The edges of a piece that is smaller than this, both ways, in pixels, are told only where they
# change and are at least so long; and so are edges that are short.
SMALL_PIECE, LEAST_EDGE = 110.0, 8.0
# With more pieces than this on the table what finds no room close to its edge is left out: leads
# to many labels are no longer followed by the eye.
FEW = 6
# A label is turned along an edge that is steeper than this (the sine).
STEEP = 0.9
# So far (pixels) below a grip a label is tried: a cutting line may run there.
BELOW_GRIP = (0.0, 10.0, 20.0, 32.0)
# And so far up beside it: it may hang close to the foot of the table.
BESIDE_GRIP = (0.0, 8.0, 16.0)
# A change smaller than this, in mm, is not worth two figures.
SAME = 0.05


def edge_wishes(
    sights: Sequence[Sight],
    view: View,
    shown: Shown,
    told: Collection[EdgeId],
    grips: Mapping[PieceId, Rect],
) -> Iterator[Wish[Note]]:
    """Each edge's role beside it, and what its length becomes where that changes; a hem's at its
    grip. But for those that were told already."""
    for sight in sights:
        for index in _labelled(sight, view):
            if EdgeId(sight.which, index) in told:
                continue
            line, note = edge_line(sight, index, view), edge_note(sight, index, shown)
            width, height = note.size
            wish = note.wish(
                beside(line, outward=_outward(sight), width=width, height=height, gap=GAP)
            )
            grip = _grip_of(sight, index, grips)
            if grip is None or len(note.lines) == 1:
                yield wish
            else:
                yield replace(_at_grip(note, grip, in_one=True), others=(wish,))


def squeezed_wishes(
    sights: Sequence[Sight],
    view: View,
    shown: Shown,
    told: Collection[EdgeId],
    grips: Mapping[PieceId, Rect],
) -> Iterator[Wish[Note]]:
    """For what found no room so: turned along its edge, in brief at the grip of its hem, or in
    free paper with a lead to its edge."""
    if len(sights) > FEW:
        return
    left = [(s, k) for s in sights for k in _telling(s, view) if EdgeId(s.which, k) not in told]
    # The hems first: that they change is what is asked for, and what has no room at a grip has
    # hardly any elsewhere.
    left.sort(key=lambda of: of[0].now.edges[of[1]].role is not Role.HEM)
    for sight, index in left:
        first, *others = _squeezed(sight, index, view, shown, grips)
        yield replace(first, others=others)


def _squeezed(
    sight: Sight, index: int, view: View, shown: Shown, grips: Mapping[PieceId, Rect]
) -> Iterator[Wish[Note]]:
    line, note = edge_line(sight, index, view), edge_note(sight, index, shown)
    out = _outward(sight)
    turned = note._replace(form=Form(in_one=True, turned=True))
    yield turned.wish(_along(line, out, turned.size))
    brief = _in_brief(sight, index, shown)
    grip = _grip_of(sight, index, grips)
    if grip is not None:
        yield _at_grip(note, grip)
        yield _at_grip(brief, grip)
    for one in (note, brief):
        for share in SHARES:
            (x, y), (dx, dy) = line.at(share)
            pinned = one._replace(form=one.form._replace(pin=share))
            middles = round_about((x, y), (-dy * out, dx * out), one.size)
            yield replace(pinned.wish(middles), pin=(x, y))


def _along(line: Polyline, out: float, size: tuple[float, float]) -> Iterator[tuple[float, float]]:
    """Middles for a turned label beside the steep parts of an edge."""
    for side in (out, -out):
        for share in SHARES:
            (x, y), (dx, dy) = line.at(share)
            if abs(dy) >= STEEP:
                off = GAP - AIR + (abs(dy) * size[0] + abs(dx) * size[1]) / 2
                yield x - dy * side * off, y + dx * side * off


def _grip_of(sight: Sight, index: int, grips: Mapping[PieceId, Rect]) -> Rect | None:
    """The grip on that edge, if it is the hem that has it."""
    hems = [k for k, e in enumerate(sight.now.edges) if e.role is Role.HEM]
    return grips.get(sight.which) if hems == [index] else None


def _at_grip(note: Note, grip: Rect, *, in_one: bool = False) -> Wish[Note]:
    """Below the grip, and to either side of it."""
    note = note._replace(form=note.form._replace(in_one=in_one))
    width, height = note.size
    x, y = grip.middle
    aside = (grip.x1 - grip.x0 + width) / 2 + AIR + 2.0
    below = [(x, grip.y1 + AIR + height / 2 + more) for more in BELOW_GRIP]
    if in_one:
        return note.wish(below)
    sides = [(x + side * aside, y - up) for up in BESIDE_GRIP for side in (-1.0, 1.0)]
    return note.wish((*below, *sides))


def _labelled(sight: Sight, view: View) -> Iterator[int]:
    """The numbers of the edges that are worth a label, and long enough for it."""
    if not _is_small(sight, view):
        for index, edge in enumerate(sight.now.edges):
            line = edge_line(sight, index, view)
            if edge.role is not Role.OTHER and line.length >= SHORT_EDGE:
                yield index


def _telling(sight: Sight, view: View) -> Iterator[int]:
    """The same, and edges of small pieces and short ones, where these change."""
    roomy = {*_labelled(sight, view)}
    for index, edge in enumerate(sight.now.edges):
        changes = edge.role is not Role.OTHER and _change(sight, index) is not None
        if index in roomy or (changes and edge_line(sight, index, view).length >= LEAST_EDGE):
            yield index


def _is_small(sight: Sight, view: View) -> bool:
    low, high = sight.outline_line.min(axis=0), sight.outline_line.max(axis=0)
    return bool((high - low).max() * view.scale < SMALL_PIECE)


def shared_wishes(
    sights: Sequence[Sight],
    view: View,
    shown: Shown,
    told: Collection[EdgeId] = (),
    *,
    turned: bool = False,
) -> Iterator[tuple[Wish[Note], tuple[EdgeId, EdgeId]]]:
    """One label for two edges that face each other, are sewn together and of which the same is
    told: ``side seam 38.8 → 44.8`` twice side by side is hard to tell apart."""
    by_id = {s.which: s for s in sights}
    done = {*told}
    for sight in sights:
        for index in _labelled(sight, view) if sight.sewn else ():
            which, note = EdgeId(sight.which, index), edge_note(sight, index, shown)
            if turned:
                note = note._replace(form=Form(in_one=True, turned=True))
            for other, middles in _facing(sight, note, by_id, view, shown).items():
                if not done & {which, other}:
                    done |= {which, other}
                    yield note.wish(middles), (which, other)


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
        if edge_note(mate, other.number, shown).lines == note.lines:
            lines = edge_line(sight, note.edge, view), edge_line(mate, other.number, view)
            ways = _outward(sight), _outward(mate)
            if middles := tuple(between(lines, outward=ways, size=note.size)):
                out[other] = middles
    return out


def edge_line(sight: Sight, index: int, view: View) -> Polyline:
    return Polyline(to_px(sight.edge_lines[index], sight, view))


def to_px(points: Floats, sight: Sight, view: View) -> Floats:
    off = np.array((sight.spot.x - view.x, sight.spot.y - view.y))
    return np.asarray((points + off) * view.scale)


def _outward(sight: Sight) -> float:
    return -1.0 if sight.now.ring.signed_area() > 0.0 else 1.0


def edge_note(sight: Sight, index: int, shown: Shown, form: Form = PLAIN) -> Note:
    """Its role, and what its length was and becomes; in brief by how much it changes."""
    if form.brief:
        return _in_brief(sight, index, shown)._replace(form=form)
    change = _change(sight, index)
    figures = () if change is None else (" → ".join(bare(mm, shown) for mm in change),)
    return _note(sight, index, figures)._replace(form=form)


def _in_brief(sight: Sight, index: int, shown: Shown) -> Note:
    change = _change(sight, index)
    figures: tuple[str, ...] = ()
    if change is not None:
        more = change[1] - change[0]
        figures = (("+" if more > 0.0 else "−") + bare(abs(more), shown),)
    return _note(sight, index, figures)._replace(form=Form(brief=True))


def _note(sight: Sight, index: int, figures: tuple[str, ...]) -> Note:
    edge = sight.now.edges[index]
    of_size = f", {sight.now.size}" if sight.over else ""
    role = edge.role.value + of_size + ("" if edge.because.sure else " ?")
    colour = "quiet" if edge.because.sure else "vermilion_text"
    return Note(sight.which, (role, *figures), EDGE_PX, False, colour, index)


def _change(sight: Sight, index: int) -> tuple[float, float] | None:
    """The length of the edge before and after, in mm; None where it stays."""
    if sight.altered is None:
        return None
    figure = sight.altered.figures.edges[index]
    if abs(figure.after_mm - figure.before_mm) < SAME:
        return None
    return figure.before_mm, figure.after_mm


def leads_of(labels: Mapping[Note, Rect], sights: Iterable[Sight], view: View) -> dict[Note, Row]:
    """For each label that stands in free paper, the line that leads from it to its edge."""
    by_id = {s.which: s for s in sights}
    out: dict[Note, Row] = {}
    for note, rect in labels.items():
        if note.form.pin is not None and note.edge is not None:
            line = edge_line(by_id[note.which], note.edge, view)
            out[note] = lead(rect, line.at(note.form.pin)[0])
    return out
