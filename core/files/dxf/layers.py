"""What the numbered layers of sewn-products interchange mean (ASTM D6673, clause 4.3)."""

from __future__ import annotations

from core.files.dxf.records import Block, Layout
from core.piece.model import Kind

BOUNDARY, SEW_LINE = 1, 14
TOLD = {
    1: Kind.OUTLINE,
    2: Kind.TURN_POINT,
    3: Kind.CURVE_POINT,
    4: Kind.NOTCH,
    6: Kind.FOLD,
    7: Kind.GRAIN,
    8: Kind.INNER,
    11: Kind.CUTOUT,
    13: Kind.DRILL,
    14: Kind.STITCHING,
    15: Kind.TEXT,
} | dict.fromkeys(range(80, 84), Kind.NOTCH)
# Where each kind is drawn in a new file; darts have no layer of their own.
USUAL = {kind: number for number, kind in reversed(list(TOLD.items()))} | {
    Kind.NOTCH: 4,
    Kind.DART: 8,
}
NOTCHES = frozenset(number for number, kind in TOLD.items() if kind is Kind.NOTCH)
VALIDATION = range(84, 88)
# Boundary and sew line: these are lines; a point drawn there is only a reference.
LINES_ONLY = (Kind.OUTLINE, Kind.STITCHING, Kind.TEXT)
POINTS_ONLY = (Kind.TURN_POINT, Kind.CURVE_POINT)
DRAWN = frozenset({"LWPOLYLINE", "POLYLINE", "LINE", "ARC", "SPLINE", "ELLIPSE", "CIRCLE"})


def number_of(layer: str) -> int | None:
    """The layer's number, when its name is one."""
    return int(layer) if layer.isascii() and layer.isdigit() and len(layer) <= 3 else None


def kind_of(layer: str, *, is_point: bool) -> Kind:
    """What a line or point on that numbered layer is; ASIDE for all that serves no piece."""
    kind = TOLD.get(number_of(layer) or 0, Kind.ASIDE)
    unfit = LINES_ONLY if is_point else POINTS_ONLY
    return Kind.ASIDE if kind in unfit else kind


def holds_boundary(file: Layout, block: Block) -> bool:
    """Does the block draw a line on layer 1?"""
    return any(e.type in DRAWN and number_of(file.layer_of(e)) == BOUNDARY for e in block.entities)


def is_standard(file: Layout) -> bool:
    """Does the file look like sewn-products interchange?

    It does when a block draws a boundary on layer 1 and names its layers by numbers only.
    """
    return any(
        holds_boundary(file, block)
        and all(number_of(file.layer_of(e)) is not None for e in block.entities)
        for block in file.blocks.values()
    )
