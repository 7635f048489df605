"""A clean new file from a pattern, as sewn-products interchange wants it (ASTM D6673).

Each drawn line is one entity: a polyline where it is straight from point to point, a SPLINE
where it has curves, which are its cubics themselves (a straight stretch between them is a
cubic with even speed). A boundary thus stays one closed line. Programs that know no SPLINE
are given polylines within a tolerance, if asked for.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.curve import Affine, Chain, Cubic, Line, Point, Ring, Vector
from core.errors import FileError
from core.files.dxf.layers import BOUNDARY, USUAL, kind_of
from core.files.dxf.new_drawing import (
    New,
    NewBlock,
    NewCurve,
    NewLine,
    NewPoint,
    NewText,
    Thing,
    new_drawing,
)
from core.files.dxf.own_words import ADDED
from core.files.pattern import Item, Look, Notch, Part, Pattern, grain_line
from core.piece.corners import corners
from core.piece.model import AT_VERTEX, Kind
from core.piece.sizes import WRITTEN_SIZE

# As fine as an SVG of ours, so that nothing wanders on its way to and fro.
DECIMALS = 9
TEXT_HEIGHT = 5.0
TURN, CURVE = 2, 3
# A layer by this name says that what is drawn there belongs to the sheet.
SHEET_LAYER = "guide"
ALL_SIZES = "ALL_SIZES"
FLIPPED = Affine(d=-1.0)
# Letters that a text file cannot hold in one line.
_CONTROL = re.compile("[\x00-\x09\x0b-\x1f\x7f\ud800-\udfff]")


def fresh_dxf(pattern: Pattern, *, polylines: float | None = None) -> bytes:
    """A new text DXF in mm with one block per piece, inserted where the piece lies.

    Points, lines and curves are exact to 1e-9 mm. With `polylines`, curves come out as straight
    lines that keep within that many mm. FileError when there is no piece.
    """
    if not pattern.parts:
        raise FileError("There is no pattern piece to write; read or draw one first.")
    writer = _Writer(polylines)
    blocks: list[NewBlock] = []
    names: set[str] = set()
    beside: list[Item] = [*pattern.loose]
    for part in pattern.parts:
        name = _block_name(" ".join((part.title, part.size)), names)
        inside = [item for item in part.items if _has_layer(item)]
        beside += [item for item in part.items if not _has_layer(item)]
        blocks.append(NewBlock(name, tuple(writer.part(part, inside, pattern.common))))
    if pattern.common:
        items = (thing for item in pattern.common for thing in writer.item(item))
        blocks.append(NewBlock(_block_name(ALL_SIZES, names), tuple(items)))
    return new_drawing(blocks, [t for item in beside for t in writer.loose(item)])


def _block_name(name: str, taken: set[str]) -> str:
    """The piece's name in letters that every block name may have, and not yet taken."""
    plain = re.sub(r"[^A-Za-z0-9_$-]+", "_", name.encode("ascii", "ignore").decode())
    plain = plain.strip("_") or "PIECE"
    out, k = plain, 2
    while out.lower() in taken:
        out, k = f"{plain}_{k}", k + 1
    taken.add(out.lower())
    return out


def _has_layer(item: Item) -> bool:
    """Is there a numbered layer for it, so that it can stand in a block?"""
    return item.kind in USUAL or _own_layer(item) is not None


def _own_layer(item: Item) -> int | None:
    """The layer that it came from, if what is drawn there is what it is."""
    if item.layer is None or item.kind is None:
        return None
    is_point = isinstance(item.geometry, Point) and not item.text
    fits = item.kind is Kind.TEXT or kind_of(str(item.layer), is_point=is_point) is item.kind
    return item.layer if fits else None


