"""A clean new DXF made with ezdxf: blocks of lines, curves, points and writing."""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from core.curve import Point
from core.files.dxf.own_words import OWNER, TEXT_CODE
from core.files.pattern import Anchor

# The oldest version with splines, and the oldest that can write any letter.
PLAIN, ANY_LETTER = "R2000", "R2007"
PLANAR = 8


@dataclass(frozen=True, slots=True)
class New:
    """What all that is drawn has: a layer, our words with it, whether it is hidden."""

    layer: str
    said: str = ""
    hidden: bool = False


@dataclass(frozen=True, slots=True)
class NewLine:
    """A straight or many-cornered line through points in mm, y up."""

    new: New
    points: tuple[Point, ...]
    closed: bool


@dataclass(frozen=True, slots=True)
class NewCurve:
    """Cubics joined end to end by their 3 n + 1 control points, in mm, y up."""

    new: New
    controls: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class NewPoint:
    """A point in mm, y up; of a notch also its depth, its width and the angle in degrees."""

    new: New
    place: Point
    depth: float = 0.0
    width: float = 0.0
    angle: float | None = None


@dataclass(frozen=True, slots=True)
class NewText:
    """Writing in one or several lines; `place` is where the first line stands, turned by
    `angle` degrees."""

    new: New
    place: Point
    text: str
    height: float
    angle: float = 0.0
    anchor: Anchor = Anchor.START


Thing = NewLine | NewCurve | NewPoint | NewText


@dataclass(frozen=True, slots=True)
class NewBlock:
    """A block to be written and inserted once at the origin."""

    name: str
    items: tuple[Thing, ...]


def new_drawing(blocks: Sequence[NewBlock], loose: Sequence[Thing] = ()) -> bytes:
    """A clean text DXF in mm with these blocks, and the loose things beside them.

    Equal input gives equal bytes.
    """
    import ezdxf

    everything = [*(item for block in blocks for item in block.items), *loose]
    with _without_date():
        document = ezdxf.new(_version(everything))  # type: ignore[attr-defined]
    document.header["$INSUNITS"] = 4
    document.header["$MEASUREMENT"] = 1
    for layer in sorted({item.new.layer for item in everything} - {"0"}):
        document.layers.add(layer)
    if any(item.new.said for item in everything):
        document.appids.add(OWNER)
    for block in blocks:
        _draw_all(document.blocks.new(block.name), block.items)
        document.modelspace().add_blockref(block.name, (0.0, 0.0))
    _draw_all(document.modelspace(), loose)
    out = io.StringIO()
    with _without_date():
        document.write(out)
    return out.getvalue().encode(document.output_encoding, "dxfreplace")


def _version(things: Iterable[Thing]) -> str:
    """The older version writes letters beyond its own as codes of four digits each."""
    texts = (t.text for t in things if isinstance(t, NewText))
    return PLAIN if all(ord(letter) <= 0xFFFF for text in texts for letter in text) else ANY_LETTER


def _draw_all(target: Any, things: Iterable[Thing]) -> None:
    for thing in things:
        entity = _drawn(target, thing)
        if thing.new.hidden:
            entity.dxf.invisible = 1
        if thing.new.said:
            entity.set_xdata(OWNER, [(TEXT_CODE, thing.new.said)])


def _drawn(target: Any, thing: Thing) -> Any:
    looks: dict[str, Any] = {"layer": thing.new.layer}
    if isinstance(thing, NewText):
        return _text(target, thing, looks)
    if isinstance(thing, NewPoint):
        return _point(target, thing, looks)
    if isinstance(thing, NewCurve):
        return _curve(target, thing, looks)
    ends = [(p.x, p.y) for p in thing.points]
    if len(ends) == 2 and not thing.closed:
        return target.add_line(*ends, dxfattribs=looks)
    return target.add_lwpolyline(ends, close=thing.closed, dxfattribs=looks)


def _curve(target: Any, curve: NewCurve, looks: dict[str, Any]) -> Any:
    """A SPLINE of degree 3 whose every joint is a knot three times: the cubics themselves."""
    spline = target.add_spline(dxfattribs={**looks, "degree": 3, "flags": PLANAR})
    count = (len(curve.controls) - 1) // 3
    inner = (float(k) for k in range(count + 1) for _ in range(3))
    spline.knots = [0.0, *inner, float(count)]
    spline.control_points = [(p.x, p.y) for p in curve.controls]
    return spline


def _point(target: Any, point: NewPoint, looks: dict[str, Any]) -> Any:
    if point.width:
        looks["thickness"] = point.width
    if point.angle is not None:
        looks["angle"] = point.angle
    return target.add_point((point.place.x, point.place.y, point.depth), dxfattribs=looks)


def _text(target: Any, writing: NewText, looks: dict[str, Any]) -> Any:
    from ezdxf.enums import TextEntityAlignment

    place, anchors = (writing.place.x, writing.place.y), list(Anchor)
    looks |= {"rotation": writing.angle} if writing.angle else {}
    if "\n" in writing.text:
        looks |= {"char_height": writing.height, "insert": place}
        looks["attachment_point"] = 1 + anchors.index(writing.anchor)
        return target.add_mtext(_formatted(writing.text), dxfattribs=looks)
    align = TextEntityAlignment
    aligned = (align.LEFT, align.CENTER, align.RIGHT)[anchors.index(writing.anchor)]
    text = target.add_text(writing.text, height=writing.height, dxfattribs=looks)
    return text.set_placement(place, align=aligned)


def _formatted(text: str) -> str:
    """As MTEXT writes it: what it would take for a code of its own is escaped."""
    for sign in "\\{}":
        text = text.replace(sign, "\\" + sign)
    return text.replace("^", "^ ").replace("\n", "\\P")


@contextmanager
def _without_date() -> Iterator[None]:
    """ezdxf's switch for equal bytes from equal drawings, put back afterwards."""
    from ezdxf._options import options

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before
