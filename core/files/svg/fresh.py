"""A clean SVG of pieces: true size in mm, a group for each piece (and around them for each
size), classes that say what is what."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from itertools import count, groupby
from xml.sax.saxutils import escape

from core.curve import Box, Chain, Line, Point, Ring
from core.errors import FileError
from core.files.svg.numbers import pair, short
from core.piece.model import Dart, Kind, Mark, Piece
from core.piece.sizes import owners

# The class of each kind: words of the trade, by which a reader knows the shape again.
CLASSES: dict[Kind, str] = {
    Kind.OUTLINE: "outline",
    Kind.STITCHING: "stitching",
    Kind.GRAIN: "grain",
    Kind.FOLD: "fold-line",
    Kind.NOTCH: "notch",
    Kind.DRILL: "drill",
    Kind.DART: "dart",
    Kind.INNER: "inner",
    Kind.CUTOUT: "cutout",
    Kind.TEXT: "text",
    Kind.TURN_POINT: "turn-point",
    Kind.CURVE_POINT: "curve-point",
    Kind.ASIDE: "guide",
}
# All in mm, for the viewBox is.
_STYLE = """\
    path { fill: none; stroke: #000; stroke-width: 0.3 }
    .outline { stroke-width: 0.6 }
    .stitching, .inner { stroke: #666; stroke-dasharray: 4 2 }
    .drill { stroke-width: 1.5; stroke-linecap: round }
    text { font-family: sans-serif; font-size: 6px; fill: #000 }
"""
_LINE_STEP = 7.0
# What XML 1.0 cannot hold, however it is spelled.
_FORBIDDEN = re.compile("[^\t\n\r -\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def fresh_svg(pieces: Iterable[Piece], *, margin: float = 10.0) -> bytes:
    """An SVG document of the pieces in UTF-8; one user unit is 1 mm.

    The page holds all pieces with `margin` mm around them; its corner stays the origin
    unless a piece lies left of or above it. FileError when there is no piece.
    """
    pieces = tuple(pieces)
    if not pieces:
        raise FileError("There is no pattern piece to write; read or draw one first.")
    x0, y0, width, height = _sheet(pieces, margin)
    ids = _Ids()
    body = "".join(_sizes(pieces, ids))
    size = f'width="{width}mm" height="{height}mm" viewBox="{x0} {y0} {width} {height}"'
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" {size}>\n'
        f"  <style>\n{_STYLE}  </style>\n{body}</svg>\n"
    ).encode()


def _sheet(pieces: tuple[Piece, ...], margin: float) -> tuple[int, int, int, int]:
    """x, y, width, height of the page in whole mm."""
    box = pieces[0].outline.ring.bounds()
    for piece in pieces:
        drawn = (piece.outline.ring, piece.ring, *(m.geometry for m in piece.marks))
        for geometry in drawn:
            box |= Box.around((geometry,)) if isinstance(geometry, Point) else geometry.bounds()
    x0, y0 = (min(0, math.floor(v - margin)) for v in (box.x0, box.y0))
    return x0, y0, math.ceil(box.x1 + margin) - x0, math.ceil(box.y1 + margin) - y0


class _Ids:
    """Ids from names, each given out once."""

    def __init__(self) -> None:
        self.given: set[str] = set()

    def of(self, name: str) -> str:
        stem = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")
        stem = stem if stem[:1].isalpha() else f"piece-{stem}".strip("-")
        found = next(
            c for k in count(1) if (c := stem if k == 1 else f"{stem}-{k}") not in self.given
        )
        self.given.add(found)
        return found


def _sizes(pieces: Sequence[Piece], ids: _Ids) -> Iterator[str]:
    """Each piece's group, those of a size in a group of their own, and once what is common."""
    common = _common(pieces)
    for size, some in groupby(pieces, key=lambda p: p.size):
        groups = "".join(_piece(p, ids, common.keys()) for p in some)
        if size:
            groups = _group(ids.of(f"size {size}"), f"Size {size}", groups)
        yield groups
    if common:
        lines = (f"    {_mark(mark)}\n" for mark in common.values())
        yield _group(ids.of("all sizes"), "All sizes", "".join(lines))


def _common(pieces: Sequence[Piece]) -> dict[int, Mark]:
    """What is drawn once for several sizes, as the largest of them has it."""
    count = Counter(m.shape for p in pieces if p.size for m in p.marks if not m.is_added)
    leading = {m.shape: m for p in owners(pieces) if p.size for m in p.marks}
    return {shape: leading[shape] for shape, n in count.items() if n > 1}


def _group(key: str, title: str, content: str) -> str:
    return f'  <g id="{key}">\n    <title>{_text(title)}</title>\n{content}  </g>\n'


def _piece(piece: Piece, ids: _Ids, common: Collection[int]) -> str:
    lines = "".join(f"    {line}\n" for line in _inside(piece, common))
    return _group(ids.of(piece.name), piece.title, lines)


def _inside(piece: Piece, common: Collection[int]) -> Iterator[str]:
    yield _path(Kind.OUTLINE, piece.outline.ring)
    if piece.stitching is not None:
        yield _path(Kind.STITCHING, piece.stitching.ring)
    drawn = {mark.shape for mark in piece.marks}
    for dart in piece.darts:
        if dart.mouth_places is None and drawn.isdisjoint(dart.shapes):
            yield _path(Kind.DART, _legs(dart))
    if all(mark.kind is not Kind.GRAIN for mark in piece.marks):
        yield _path(Kind.GRAIN, _grain(piece))
    for mark in piece.marks:
        if mark.shape not in common:
            yield _mark(mark)


def _legs(dart: Dart) -> Chain:
    return Chain.through((dart.mouth[0], dart.apex, dart.mouth[1]))


def _grain(piece: Piece) -> Chain:
    """A grain line through the middle of the piece, half as long as its smaller side."""
    box = piece.ring.bounds()
    reach = piece.grain.down * (min(box.width, box.height) / 4)
    return Chain((Line(box.centre + -reach, box.centre + reach),))


def _mark(mark: Mark) -> str:
    if mark.text and isinstance(mark.geometry, Point):
        return _writing(mark.text, mark.geometry, CLASSES[mark.kind])
    return _path(mark.kind, mark.geometry)


def _path(kind: Kind, geometry: Ring | Chain | Point) -> str:
    return f'<path class="{CLASSES[kind]}" d="{path_text(geometry)}"/>'


def path_text(geometry: Ring | Chain | Point) -> str:
    """Path data in the geometry's own unit; a point is a line without length."""
    if isinstance(geometry, Point):
        return f"M{pair(geometry)}h0"
    out = ["M" + pair(geometry.start)]
    closing = isinstance(geometry, Ring)
    for k, segment in enumerate(geometry, 1):
        if isinstance(segment, Line) and closing and k == len(geometry):
            break
        letter = "L" if isinstance(segment, Line) else "C"
        out.append(letter + " ".join(pair(p) for p in segment.controls[1:]))
    return " ".join(out) + (" Z" if closing else "")


def _writing(text: str, place: Point, kind: str) -> str:
    x, lines = short(place.x), text.split("\n")
    parts = [_text(lines[0])]
    parts += (f'<tspan x="{x}" dy="{_LINE_STEP:g}">{_text(t)}</tspan>' for t in lines[1:])
    return f'<text class="{kind}" x="{x}" y="{short(place.y)}">{"".join(parts)}</text>'


def _text(text: str) -> str:
    return escape(_FORBIDDEN.sub("", text))
