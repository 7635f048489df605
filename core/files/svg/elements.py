"""What must change in an element's tag so that it draws something else."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from core.curve import Affine, Line, Point, Segment, Vector
from core.curve.arcs import ARC_TOLERANCE
from core.files.edits import PathEdit, PointEdit
from core.files.svg.collect import Drawn
from core.files.svg.document import Document, Node
from core.files.svg.numbers import short
from core.files.svg.outlines import GEOMETRY, number, path_data, points_data
from core.files.svg.pathdata import parse
from core.files.svg.pathsplice import SAME, Replacement, same_point, same_segment, splice_path
from core.files.svg.reader import SvgSource
from core.files.svg.styled import as_said, drawn_by_style
from core.files.svg.tags import Change, Tag, spelled, tag_of
from core.files.svg.texts import moved
from core.files.svg.trace import trace
from core.files.svg.transforms import stretch

_ONLY_POINTS = re.compile(r"M[^A-DF-Za-df-z]*(?:L[^A-DF-Za-df-z]*)*(Z?)\s*")
# Where each shape stands, by the attributes that a shift changes: name and axis.
_ANCHORS: dict[str, tuple[tuple[str, str], ...]] = {
    "rect": (("x", "x"), ("y", "y")),
    "circle": (("cx", "x"), ("cy", "y")),
    "ellipse": (("cx", "x"), ("cy", "y")),
}

# By these an editor keeps what a path is made from: a star, a spiral, part of an ellipse, or the
# path before effects.
_LIVE = (
    ("http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd", "type"),
    ("http://www.inkscape.org/namespaces/inkscape", "path-effect"),
    ("http://www.inkscape.org/namespaces/inkscape", "original-d"),
)

Edit = PathEdit | PointEdit


def changes_of(source: SvgSource, drawn: Drawn, edits: Mapping[int, Edit]) -> dict[Node, Change]:
    """What becomes of an element and of parts of it; `edits` by number of its subpath.

    Empty when the edits change nothing. FileError when the element cannot be altered.
    """
    document, node = source.document, drawn.node
    if node.name == "text":
        return _text_changes(drawn, edits[0], source.placed)
    tag = tag_of(document, node)
    name = "points" if node.name.startswith("poly") else "d"
    text = spelled(document, node, tag, name) or ""
    said = source.styled.get(node)
    data = _data(drawn, text) if said is None else path_data(as_said(node, said), drawn.view)
    new = _replacements(document, drawn, data, edits)
    if not new:
        return {}
    if _all_gone(drawn, data, new):
        return {node: Change(gone=True)}
    change = _simple_change(drawn, new, edits) if said is None else None
    if change is not None:
        return {node: change}
    out = splice_path(data, drawn.matrix, new, arc_tolerance=_tolerance(drawn))
    if said is not None and "d" in said:
        return {node: drawn_by_style(node, out)}
    if name == "points":
        points = _points(out, closed=node.name == "polygon")
        if points is not None:
            return {node: Change({"points": points})}
    return {node: _as_path(node, tag, out)}


def _text_changes(drawn: Drawn, edit: Edit, placed: Mapping[Node, Affine]) -> dict[Node, Change]:
    if not isinstance(edit, PointEdit) or edit.new is None:
        return {drawn.node: Change(gone=True)}
    if same_point(edit.old, edit.new):
        return {}
    return moved(drawn.node, drawn.matrix.inverse().vector(edit.new - edit.old), placed)


def _data(drawn: Drawn, text: str) -> str:
    """The path data, in the file's own spelling where it has one."""
    match drawn.node.name:
        case "path":
            return text
        case "polygon" | "polyline":
            return points_data(text, closed=drawn.node.name == "polygon")
    return path_data(drawn.node, drawn.view)


def _tolerance(drawn: Drawn) -> float:
    return ARC_TOLERANCE / stretch(drawn.matrix)[0]


