"""Barrow trousers: a tapered block with turned-up hems, with cutting and stitching line.

Below the fold the cutting line is the mirror of the leg above it, so that the turn-up lies flat
against the leg: on a leg that narrows its lower edge is wider than the fold.
"""

from __future__ import annotations

from dataclasses import replace

from core.curve import Chain, Line, Point
from sample_pieces.drawing import trousers
from sample_pieces.drawing.allowance import Dot, cutting_line
from sample_pieces.drawing.interchange import Sheet
from sample_pieces.drawing.part import Part, notch_on

SEAM = 10.0
# The turn-up and what is turned under again.
TURN_UP = 55.0
ALLOWANCES = {"waist": SEAM, "side": SEAM, "hem": TURN_UP, "inseam": SEAM, "rise": SEAM}
SHEET = (840.0, trousers.HEIGHT + 70.0)
KNEE_NOTCH = 400.0
FRONT = replace(trousers.FRONT, knee_half=116.0, hem_half=92.0)
BACK = replace(trousers.BACK, knee_half=129.0, hem_half=104.0)


def pieces() -> tuple[Part, Part]:
    """Front and back on the sheet, with a notch near the knee and the knee line."""
    front, back = trousers.matched_blocks(FRONT, BACK)
    return _furnished(front), _furnished(back)


def _furnished(block: trousers.Block) -> Part:
    side = block.part.edge("side")
    # The back lies mirrored: there the piece is on the other side of its edges.
    notch = notch_on(side, side.length() - KNEE_NOTCH, "side")
    if block.part.ring.signed_area() < 0.0:
        notch = replace(notch, inward=-notch.inward)
    knee = ("knee-line", Chain((block.knee,)))
    return replace(block.part, notches=(notch,), inner=(knee,))


def cut_around(part: Part) -> tuple[Dot, ...]:
    """The cutting line, its turn-up mirrored at the fold."""
    hem = part.edge("hem")
    fold = Line(hem.start, hem.end)
    dots = cutting_line(part, ALLOWANCES | {"hem": 0.0})
    ends = sorted((d for d in dots if _off(fold, d.at) < 1e-6), key=lambda d: _along(fold, d.at))
    first, last = ends[0], ends[-1]
    k = dots.index(first)
    below = [Dot(p, turn=True) for p in (_mirrored(dots, k, fold, -1), _mirrored(dots, k, fold, 1))]
    return (*dots[: k + 1], *below, *dots[dots.index(last) :])


def _off(fold: Line, p: Point) -> float:
    return abs(fold.tangent(0.0).cross(p - fold.start))


def _along(fold: Line, p: Point) -> float:
    return fold.tangent(0.0).dot(p - fold.start)


def _mirrored(dots: tuple[Dot, ...], k: int, fold: Line, way: int) -> Point:
    """The lower corner of the turn-up below fold corner k (before it) or the next one."""
    corner, above = (
        (dots[k].at, dots[k - 1].at) if way < 0 else (dots[k + 1].at, dots[(k + 2) % len(dots)].at)
    )
    up = (above - corner).unit()
    square = fold.tangent(0.0).square()
    depth = up.dot(square)
    mirror = up - square * (2.0 * depth)
    return corner.moved(mirror, TURN_UP / abs(depth))


def draw() -> bytes:
    sheet = Sheet.of(SHEET, "BARROW TROUSERS", SHEET[1] - 30.0, ALLOWANCES)
    return sheet.draw([(part, cut_around(part)) for part in pieces()])
