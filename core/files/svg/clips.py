"""What hides parts of a drawing: clip paths, and the frames of nested pages and symbols.

A piece that was seen whole must be so when it is longer. Sources: W3C CSS Masking 1, 5.1 (clip
paths); W3C SVG 2, 8.2 (a nested viewport hides what lies beyond it).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from core.curve import Affine, Box, Chain, Line, Point, Segment
from core.files.edits import PathEdit
from core.files.svg.document import Document, Node
from core.files.svg.figures import Data, figures
from core.files.svg.numbers import short
from core.files.svg.outlines import GEOMETRY, BadLengthError, View, path_data
from core.files.svg.tags import Change
from core.files.svg.transforms import stretch, transform
from core.files.svg.viewports import sides_of

# What sticks out by less than this (mm) counts as seen.
_SLACK = 1e-3
# Room (mm) beside what a clip path was widened for.
_ROOM = 5.0
_LINK = re.compile(r"url\(\s*[\"']?#([^\"')]+?)[\"']?\s*\)")
_SHAPE = re.compile(r"(?:[a-z-]+\s+)?(?:inset|circle|ellipse|polygon|path|rect|xywh|shape)\(", re.I)
_OVERFLOW = re.compile(r"(?<![\w-])overflow\s*:\s*([a-z]+)")


class Clip(NamedTuple):
    """All within an element shows only in ``box``, in units that ``by`` maps to mm.

    ``node`` is the clipPath, nested svg or symbol. ``frame`` is what can be changed so that more
    shows: that one, or the one rectangle of a clip path; None for a clip path of other shape.
    No ``box`` is known of a mask, nor of a shape that is spelled in CSS: ``node`` is then the
    mask, or what it hides.
    """

    node: Node
    frame: Node | None
    by: Affine
    box: Box | None

    def box_of(self, segments: Iterable[Segment]) -> Box:
        """Around segments (mm), in the clip's units."""
        back = self.by.inverse()
        return _around(s.mapped(back).bounds() for s in segments)

    def shows(self, segments: Chain | Sequence[Segment]) -> bool:
        """Is all of them seen, as far as the box tells?"""
        if self.box is None:
            return False
        margin = _SLACK / stretch(self.by)[0]
        # Mostly all is far inside; to map each segment takes far longer.
        box = _hull(segments)
        corners = (Point(x, y) for x in (box.x0, box.x1) for y in (box.y0, box.y1))
        outer = Box.around(map(self.by.inverse().point, corners))
        return self.box.holds(outer) or self.box.holds(self.box_of(segments), margin=margin)


def hidden_by(document: Document, node: Node, link: str) -> Clip:
    """What hides parts of an element in a way that is not followed."""
    found = _LINK.search(link)
    return Clip((document.by_id.get(found[1]) if found else None) or node, None, Affine(), None)


def clip_path(document: Document, of: Node, link: str, view: View) -> Clip | None:
    """The clip that ``clip-path: url(...)`` makes of the element `of`, mapped to that one's units.

    None where there is none, or where it grows with what it clips. A shape that CSS spells itself
    is not followed (CSS Masking 1, 5.1: basic shapes).
    """
    if _SHAPE.match(link):
        return hidden_by(document, of, link)
    found = _LINK.fullmatch(link)
    node = document.by_id.get(found[1]) if found else None
    if node is None or node.name != "clipPath" or node.get("clipPathUnits") == "objectBoundingBox":
        return None
    whole = transform(node.get("transform")) or Affine()
    parts = [c for c in node.children if c.name in GEOMETRY]
    if len(parts) == 1 and len(list(node.children)) == 1:
        whole = whole @ (transform(parts[0].get("transform")) or Affine())
        chains = _chains(parts[0], Affine(), view)
    else:
        chains = [c for p in parts for c in _chains(p, transform(p.get("transform")), view)]
    if not chains or len(parts) < len(list(node.children)) or not stretch(whole)[1] > 0.0:
        return None
    box = _around(c.bounds() for c in chains)
    is_frame = len(parts) == 1 and len(chains) == 1 and _is_box(chains[0], box)
    return Clip(node, parts[0] if is_frame else None, whole, box)


