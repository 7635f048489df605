"""The grain: which way it runs, and towards which end of the piece."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from core.curve import Chain, Line, Ring, Vector
from core.piece.model import Because, Dart, Grain, Kind, Shape
from core.piece.which_end import Seen, evidence

PAGE_DOWN = Vector(0.0, 1.0)
# An unnamed straight inner line is taken for the grain line when it is this long against
# the piece, stays this far (mm) clear of the outline, and is the longest such line.
LONG = 0.2
CLEAR = 5.0
# Clearly one-sided: the evidence for one end outweighs the other's by this. Two hints (a bend low
# down, and the widths) are not enough.
CLEAR_MARGIN = 2.6
# A piece was laid upright on purpose when its grain is within 5 degrees of the vertical.
UPRIGHT = math.cos(math.radians(5.0))


@dataclass(frozen=True)
class Axis:
    """A direction of the grain whose sense is still open."""

    direction: Vector
    because: Because
    shape: int | None
    drawn: bool


def find_grain(
    ring: Ring, shapes: Sequence[Shape], corners: Sequence[int], darts: Sequence[Dart], name: str
) -> Grain:
    """The grain of a piece, pointing towards its hem.

    The line comes from the file's own words or layers, else from the longest free straight
    inner line (unsure), else it is the page's vertical (unsure). Its sense is told by
    what is drawn (`which_end`), and by the page.
    """
    axis = _axis(ring, shapes)
    d = axis.direction
    told = evidence(Seen.of(ring, d, corners, darts, name), shapes)
    # How the page lies and how the grain line was drawn decide, but never make it certain.
    drawing = _page_weight(axis) * d.dot(PAGE_DOWN) + (0.6 if axis.drawn else 0.0)
    down = d if told + drawing >= 0.0 else -d
    clear = abs(told) >= CLEAR_MARGIN and (told > 0.0) == (down is d)
    why = axis.because.why + ("" if clear else "; which end is the hem is not certain")
    return Grain(down, Because(axis.because.sure and clear, why), axis.shape)


def _page_weight(axis: Axis) -> float:
    """What the page's down is worth: little for a piece that was laid askew on it."""
    if not axis.drawn:
        return 2.5
    return 1.5 if abs(axis.direction.dot(PAGE_DOWN)) > UPRIGHT else 0.4


def _axis(ring: Ring, shapes: Sequence[Shape]) -> Axis:
    told = _longest([s for s in shapes if s.kind is Kind.GRAIN])
    if told is not None:
        return _axis_along(told, Because(True, "the grain line in the file"))
    free = [s for s in shapes if s.kind is None and _free_straight(ring, s)]
    longest = _longest(free)
    if longest is not None:
        guess = Because(False, "a straight inner line was taken for the grain line")
        return _axis_along(longest, guess)
    return Axis(
        PAGE_DOWN,
        Because(False, "there is no grain line, so the page's vertical was taken"),
        None,
        False,
    )


def _longest(shapes: Sequence[Shape]) -> Shape | None:
    lines = [s for s in shapes if isinstance(s.geometry, Chain) and _stroke(s.geometry) is not None]
    return max(lines, key=_length, default=None)


def _length(shape: Shape) -> float:
    stroke = _stroke(shape.geometry) if isinstance(shape.geometry, Chain) else None
    return stroke.length() if stroke is not None else 0.0


def _stroke(chain: Chain) -> Line | None:
    """The longest straight line in a drawing of a grain line (arrowheads are shorter)."""
    lines = [s for s in chain if isinstance(s, Line)]
    return max(lines, key=lambda s: s.length(), default=None)


def _axis_along(shape: Shape, because: Because) -> Axis:
    stroke = _stroke(shape.geometry) if isinstance(shape.geometry, Chain) else None
    if stroke is None or stroke.length() == 0.0:
        return Axis(PAGE_DOWN, Because(False, "the grain line has no direction"), None, False)
    return Axis(stroke.tangent(0.0), because, shape.key, True)


def _free_straight(ring: Ring, shape: Shape) -> bool:
    chain = shape.geometry
    if not isinstance(chain, Chain) or len(chain) != 1 or not isinstance(chain.segments[0], Line):
        return False
    box = ring.bounds()
    if chain.length() < LONG * max(box.width, box.height):
        return False
    return all(ring.nearest(p).distance > CLEAR for p in (chain.start, chain.end))
