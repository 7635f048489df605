"""What a pattern says whatever the kind of file: it is what goes across from one to another.

Lengths are mm, y down. Nothing in here knows SVG or DXF; `across` fills it in, and the
writers of clean files draw it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple

from core.curve import Chain, Line, Point, Ring, Vector
from core.piece.model import Kind

# So long is a grain line that nobody drew, as a share of the piece's smaller side.
GRAIN_SHARE = 0.6


class Anchor(Enum):
    """What of a writing stands at its place: where its lines start, their middle, or end."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


class Look(NamedTuple):
    """How a writing stands: the height of its capitals in mm, the direction of its lines in
    radians (from x towards y), and its anchor."""

    height: float
    turn: float = 0.0
    anchor: Anchor = Anchor.START


class Notch(NamedTuple):
    """What is said of a notch beside its place: how deep it goes in and which way (a unit
    vector, None when that is left to the line on which it stands), and its width."""

    depth: float
    inward: Vector | None = None
    width: float = 0.0


class Detail(NamedTuple):
    """What one file says of a point or a writing beyond its place.

    `shift` leads from the place that was read to the baseline of the first line.
    """

    notch: Notch | None = None
    look: Look | None = None
    shift: Vector = Vector(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to draw.

    ``kind`` is None where the file left open what it is. ``said`` is a word of the trade that
    says more ("pocket", "side seam"). ``layer`` is a numbered layer of sewn-products
    interchange that goes with it. ``names`` marks the writing that is the piece's name.
    """

    kind: Kind | None
    geometry: Ring | Chain | Point
    text: str = ""
    said: str = ""
    layer: int | None = None
    notch: Notch | None = None
    look: Look | None = None
    hidden: bool = False
    names: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """A piece: its title in every size, its size, its outline whole, the direction of its
    grain, and what is drawn for it, the outline or its lines first."""

    title: str
    size: str
    outline: Ring
    down: Vector
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Pattern:
    """All pieces, what is drawn once for several sizes, and what belongs to the sheet."""

    parts: tuple[Part, ...]
    common: tuple[Item, ...] = ()
    loose: tuple[Item, ...] = ()


def grain_line(ring: Ring, down: Vector) -> Chain:
    """A line along the grain through the middle of a piece."""
    box = ring.bounds()
    half = GRAIN_SHARE / 2.0 * min(box.height, box.width)
    return Chain((Line(box.centre.moved(down, -half), box.centre.moved(down, half)),))