def _replacements(
    document: Document, drawn: Drawn, data: str, edits: Mapping[int, Edit]
) -> dict[int, Replacement]:
    """The edits that do change something, checked against what the file draws."""
    subpaths = parse(data, arc_tolerance=_tolerance(drawn)).subpaths
    out: dict[int, Replacement] = {}
    for number_, edit in edits.items():
        traced = trace(subpaths[number_], drawn.matrix)
        if isinstance(edit, PointEdit):
            if edit.new is None:
                out[number_] = ()
            elif not same_point(edit.new, traced.start):
                out[number_] = edit.new
            continue
        if len(edit.new) != len(traced.segments):
            raise document.error(
                drawn.node,
                f"the change has {len(edit.new)} parts for a shape of {len(traced.segments)}; "
                "read the file again before saving.",
            )
        if not all(map(_same_part, traced.segments, edit.new)):
            out[number_] = edit.new
    return out


def _same_part(old: Segment, new: Sequence[Segment]) -> bool:
    return len(new) == 1 and same_segment(old, new[0])


def _all_gone(drawn: Drawn, data: str, new: Mapping[int, Replacement]) -> bool:
    """Is nothing left of any subpath that draws something?"""
    subpaths = parse(data, arc_tolerance=_tolerance(drawn)).subpaths
    return all(len(steps) < 2 or _is_gone(new.get(k)) for k, steps in enumerate(subpaths))


def _is_gone(new: Replacement | None) -> bool:
    return not isinstance(new, Point | None) and not any(new)


def _simple_change(
    drawn: Drawn, new: Mapping[int, Replacement], edits: Mapping[int, Edit]
) -> Change | None:
    """A shift of a rectangle or circle, or a line that stays one, by their own attributes."""
    node, edit = drawn.node, edits.get(0)
    if not isinstance(edit, PathEdit):
        return None
    if node.name == "line" and len(edit.new[0]) == 1 and isinstance(edit.new[0][0], Line):
        return _line_change(drawn, edit.old[0], edit.new[0][0])
    shift = _shift(edit) if node.name in _ANCHORS else None
    if shift is None:
        return None
    step = drawn.matrix.inverse().vector(shift)
    attributes = {}
    for name, axis in _ANCHORS[node.name]:
        whole, by = (drawn.view.width, step.x) if axis == "x" else (drawn.view.height, step.y)
        if abs(by) > SAME:
            attributes[name] = short(number(node, name, whole) + by)
    return Change(attributes)


def _line_change(drawn: Drawn, old: Segment, new: Line) -> Change:
    inverse = drawn.matrix.inverse()
    attributes = {}
    for k, (was, now) in enumerate(((old.start, new.start), (old.end, new.end)), 1):
        a, b = inverse.point(was), inverse.point(now)
        if abs(a.x - b.x) > SAME:
            attributes[f"x{k}"] = short(b.x)
        if abs(a.y - b.y) > SAME:
            attributes[f"y{k}"] = short(b.y)
    return Change(attributes)


def _shift(edit: PathEdit) -> Vector | None:
    """The one vector by which all segments moved; None when it is more than a shift."""
    pairs: list[tuple[Point, Point]] = []
    for old, new in zip(edit.old, edit.new, strict=True):
        if len(new) != 1 or len(new[0].controls) != len(old.controls):
            return None
        pairs += zip(old.controls, new[0].controls, strict=True)
    shift = pairs[0][1] - pairs[0][0]
    return shift if all(same_point(p + shift, q) for p, q in pairs) else None


def _points(data: str, *, closed: bool) -> str | None:
    """Path data as a list of points; None when it has curves, gaps, or closes otherwise."""
    found = _ONLY_POINTS.fullmatch(data)
    if not found or bool(found[1]) != closed:
        return None
    body = data[1:].rstrip()
    body = body[:-1] if closed else data[1:]
    return re.sub(r"L", " ", re.sub(r"(?<=\s)L", "", body))


def _as_path(node: Node, tag: Tag, data: str) -> Change:
    attributes: dict[str, str | None] = {"d": data, **dict.fromkeys(_drawing_anew(node, tag))}
    if node.name != "path":
        attributes |= {a: None for a in GEOMETRY[node.name] if a in node.attributes}
    return Change(attributes, rename="" if node.name == "path" else "path")


def _drawing_anew(node: Node, tag: Tag) -> list[str]:
    """Attributes by which an editor draws the path from other data the next time, so that the
    alteration would be lost; as the tag spells them."""
    locals_ = {local for space, local in _LIVE if f"{space} {local}" in node.attributes}
    return [name for name in tag.attributes if name.partition(":")[2] in locals_]
