"""Reads an SVG file as shapes in mm of its page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from core.curve import Affine, Box, Point
from core.errors import FileError, UnitUnknownError
from core.files.drawing import Unit
from core.files.reading import Reading
from core.files.svg.collect import Drawn
from core.files.svg.document import Document, Node, scan
from core.files.svg.outlines import View
from core.files.svg.root import Page, page_of, stated, unknown_unit
from core.files.svg.walker import Walk
from core.piece.model import Because, Shape


@dataclass(frozen=True)
class SvgSource:
    """The index behind a reading: for each shape, by key, where the file draws it.

    ``visits`` says how often each element is drawn, `use` included; ``views`` of what
    percentages at each `use` are parts; ``placed`` are the own maps of elements that CSS places,
    ``styled`` what it says of shapes in the place of their attributes.
    """

    document: Document
    page: Page
    drawn: tuple[Drawn, ...]
    visits: Mapping[Node, int]
    views: Mapping[Node, View]
    placed: Mapping[Node, Affine]
    styled: Mapping[Node, Mapping[str, str]]


def read_svg(name: str, data: bytes, *, mm_per_unit: float | None = None) -> Reading:
    """Everything that the file draws, in mm from the top left corner of its page.

    `name` is what messages call the file. `mm_per_unit`, when given, is the length of one
    user unit of the root and comes before what the file says. UnitUnknownError when neither
    says it; FileError for a file that is damaged, no SVG, or of which nothing can be read.
    """
    document = scan(name, data)
    page = page_of(document, mm_per_unit)
    if page is None:
        raise UnitUnknownError(unknown_unit(document, _extent(document)))
    walk = Walk(document)
    walk.run(page)
    if walk.found.lost and not walk.found.shapes:
        raise FileError(walk.found.problems[0])
    source = SvgSource(
        document,
        page,
        tuple(walk.found.drawn),
        MappingProxyType(walk.visits),
        MappingProxyType(walk.views),
        MappingProxyType(walk.placed),
        MappingProxyType(walk.styled),
    )
    problems = (*document.problems, *page.problems, *walk.found.problems)
    return Reading(page.unit, tuple(walk.found.shapes), source, problems)


def _extent(document: Document) -> tuple[float, float] | None:
    """Width and height in user units of the page, or else of all that is drawn."""
    said = stated(document).extent
    if said is not None:
        return said
    unit = Unit(1.0, Because(False, "to measure"))
    walk = Walk(document)
    walk.run(Page(Affine(), unit, None, View(0.0, 0.0), None))
    boxes = [_box(s) for s in walk.found.shapes]
    if not boxes:
        return None
    whole = boxes[0]
    for box in boxes[1:]:
        whole = whole | box
    return whole.width, whole.height


def _box(shape: Shape) -> Box:
    g = shape.geometry
    return Box.around((g,)) if isinstance(g, Point) else g.bounds()
