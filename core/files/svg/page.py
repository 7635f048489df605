"""The page of a written file: large enough for what was altered, at the same scale."""

from __future__ import annotations

import math

from core.curve import Box
from core.files.edits import PathEdit, PointEdit
from core.files.svg.document import Document
from core.files.svg.numbers import short
from core.files.svg.root import Page, side_in_style, stated
from core.files.svg.tags import Change, escaped
from core.files.svg.units import Length

# Room between the drawing and a border of the page that had to move, in mm.
ROOM = 5.0
# What sticks out by less than this stays as it is, in mm.
SLACK = 1e-6


def bounds_of(edits: list[PathEdit | PointEdit], *, new: bool) -> Box | None:
    """The box in mm of what the edits put in place, or (not `new`) of what stood there."""
    boxes: list[Box] = []
    for edit in edits:
        if isinstance(edit, PathEdit):
            segments = [s for part in edit.new for s in part] if new else edit.old
            boxes += (s.bounds() for s in segments)
        elif not new or edit.new is not None:
            point = edit.new if new and edit.new is not None else edit.old
            boxes.append(Box.around((point,)))
    if not boxes:
        return None
    out = boxes[0]
    for box in boxes[1:]:
        out = out | box
    return out


def grown(document: Document, page: Page, needed: Box, before: Box | None) -> Change | None:
    """How the root must change so that the page holds `needed` (mm); None if it does.

    Width, height and viewBox grow together by whole mm and some room, so that the scale
    stays what it was; on the left and above, where the page is the origin, all that is
    drawn then lies further in. What stood beyond the page `before` may go on doing so. A
    file whose page has no size of its own is left alone.
    """
    if page.size is None:
        return None
    width, height = page.size
    sheet = Box(0.0, 0.0, width, height)
    if (sheet if before is None else sheet | before).holds(needed, margin=SLACK):
        return None
    new = Box(_down(needed.x0), _down(needed.y0), _up(needed.x1, width), _up(needed.y1, height))
    return _resized(document, page, new)


def _down(low: float) -> float:
    return float(math.floor(low - ROOM)) if low < -SLACK else 0.0


def _up(high: float, old: float) -> float:
    return float(math.ceil(high + ROOM)) if high > old + SLACK else old


def _resized(document: Document, page: Page, new: Box) -> Change:
    said = stated(document)
    assert page.size is not None
    attributes: dict[str, str | None] = {}
    for name, side, old, now in (
        ("width", said.width, page.size[0], new.width),
        ("height", said.height, page.size[1], new.height),
    ):
        if side is None or now == old:
            continue
        if name in said.styled:
            style = attributes.get("style") or document.root.get("style")
            attributes["style"] = _restyled(style, name, _length(side, now / old))
        else:
            attributes[name] = _length(side, now / old)
    if page.box is not None or new.x0 < 0.0 or new.y0 < 0.0:
        m = page.matrix
        # The new page in user units: the old map, from the new corner.
        x, y = (new.x0 - m.e) / m.a, (new.y0 - m.f) / m.d
        values = (x, y, new.width / m.a, new.height / m.d)
        attributes["viewBox"] = " ".join(short(v, decimals=12) for v in values)
    if "style" in attributes:
        attributes["style"] = escaped(attributes["style"] or "")
    return Change(attributes)


def _restyled(style: str, name: str, side: str) -> str:
    found = side_in_style(style, name)
    assert found is not None, "the style says this side"
    return style[: found.start(1)] + side + style[found.end(1) :]


def _length(side: Length, factor: float) -> str:
    return short(side.value * factor, decimals=12) + side.unit
