"""What a POINT or a writing says beyond its place: a notch's depth, angle and width; the
height, direction and anchor of writing (DXF reference: POINT, TEXT, MTEXT)."""

from __future__ import annotations

import math
from collections.abc import Callable

from core.curve import Vector
from core.files.dxf import layers
from core.files.dxf.paths import widest
from core.files.dxf.shapes import WRITING, Numbers, numbers
from core.files.dxf.source import DxfSource
from core.files.dxf.walk import Drawn
from core.files.pattern import Anchor, Detail, Look, Notch

ANCHORS = (Anchor.START, Anchor.MIDDLE, Anchor.END)
# TEXT by its middle, both ways.
MIDDLE_OF_BOTH = 4


def details(source: DxfSource) -> Callable[[int], Detail]:
    """By shape: what is said of it."""

    def of(key: int) -> Detail:
        drawn = source.drawn[key]
        said = numbers(source.file.pairs, drawn.entity)
        if drawn.entity.type in WRITING:
            return _writing(said, drawn)
        if drawn.entity.type == "POINT" and layers.number_of(drawn.layer) in layers.NOTCHES:
            return Detail(notch=_notch(said, drawn))
        return Detail()

    return of


def _notch(said: Numbers, drawn: Drawn) -> Notch | None:
    scale = widest(drawn.to_mm)
    inward = _direction(said, drawn) if 50 in said.at else None
    depth, width = abs(said.get(30, 0.0)) * scale, abs(said.get(39, 0.0)) * scale
    return Notch(depth, inward, width) if depth or inward is not None else None


def _direction(said: Numbers, drawn: Drawn) -> Vector:
    angle = math.radians(said.get(50, 0.0))
    seen = drawn.to_mm.vector(Vector(math.cos(angle), math.sin(angle)))
    return seen.unit()


def _writing(said: Numbers, drawn: Drawn) -> Detail:
    is_lines = said.entity.type == "MTEXT"
    anchor, drop = _of_lines(said) if is_lines else _of_text(said)
    along = _along(said, drawn) if is_lines else _direction(said, drawn)
    turn = math.atan2(along.y, along.x)
    height = said.get(40, 1.0) * drawn.to_mm.vector(Vector(0.0, 1.0)).norm
    shift = Vector(0.0, drop * height).turned(turn)
    if not is_lines and 11 in said.at and (anchor is not Anchor.START or drop):
        shift = shift + drawn.to_mm.vector(said.point(11) - said.point(10))
    return Detail(look=Look(height, turn, anchor), shift=shift)


def _along(said: Numbers, drawn: Drawn) -> Vector:
    """MTEXT states its direction, or else the angle."""
    if 11 not in said.at or 21 not in said.at:
        return _direction(said, drawn)
    along = drawn.to_mm.vector(Vector(said.get(11), said.get(21)))
    return along if along.norm else _direction(said, drawn)


def _of_text(said: Numbers) -> tuple[Anchor, float]:
    """The anchor, and how many heights below it the baseline lies."""
    across, up = int(said.get(72, 0.0)), int(said.get(73, 0.0))
    if across == MIDDLE_OF_BOTH:
        return Anchor.MIDDLE, 0.5
    anchor = ANCHORS[across] if 0 <= across < len(ANCHORS) else Anchor.START
    return anchor, {2: 0.5, 3: 1.0}.get(up, 0.0)


def _of_lines(said: Numbers) -> tuple[Anchor, float]:
    """The same for MTEXT, of its first line: it is attached by its box."""
    at = min(max(int(said.get(71, 1.0)), 1), 9) - 1
    return ANCHORS[at % 3], (1.0, 0.5, 0.0)[at // 3]