@dataclass(frozen=True)
class _Writer:
    """Turns items into what is drawn; `polylines` is the tolerance of curves drawn straight."""

    polylines: float | None

    def part(self, part: Part, items: Sequence[Item], common: Sequence[Item]) -> Iterator[Thing]:
        for item in items:
            yield from self.item(_name_line(item) if item.names else item)
        if not any(item.kind is Kind.GRAIN for item in (*items, *common)):
            new = New(str(USUAL[Kind.GRAIN]), ADDED)
            yield self._straight(grain_line(part.outline, part.down), new)
        yield from _labels(part, items)
        yield from self._vertex_points(part, items)

    def item(self, item: Item) -> Iterator[Thing]:
        """The item on the layer of its kind."""
        layer = _own_layer(item) or USUAL[item.kind or Kind.TEXT]
        said = "dart" if item.kind is Kind.DART else _plain(item.said)
        yield from self._things(item, New(str(layer), said, item.hidden))

    def loose(self, item: Item) -> Iterator[Thing]:
        """The item on the sheet, where the layer's name says what it is."""
        if item.kind is Kind.TEXT:
            layer = str(_own_layer(item) or USUAL[Kind.TEXT])
        elif item.kind is None:
            layer = "0"
        else:
            usual = SHEET_LAYER if item.kind is Kind.ASIDE else item.kind.value
            layer = _plain(item.said) or usual
        yield from self._things(item, New(layer, hidden=item.hidden))

    def _things(self, item: Item, new: New) -> Iterator[Thing]:
        shape = item.geometry
        if item.kind is Kind.TEXT and isinstance(shape, Point):
            text = _lines(item.text)
            yield from [_writing(text, shape, item.look, new)] if text else ()
        elif isinstance(shape, Point):
            yield _point(shape, item.notch, new)
        elif self.polylines is None and any(isinstance(s, Cubic) for s in shape):
            yield NewCurve(new, _controls(shape))
        else:
            yield self._straight(shape, new)

    def _straight(self, shape: Chain, new: New) -> Thing:
        points = [_up(p) for p in self._vertices(shape)]
        distinct = [p for k, p in enumerate(points) if k == 0 or p != points[k - 1]]
        closed = isinstance(shape, Ring)
        if closed and distinct[-1] == distinct[0] and len(distinct) > 1:
            distinct.pop()
        if len(distinct) == 1:
            return NewPoint(new, distinct[0])
        return NewLine(new, tuple(distinct), closed)

    def _vertices(self, shape: Chain) -> list[Point]:
        """The ends of its segments, and between those what its curves need."""
        if self.polylines is None:
            return [*(s.start for s in shape), shape.end]
        flat = shape.flattened(tolerance=self.polylines).tolist()
        return [Point(x, y) for x, y in flat]

    def _vertex_points(self, part: Part, items: Sequence[Item]) -> Iterator[NewPoint]:
        """A turn point at each corner of the outline and a curve point at each other vertex,
        where the file did not say itself which of them it is."""
        told = {k: _places(items, k) for k in (Kind.TURN_POINT, Kind.CURVE_POINT)}
        turns = {part.outline.segments[k].start for k in corners(part.outline)}
        said = np.array([(p.x, p.y) for places in told.values() for p in places])
        for p in self._vertices(part.outline)[:-1]:
            if len(said) and np.hypot(said[:, 0] - p.x, said[:, 1] - p.y).min() <= AT_VERTEX:
                continue
            yield NewPoint(New(str(TURN if p in turns else CURVE), ADDED), _up(p))


def _places(items: Sequence[Item], kind: Kind) -> list[Point]:
    return [i.geometry for i in items if i.kind is kind and isinstance(i.geometry, Point)]


def _name_line(item: Item) -> Item:
    return replace(item, text=f"Piece Name: {item.text}", layer=BOUNDARY)


def _labels(part: Part, items: Sequence[Item]) -> Iterator[NewText]:
    """Name, unit and size in the middle of the piece, but for what is written already."""
    rows = [] if any(item.names for item in items) else [f"Piece Name: {_lines(part.title)}"]
    rows.append("Units: METRIC")
    if part.size and not any(WRITTEN_SIZE.match(item.text) for item in items if item.text):
        rows.append(f"Size: {part.size}")
    centre = part.outline.bounds().centre
    for k, row in enumerate(rows):
        place = Point(centre.x, centre.y + 2.0 * TEXT_HEIGHT * k)
        yield NewText(New(str(BOUNDARY), ADDED), _up(place), row, TEXT_HEIGHT)


def _controls(shape: Chain) -> tuple[Point, ...]:
    """The control points of its cubics, one after the other; a line goes at even speed."""
    out = [_up(shape.start)]
    for s in shape:
        cubic = Cubic(s.start, s.at(1 / 3), s.at(2 / 3), s.end) if isinstance(s, Line) else s
        out += [_up(p) for p in cubic.controls[1:]]
    return tuple(out)


def _point(place: Point, notch: Notch | None, new: New) -> NewPoint:
    if notch is None:
        return NewPoint(new, _up(place))
    angle = None
    if notch.inward is not None:
        angle = _rounded(math.degrees(math.atan2(-notch.inward.y, notch.inward.x)) % 360.0)
    return NewPoint(new, _up(place), _rounded(notch.depth), _rounded(notch.width), angle)


def _writing(text: str, place: Point, look: Look | None, new: New) -> NewText:
    look = look if look is not None and look.height > 0.0 else Look(TEXT_HEIGHT)
    if "\n" in text:
        # Several lines hang from the top of the first.
        place = place.moved(Vector(0.0, look.height).turned(look.turn), -1.0)
    angle = _rounded(math.degrees(-look.turn) % 360.0)
    return NewText(new, _up(place), text, _rounded(look.height), angle, look.anchor)


def _lines(text: str) -> str:
    """The text without what a text file cannot hold, line by line."""
    lines = (" ".join(line.split()) for line in _CONTROL.sub("", text).split("\n"))
    return "\n".join(filter(None, lines))


def _plain(word: str) -> str:
    """The word in letters that a layer's name and our own words may have."""
    return " ".join(re.findall(r"[A-Za-z0-9]+", word))


def _up(p: Point) -> Point:
    """The point with y up, rounded."""
    p = FLIPPED.point(p)
    return Point(_rounded(p.x), _rounded(p.y))


def _rounded(x: float) -> float:
    return round(x, DECIMALS) + 0.0
