"""A clean SVG of pieces: true size in mm, a group for each piece (and around them for each
size), classes that say what is what."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from functools import reduce
from itertools import count, groupby
from operator import or_
from xml.sax.saxutils import escape

from core.curve import Box, Chain, Line, Point, Ring
from core.errors import FileError
from core.files.notches import as_line
from core.files.pattern import Anchor, Item, Look, Part, Pattern
from core.files.svg.details import CAPITALS
from core.files.svg.numbers import pair, short
from core.piece.model import Kind

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
# What a font is set in where the file said nothing, and how many heights lines lie apart.
_FONT_SIZE = 6.0
_LINE_STEP = 1.6
# All in mm, for the viewBox is. Turn and curve points are kept, but are nothing to be cut.
_STYLE = f"""\
    path {{ fill: none; stroke: #000; stroke-width: 0.3 }}
    .outline {{ stroke-width: 0.6 }}
    .stitching, .inner {{ stroke: #666; stroke-dasharray: 4 2 }}
    .turn-point, .curve-point {{ stroke: none }}
    .drill {{ stroke-width: 1.5; stroke-linecap: round }}
    text {{ font-family: sans-serif; font-size: {_FONT_SIZE:g}px; fill: #000 }}
"""
# What XML 1.0 cannot hold, however it is spelled.
_FORBIDDEN = re.compile("[^\t\n\r -\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def fresh_svg(pattern: Pattern, *, margin: float = 10.0) -> bytes:
    """An SVG document of the pattern in UTF-8; one user unit is 1 mm.

    The page holds all that is drawn with `margin` mm around it; its corner stays the origin
    unless something lies left of or above it. FileError when there is no piece.
    """
    if not pattern.parts:
        raise FileError("There is no pattern piece to write; read or draw one first.")
    x0, y0, width, height = _sheet(pattern, margin)
    ids = _Ids()
    body = "".join(_sizes(pattern, ids))
    body += "".join(f"  {line}\n" for line in _lines(pattern.loose, pattern.parts[0].outline))
    size = f'width="{width}mm" height="{height}mm" viewBox="{x0} {y0} {width} {height}"'
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" {size}>\n'
        f"  <style>\n{_STYLE}  </style>\n{body}</svg>\n"
    ).encode()


def _sheet(pattern: Pattern, margin: float) -> tuple[int, int, int, int]:
    """x, y, width, height of the page in whole mm."""
    items = (*(i for part in pattern.parts for i in part.items), *pattern.common, *pattern.loose)
    boxes = (
        Box.around((i.geometry,)) if isinstance(i.geometry, Point) else i.geometry.bounds()
        for i in items
        if not i.hidden
    )
    box = reduce(or_, boxes)
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


def _sizes(pattern: Pattern, ids: _Ids) -> Iterator[str]:
    """Each piece's group, those of a size in a group of their own, and once what is common."""
    for size, some in groupby(pattern.parts, key=lambda p: p.size):
        groups = "".join(_piece(p, ids) for p in some)
        if size:
            groups = _group(ids.of(f"size {size}"), f"Size {size}", groups)
        yield groups
    if pattern.common:
        lines = (f"    {line}\n" for line in _lines(pattern.common, pattern.parts[0].outline))
        yield _group(ids.of("all sizes"), "All sizes", "".join(lines))


def _group(key: str, title: str, content: str) -> str:
    return f'  <g id="{key}">\n    <title>{_text(title)}</title>\n{content}  </g>\n'


def _piece(part: Part, ids: _Ids) -> str:
    lines = "".join(f"    {line}\n" for line in _lines(part.items, part.outline))
    return _group(ids.of(f"{part.title} {part.size}".strip()), part.title, lines)


def _lines(items: Iterable[Item], ring: Ring) -> Iterator[str]:
    """One element for each item; one for all turn points, and one for all curve points."""
    places: dict[Kind, list[str]] = {}
    for item in items:
        if item.kind in (Kind.TURN_POINT, Kind.CURVE_POINT):
            places.setdefault(item.kind, []).append(path_text(item.geometry))
        else:
            yield _element(item, ring)
    for kind, texts in places.items():
        yield f'<path class="{CLASSES[kind]}" d="{" ".join(texts)}"/>'


def _element(item: Item, ring: Ring) -> str:
    if item.text and isinstance(item.geometry, Point):
        return _writing(item, item.geometry)
    shape = item.geometry
    if isinstance(shape, Point):
        shape = as_line(shape, item.notch, ring) or shape
    return f'<path{_attributes(item)} d="{path_text(shape)}"/>'


def _attributes(item: Item) -> str:
    """What it is, by classes; nothing for what the file left open."""
    words = [CLASSES[item.kind]] if item.kind is not None else []
    words += [w for w in ("-".join(re.findall(r"[A-Za-z0-9]+", item.said)).lower(),) if w]
    words += [f"layer-{item.layer}"] if item.layer is not None and item.kind is not None else []
    told = f' class="{" ".join(dict.fromkeys(words))}"' if words else ""
    return told + (' display="none"' if item.hidden else "")


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


def _writing(item: Item, place: Point) -> str:
    x, y = short(place.x), short(place.y)
    look = item.look or Look(CAPITALS * _FONT_SIZE)
    lines = item.text.split("\n")
    step = short(_LINE_STEP * look.height)
    parts = [_text(lines[0])]
    parts += (f'<tspan x="{x}" dy="{step}">{_text(t)}</tspan>' for t in lines[1:])
    return f'<text{_attributes(item)}{_set_as(look, x, y)} x="{x}" y="{y}">{"".join(parts)}</text>'


def _set_as(look: Look, x: str, y: str) -> str:
    """Size, anchor and turn, where they are not what they usually are."""
    size = short(look.height / CAPITALS)
    style = [] if size == short(_FONT_SIZE) or look.height <= 0.0 else [f"font-size: {size}px"]
    style += [] if look.anchor is Anchor.START else [f"text-anchor: {look.anchor.value}"]
    angle = short(math.degrees(look.turn))
    turn = "" if angle == "0" else f' transform="rotate({angle} {x} {y})"'
    return (f' style="{"; ".join(style)}"' if style else "") + turn


def _text(text: str) -> str:
    return escape(_FORBIDDEN.sub("", text))
