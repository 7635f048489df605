"""A drawing as a pattern that any kind of file can hold: nothing is dropped that both can say."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from core.curve import Chain, Point, Segment
from core.files.drawing import Drawing
from core.files.dxf.details import details as of_dxf
from core.files.dxf.layers import USUAL, number_of
from core.files.dxf.own_words import ADDED
from core.files.dxf.source import DxfSource
from core.files.edits import PathEdit, PointEdit, edits
from core.files.notches import drawn_as_notch, turned
from core.files.pattern import Detail, Item, Part, Pattern, grain_line
from core.files.svg.details import details as of_svg
from core.files.written import PIECE_NAME, UNIT_TEXT
from core.piece.model import AT_VERTEX, Dart, Kind, Mark, Outline, Piece, Role, Shape
from core.piece.naming import cleaned
from core.piece.sizes import WRITTEN_SIZE, owners
from core.piece.words import kind_in, role_in

# What says in all kinds of file that a shape belongs to the sheet.
SHEET = "guide"
# Dense copies of lines for checking, which their writer makes from those lines.
COPIES = range(84, 88)
_VERTEX_POINTS = (Kind.TURN_POINT, Kind.CURVE_POINT)
_LAYER_WORD = re.compile(r"layer-(\d{1,3})")


@dataclass(frozen=True)
class _File:
    """What the file says beyond the pieces; a pattern of bare pieces has none of it."""

    shapes: Mapping[int, Shape] = field(default_factory=dict)
    detail: Callable[[int], Detail] = lambda key: Detail()
    changed: Mapping[int, PathEdit | PointEdit] = field(default_factory=dict)
    numbered: bool = False
    whole: bool = False

    def words(self, key: int) -> tuple[str, ...]:
        return self.shapes[key].words if key in self.shapes else ()

    def says(self, key: int, text: str) -> bool:
        """Is it more than what the kind of file wants there?"""
        added = self.numbered and ADDED in self.words(key)
        return not added and not UNIT_TEXT.match(text)

    def layer(self, key: int, kind: Kind | None) -> int | None:
        """The numbered layer on which it was drawn, or by which an SVG of ours remembers it;
        None for the usual one of its kind."""
        words = self.words(key)
        if self.numbered:
            found = number_of(words[0]) if words else None
        else:
            said = next((m for w in words if (m := _LAYER_WORD.fullmatch(w))), None)
            found = int(said[1]) if said else None
        return None if kind is not None and found == USUAL.get(kind) else found

    def of(self, key: int) -> Detail:
        """What is said of it, as it is now: a notch turns with its line."""
        said, edit = self.detail(key), self.changed.get(key)
        if said.notch is None or not isinstance(edit, PointEdit):
            return said
        lines = [e for e in self.changed.values() if isinstance(e, PathEdit)]
        return said._replace(notch=turned(said.notch, edit, lines))


def pattern_of(drawing: Drawing, *, whole: bool = False) -> Pattern:
    """The drawing as it is now; `whole` for outlines in one, even where the file draws them
    line by line and names those."""
    numbered = isinstance(drawing.source, DxfSource)
    shapes = {s.key: s for s in drawing.shapes}
    file = _File(shapes, _details(drawing), edits(drawing), numbered, whole)
    used = {key for piece in drawing.as_read for key in _drawn(piece)}
    loose = [
        s for s in drawing.shapes if s.key not in used and _stays(s) and file.says(s.key, s.text)
    ]
    return _pattern(drawing.pieces, file, loose)


def pattern_of_pieces(pieces: Iterable[Piece]) -> Pattern:
    """Pieces without a file behind them."""
    return _pattern(tuple(pieces), _File(), ())


def _details(drawing: Drawing) -> Callable[[int], Detail]:
    if isinstance(drawing.source, DxfSource):
        return of_dxf(drawing.source)
    return of_svg(drawing.source)


def _drawn(piece: Piece) -> Iterator[int]:
    """The shapes of the file that draw the piece."""
    for outline in (piece.outline, piece.stitching):
        yield from (o.shape for o in outline.origins) if outline else ()
    yield from (m.shape for m in piece.marks)


def _stays(shape: Shape) -> bool:
    """Is it something of its own, that a clean file does not write anyhow?"""
    if shape.kind in _VERTEX_POINTS:
        return False
    first = shape.words[0] if shape.words else ""
    copy = shape.kind is Kind.ASIDE and first.isdecimal() and int(first) in COPIES
    return not copy


def _pattern(pieces: Sequence[Piece], file: _File, loose: Sequence[Shape]) -> Pattern:
    common = _common(pieces)
    groups = {_group(p, file): p.key for p in pieces} if file.shapes else {}
    groups.pop(None, None)
    beside: dict[int, list[Item]] = {}
    on_sheet: list[Item] = []
    for shape in loose:
        key = groups.get(shape.group)
        (on_sheet if key is None else beside.setdefault(key, [])).append(_loose(shape, file))
    parts = tuple(
        Part(
            p.title,
            p.size,
            p.outline.ring,
            p.grain.down,
            (*_items(p, file, common.keys()), *beside.get(p.key, ())),
        )
        for p in pieces
    )
    leading = {m.shape: p for p in owners(pieces) for m in p.marks}
    shared = (_mark(leading[m.shape], m, file) for m in common.values())
    return Pattern(parts, tuple(shared), tuple(on_sheet))


def _group(piece: Piece, file: _File) -> int | None:
    key = piece.outline.origins[0].shape
    return file.shapes[key].group if key in file.shapes else None


def _common(pieces: Sequence[Piece]) -> dict[int, Mark]:
    """What is drawn once for several sizes, as the largest of them has it."""
    count = Counter(m.shape for p in pieces if p.size for m in p.marks if not m.is_added)
    leading = {m.shape: m for p in owners(pieces) if p.size for m in p.marks}
    return {shape: leading[shape] for shape, n in count.items() if n > 1}


# -- what belongs to the sheet ------------------------------------------------------------


def _loose(shape: Shape, file: _File) -> Item:
    kind = Kind.TEXT if shape.text else shape.kind or kind_in(shape.words)
    told = (w for w in shape.words if w != SHEET and kind is not None and kind_in((w,)) is kind)
    said = "" if shape.text else next(told, "")
    item = Item(kind, shape.geometry, shape.text, said, file.layer(shape.key, kind))
    return _with_detail(replace(item, hidden=shape.hidden), file.of(shape.key))


def _with_detail(item: Item, said: Detail) -> Item:
    if isinstance(item.geometry, Point):
        place = item.geometry + said.shift
        return replace(item, geometry=place, notch=said.notch, look=said.look)
    return item


# -- what belongs to a piece ----------------------------------------------------------------


def _items(piece: Piece, file: _File, common: Collection[int]) -> Iterator[Item]:
    yield from _outline(piece.outline, Kind.OUTLINE, file)
    if piece.stitching is not None:
        yield from _outline(piece.stitching, Kind.STITCHING, file)
    yield from _undrawn_darts(piece)
    marked = any(m.kind is Kind.GRAIN or m.shape == piece.grain.shape for m in piece.marks)
    if piece.grain.because.sure and not marked:
        yield Item(Kind.GRAIN, grain_line(piece.ring, piece.grain.down))
    joints = _joints(piece)
    named = False
    for mark in piece.marks:
        if mark.shape in common or not file.says(mark.shape, mark.text):
            continue
        if mark.kind in _VERTEX_POINTS and not _at_joint(mark, joints):
            continue
        item = _mark(piece, mark, file)
        if item.kind is Kind.TEXT and not named:
            item = _as_name(piece, item)
            named = item.names
        yield item


def _outline(outline: Outline, kind: Kind, file: _File) -> Iterator[Item]:
    """One ring; or, where the file names the lines that it is drawn of, one for each name."""
    roles = {o.shape: role_in(file.words(o.shape)) for o in outline.origins}
    if file.whole or len(set(roles.values())) < 2:
        yield Item(kind, outline.ring)
        return
    told = [roles[o.shape] for o in outline.origins]
    first = next(k for k in range(len(told)) if told[k - 1] is not told[k])
    order = [*range(first, len(told)), *range(first)]
    run: list[Segment] = []
    for k, following in pairwise([*order, first]):
        run.append(outline.ring.segments[k])
        if following == first or told[following] is not told[k]:
            yield Item(kind, Chain(tuple(run)), said=_word(told[k]))
            run = []


def _word(role: Role | None) -> str:
    return "" if role is None else role.value


def _undrawn_darts(piece: Piece) -> Iterator[Item]:
    """The legs of darts that a person told and no line draws."""
    drawn = {mark.shape for mark in piece.marks}
    for dart in piece.darts:
        if dart.mouth_places is None and drawn.isdisjoint(dart.shapes):
            yield Item(Kind.DART, _legs(dart))


def _legs(dart: Dart) -> Chain:
    return Chain.through((dart.mouth[0], dart.apex, dart.mouth[1]))


def _joints(piece: Piece) -> NDArray[np.float64]:
    """Where the segments of the piece's lines meet or end, as an array (n, 2)."""
    lines = [o.ring for o in (piece.outline, piece.stitching) if o is not None]
    chains = [*lines, *(m.geometry for m in piece.marks if isinstance(m.geometry, Chain))]
    ends = [(p.x, p.y) for chain in chains for p in (chain.end, *(s.start for s in chain))]
    return np.array(ends)