def _chains(part: Node, by: Affine | None, view: View) -> list[Chain]:
    try:
        data = path_data(part, view)
    except BadLengthError:
        return []
    (drawn,) = figures([Data(data, by or Affine(), 1.0)])
    return [f.geometry for f in drawn.found if isinstance(f.geometry, Chain)]


def _is_box(chain: Chain, box: Box) -> bool:
    corners = {(s.start.x, s.start.y) for s in chain}
    straight = all(isinstance(s, Line) for s in chain)
    level = all(s.start.x == s.end.x or s.start.y == s.end.y for s in chain)
    wanted = {(x, y) for x in (box.x0, box.x1) for y in (box.y0, box.y1)}
    return straight and level and corners == wanted


def frame_clip(node: Node, by: Affine, view: View, use: Node | None) -> Clip | None:
    """The clip of a nested svg or symbol that is drawn in the units that `by` maps."""
    said = _OVERFLOW.search(node.get("style"))
    if (said[1] if said else node.get("overflow")) in ("visible", "auto"):
        return None
    x, y, width, height = sides_of(node, view, use)
    if not (width > 0.0 and height > 0.0):
        return None
    return Clip(node, node, by, Box(x, y, x + width, y + height))


def opened(edits: Iterable[tuple[Sequence[Clip], PathEdit]]) -> dict[Node, Change]:
    """What must change so that all is seen of what was seen whole before its edit."""
    needed: dict[Node, Box] = {}
    clips: dict[Node, Clip] = {}
    for around, edit in edits:
        new = [s for part in edit.new for s in part]
        for clip in around:
            if clip.frame is None or not new or clip.shows(new) or not clip.shows(edit.old):
                continue
            box = clip.box_of(new)
            needed[clip.frame] = needed.get(clip.frame, box) | box
            clips[clip.frame] = clip
    return {frame: _widened(frame, clips[frame], box) for frame, box in needed.items()}


def _widened(frame: Node, clip: Clip, needed: Box) -> Change:
    if frame is clip.node:
        return _unhidden(frame)
    room, box = _ROOM / stretch(clip.by)[0], clip.box
    assert box is not None, "what can be widened has a box"
    x0 = min(box.x0, needed.x0 - room if needed.x0 < box.x0 else box.x0)
    y0 = min(box.y0, needed.y0 - room if needed.y0 < box.y0 else box.y0)
    x1 = max(box.x1, needed.x1 + room if needed.x1 > box.x1 else box.x1)
    y1 = max(box.y1, needed.y1 + room if needed.y1 > box.y1 else box.y1)
    a, b, c, d = map(short, (x0, y0, x1, y1))
    match frame.name:
        case "rect":
            sides = (a, b, short(x1 - x0), short(y1 - y0))
            return Change(dict(zip(("x", "y", "width", "height"), sides, strict=True)))
        case "polygon" | "polyline":
            return Change({"points": f"{a},{b} {c},{b} {c},{d} {a},{d} {a},{b}"})
    return Change({"d": f"M{a} {b}H{c}V{d}H{a}Z"})


def _unhidden(frame: Node) -> Change:
    style = frame.get("style")
    if _OVERFLOW.search(style) and not re.search(r"[&<\"']", style):
        return Change({"style": _OVERFLOW.sub("overflow:visible", style)})
    return Change({"overflow": "visible"})


def parted(
    changes: Mapping[Node, Change], visits: Mapping[Node, int]
) -> tuple[dict[Node, Change], dict[Node, Change]]:
    """Changes of elements that are drawn once or not at all, and those for a copy only."""
    once = {n: c for n, c in changes.items() if visits.get(n, 0) < 2}
    return once, {n: c for n, c in changes.items() if n not in once}


def _hull(segments: Chain | Iterable[Segment]) -> Box:
    """A box that holds them, found soon."""
    if isinstance(segments, Chain):
        return segments.hull
    return _around(Box.around(s.controls) for s in segments)


def _around(boxes: Iterable[Box]) -> Box:
    first, *more = boxes
    for box in more:
        first = first | box
    return first
