"""A mark that is new on a piece, drawn next to one like it or next to the piece's outline."""

from __future__ import annotations

import re

from core.curve import Affine, Chain, Point
from core.files.edits import Added
from core.files.svg.collect import Drawn
from core.files.svg.document import Node
from core.files.svg.fresh import CLASSES, path_text
from core.files.svg.numbers import short
from core.files.svg.outlines import GEOMETRY
from core.files.svg.reader import SvgSource
from core.files.svg.tags import Patch, Tag, encoded, renamed, tag_of, whole_end
from core.files.svg.transforms import stretch
from core.piece.model import Mark
from core.piece.words import kind_in

# Attributes by which a shape looks as it does and stands where it does.
_LOOKS = re.compile(r"style|transform|stroke(-[a-z]+)?|fill(-[a-z]+)?|opacity|vector-effect")
_INDENT = re.compile(rb"(?:\r\n|\r|\n)[ \t]*\Z")
_WIDE = ("utf-16-le", "utf-16-be")
# How wide the line of a mark is (mm) where nothing like it is drawn.
_WIDTH = 0.3


def drawn_new(source: SvgSource, new: Added) -> Patch:
    """The patch that draws the mark, in the units and with the transform of its neighbour.

    It looks as a mark of its kind does on the same piece. Beside the outline, or, for a
    piece that is drawn as a clone, at the end of the file, it gets a thin black line.
    """
    for key, alike in ((new.like, True), (new.outline, False)):
        if key is None:
            continue
        drawn = source.drawn[key]
        # A rule may place the neighbour that does not hold for what is drawn beside it.
        if drawn.node in source.placed:
            continue
        if drawn.node.name in GEOMETRY and not drawn.uses and source.visits[drawn.node] < 2:
            return _beside(source, drawn, new, alike=alike)
    return _at_the_end(source, new)


def _beside(source: SvgSource, drawn: Drawn, new: Added, *, alike: bool) -> Patch:
    """On a line of its own behind the neighbour."""
    document, node = source.document, drawn.node
    tag = tag_of(document, node)
    looks = [_spelled(tag, n) for n in tag.attributes if _LOOKS.fullmatch(n)]
    if not alike and not {"style", "stroke"} & tag.attributes.keys():
        looks.append(_plain(drawn.matrix))
    shape = _local(new, drawn.matrix)
    text = " ".join((_drawing(tag, shape, node), _class(tag, new.mark, alike=alike), *looks))
    at = whole_end(document, node, tag)
    return Patch(at, at, _break(source, node.start) + encoded(document, f"<{text}/>"))


def _at_the_end(source: SvgSource, new: Added) -> Patch:
    document, page = source.document, source.page.matrix
    tag, at = tag_of(document, document.root), document.root.end
    attributes = f'class="{CLASSES[new.mark.kind]}" {_plain(page)}'
    text = f"<{_drawing(tag, _local(new, page), None)} {attributes}/>"
    return Patch(at, at, encoded(document, text) + _break(source, at))


def _local(new: Added, matrix: Affine) -> Chain | Point:
    shape, back = new.mark.geometry, matrix.inverse()
    return shape.mapped(back) if isinstance(shape, Chain) else back.point(shape)


def _class(tag: Tag, mark: Mark, *, alike: bool) -> str:
    """The classes of its like, with the word for what it is if they do not say so."""
    classes = (tag.raw("class") or "") if alike else ""
    told = kind_in(tuple(classes.split())) is mark.kind
    return f'class="{classes if told else f"{classes} {CLASSES[mark.kind]}".strip()}"'


def _spelled(tag: Tag, name: str) -> str:
    """The attribute with its value in the quotes in which the file has it."""
    at = tag.attributes[name]
    return f"{name}={tag.text[at.value_begin - 1 : at.end]}"


def _plain(matrix: Affine) -> str:
    return f'fill="none" stroke="#000" stroke-width="{_WIDTH / stretch(matrix)[0]:.4g}"'


def _break(source: SvgSource, at: int) -> bytes:
    """The line end and blanks before a byte of the file."""
    document = source.document
    if document.codec in _WIDE:
        return b""
    found = _INDENT.search(document.data, max(0, at - 200), at)
    return found[0] if found else b""


def _drawing(like: Tag, local: Chain | Point, node: Node | None) -> str:
    """Name and geometry of the element: a line beside lines, else a path."""
    if node is not None and node.name == "line" and isinstance(local, Chain) and len(local) == 1:
        a, b = local.start, local.end
        ends = (("x1", a.x), ("y1", a.y), ("x2", b.x), ("y2", b.y))
        return " ".join((renamed(like.name, "line"), *(f'{n}="{short(v)}"' for n, v in ends)))
    return f'{renamed(like.name, "path")} d="{path_text(local)}"'