def _at_joint(mark: Mark, joints: NDArray[np.float64]) -> bool:
    """Does the turn or curve point still stand where one is?"""
    p = mark.geometry
    if not isinstance(p, Point):
        return False
    return bool(np.hypot(joints[:, 0] - p.x, joints[:, 1] - p.y).min() <= AT_VERTEX)


def _as_name(piece: Piece, item: Item) -> Item:
    """The writing marked as the piece's name, if that is what it says."""
    written = PIECE_NAME.match(item.text)
    if written and written[1] and "\n" not in item.text.strip():
        return replace(item, text=written[1], names=True)
    same = cleaned(item.text).lower() == piece.title.lower() and "\n" not in item.text
    same = same and not WRITTEN_SIZE.match(item.text)
    return replace(item, names=True) if same else item


def _mark(piece: Piece, mark: Mark, file: _File) -> Item:
    kind = mark.kind
    if kind is Kind.INNER and mark.shape == piece.grain.shape:
        kind = Kind.GRAIN
    layer = file.layer(mark.shape, kind)
    item = Item(kind, mark.geometry, mark.text, mark.called, layer)
    if kind is Kind.NOTCH and isinstance(mark.geometry, Chain):
        return drawn_as_notch(item, piece)
    return _with_detail(item, file.of(mark.shape))
