"""A clean new file from pieces, as sewn-products interchange wants it (ASTM D6673).

Boundaries with curves are closed polylines whose curves are arcs (bulges), fitted within
0.02 mm. A boundary there has to be one closed polyline, and bulges are the one kind of
curve that a polyline can hold and that practically every program draws; a boundary of
lines and SPLINEs would be exact, but falls apart in programs that look for one ring.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Sequence

from core.curve import Affine, Chain, Line, Point, Ring
from core.files.dxf.biarc import TOLERANCE, Step, as_steps
from core.files.dxf.layers import BOUNDARY, SEW_LINE, TOLD
from core.files.dxf.reader import PIECE_NAME
from core.files.dxf.through_ezdxf import NewBlock, NewLine, NewPoint, new_drawing
from core.files.dxf.units import UNIT_TEXT
from core.piece.model import Kind, Mark, Piece
from core.piece.sizes import WRITTEN_SIZE

# Finer than any cutter moves, and short to read.
DECIMALS = 6
# Directions that differ by more than this (in radians, 5 degrees) make a corner.
CORNER = math.radians(5.0)
TEXT_HEIGHT = 5.0
TURN, CURVE = 2, 3
LAYER_OF = {kind: number for number, kind in reversed(list(TOLD.items()))} | {
    Kind.NOTCH: 4,
    Kind.DART: 8,
}
# Worked out anew from the outline, or no part of a piece.
NOT_COPIED = (Kind.TURN_POINT, Kind.CURVE_POINT, Kind.ASIDE, Kind.OUTLINE, Kind.STITCHING)
WRITTEN_ANEW = (PIECE_NAME, UNIT_TEXT, WRITTEN_SIZE)
FLIPPED = Affine(d=-1.0)
# Half of this share of the piece's longer side is left free at both ends of a new grain line.
GRAIN_SHARE = 0.6


def fresh_dxf(pieces: Iterable[Piece]) -> bytes:
    """A new R2000 text DXF in mm with one block per piece, inserted where the piece lies.

    Curves come out as arcs within 0.02 mm; lines, corners and points are exact to 1e-6 mm.
    """
    blocks: list[NewBlock] = []
    names: set[str] = set()
    for piece in pieces:
        name = _block_name(piece.name, names)
        names.add(name.lower())
        blocks.append(NewBlock(name, tuple(_items(piece))))
    return new_drawing(blocks, text_height=TEXT_HEIGHT)


def _block_name(name: str, taken: set[str]) -> str:
    """The piece's name in letters that every block name may have, and not yet taken."""
    plain = re.sub(r"[^A-Za-z0-9_$-]+", "_", name.encode("ascii", "ignore").decode())
    plain = plain.strip("_") or "PIECE"
    out, k = plain, 2
    while out.lower() in taken:
        out, k = f"{plain}_{k}", k + 1
    return out


def _items(piece: Piece) -> Iterator[NewLine | NewPoint]:
    boundary = _steps(piece.outline.ring)
    yield NewLine(BOUNDARY, boundary, True)
    centre = FLIPPED.point(piece.outline.ring.bounds().centre)
    below = Point(centre.x, round(centre.y - 2.0 * TEXT_HEIGHT, DECIMALS))
    yield NewPoint(BOUNDARY, _rounded(centre), f"Piece Name: {' '.join(piece.title.split())}")
    yield NewPoint(BOUNDARY, _rounded(below), "Units: METRIC")
    if piece.size:
        lower = Point(centre.x, round(centre.y - 4.0 * TEXT_HEIGHT, DECIMALS))
        yield NewPoint(BOUNDARY, _rounded(lower), f"Size: {piece.size}")
    yield from _vertex_points(boundary)
    if piece.stitching is not None:
        yield NewLine(SEW_LINE, _steps(piece.stitching.ring), True)
    for mark in piece.marks:
        yield from _mark(mark)
    if all(m.kind is not Kind.GRAIN for m in piece.marks):
        yield NewLine(LAYER_OF[Kind.GRAIN], _steps(_grain_line(piece)), False)


def _vertex_points(boundary: Sequence[Step]) -> Iterator[NewPoint]:
    """A turn point at each corner and a curve point at each smooth joint."""
    for k, step in enumerate(boundary):
        arrives = _direction(boundary[k - 1], at_end=True)
        leaves = _direction(step, at_end=False)
        turn = abs((leaves - arrives + math.pi) % (2.0 * math.pi) - math.pi)
        yield NewPoint(TURN if turn > CORNER else CURVE, step.start)


def _direction(step: Step, *, at_end: bool) -> float:
    chord = step.end - step.start
    half = 2.0 * math.atan(step.bulge)
    return math.atan2(chord.y, chord.x) + (half if at_end else -half)


def _mark(mark: Mark) -> Iterator[NewLine | NewPoint]:
    """The mark on the layer of its kind; the piece's name, size and unit are written once only."""
    if mark.kind in NOT_COPIED or any(text.match(mark.text) for text in WRITTEN_ANEW):
        return
    layer = LAYER_OF[mark.kind]
    if isinstance(mark.geometry, Point):
        place = _rounded(FLIPPED.point(mark.geometry))
        yield NewPoint(layer, place, " ".join(mark.text.split()))
    else:
        yield NewLine(layer, _steps(mark.geometry), isinstance(mark.geometry, Ring))


def _grain_line(piece: Piece) -> Chain:
    """A line along the grain through the middle of the piece."""
    box = piece.outline.ring.bounds()
    half = GRAIN_SHARE / 2.0 * max(box.height, box.width)
    down = piece.grain.down
    return Chain((Line(box.centre.moved(down, -half), box.centre.moved(down, half)),))


def _steps(chain: Chain) -> tuple[Step, ...]:
    """The chain as polyline steps, y up, on rounded vertices."""
    steps = as_steps([s.mapped(FLIPPED) for s in chain], tolerance=TOLERANCE)
    rounded = (Step(_rounded(s.start), _rounded(s.end), s.bulge) for s in steps)
    return tuple(s for s in rounded if s.start != s.end)


def _rounded(p: Point) -> Point:
    return Point(round(p.x, DECIMALS) + 0.0, round(p.y, DECIMALS) + 0.0)
